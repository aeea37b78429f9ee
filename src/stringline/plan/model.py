"""What the table of a plan is written in: a section that is made when it is first asked for, and what one lacks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
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
    """

    def __init__(self, make: Callable[..., Made], *needs: str) -> None:
        self.make = make
        self.needs = needs
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
        made = self.make(*(getattr(plan, name) for name in self.needs))
        # Kept under its own name, where the next look finds it before this.
        vars(plan)[self.name] = made
        return made


def sections_of(kind: type) -> dict[str, Section[Any]]:
    """The sections of a class by name, in the order they are written."""
    return {name: value for name, value in vars(kind).items() if isinstance(value, Section)}
