"""Read a job file: every fault at once, each with its line, or the job.

What each section may hold is in docs/job-file.md. Readings are in :mod:`stringline.job.read_survey`.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from stringline.document.load import Document, decode, load
from stringline.document.schema import Checker, Table
from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.job.model import Cover, Job, SurveyInput
from stringline.job.reach import check_reach
from stringline.job.read_built import read_as_built, read_run
from stringline.job.read_later import read_control, read_drain, read_order, read_power, read_rack, read_tasks
from stringline.job.read_pool import read_pool
from stringline.job.read_rows import check_ids
from stringline.job.read_survey import Beside, read_survey
from stringline.judging import Stage
from stringline.lengths import Unit

UNNAMED = "Unnamed job"
MOUNTS = ("under-coping", "flush", "on-deck")
SIDES = ("left", "right")
MINIMISE = ("area", "width")
_KEYS = {  # of keys that stand in one section only
    "job": ("unit", "stage", "system"),
    "survey": ("tape_class", "baseline", "behind", "sketch", "known", "tapes", "levels", "coordinates", "blocked"),
    "pool": ("water", "curve", "obstacles"),
    "cover": ("mount", "drive_side", "margins", "minimise", "choices"),
    "as_built": ("gauge", "channel", "diagonals", "fascia", "lid"),
    "run": ("leads", "seen"),
    "order": ("wrong_order_cost", "day_cost", "days_to_wait", "after_pour", "figures", "mark"),
    "rack": ("offcuts",),
    "power": ("volts", "phases", "breaker_a", "conductor", "metal", "from_water"),
    "drain": ("rain", "catchment_m2", "runoff", "pipe", "fall", "roughness", "pump_m3_h"),
    "control": ("eye",),
}
CHOICES = ("rope_cut", "setback", "wall_gap")  # lengths that one job may choose for itself


def read_job(text: str | bytes, document: str, beside: Beside | None = None) -> Job:
    """Read a job file's text or bytes; ``document`` is what to call it. Raises Faults with every fault in it.

    ``beside`` gives the text of a file that the job names, such as a list of coordinates; without it naming one is a
    fault.
    """
    return read_document(load(decode(text, document) if isinstance(text, bytes) else text, document), beside)


def read_document(source: Document, beside: Beside | None = None) -> Job:
    """Read a job from a document's values, whatever they came from. Raises Faults as :func:`read_job` does."""
    check = Checker(source)
    root = Table(check, (), source.data)
    head = _read_head(root, check)
    survey: SurveyInput | None = None
    if (table := root.table("survey")) is not None:
        survey = read_survey(table, beside)
        table.close()
    elif "survey" not in root.data and not source.is_damaged(("survey",)):
        source.fault("missing", ("survey",), "job.no-survey", "job.write-survey")
    pool = read_pool(root.table("pool"))
    cover = _read_cover(root.table("cover"))
    as_built = read_as_built(root.table("as_built"), source.line(("as_built",)))
    run = read_run(root.table("run"))
    order, rack = read_order(root.table("order")), read_rack(root.table("rack"))
    power, drain = read_power(root.table("power")), read_drain(root.table("drain"))
    control, tasks = read_control(root.table("control")), read_tasks(root.table("tasks"))
    root.close()
    if survey is not None:
        check_reach(check, root.data, survey, pool)
        built = () if as_built is None else as_built.readings
        check_ids(check, root.data, survey, (*survey.readings, *built, *(() if run is None else run.every)))
    source.faults = [_homeward(f) for f in source.faults]
    source.unit = check.unit
    source.close()
    assert survey is not None
    assert head is not None
    return Job(
        name=head["name"],
        unit=head["unit"],
        stage=head["stage"],
        system=head["system"],
        survey=survey,
        invented=head["invented"],
        pool=pool,
        cover=cover,
        as_built=as_built,
        run=run,
        order=order,
        rack=rack,
        power=power,
        drain=drain,
        control=control,
        tasks=tasks,
    )


