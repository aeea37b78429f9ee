"""The JSON contract: fields, types and units that programs outside rely on."""

import dataclasses
import json
import math
import pkgutil
from importlib import import_module
from typing import Any

import jsonschema
import pytest

import stringline
from demo_truth import MISREAD, TRUE_XY
from stringline.as_json.derived import DERIVED
from stringline.as_json.names import TABLES, Field, fields_of
from stringline.as_json.write import Writer, dumps, plan_json, survey_json
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.lengths import Unit
from stringline.plan import Needs, Plan, plan
from stringline.sheets.voice import Voice
from stringline.survey.result import Survey
from stringline.system.read import load_system

NUMBER = {"type": "number"}
MAYBE = {"type": ["number", "null"]}
TEXT = {"type": "string"}


def _object(**fields: Any) -> dict[str, Any]:
    return {"type": "object", "required": list(fields), "properties": fields}


SURVEY = _object(
    schema={"const": 1},
    freedom={"type": "integer"},
    sigma0=NUMBER,
    global_test=_object(statistic=NUMBER, low=NUMBER, high=NUMBER, **{"pass": {"type": "boolean"}}),
    points={
        "type": "object",
        "additionalProperties": _object(
            x_m=NUMBER, y_m=NUMBER, sx_m=NUMBER, sy_m=NUMBER,
            ellipse=_object(major_m=NUMBER, minor_m=NUMBER, angle_rad=NUMBER)
        ),
    },
    tapes={
        "type": "array",
        "items": _object(
            **{"from": TEXT}, to=TEXT, read_m=NUMBER, adjusted_m=NUMBER, residual_m=NUMBER, redundancy=NUMBER, w=MAYBE,
            smallest_slip_m=MAYBE,
        ),
    },
    suspects={
        "type": "array",
        "items": _object(
            **{"from": TEXT}, to=TEXT, read_m=NUMBER, expected_m=NUMBER, sigma_m=NUMBER, slip=TEXT, odds=NUMBER
        ),
    },
    next_tapes={"type": "array", "items": _object(**{"from": TEXT}, to=TEXT, buys=TEXT)},
)  # fmt: skip


@pytest.fixture(scope="module")
def demo() -> Plan:
    job = read_job(demo_job_text(), "demo")
    return plan(job, load_system(job.system))


def test_the_survey_has_every_contracted_field(demo: Plan) -> None:
    assert isinstance(demo.survey, Survey)
    value = json.loads(dumps(survey_json(demo.survey, demo.job.unit)))
    jsonschema.validate(value, SURVEY)
    assert set(value["points"]) == set(TRUE_XY)
    suspect = value["suspects"][0]
    assert {suspect["from"], suspect["to"]} == set(MISREAD)


def test_redundancies_add_up_to_the_freedom(demo: Plan) -> None:
    assert isinstance(demo.survey, Survey)
    value = survey_json(demo.survey, demo.job.unit)
    assert math.fsum(t["redundancy"] for t in value["tapes"]) == pytest.approx(value["freedom"], abs=1e-6)


def test_every_number_in_a_plan_is_finite_and_every_sum_adds_up(demo: Plan) -> None:
    value = json.loads(dumps(plan_json(demo)))
    figures = list(_figures(value))
    assert len(figures) > 50
    for f in figures:
        if f["terms"] and f["rule"] is None:
            assert math.fsum(t["value"] for t in f["terms"]) == pytest.approx(f["value"], abs=1e-9)


def test_the_plan_says_what_holds_it(demo: Plan) -> None:
    value = plan_json(demo)
    assert "survey-misread" in value["held"]
    stopping = {c["code"] for c in value["checks"] if c["stops"]}
    assert set(value["held"]) <= stopping


def _figures(value: Any) -> Any:
    if isinstance(value, dict):
        if {"terms", "rule", "kind"} <= set(value):
            yield value
        for child in value.values():
            yield from _figures(child)
    elif isinstance(value, list):
        for child in value:
            yield from _figures(child)


def _classes() -> dict[str, list[type]]:
    """Every dataclass of the program by its name."""
    found: dict[str, list[type]] = {}
    for module in pkgutil.walk_packages(stringline.__path__, "stringline."):
        if module.name.endswith("__main__"):
            continue
        for value in vars(import_module(module.name)).values():
            if isinstance(value, type) and dataclasses.is_dataclass(value) and value.__module__ == module.name:
                found.setdefault(value.__name__, []).append(value)
    return found


def test_every_name_is_a_field_of_a_class_that_there_is() -> None:
    """A field that is renamed or a class that is gone leaves a name that nothing fills, and a page that invents."""
    classes = _classes()

    def has(kind: type, field: Field) -> bool:
        return (
            not field.attribute
            or field.attribute in {f.name for f in dataclasses.fields(kind)}
            or hasattr(kind, field.attribute)
        )

    for table in TABLES:
        if table == "Levelled":
            continue  # its levels' fields stand beside its own; the demo below writes it
        meant = [k for k in classes.get(table, []) if all(has(k, f) for f in fields_of(table))]
        assert len(meant) == 1, f"{table}: {len(meant)} classes have all its fields"
    assert {key.partition(".")[0] for key in DERIVED} <= set(TABLES)


def test_a_class_without_a_block_has_its_own_names() -> None:
    needs = Needs("trial", ("common.side.left",))
    assert Writer(Voice(Unit.M)).write(needs) == {"section": "trial", "missing": ["left"], "blocked": False}
