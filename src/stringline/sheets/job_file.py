"""Job files in words: a new one to fill in, one begun from a drawing, and one written from a job."""

from __future__ import annotations

from stringline.document.toml_text import toml_text, toml_value
from stringline.finding import finding, nested
from stringline.job.from_outline import DRAWN_SIGMA, Begun
from stringline.job.model import Job
from stringline.job.write import job_toml
from stringline.lengths import FOOT_M, Unit
from stringline.sheets.language import ENGLISH, Language
from stringline.sheets.voice import Voice
from stringline.sheets.words import catalogue

# how one and the same example reads in each unit: a long, a shorter, a small one, a margin, an end, a radius, a rod
_EXAMPLES: dict[Unit, tuple[str, str, str, str, str, str, str]] = {
    Unit.FT_IN: ("24' 0\\\"", "11' 3 1/4\\\"", '1/4\\"', '3\\"', '12\\"', '6\\"', "3' 2 1/4\\\""),
    Unit.FT: ("24.00 ft", "11.27 ft", "0.02 ft", "0.25 ft", "1.00 ft", "0.50 ft", "3.19 ft"),
    Unit.M: ("7.315 m", "3.435 m", "6 mm", "75 mm", "300 mm", "150 mm", "0.972 m"),
    Unit.MM: ("7315 mm", "3435 mm", "6 mm", "75 mm", "300 mm", "150 mm", "972 mm"),
}
_REACH = {Unit.FT_IN: "100 ft", Unit.FT: "100 ft", Unit.M: "30 m", Unit.MM: "30 m"}
_ABOUT = "file.about"


def new_job_text(name: str, unit: Unit | str, language: Language = ENGLISH) -> str:
    """The text of a new job file. ``name`` is any text; raises ValueError for an unknown unit."""
    parts = _Parts(name, Unit(unit), language)
    return "\n".join(parts.say(f"file.{part}") for part in ("head", "survey", "pool", "later"))


def begun_job_text(
    begun: Begun, name: str, unit: Unit | str, drawing: str, sigma: str = DRAWN_SIGMA, language: Language = ENGLISH
) -> str:
    """The text of a job file whose water's edge is a drawn outline; ``sigma`` is a length as a person writes it."""
    unit = Unit(unit)
    parts = _Parts(name, unit, language)
    moved = None
    if begun.moved_m != (0.0, 0.0):
        x, y = (f"{m:.0f}" for m in begun.moved_m)
        moved = finding("file.moved", x=x, y=y)
    over = finding("file.over", kinds=tuple(k.lower() for k in begun.passed_over)) if begun.passed_over else None
    about = {"drawing": _plain(drawing), "layer": _plain(begun.layer), "unit": f"{begun.unit_m:g}"}
    remark = parts.voice.say(finding("file.begun", **about, moved=moved, over=over))
    rows = tuple(f"  {toml_value([p, _written(x, unit), _written(y, unit)])}," for p, x, y in begun.points)
    names = [p for p, _, _ in begun.points]
    drawn = parts.voice.say(
        finding(
            "file.drawn",
            sigma=toml_text(sigma),
            rows=rows,
            a=names[0],
            b=names[min(2, len(names) - 1)],
            water=toml_value(list(begun.water)),
            curve=toml_value(begun.smooth),
        )
    )
    return "\n".join([parts.say("file.head"), remark, drawn, parts.say("file.later")])


def job_text(job: Job, language: Language = ENGLISH) -> str:
    """The text of a fresh file that holds a job, every section and list with a remark of what it is."""
    voice = Voice(job.unit, language)
    remarks: dict[tuple[str, ...], str] = {}
    for code in catalogue():
        if code == _ABOUT or code.startswith(f"{_ABOUT}."):
            remarks[tuple(code.removeprefix(_ABOUT).split(".")[1:])] = voice.say(code)
    return job_toml(job, remarks)


class _Parts:
    """Parts of a new file, with examples in the job's unit."""

    def __init__(self, name: str, unit: Unit, language: Language) -> None:
        self.voice = Voice(unit, language)
        names = ("long", "short", "sigma", "side", "end", "arc", "rod")
        said = name.strip() or self.voice.say("file.unnamed")
        self.values = {
            **dict(zip(names, _EXAMPLES[unit], strict=True)),
            "reach": _REACH[unit],
            "unit": str(unit),
            "marks": nested(f"file.lengths.{unit}"),
            "name": toml_text("".join(_sign(c) for c in said)),
        }

    def say(self, code: str) -> str:
        """One part in words."""
        return self.voice.say(finding(code, **self.values))


def _sign(c: str) -> str:
    """A sign that may stand in a name, something like it for one that may not."""
    if 0xD800 <= ord(c) <= 0xDFFF:
        return "\ufffd"
    return " " if ord(c) < 0x20 or ord(c) == 0x7F else c


def _written(m: float, unit: Unit) -> str:
    """A coordinate of a drawing to a tenth of a millimetre, or nearly so in feet."""
    if unit in (Unit.FT_IN, Unit.FT):
        return f"{m / float(FOOT_M) + 0.0:.4f} ft"
    return f"{m * 1000 + 0.0:.1f} mm" if unit is Unit.MM else f"{m + 0.0:.4f} m"


def _plain(text: str) -> str:
    """Text for a remark: on one line, nothing that could not be printed."""
    return "".join(c if c.isprintable() else " " for c in text)
