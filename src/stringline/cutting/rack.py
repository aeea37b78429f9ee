"""The firm's rack: offcuts of track that kept one factory end, to be used for a last piece."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from stringline.cutting.jobs import JobsPlan
from stringline.finding import Code, finding
from stringline.job.lists import RackPiece, labelled


def by_profile(rack: Sequence[RackPiece], profiles: Sequence[str]) -> dict[str, list[float]]:
    """Lengths on the rack in metres, by profile; a piece that says none is of the first, others are left out.

    >>> rack = [RackPiece("A", 2.0, None), RackPiece("B", 1.0, None, "T2"), RackPiece("C", 3.0, None, "X")]
    >>> by_profile(rack, ["T1", "T2"])
    {'T1': [2.0], 'T2': [1.0]}
    """
    return {name: [p.length_m for p in _of(rack, name, profiles)] for name in profiles}


def rack_afterwards(
    found: JobsPlan, rack: Sequence[RackPiece], profiles: Sequence[str]
) -> tuple[tuple[RackPiece, ...], tuple[RackPiece, ...], tuple[RackPiece, ...]]:
    """Rack pieces to take, the rack afterwards, and what comes back on it with its new labels."""
    used: list[RackPiece] = []
    back: dict[str, list[float]] = {}
    for t in found.tracks:
        own = [] if t.profile in back else _of(rack, t.profile, profiles)
        used += [own[i] for i in t.plan.rack_used if i < len(own)]
        back.setdefault(t.profile, []).extend(t.back_on_rack_m)
    after, fresh = rack_after(rack, [p.label for p in used], back)
    return tuple(used), after, fresh


def rack_after(
    rack: Sequence[RackPiece], used: Iterable[str], back: Mapping[str, Sequence[float]]
) -> tuple[tuple[RackPiece, ...], tuple[RackPiece, ...]]:
    """The rack without the pieces whose labels are ``used`` and with what comes back; and what came back, labelled.

    ``back`` are lengths in metres by profile. A label is never given twice, not even one on a piece just cut up.

    >>> after, fresh = rack_after([RackPiece("R7", 2.0, "2 m"), RackPiece("A", 1.0, "1 m")], ["R7"], {"p": [0.7, 1.5]})
    >>> [p.label for p in after], [p.length_m for p in fresh]
    (['A', 'R8', 'R9'], [1.5, 0.7])
    """
    gone = set(used)
    named = any(p.profile for p in rack) or len(back) > 1
    new = [
        RackPiece("", m, None, profile if named else "")
        for profile, lengths in back.items()
        for m in sorted(lengths, reverse=True)
    ]
    fresh = labelled([*rack, *new])[len(rack) :]
    return (*(p for p in rack if p.label not in gone), *fresh), fresh


def written_on(piece: RackPiece) -> Code:
    """What stands on a piece of the rack: the length as somebody wrote it; of one just cut, what a tape reads."""
    if piece.text is not None:
        return finding("lists.as-written", text=piece.text)
    return finding("lists.length-down", length_m=piece.length_m)


def _of(rack: Sequence[RackPiece], profile: str, profiles: Sequence[str]) -> list[RackPiece]:
    return [p for p in rack if (p.profile or profiles[0]) == profile]
