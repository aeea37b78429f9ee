"""Read a hardware catalogue: a TOML file with one section for each part of :class:`stringline.system.model.System`.

The keys are the fields of the model. A field that ends in ``_m`` is a length: its key goes without that ending and its
value is a length as people write them. Every other field keeps its name, which says its unit.
"""

from __future__ import annotations

import dataclasses
import typing
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from pathlib import Path as FilePath
from types import NoneType
from typing import Any

from stringline.document.load import Document, decode, load
from stringline.document.schema import Checker, Table, nearest
from stringline.faults import Fault, Faults
from stringline.finding import Code, finding, nested
from stringline.lengths import Unit
from stringline.system.model import System
from stringline.system.ranges import RANGES, check_order

BLANK = "?"  # what the template has where a firm has to fill something in


def load_system(name_or_path: str, *, base_dir: str | FilePath | None = None) -> System:
    """Load a catalogue by the name of one that is shipped, or by the path of a file, relative to ``base_dir``.

    Raises Faults with every fault in the file, or where neither a catalogue nor a file has that name.
    """
    shipped = list_systems()
    if name_or_path in shipped:
        text = (files("stringline.system") / "catalogues" / f"{name_or_path}.toml").read_text("utf-8")
        return read_system(text, f"{name_or_path}.toml")
    path = FilePath(base_dir or ".") / name_or_path
    try:
        raw = path.read_bytes()
    except (OSError, ValueError):
        close = nearest(name_or_path, shipped)
        right = finding("system.write-near", name=close) if close else finding("system.write-shipped", names=shipped)
        wrong = finding("system.no-catalogue", name=name_or_path)
        raise Faults(name_or_path, [Fault("no-catalogue", "job.system", wrong, right)]) from None
    return read_system(decode(raw, str(path)), str(path))


def neighbours(name_or_path: str, *, base_dir: str | FilePath | None = None) -> tuple[System, ...]:
    """The other catalogues of whoever wrote this one: the files beside it, or the shipped ones beside a shipped one.

    Where a part of the one in use is too small, theirs are what could be had instead. A file beside it that is no sound
    catalogue is passed over: it is not what the job asked for.
    """
    shipped = list_systems()
    if name_or_path in shipped:
        return tuple(load_system(key) for key in shipped if key != name_or_path)
    chosen = FilePath(base_dir or ".") / name_or_path
    found = []
    for path in sorted(chosen.parent.glob("*.toml")):
        if path.name == chosen.name:
            continue
        try:
            found.append(load_system(path.name, base_dir=chosen.parent))
        except Faults:
            continue
    return tuple(found)


def list_systems() -> list[str]:
    """Names of the catalogues that are shipped, sorted."""
    folder = files("stringline.system") / "catalogues"
    return sorted(entry.name.removesuffix(".toml") for entry in folder.iterdir() if entry.name.endswith(".toml"))


def template_text() -> str:
    """The commented template of a catalogue; a value of ``"?"`` is one that has to be filled in."""
    return (files("stringline.system") / "template.toml").read_text("utf-8")


def read_system(text: str, document: str) -> System:
    """Read the text of a catalogue; ``document`` is what to call it. Raises Faults with every fault in it."""
    source = load(text, document)
    check = Checker(source, Unit.FT)
    root = Table(check, (), source.data)
    head = _read_head(root, check)
    sections: dict[str, Any] = {}
    for name, kind in _sections().items():
        sections[name] = _read_section(root, name, kind, source)
    root.close()
    if not source.faults:
        check_order(check, sections)
    source.close()
    built = {name: kind(**sections[name]) for name, kind in _sections().items()}
    return System(**head, **built)


def _read_head(root: Table, check: Checker) -> dict[str, Any]:
    """[system]: key, name, whether it is invented, and what bare numbers mean."""
    table = root.table("system")
    if table is None:
        if "system" not in root.data and not check.document.is_damaged(("system",)):
            check.fault("missing", ("system",), finding("system.no-section", section="system"), "system.write-head")
        return {"key": "", "name": "", "invented": False}
    unit = table.word("unit", [str(u) for u in Unit], need=True)
    check.unit = Unit(unit) if unit is not None else Unit.FT
    key = table.get("key", need="system.key-as")
    head = {
        "key": None if key is None or _blank(check, table.at("key"), key) else check.name(table.at("key"), key),
        "name": _text(table, "name"),
        "invented": table.flag("invented", default=False),
    }
    table.close()
    return head


