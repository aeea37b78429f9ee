"""The sections of later stages: what each becomes, and that nothing in them passes unread."""

from __future__ import annotations

import pytest

from spoken import told
from stringline.faults import Fault, Faults
from stringline.job import Job
from stringline.job.model_later import Control, Drain, Power
from stringline.job.read import read_job

SURVEYED = """\
[job]
unit = "ft-in"
[survey]
baseline = ["A", "B"]
tapes = [["A", "B", "24'"], ["A", "3", "12'"], ["B", "3", "13'"]]
"""
LATER = r"""
[order]
wrong_order_cost = 9000
day_cost = 400.5
days_to_wait = 10
after_pour = true
date = 2026-05-04
mark = "ff369f"
figures = { cover_width = "18' 11 7/16\"", lid = "20' 7\"" }
earlier = [{ figures = { drum = "19'" } }]

[rack]
offcuts = ["7' 3\"", "4-1"]

[power]
volts = 240
phases = 1
breaker_a = 20
run = "120'"
conductor = "10 AWG"
metal = "copper"
from_water = "16'"

[drain]
rain = "2\""
catchment_m2 = 4.5
runoff = 0.9
pipe = "3\""
fall = 0.02
roughness = 0.009
pump_m3_h = 6

[control]
point = "3"
eye = "5' 2\""

[[tasks.list]]
name = "form"
days = 1.5
done = "2026-05-02"
[[tasks.list]]
name = "pour"
after = ["form"]
earliest = 2026-05-04
who = "JD"
"""
SOUND = SURVEYED + LATER


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(SOUND, "later")


def faults_of(text: str) -> tuple[Fault, ...]:
    try:
        read_job(text, "later")
    except Faults as faults:
        return faults.faults
    return ()


def test_the_order(job: Job) -> None:
    order = job.order
    assert order is not None
    assert order.placed is not None
    assert (order.wrong_order_cost, order.day_cost, order.days_to_wait, order.after_pour) == (9000.0, 400.5, 10.0, True)
    assert (order.placed.date, order.placed.mark) == ("2026-05-04", "ff369f")
    assert {k: v.text for k, v in order.placed.figures.items()} == {"cover_width": "18' 11 7/16\"", "lid": "20' 7\""}
    (earlier,) = order.earlier
    assert (earlier.date, earlier.mark, earlier.figures["drum"].text) == (None, None, "19'")
    assert job.waits_for_pour


def test_rack_power_drain_and_control(job: Job) -> None:
    assert [o.text for o in job.offcuts] == ["7' 3\"", "4-1"]
    assert job.power == Power(240.0, 1, 20.0, 36.576, "10 AWG", "copper", 4.8768)
    assert job.drain == Drain(0.0508, 4.5, 0.9, 0.0762, 0.02, 0.009, 6.0)
    assert job.control == Control("3", 1.5748)


def test_the_tasks(job: Job) -> None:
    assert job.tasks is not None
    form, pour = job.tasks.listed
    assert (form.days, form.after, form.done, form.who) == (1.5, (), "2026-05-02", None)
    assert (pour.days, pour.after, pour.earliest, pour.who) == (1.0, ("form",), "2026-05-04", "JD")
    assert SOUND.splitlines()[(form.line or 0) - 1 : (pour.line or 0)][::4] == ["[[tasks.list]]", "[[tasks.list]]"]


def test_an_order_may_say_no_more_than_that_it_waits() -> None:
    order = read_job(SURVEYED + "[order]\nafter_pour = true\n", "x").order
    assert order is not None
    assert (order.placed, order.earlier, order.after_pour) == (None, (), True)


