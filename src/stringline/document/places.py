"""Where everything in a TOML text begins and ends, so that it can be added to without touching anything else."""

from __future__ import annotations

from dataclasses import dataclass, field

from stringline.document.locate import TOKEN, Path, Scanner


@dataclass(frozen=True, slots=True)
class Span:
    """A value's place in the text: from its first sign up to the one behind its last."""

    start: int
    end: int


@dataclass(slots=True)
class Inside:
    """What an array or inline table holds: where its last value ends and where the comma behind that stands, if any."""

    last_end: int | None = None
    comma_end: int | None = None


@dataclass(slots=True)
class Places:
    """Offsets into the text as it was given, whatever its line ends.

    ``values`` are all values by path, ``inside`` the arrays and inline tables among them; ``headers`` where the line of
    each section's header begins; ``bodies`` where the last statement of each section ends, its header if it has none.
    ``dotted`` are tables that exist by dotted keys alone: the section that those stand in, and where the last one ends.
    """

    values: dict[Path, Span] = field(default_factory=dict)
    inside: dict[Path, Inside] = field(default_factory=dict)
    headers: dict[Path, int] = field(default_factory=dict)
    bodies: dict[Path, int] = field(default_factory=dict)
    dotted: dict[Path, tuple[Path, int]] = field(default_factory=dict)


def places_of(text: str) -> Places:
    """Where everything stands in a text that is TOML; a byte order mark may stand before it.

    >>> text = "[s]\\nrows = [1, 20] # two\\n"
    >>> found = places_of(text)
    >>> text[found.values["s", "rows", 1].start :], found.bodies[("s",)]
    ('20] # two\\n', 18)
    """
    scan = _Placer()
    begin = 1 if text.startswith("\ufeff") else 0
    scan.line_start = begin
    for match in TOKEN.finditer(text, begin):
        kind = match.lastgroup
        if kind == "space" or kind == "comment":
            continue
        if kind == "nl":
            scan.end_of_line()
            scan.line_start = match.end()
            continue
        token = match[0]
        scan.named = kind == "bare" or kind == "string"
        if token == "[" and text.startswith("[[", match.start()):
            token = "[["
        scan.start, scan.end = match.span()
        scan.then(token, 0)
    return scan.places


class _Placer(Scanner):
    """A scan that keeps offsets; ``start`` and ``end`` are the present token's."""

    def __init__(self) -> None:
        self.places = Places()
        self.start = self.end = self.line_start = 0
        self.opened: list[Path] = []  # arrays and inline tables that are open
        self.begun: Path | None = None  # the value that the present statement or item has begun, to be made longer
        super().__init__()

    def end_of_line(self) -> None:
        """Outside brackets a statement ends with its line."""
        if not self.stack:
            self.begun = None
        super().end_of_line()

    def _header(self, token: str, line: int) -> None:
        closes = token == "]" and bool(self.keys)
        super()._header(token, line)
        if closes:
            self.begun = None
            self.places.headers.setdefault(self.table, self.line_start)
            self.places.bodies[self.table] = self.end + (1 if self.double else 0)

    def _begin(self, token: str) -> None:
        self.begun = self.pending
        self.places.values[self.pending] = Span(self.start, self.end)
        if token[0] == "[" or token == "{":
            self.opened.append(self.pending)
            self.places.inside[self.pending] = Inside()
        super()._begin(token)
        self._ends(self.pending)

    def _close(self) -> None:
        path = self.opened.pop()
        super()._close()
        self.begun = path
        self._longer()

    def _behind(self, token: str, line: int) -> None:
        frame = self.stack[-1]
        if token == ",":
            self.places.inside[self.opened[-1]].comma_end = self.end
        elif token not in ("]", "}") and not (frame.array and frame.fresh):
            self._longer()  # more of a number or a date
        super()._behind(token, line)

    def _done(self, token: str, line: int) -> None:
        super()._done(token, line)
        if self.begun is not None:
            self._longer()

    def _longer(self) -> None:
        assert self.begun is not None
        self.places.values[self.begun] = Span(self.places.values[self.begun].start, self.end)
        self._ends(self.begun)

    def _ends(self, path: Path) -> None:
        """A value ends here for now: so do what it stands in."""
        if self.opened and self.opened[-1] != path:
            inner = self.places.inside[self.opened[-1]]
            inner.last_end, inner.comma_end = self.end, None
        if not self.stack:
            self.places.bodies[self.table] = self.end
            for depth in range(len(self.table) + 1, len(path)):
                self.places.dotted[path[:depth]] = (self.table, self.end)
