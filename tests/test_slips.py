"""The misread reading: found, named with what was misread, never invented, and silent where nothing can be told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from pools import Pool, make_pool
from spoken import said
from stringline.demo import demo_job_text
from stringline.finding import Code, Finding, code_of, finding
from stringline.job.model import SurveyInput
from stringline.job.read import read_job
from stringline.job.readings import Offset, Tape
from stringline.lengths import Unit, parse
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.build import build_network
from stringline.survey.result import Suspect
from stringline.survey.run import survey
from stringline.survey.slips.data_snooping import Linearised, best_sets, threshold
from stringline.survey.slips.misreadings import misreadings, other_density
from stringline.survey.slips.search import find_suspects


def adjusted(pool: Pool) -> Adjustment:
    net = pool.network()
    return adjust(net, pool.start(net))


def suspects_of(pool: Pool) -> tuple[tuple[Suspect, ...], tuple[Code, ...]]:
    adj = adjusted(pool)
    return find_suspects(adj, adj.network)


def line_of(pool: Pool, k: int) -> tuple[str, str]:
    return pool.spec.tapes[k].a, pool.spec.tapes[k].b


def braced(seed: int, points: int = 8, braces: int = 3, least_r: float = 0.2, unit: Unit = Unit.FT_IN) -> Pool:
    rng = np.random.default_rng(seed)
    while True:
        pool = make_pool(rng, points, braces, unit)
        if adjusted(pool).r.min() >= least_r:
            return pool


# --- the algebra, each against adjusting again ---


@pytest.mark.parametrize("rows", [(3,), (3, 7), (2, 9, 20)])
def test_leaving_rows_out_is_a_small_rank_update(rows: tuple[int, ...]) -> None:
    adj = adjusted(braced(1))
    at = Linearised.of(adj)
    use = np.ones(adj.network.m, dtype=bool)
    use[list(rows)] = False
    rest = adjust(adj.network, adj.xy, use=use)
    assert at.omega - at.gain(np.array([rows]))[0] == pytest.approx(rest.vtpv, rel=2e-3)
    d, C = at.misfit(np.array(rows))
    A = rest.A[list(rows)]
    expected_C = A @ rest.Q @ A.T + np.diag(adj.network.sigma[list(rows)] ** 2)
    np.testing.assert_allclose(C, expected_C, rtol=5e-3, atol=1e-9)
    np.testing.assert_allclose(d, -rest.v[list(rows)], atol=2e-5)


def test_the_algebra_does_not_depend_on_which_rows_were_left_out() -> None:
    adj = adjusted(braced(2))
    use = np.ones(adj.network.m, dtype=bool)
    use[[4, 11]] = False
    rest = adjust(adj.network, adj.xy, use=use)
    at = Linearised.of(rest)
    whole = rest.A[:, adj.network.free]
    p = adj.network.weight
    N = whole.T @ (p[:, None] * whole)
    M = np.diag(p) - (p[:, None] * whole) @ np.linalg.solve(N, (p[:, None] * whole).T)
    np.testing.assert_allclose(at.M, M, rtol=1e-7, atol=1e-5 * float(p.max()))


def test_widened_sets_agree_with_solving_each() -> None:
    at = Linearised.of(adjusted(braced(3)))
    pairs, gain = best_sets(at, 2)
    np.testing.assert_allclose(at.gain(pairs), gain, rtol=1e-9)
    every = np.array([(i, j) for i in range(at.m) for j in range(i)])
    assert at.gain(every).max() == pytest.approx(gain[0])


# --- one slip ---


@pytest.mark.parametrize(
    ("unit", "amount", "slip", "words"),
    [
        (Unit.FT_IN, 6 * 0.0254, finding("survey.inches-many", n=6), "6 inches too many"),
        (Unit.FT_IN, -2 * 0.3048, finding("survey.feet-few", n=2), "2 feet too few"),
        (Unit.FT_IN, 0.3048, finding("survey.feet-many", n=1), "a whole foot too many"),
        (Unit.M, -1.0, finding("survey.metres-few", n=1), "a whole metre too few"),
        (Unit.M, 0.1, finding("survey.decimetres-many", n=1), "100 mm too many"),
    ],
)
def test_a_whole_amount_is_named_with_the_reading_expected(
    unit: Unit, amount: float, slip: Finding, words: str
) -> None:
    pool = braced(4, unit=unit)
    k = next(k for k, t in enumerate(pool.spec.tapes) if t.length.m > 5.0 and k > 0)
    suspects, _ = suspects_of(pool.slipped((k, amount)))
    assert [(s.frm, s.to) for s in suspects] == [line_of(pool, k)]
    found = suspects[0]
    assert found.slip == slip
    assert said(slip, unit) == words
    assert found.likely_m is not None
    assert found.likely_m == pytest.approx(pool.spec.tapes[k].length.m, abs=1e-6)
    assert abs(found.expected_m - found.likely_m) < 4 * np.hypot(found.sigma_m, 0.003)
    assert found.odds > 15


def reread(pool: Pool, k: int, text: str, unit: Unit) -> Pool:
    tapes = list(pool.spec.tapes)
    tapes[k] = replace(tapes[k], length=parse(text, unit))
    return replace(pool, spec=replace(pool.spec, tapes=tuple(tapes)))


@pytest.mark.parametrize(
    ("true", "written", "words"),
    [
        ("31' 4\"", "13' 4\"", "digits swapped: 13' written, 31' meant"),
        ("9' 2\"", "6' 2\"", "digit misread: 6' written, 9' meant"),
        ("16' 3 3/8\"", "16' 3 3/16\"", "eighth or sixteenth misnamed: 3/16 written, 3/8 meant"),
        ("11.3 ft", "11' 3\"", "decimal feet written as feet and inches: 11.3 ft meant"),
    ],
)
def test_usual_misreadings_are_among_those_tried(true: str, written: str, words: str) -> None:
    meant, shown = parse(true, Unit.FT_IN), parse(written, Unit.FT_IN)
    tried = [x for x in misreadings(shown) if abs(x.true_m - meant.m) < 1e-6]
    assert [said(x.says, Unit.FT_IN) for x in tried] == [words]


def test_metric_digits_swapped() -> None:
    tried = {said(x.says): x.true_m for x in misreadings(parse("9.31 m", Unit.M))}
    assert tried["digits swapped: 9.31 written, 9.13 meant"] == pytest.approx(9.13)
    assert tried["digit misread: 9.31 written, 6.31 meant"] == pytest.approx(6.31)


def test_shares_leave_room_for_the_other_kinds() -> None:
    for text in ("12' 3 1/2\"", "9.92 m", "992 cm", '78 1/2"', "11.3 ft", "0.05 m"):
        assert sum(x.share for x in misreadings(parse(text, None))) == pytest.approx(0.6)
    x = np.concatenate([-np.geomspace(10, 1e-6, 4000), np.geomspace(1e-6, 10, 4000)])
    assert np.trapezoid([other_density(float(v)) for v in x], x) == pytest.approx(1.0, abs=0.01)


def test_a_tape_held_at_the_wrong_point_is_named() -> None:
    pool = braced(6, points=8, braces=3)
    k = next(i for i, t in enumerate(pool.spec.tapes) if (t.a, t.b) == ("A", "4"))
    a, wrong = pool.xy[0], pool.xy[pool.names.index("5")]
    pool = pool.slipped((k, float(np.hypot(*(wrong - a))) - pool.spec.tapes[k].length.m))
    suspects, _ = suspects_of(pool)
    assert (suspects[0].frm, suspects[0].to) == ("A", "4")
    assert suspects[0].slip == finding("survey.taped-to", held="5", meant="4")


def test_two_readings_written_against_each_other_are_one_mistake() -> None:
    pool = braced(7, points=8, braces=3)
    tapes = pool.spec.tapes
    i, j = (next(k for k, t in enumerate(tapes) if (t.a, t.b) == line) for line in (("A", "3"), ("B", "6")))
    pool = pool.slipped((i, tapes[j].length.m - tapes[i].length.m), (j, tapes[i].length.m - tapes[j].length.m))
    suspects, _ = suspects_of(pool)
    assert {(s.frm, s.to) for s in suspects} == {("A", "3"), ("B", "6")}
    assert {said(s.slip) for s in suspects} == {"readings of A–3 and B–6 swapped"}


def test_a_misread_offset_is_told_in_words() -> None:
    lines = [
        ("A", "B", "4 m"),
        ("A", "1", "3 m"),
        ("B", "1", "5 m"),
        ("A", "2", "5 m"),
        ("B", "2", "3 m"),
        ("1", "2", "4 m"),
    ]
    tapes = tuple(Tape(a, b, parse(text, Unit.M)) for a, b, text in lines)
    offset = Offset("A", "B", parse("1.5 m", Unit.M), parse("2.1 m", Unit.M), "3")
    more = (
        Tape("1", "3", parse("1.803 m", Unit.M)),
        Tape("2", "3", parse("2.693 m", Unit.M)),
        Tape("A", "3", parse("2.5 m", Unit.M)),
    )
    spec = SurveyInput((*tapes, *more), baseline=("A", "B"), offsets=(offset,))
    net = build_network(spec)
    at = {"A": (0, 0), "B": (4, 0), "1": (0, 3), "2": (4, 3), "3": (1.5, 2)}
    suspects, notes = find_suspects(adjust(net, np.array([at[n] for n in net.names], dtype=float)), net)
    assert suspects == ()
    assert any("reading of 3 off A–B" in n and "100 mm too many" in n for n in map(said, notes))


# --- honest silence ---


def square(*extra: tuple[str, str, str]) -> Pool:
    """A 3-4-5 rectangle, 4 m by 3 m, its points 1 and 2 taped from A and B, and further lines."""
    lines = [("A", "B", "4 m"), ("A", "1", "3 m"), ("B", "1", "5 m"), ("A", "2", "5 m"), ("B", "2", "3 m"), *extra]
    tapes = tuple(Tape(a, b, parse(text, Unit.M), line=n + 1) for n, (a, b, text) in enumerate(lines))
    xy = np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 3.0], [4.0, 3.0]])
    return Pool(("A", "B", "1", "2"), xy, SurveyInput(tapes, baseline=("A", "B")))


def test_nothing_to_spare_says_so() -> None:
    suspects, notes = suspects_of(square())
    assert suspects == ()
    assert [said(n) for n in notes] == ["Tape 1–2 as well: a misread line would then show."]


def test_one_to_spare_notices_but_does_not_accuse() -> None:
    pool = square(("1", "2", "4.1 m"))
    adj = adjusted(pool)
    np.testing.assert_allclose(np.abs(adj.tau[~np.isnan(adj.tau)]), 1.0, atol=1e-6)
    suspects, notes = suspects_of(pool)
    assert suspects == ()
    assert any("any of A–B, A–1, B–1, A–2, B–2 and 1–2 may be the misread one" in n for n in map(said, notes))
    assert "survey.tape-to-narrow" in map(code_of, notes)


def test_where_a_third_reading_settles_it_the_note_says_so() -> None:
    """One line taped twice is all that is to spare: the two disagree, and a third reading of it decides."""
    suspects, notes = suspects_of(square(("A", "2", "5.1 m")))
    assert suspects == ()
    assert [code_of(n) for n in notes] == ["survey.unlocated", "survey.tape-to-name"]
    assert said(notes[1]) == "Tape A–2 again: a misread line can then be named."


def test_the_reading_it_asks_for_makes_the_slip_locatable() -> None:
    pool = square(("1", "2", "4.1 m"), ("1", "2", "4.002 m"))
    suspects, _ = suspects_of(pool)
    assert (suspects[0].frm, suspects[0].to) == ("1", "2")
    assert suspects[0].read_m == pytest.approx(4.1)


def test_rivals_are_named_and_the_line_that_would_tell() -> None:
    """Point 1 hangs on three tapes: any of them may be the wrong one, and a further tape to it tells."""
    pool = square(("1", "2", "4 m"), ("A", "3", "2 m"), ("B", "3", "2.8 m"), ("2", "3", "2.78 m"))
    xy = np.vstack([pool.xy, [[1.52, 1.3]]])
    pool = Pool((*pool.names, "3"), xy, pool.spec)
    adj = adjusted(pool)
    tapes = [replace(t, length=parse(f"{adj.computed[k]:.3f} m", Unit.M)) for k, t in enumerate(pool.spec.tapes)]
    pool = replace(pool, spec=replace(pool.spec, tapes=tuple(tapes))).slipped((6, 0.043))
    suspects, notes = suspects_of(pool)
    named = {f"{s.frm}–{s.to}" for s in suspects}
    assert "A–3" in named
    assert suspects[0].rivals
    assert suspects[0].would_tell is not None
    assert "survey.not-told-but" in map(code_of, notes)


# --- how often it is right ---


@pytest.mark.parametrize(("points", "braces"), [(8, 2), (10, 3)])
def test_clean_surveys_are_hardly_ever_accused(points: int, braces: int) -> None:
    """One in a hundred by design; 300 surveys may show up to eight (99.7 % of the time)."""
    rng = np.random.default_rng(11)
    accused = sum(bool(suspects_of(make_pool(rng, points, braces, Unit.MM))[0]) for _ in range(300))
    assert accused <= 8


def test_a_single_slip_is_found_and_named() -> None:
    """At 1.5 × the smallest detectable slip and above: found in 99 %, named first in 97 % where lines differ."""
    rng = np.random.default_rng(12)
    n = found = clear = first = 0
    while n < 200:
        pool = make_pool(rng, 8, 3, Unit.MM)
        adj = adjusted(pool)
        if adj.r.min() < 0.2:
            continue
        n += 1
        k = int(rng.integers(adj.network.tapes))
        pool = pool.slipped((k, float(adj.mdb[k] * rng.uniform(1.5, 4.0) * rng.choice([-1.0, 1.0]))))
        suspects, _ = suspects_of(pool)
        lines = [(s.frm, s.to) for s in suspects]
        found += line_of(pool, k) in lines
        off = Linearised.of(adj).correlation - np.eye(adj.network.m)
        if np.abs(off).max() < 0.8:
            clear += 1
            first += lines[:1] == [line_of(pool, k)]
    assert found >= 0.98 * n
    assert clear > 50
    assert first >= 0.96 * clear


@pytest.mark.parametrize("count", [2, 3])
def test_several_slips_at_once_are_found_and_named(count: int) -> None:
    """An inch and more, in 10-point surveys whose readings all have r ≥ 0.4."""
    rng = np.random.default_rng(13)
    n = named = 0
    while n < 40:
        pool = make_pool(rng, 10, 4)
        adj = adjusted(pool)
        if adj.r.min() < 0.4:
            continue
        n += 1
        rows = [int(k) for k in rng.choice(adj.network.tapes, count, replace=False)]
        inches = rng.choice([1, 2, 3, 6, 12, 24], count) * rng.choice([-1, 1], count)
        pool = pool.slipped(*((k, float(x) * 0.0254) for k, x in zip(rows, inches, strict=True)))
        suspects, _ = suspects_of(pool)
        named += {(s.frm, s.to) for s in suspects[:count]} == {line_of(pool, k) for k in rows}
    assert named >= 38


def test_the_limit_rises_with_the_readings_looked_at() -> None:
    assert threshold(1) == pytest.approx(3.2905, abs=5e-5)
    assert threshold(20) < threshold(40) <= threshold(400) == pytest.approx(3.84)


def test_a_likeliest_line_that_the_rest_cannot_place_is_passed_over() -> None:
    """Eleven feet too few across the pool, with one of the lines that brace it missing."""
    text = demo_job_text()
    for old, new in (
        ('  ["B", "L2", "30\' 1 11/16\\""],\n', ""),
        ('["R2", "L2", "18\' 0 1/8\\""]', '["R2", "L2", "7\' 0 1/8\\""]'),
        ('  ["2", "4", "40\' 9\\""],\n', ""),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    job = read_job(text, "demo")
    found = survey(job.survey)
    assert (found.suspects[0].frm, found.suspects[0].to) == ("R2", "L2")
    assert abs(found.suspects[0].expected_m - 18 * 0.3048) < 0.01
