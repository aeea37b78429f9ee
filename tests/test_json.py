"""The JSON contract: fields, types and units that programs outside rely on."""

import json
import math
from typing import Any

import jsonschema
import pytest

from demo_truth import MISREAD, TRUE_XY
from stringline.as_json.write import dumps, plan_json, survey_json
from stringline.demo import demo_job_text
from stringline.job.read import read_job
from stringline.plan import Plan, plan
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
