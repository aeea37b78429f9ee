"""Cut cards, one a piece, and their index: the length large, its working as on paper, steps and cautions in order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from stringline.cutting.result import CutList, Piece
from stringline.cutting.sticks import Sticks
from stringline.finding import Code, finding, nested
from stringline.judging import Stage, Verdict
from stringline.plan import Plan
from stringline.sheets.figures import working
from stringline.sheets.model import (
    Align,
    Block,
    Bullets,
    Cautions,
    Cell,
    Column,
    Depth,
    Group,
    Heading,
    Item,
    Notice,
    Picture,
    Sheet,
    Table,
    Text,
    Ticks,
    Working,
    Workings,
)
from stringline.sheets.stock import strip_table
from stringline.sheets.voice import Voice
from stringline.worked import Figure, Origin

_POURED = Stage.FIT_OUT.rank  # from here on there is something built to measure
_COVER = ("cover-width", "cover-length")
_FIXED = (Origin.CATALOGUE, Origin.CHOSEN, Origin.PRACTICE)


@dataclass(frozen=True, slots=True)
class Card:
    """One cut card in words. ``times`` and ``void`` are empty where there is one piece and no earlier card.

    ``provisional`` forbids to cut from a card that will be printed again; empty where it may be cut from.
    """

    key: str
    mark: str
    name: str
    made_of: str  # its side and what it is cut from
    length: str
    times: str
    stands_on: str  # when it is cut, and from which readings
    void: str
    provisional: str
    working_head: str
    workings: tuple[Working, ...]
    steps_head: str
    steps: tuple[Item, ...]
    caution_head: str
    cautions: tuple[Item, ...]
    blanks: tuple[str, ...]
    pieces: tuple[Piece, ...]

    @property
    def drawn(self) -> Piece | None:
        """The piece that a strip to scale shows; None where there is nothing to show along it."""
        piece = self.pieces[0]
        return piece if len(self.pieces) == 1 and (piece.segments or piece.marks) else None


def cut_cards(plan: Plan, cuts: CutList, voice: Voice) -> tuple[Card, ...]:
    """All cards in the order of the cut list; the width and the length of the cover share one."""
    old = {} if plan.difference is None else {r.key: r for r in plan.difference.reissued}
    cards = []
    for group in _groups(cuts.pieces):
        before = old.get(group[0].key)
        void = "" if before is None else _void(before.mark, before.old, voice)
        cards.append(_card(group, void, voice))
    return tuple(cards)


def index_sheet(cuts: CutList, cards: Sequence[Card], sticks: Sticks | None, voice: Voice) -> Sheet:
    """What is noted, every piece in a line with the card it is on, and which stick gives what."""
    say = voice.say
    columns = (
        Column(say("cuts.column.mark"), width_mm=18.0),
        Column(say("cuts.column.piece")),
        Column(say("cuts.column.count"), Align.RIGHT, 14.0),
        Column(say("cuts.column.length"), Align.RIGHT, 38.0),
        Column(say("cuts.column.from"), width_mm=26.0),
        Column(say("cuts.column.sheet"), Align.RIGHT, 14.0, paper=True),
        Column("", Align.CENTER, 7.0, paper=True),
    )
    rows = tuple(
        (
            Cell(piece.mark, strong=True),
            say(piece.name),
            str(piece.count),
            Cell(voice.amount(piece.figure.value, piece.figure.kind), strong=True, value=piece.figure.value),
            say(f"cuts.from.{stands_on(piece)}"),
            Cell(page_of=card_name(n)),
            Cell(tick=True),
        )
        for n, card in enumerate(cards)
        for piece in card.pieces
    )
    blocks: list[Block] = [Table("cuts", columns, rows, small=True)]
    if cuts.notes:
        blocks.insert(0, Bullets(tuple(voice.all(cuts.notes))))
    if sticks is not None and sticks.strips:
        blocks.append(Group(_sticks(sticks, voice)))
    return Sheet("cards", say("cuts.title"), tuple(blocks))


def list_sheet(plan: Plan, cuts: CutList, before: Iterable[Block], voice: Voice) -> Sheet:
    """The cut list for a screen: ``before`` it what holds the stage, then what is noted, then card by card."""
    title = voice.say(finding("cuts.list-title", job=plan.job.name))
    notes = [Bullets(tuple(voice.all(cuts.notes)))] if cuts.notes else []
    cards = (block for card in cut_cards(plan, cuts, voice) for block in card_blocks(card, voice))
    return Sheet("cuts", title, (*before, *notes, *cards))


def card_blocks(card: Card, voice: Voice) -> tuple[Block, ...]:
    """A card as blocks, for a screen."""
    heading = finding("cuts.card.heading", mark=card.mark, name=card.name, length=card.length)
    about = [t for t in (card.times, card.made_of, card.stands_on, card.void) if t]
    blocks: list[Block] = [Heading(voice.say(heading)), Text(voice.say(finding("cuts.card.about", said=about)), "note")]
    if card.provisional:
        blocks.append(Notice((card.provisional,), Verdict.WATCH))
    blocks.append(Workings(card.workings))
    if card.steps:
        blocks.append(Ticks(card.steps, numbered=True))
    if card.cautions:
        blocks.append(Cautions(card.cautions))
    return tuple(blocks)


def card_name(number: int) -> str:
    """What a card is called within the book, so that the index finds its sheet."""
    return f"card-{number}"


def stands_on(piece: Piece) -> str:
    """``as-built`` or ``survey``; ``catalogue`` for a length that no reading has a part in."""
    return piece.basis if _measured(piece.figure) else "catalogue"


def _groups(pieces: Sequence[Piece]) -> list[tuple[Piece, ...]]:
    """A card a piece; the cover's width and length, which are ordered in one breath, share one."""
    both = tuple(p for p in pieces if p.key in _COVER)
    if len(both) != len(_COVER):
        return [(p,) for p in pieces]
    return [both if p is both[0] else (p,) for p in pieces if p is both[0] or p not in both]


