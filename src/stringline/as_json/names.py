"""What each value is called in the JSON of schema 1, and what it means: one block a class, one line a field.

A line is ``name  meaning``. ``name=attribute`` takes another attribute than the name says; ``name=()`` is worked out by
the function of that name in :mod:`stringline.as_json.derived`. A ``!`` behind the name says that the field is a finding
or a code and is written in words. A block that begins ``..Other`` has all of Other's fields first. A class without a
block has the names of its own fields. docs/json.md is made from these lines.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import cache

from stringline.as_json.names_made import MADE
from stringline.as_json.names_site import SITE

TABLES = {**SITE, **MADE}


@dataclass(frozen=True, slots=True)
class Field:
    """One field of an object: its name, where it is taken from, whether it is said in words, and what it means."""

    name: str
    attribute: str  # empty where a function works it out
    said: bool
    means: str


def fields_for(kind: type) -> tuple[Field, ...]:
    """The fields of a class: those of its block, or without one all its own, said in words where they are codes."""
    return fields_of(kind.__name__) if kind.__name__ in TABLES else _own(kind)


@cache
def _own(kind: type) -> tuple[Field, ...]:
    return tuple(Field(f.name, f.name, "Code" in str(f.type), "") for f in dataclasses.fields(kind))


@cache
def fields_of(table: str) -> tuple[Field, ...]:
    """The fields of a class that has a block, in their order. Raises KeyError for one that has none."""
    found: list[Field] = []
    for line in TABLES[table].strip().splitlines():
        head, _, means = line.strip().partition(" ")
        if head.startswith(".."):
            found += fields_of(head[2:])
            continue
        said = "!" in head
        name, _, attribute = head.replace("!", "").partition("=")
        found.append(Field(name, "" if attribute == "()" else attribute or name, said, means.strip()))
    return tuple(found)
