"""Labels: one for each thing cut, with the mark and the length large and the same in a code that a phone reads."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.cutting.result import CutList, Piece
from stringline.finding import finding
from stringline.plan import Plan
from stringline.sheets.cards import stands_on
from stringline.sheets.voice import Voice

MOST_OF_ONE = 24  # more pieces alike than this share one label that says how many


@dataclass(frozen=True, slots=True)
class Label:
    """One label. ``number`` is which of several alike it is; ``text`` is what its code holds."""

    mark: str
    length: str
    name: str
    number: str
    foot: str
    text: str
    alt: str


@dataclass(frozen=True, slots=True)
class Labels:
    """The labels in the order of the cut list; ``twins`` are small ones for further pieces alike."""

    title: str
    note: str
    job: str
    labels: tuple[Label, ...]
    twins: tuple[Label, ...]


def cut_labels(plan: Plan, cuts: CutList, revision: str, shown: str, voice: Voice) -> Labels:
    """All labels of a cut list; the codes hold the whole ``revision``, the labels as much as is ``shown``."""
    made = [_alike(plan, piece, revision, shown, voice) for piece in cuts.pieces]
    return Labels(
        title=voice.say("cuts.label.title"),
        note=voice.say("cuts.label.note"),
        job=plan.job.name,
        labels=tuple(alike[0] for alike in made),
        twins=tuple(twin for alike in made for twin in alike[1:]),
    )


def label_text(plan: Plan, piece: Piece, revision: str, voice: Voice) -> str:
    """What the code holds: ``stringline:job:piece:length:revision``, each part with its colons and % escaped."""
    parts = (plan.job.name, piece.key, voice.amount(piece.figure.value, piece.figure.kind), revision)
    return ":".join(["stringline", *(part.replace("%", "%25").replace(":", "%3A") for part in parts)])


def _alike(plan: Plan, piece: Piece, revision: str, shown: str, voice: Voice) -> list[Label]:
    say = voice.say
    text = label_text(plan, piece, revision, voice)
    basis = finding(f"cuts.from.{stands_on(piece)}")
    side = None if piece.side == "none" else finding("cuts.label.side", side=finding(f"cuts.label.{piece.side}"))
    foot = say(finding("cuts.label.foot", basis=basis, revision=shown, side=side))
    copies = piece.count if piece.count <= MOST_OF_ONE else 1
    made = []
    for k in range(copies):
        number = _number(piece, k, copies, voice)
        small = finding("cuts.label.twin-foot", number=number, revision=shown)
        made.append(
            Label(
                mark=piece.mark,
                length=voice.amount(piece.figure.value, piece.figure.kind),
                name=say(finding("cuts.label.numbered", name=say(piece.name), number=number) if number else piece.name),
                number=number,
                foot=foot if k == 0 else say(small),
                text=text,
                alt=say(finding("cuts.label.alt", text=text)),
            )
        )
    return made


def _number(piece: Piece, index: int, copies: int, voice: Voice) -> str:
    if piece.count == 1:
        return ""
    if copies > 1:
        return voice.say(finding("cuts.label.one-of", number=index + 1, count=piece.count))
    return voice.say(finding("cuts.label.alike", count=piece.count))
