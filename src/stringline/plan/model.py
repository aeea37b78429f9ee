"""What the table of a plan is written in: a section that is made when it is first asked for, and what one lacks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any, Generic, Self, TypeVar, overload

from stringline.finding import Code

Made = TypeVar("Made")


@dataclass(frozen=True, slots=True)
class Needs:
    """Stands where a section would be: what is missing, and what to write or measure to have it.

    ``blocked`` says that the input is there and that nothing can be made of it.
    """

    section: str
    missing: tuple[Code, ...]
    blocked: bool = False


class Section(Generic[Made]):
    """One section of a plan: how it is made, and the names of what it is made from.

    It is made when it is first asked for and kept. As an attribute of the class it is itself, of a plan its value.
    ``make`` may be named as ``room.file:function``, to be looked up when it is first wanted: a heavy room then opens
    for those alone who ask for it. ``means`` is what the documentation says of it.
    """

    def __init__(self, make: Callable[..., Made] | str, *needs: str, means: str = "") -> None:
        self.make = make
        self.needs = needs
        self.means = means
        self.name = ""

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    @overload
    def __get__(self, plan: None, owner: type) -> Self: ...
    @overload
    def __get__(self, plan: object, owner: type) -> Made: ...
    def __get__(self, plan: object | None, owner: type) -> Self | Made:
        if plan is None:
            return self
        make = _found(self.make) if isinstance(self.make, str) else self.make
        made: Made = make(*(getattr(plan, name) for name in self.needs))
        # Kept under its own name, where the next look finds it before this.
        vars(plan)[self.name] = made
        return made


def _found(name: str) -> Callable[..., Any]:
    module, _, function = name.partition(":")
    found: Callable[..., Any] = getattr(import_module(f"stringline.{module}"), function)
    return found


def sections_of(kind: type) -> dict[str, Section[Any]]:
    """The sections of a class by name, in the order they are written."""
    return {name: value for name, value in vars(kind).items() if isinstance(value, Section)}