def _card(group: tuple[Piece, ...], void: str, voice: Voice) -> Card:
    say = voice.say
    piece = group[0]
    basis = stands_on(piece)
    provisional = basis == "survey" and Stage(piece.when).rank >= _POURED
    side = None if piece.side == "none" else finding(f"cuts.side.{piece.side}")
    made_of = finding("cuts.card.made-of", side=side, material=nested(piece.material))
    return Card(
        key=piece.key,
        mark=" ".join(p.mark for p in group),
        name=say(piece.name if len(group) == 1 else "cuts.card.cover"),
        made_of=say(made_of if side is not None else piece.material),
        length=" × ".join(voice.amount(p.figure.value, p.figure.kind) for p in group),
        times="" if piece.count == 1 else say(finding("cuts.card.times", count=piece.count)),
        stands_on=say(finding("cuts.card.stands-on", stage=piece.when, basis=finding(f"cuts.card.from.{basis}"))),
        void=void,
        provisional=say("cuts.card.provisional") if provisional else "",
        working_head=say("cuts.card.working"),
        workings=tuple(working(p.figure, voice) for p in group),
        steps_head=say("cuts.card.steps"),
        steps=_items((step for p in group for step in p.steps), voice),
        caution_head=say("cuts.card.caution"),
        cautions=_items((caution for p in group for caution in p.cautions), voice),
        blanks=tuple(voice.all(("cuts.card.measured-again", "cuts.card.cut-by", "cuts.card.checked-by"))),
        pieces=group,
    )


def _items(said: Iterable[Code], voice: Voice) -> tuple[Item, ...]:
    """Each once, in their order."""
    return tuple(Item(text) for text in dict.fromkeys(voice.all(said)))


def _void(mark: str, old: Figure, voice: Voice) -> str:
    return voice.say(finding("cuts.card.void", mark=mark, old=voice.amount(old.value, old.kind)))


def _measured(figure: Figure) -> bool:
    if figure.terms:
        return any(t.origin not in _FIXED for t in figure.terms)
    return figure.origin not in _FIXED


def _sticks(sticks: Sticks, voice: Voice) -> tuple[Block, ...]:
    """Which stick each last piece is cut from, which sticks are laid whole, and what goes back on the rack."""
    say = voice.say
    blocks: list[Block] = [
        Heading(say("cuts.sticks.title")),
        Text(say(finding("cuts.sticks.rule", profile=sticks.profile))),
        Picture("sticks"),
        strip_table("sticks", sticks.strips, voice, depth=Depth.SCREEN),
    ]
    whole = [
        finding("cuts.sticks.whole-side", side=side, sticks=" + ".join(_whole(sticks, side, voice)))
        for side in dict.fromkeys(side for _, side, _ in sticks.whole)
    ]
    if whole:
        blocks.append(Text(say(finding("cuts.sticks.whole", sides=whole))))
    if sticks.back_m:
        blocks.append(Text(say(finding("cuts.sticks.back", lengths_m=sticks.back_m))))
    return tuple(blocks)


def _whole(sticks: Sticks, side: str, voice: Voice) -> list[str]:
    return [f"{n} × {voice.length(m)}" for m, of, n in sticks.whole if of == side]
