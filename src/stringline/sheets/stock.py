"""Stock: the cuts of several jobs together, what the firm's rack gives and gets, and sticks for a plain list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stringline.cutting.jobs import JobsPlan, PlainStock, TrackStock
from stringline.cutting.rack import written_on
from stringline.finding import Finding, finding, nested
from stringline.job.lists import RackPiece
from stringline.judging import Verdict
from stringline.nesting.diagram import Span, Strip
from stringline.nesting.grain import to_m
from stringline.nesting.listed import ListedPlan
from stringline.nesting.runs import RunPlan
from stringline.nesting.stock import Pattern
from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cell,
    Column,
    Depth,
    Heading,
    Headline,
    Notice,
    Sheet,
    Table,
    Text,
)
from stringline.sheets.voice import Voice

_LEAST_GAP = 1e-5  # a gap that is there never reads as none


def jobs_sheet(plan: JobsPlan, held: Mapping[str, Sequence[str]], voice: Voice) -> Sheet:
    """What to buy, which rules gave way, then stick by stick and run by run.

    ``held`` are the jobs of which nothing may be cut yet, by name with the codes of the checks that hold them.
    """
    say = voice.say
    bought = voice.all([*(_track_words(t) for t in plan.tracks), *(_plain_words(p) for p in plan.plain)])
    headline = Headline(
        say("stock.jobs-proven" if plan.proven else "stock.jobs-best"),
        Verdict.PASS if plan.proven else Verdict.WATCH,
        tuple(bought),
    )
    holds = (say(finding("stock.hold-job", job=job, checks=list(codes))) for job, codes in held.items())
    blocks: list[Block] = [
        *(Notice((text,), Verdict.FAIL) for text in holds),
        headline,
        *(Notice((text,), Verdict.WATCH) for text in voice.all(plan.notes)),
    ]
    for k, t in enumerate(plan.tracks, 1):
        blocks += [*_strips(f"track-{k}", t.profile, t.strips, voice), *_runs(f"runs-{k}", t, voice)]
    for k, p in enumerate(plan.plain, 1):
        blocks += _strips(f"plain-{k}", voice.cap(p.material), p.strips, voice)
    return Sheet("stock", say("stock.jobs-title"), tuple(blocks), verdict=headline.text)


def rack_sheet(
    used: Sequence[RackPiece], fresh: Sequence[RackPiece], after: Sequence[RackPiece], voice: Voice
) -> Sheet:
    """What to take from the rack, what to put on it with its label, and what it then holds."""

    def named(pieces: Sequence[RackPiece]) -> list[Finding]:
        return [finding("stock.rack-piece", label=p.label, text=nested(written_on(p))) for p in pieces]

    moved = (("stock.take-from-rack", used), ("stock.put-on-rack", fresh))
    lines = [finding(code, pieces=named(pieces)) for code, pieces in moved if pieces]
    lines.append(finding("stock.rack-afterwards", pieces=named(after)) if after else finding("stock.rack-empty"))
    return Sheet("rack", voice.say("stock.rack-title"), (Bullets(tuple(voice.all(lines))),))


def listed_sheet(result: ListedPlan, voice: Voice) -> Sheet:
    """Sticks for a plain list: whether less could be wasted, then each pattern."""
    plan, say = result.plan, voice.say

    def m(n: int) -> float:
        return n / result.per_m

    sticks = finding("stock.listed", n=plan.sticks_used, material_m=m(plan.material))
    bound = finding("stock.listed-bound", n=plan.bound, material_m=m(plan.material_bound))
    headline = Headline(
        say(finding("stock.listed-proven" if plan.proven else "stock.listed-best", sticks=sticks)),
        Verdict.PASS if plan.proven else Verdict.WATCH,
        () if plan.proven else (say(bound),),
    )
    share = plan.waste / plan.material if plan.material else 0.0
    blocks: list[Block] = [
        headline,
        Text(say(finding("stock.waste", waste_m=m(plan.waste), percent=100.0 * share))),
    ]
    if plan.patterns:
        columns = (
            Column(say("stock.column.times"), Align.RIGHT, 14.0),
            Column(say("stock.column.stick"), width_mm=45.0),
            Column(say("stock.column.cut")),
            Column(say("stock.column.left"), Align.RIGHT, 26.0),
        )
        blocks.append(Table("patterns", columns, tuple(_pattern(p, result.per_m, voice) for p in plan.patterns)))
    return Sheet("stock", say("stock.listed-title"), tuple(blocks), verdict=headline.text)


def _pattern(p: Pattern, per_m: int, voice: Voice) -> tuple[str | Cell, ...]:
    parts = (finding("stock.pieces", count=n, name=name, size_m=size / per_m) for name, size, n in p.pieces)
    left_m = p.left / per_m
    return (
        str(p.times),
        voice.say(finding("stock.named-stick", name=p.stick, stick_m=p.length / per_m)),
        " + ".join(voice.all(parts)),
        Cell(voice.length(left_m), value=left_m),
    )


def _track_words(t: TrackStock) -> Finding:
    gap = finding("stock.within", gap_percent=100.0 * max(t.plan.gap, _LEAST_GAP))
    sure = finding("stock.buys-least") if t.plan.proven else gap
    sticks = [finding("stock.sticks", count=count, stick_m=to_m(n)) for n, count in t.plan.sticks]
    if not sticks:
        return finding("stock.buy-none", profile=t.profile, sure=sure)
    return finding("stock.buy", profile=t.profile, sticks=sticks, sure=sure)


def _plain_words(p: PlainStock) -> Finding:
    sure = finding("stock.wastes-least") if p.plan.proven else finding("stock.best-found", bound=p.plan.bound)
    return finding("stock.plain", material=nested(p.material), n=p.plan.sticks_used, sure=sure)


def _strips(key: str, title: str, strips: Sequence[Strip], voice: Voice) -> list[Block]:
    return [Heading(title, joined=True), strip_table(key, strips, voice)] if strips else []


def strip_table(key: str, strips: Sequence[Strip], voice: Voice, *, depth: Depth = Depth.FIRST) -> Table:
    """Stick by stick, each in the order of the saw."""
    say = voice.say
    columns = (
        Column(say("stock.column.times"), Align.RIGHT, 14.0),
        Column(say("stock.column.from"), width_mm=40.0),
        Column(say("stock.column.in-order")),
    )
    rows = tuple(
        (
            str(s.times),
            say(finding("stock.from-rack" if s.from_rack else "stock.from-stick", stick_m=s.stick_m)),
            say(finding("stock.spans", spans=[_span(x) for x in s.spans if x.kind != "kerf"])),
        )
        for s in strips
    )
    return Table(key, columns, rows, depth=depth)


def _span(s: Span) -> Finding:
    """A stretch of a stick; what is no piece stands in brackets."""
    return finding(f"stock.span-{'piece' if s.kind == 'piece' else 'rest'}", what=nested(s.label), length_m=s.length_m)


def _runs(key: str, t: TrackStock, voice: Voice) -> list[Block]:
    """Each run as it is laid: whole sticks from the pulley, then the last piece; and where its joints fall."""
    say = voice.say
    columns = (
        Column(say("stock.column.run")),
        Column(say("stock.column.length"), Align.RIGHT, 26.0),
        Column(say("stock.column.laid")),
        Column(say("stock.column.joints"), width_mm=40.0),
    )
    rows = tuple(_run(nested(t.called[r.run.key]), r, voice) for r in t.plan.runs)
    title = say(finding("stock.runs-title", profile=t.profile))
    return [Heading(title, joined=True), Table(key, columns, rows, note=say("stock.runs-note"))]


def _run(called: Finding, r: RunPlan, voice: Voice) -> tuple[str | Cell, ...]:
    length_m, last_m = to_m(r.run.length), to_m(r.variant.last)
    laid = [voice.length(to_m(w)) for w in r.variant.wholes]
    if last_m > 0.0:
        laid.append(voice.say(finding("stock.last-piece", length_m=last_m)))
    joints = "; ".join(voice.length(to_m(j)) for j in r.variant.joints)
    return Cell(voice.say(called), strong=True), Cell(voice.length(length_m), value=length_m), " + ".join(laid), joints