# what is replaced, by what, the one fault that follows, and a part of its message
ONE_FAULT = [
    ("after_pour", "after_pout", "unknown-key", "write after_pour if that is meant"),
    ("after_pour = true", 'after_pour = "yes"', "wrong-type", "without quotes"),
    (r'''"18' 11 7/16\""''', '"rubbish"', "bad-length", "cannot be read as a length"),
    ("cover_width", "cover_widht", "unknown-key", "write cover_width if that is meant"),
    ("figures = { cover", "earlier_figures = { cover", "unknown-key", "write figures|write earlier"),
    ("2026-05-04\nmark", '"4 May"\nmark', "bad-date", "write it as 2026-05-04"),
    ("2026-05-04\nmark", "20260504\nmark", "bad-date", "write it as 2026-05-04"),
    ("2026-05-04\nmark", "2026-05-04T10:00:00\nmark", "bad-date", "write it as 2026-05-04"),
    ("day_cost = 400.5", "day_cost = -3", "out-of-range", "0 or more"),
    ("wrong_order_cost = 9000", 'wrong_order_cost = "a lot"', "wrong-type", "a number"),
    ("days_to_wait = 10", "days_to_wait = nan", "out-of-range", "finite"),
    ("""{ figures = { drum = "19'" } }""", "{ date = 2026-05-04 }", "missing", "what was ordered"),
    ("""{ drum = "19'" }""", """{ sails = "19'" }""", "unknown-key", "it can be cover_width"),
    (r'''"7' 3\""''', """"-2'\"""", "bad-length", "0 or more"),
    (r'''"7' 3\""''', '"0"', "zero-length", "more than 0"),
    (r'''"7' 3\""''', "12", "bad-length", "feet or inches"),
    (r"""["7' 3\"", "4-1"]""", '"4-1"', "wrong-type", "a list"),
    (r'''"7' 3\""''', ", ".join(['"1-0"'] * 2000), "item-count", "at most 2000"),
    ("offcuts", "ofcuts", "unknown-key", "write offcuts"),
    ("volts = 240", "volts = 2400", "out-of-range", "600 or less"),
    ("breaker_a = 20", "breaker = 20", "unknown-key", "write breaker_a"),
    ("phases = 1", "phases = 2", "out-of-range", "write 1 or 3"),
    ("phases = 1", "phases = 4", "out-of-range", "3 or less"),
    ('"10 AWG"', '"10 AGW"', "unknown-word", 'write "10 AWG"'),
    ("fall = 0.02", "fall = 2", "out-of-range", "1 or less"),
    ("rain =", "rainfal =", "unknown-key", "write rain"),
    ('point = "3"', 'point = "33"', "not-reached", 'write "3"'),
    ('point = "3"', "point = 3", "name-not-quoted", 'in quotes: "3"'),
    (r'''"5' 2\""''', '"0"', "zero-length", "more than 0"),
    ('after = ["form"]', 'after = ["from"]', "no-such-task", "write form if that is meant"),
    ('after = ["form"]', 'after = ["sing"]', "no-such-task", "name one that is listed"),
    ('after = ["form"]', 'after = ["pour"]', "not-in-order", "leave out one"),
    ("days = 1.5", 'after = ["pour"]', "not-in-order", "leave out one"),
    ('name = "pour"\nafter = ["form"]', 'name = "form"', "name-twice", "its own name"),
    ('name = "pour"', "days = 2", "missing", "what is to be done"),
    ("days = 1.5", "days = -1", "out-of-range", "0 or more"),
    ("[rack]", "[racks]", "unknown-key", "write rack"),
    ("eye =", "volts =", "unknown-key", "it belongs to [power]"),
]


@pytest.mark.parametrize(("old", "new", "code", "says"), ONE_FAULT)
def test_one_slip_is_told_once_with_its_line(old: str, new: str, code: str, says: str) -> None:
    text = SOUND.replace(old, new, 1)
    assert text != SOUND
    found = faults_of(text)
    assert [f.code for f in found] == [code], [told(f) for f in found]
    assert any(part in told(found[0]) for part in says.split("|")), told(found[0])
    place = SOUND[: SOUND.index(old)].count("\n") + 1
    assert found[0].line is not None
    assert abs(found[0].line - place) <= 2