def read_job_file(path: str | FilePath) -> Job:
    """Read a job file from disk. Raises Faults where it cannot be opened, is not UTF-8 text, or has faults."""
    return read_job(read_text(path), str(path), beside(FilePath(path).parent))


def beside(folder: FilePath) -> Beside:
    """A reader of files that a job in ``folder`` names: relative to that folder."""
    return lambda name: read_text(folder / name)


def read_text(path: str | FilePath) -> str:
    """The text of a file a person wrote. Raises Faults where it cannot be opened or is not UTF-8 text."""
    try:
        raw = FilePath(path).read_bytes()
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        wrong = finding("job.unreadable", reason=reason.lower())
        fault = Fault("no-file", finding("document.the-file"), wrong, "job.check-name")
        raise Faults(str(path), [fault]) from None
    return decode(raw, str(path))


def _homeward(fault: Fault) -> Fault:
    """Say of a key under the wrong section where it belongs: a section's own line is easily left behind its #."""
    section, _, key = str(fault.where).rpartition(".")
    home = next((name for name, keys in _KEYS.items() if key in keys), None)
    if fault.code != "unknown-key" or home is None or section == home or "." in section:
        return fault
    return replace(fault, right=finding("job.belongs-to", section=home))


def _read_head(root: Table, check: Checker) -> dict[str, Any] | None:
    """[job]; sets the unit that every later length is read in."""
    check.unit = Unit.FT  # the unit that refuses least, so that a fault in job.unit is told once and not at each length
    table = root.table("job")
    if table is None:
        if "job" not in root.data and not check.document.is_damaged(("job",)):
            check.fault("missing", ("job",), "job.no-head", "job.write-head")
        return None
    unit = table.word("unit", [str(u) for u in Unit], need=True)
    if unit is not None:
        check.unit = Unit(unit)
    stage = table.word("stage", [str(s) for s in Stage])
    head = {
        "name": table.text("name") or UNNAMED,
        "unit": check.unit,
        "stage": Stage(stage or "survey"),
        "system": table.text("system") or "",
        "invented": table.flag("invented", default=False),
    }
    table.close()
    return head


def _read_cover(table: Table | None) -> Cover | None:
    if table is None:
        return None
    check = table.check
    mount = table.word("mount", MOUNTS, need=True)
    side = table.word("drive_side", SIDES, need=True)
    housing: tuple[str, str] | None = None
    raw = table.get("housing")
    if isinstance(raw, list):
        names = check.names(table.at("housing"), raw, once=False)
        if len(raw) != 2:
            check.fault("item-count", table.at("housing"), "job.edge-two-ends", "job.write-edge")
        elif len(names) == 2:
            if names[0] == names[1]:
                check.fault("same-point", table.at("housing"), "job.edge-one-point", "job.name-two-ends")
            housing = (names[0], names[1])
    elif raw is not None and raw != "any":
        check.fault("wrong-type", table.at("housing"), "job.no-edge", "job.write-edge-or-any")
    margins = table.table("margins")
    side_m = end_m = None
    if margins is not None:
        side_m = margins.length("side", need="job.need-side")
        end_m = margins.length("end", need="job.need-end")
        margins.close()
    elif "margins" not in table.data and not check.document.is_damaged(table.at("margins")):
        check.fault("missing", table.at("margins"), "job.no-margins", "job.write-margins")
    minimise = table.word("minimise", MINIMISE)
    choices: dict[str, float] = {}
    if (chosen := table.table("choices")) is not None:
        for key in CHOICES:
            found = chosen.length(key)
            if found is not None:
                choices[key] = found
        chosen.close()
    table.close()
    return Cover(
        mount=mount or MOUNTS[0],
        housing=housing,
        drive_side=side or SIDES[0],
        side_margin_m=side_m or 0.0,
        end_margin_m=end_m or 0.0,
        minimise=minimise or MINIMISE[0],
        choices=choices,
    )