def _text(table: Table, key: str) -> str | None:
    value = table.get(key, need=finding("system.as-text", key=key))
    if value is None or _blank(table.check, table.at(key), value):
        return None
    return table.check.text(table.at(key), value)


def _read_section(root: Table, name: str, kind: type, source: Document) -> dict[str, Any]:
    """All fields of one section, by the model's names; what is wrong is left out and noted."""
    table = root.table(name)
    fields = _fields(kind)
    if table is None:
        required = [key for key, _, _, default in fields if default is dataclasses.MISSING]
        if required and name not in root.data and not source.is_damaged((name,)):
            right = finding("system.write-section", section=name, keys=required)
            source.fault("missing", (name,), finding("system.no-section", section=name), right)
        return {}
    values: dict[str, Any] = {}
    for key, field, hint, default in fields:
        need = None
        if default is dataclasses.MISSING:
            need = finding("system.key-is", key=key, value=nested(_example(hint, field)))
        raw = table.get(key, need=need)
        if raw is None or _blank(root.check, table.at(key), raw):
            continue
        found = _value(root.check, table.at(key), raw, hint, field, f"{name}.{key}")
        if found is not None:
            values[field] = found
    table.close()
    return values


def _value(check: Checker, path: tuple[str | int, ...], raw: Any, hint: Any, field: str, full: str) -> Any:
    """One value, checked against its field's type and range."""
    low, high, above = RANGES.get(full, (0.0, float("inf"), None))
    if typing.get_origin(hint) is tuple:
        items = check.items(path, raw, "system.lengths")
        if items is None:
            return None
        if not items:
            check.fault("empty", path, "system.list-empty", "system.write-one-length")
            return None
        lengths = [check.length((*path, i), item, positive=True) for i, item in enumerate(items)]
        return tuple(sorted((x.m for x in lengths if x is not None), reverse=True))
    if hint is str:
        return check.text(path, raw)
    if hint is int:
        number = check.number(path, raw, low=low, high=high, above=above, whole=True)
        return None if number is None else int(number)
    if is_length(field):
        length = check.length(path, raw, positive=above == 0.0)
        return None if length is None else length.m
    return check.number(path, raw, low=low, high=high, above=above)


def _blank(check: Checker, path: tuple[str | int, ...], raw: Any) -> bool:
    """Whether the value is one that the template left open; notes it."""
    if raw == BLANK or raw == [BLANK]:
        check.fault("not-filled-in", path, "system.not-filled-in", "system.write-what-it-has")
        return True
    return False


def is_length(field: str) -> bool:
    """Whether a field of the model holds a length, by the end of its name."""
    stem = field.removesuffix("_m").removesuffix("_lengths")
    return field.endswith("_m") and not stem.endswith(("_per", "_n", "_kg"))


@cache
def _sections() -> dict[str, type]:
    """The catalogue's sections: the fields of System that are dataclasses themselves."""
    hints = typing.get_type_hints(System)
    return {name: hint for name, hint in hints.items() if dataclasses.is_dataclass(hint) and isinstance(hint, type)}


@cache
def _fields(kind: type) -> tuple[tuple[str, str, Any, Any], ...]:
    """Key in the file, field of the model, type without None, default: for each field of a section."""
    hints = typing.get_type_hints(kind)
    return tuple(
        (f.name.removesuffix("_m") if is_length(f.name) else f.name, f.name, _plain(hints[f.name]), f.default)
        for f in dataclasses.fields(kind)
    )


def _plain(hint: Any) -> Any:
    """The type without its None."""
    parts: Iterable[Any] = typing.get_args(hint)
    return next(p for p in parts if p is not NoneType) if NoneType in parts else hint


def _example(hint: Any, field: str) -> Code:
    if typing.get_origin(hint) is tuple:
        return "system.lengths-as"
    if hint is str:
        return "document.text"
    if is_length(field):
        return "system.length-as"
    return "system.whole-number" if hint is int else "document.number"
