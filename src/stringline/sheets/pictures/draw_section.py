"""A section through the housing, to scale: the drum, the roll open and closed, what clearance is left, the lid."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from stringline.drawing.board import Board
from stringline.drawing.canvas import Circle, Drawing, Hatch, Line, Point, Text
from stringline.drawing.lettering import width_mm
from stringline.drawing.scales import Scale, scales
from stringline.finding import finding
from stringline.mechanics.result import Mechanics
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice
from stringline.system.model import System

_HEIGHT_MM = 1.8
_WALL_MM = 3.0  # walls, floor and deck are drawn this thick: the catalogue says nothing of them


@dataclass(frozen=True, slots=True)
class Rolls:
    """What the section needs: sizes in metres, the drum in the middle of the housing."""

    inside_depth_m: float
    inside_height_m: float
    lid_overlap_m: float
    drum_radius_m: float
    open_hem_radius_m: float
    open_middle_radius_m: float
    closed_hem_radius_m: float

    @classmethod
    def of(cls, mechanics: Mechanics, system: System) -> Rolls:
        """From the mechanics' figures and the catalogue."""
        return cls(
            system.housing.inside_depth_m,
            system.housing.inside_height_m,
            system.housing.lid_overlap_m,
            system.drum.outer_radius_m,
            mechanics.roll_open.value / 2,
            mechanics.roll_open_middle.value / 2,
            mechanics.roll_closed.value / 2,
        )


def section_drawing(rolls: Rolls, voice: Voice, *, area_mm: tuple[float, float] = (170.0, 130.0)) -> Drawing:
    """Section across the housing, water to the right, at the largest standard scale that fits ``area_mm``."""
    every = scales(voice.unit.in_feet)
    for scale in every:
        if scale.to_mm(rolls.inside_depth_m) > area_mm[0] or scale.to_mm(rolls.inside_height_m) > area_mm[1]:
            continue
        drawing = _draw(rolls, voice, scale)
        if drawing.paper_size_mm[0] <= area_mm[0] and drawing.paper_size_mm[1] <= area_mm[1]:
            return drawing
    return _draw(rolls, voice, every[-1])


def _draw(rolls: Rolls, voice: Voice, scale: Scale) -> Drawing:
    board = Board(scale)
    half, deep = rolls.inside_depth_m / 2, rolls.inside_height_m / 2
    _housing(board, rolls, voice, half, deep)
    for layer, radius in (
        (layers.ROLL_CLOSED, rolls.closed_hem_radius_m),
        (layers.ROLL_MIDDLE, rolls.open_middle_radius_m),
        (layers.ROLL, rolls.open_hem_radius_m),
    ):
        board.add(Circle(layer, (0.0, 0.0), radius))
    r = rolls.drum_radius_m
    board.add(Hatch(layers.HATCH, tuple(_on(r, math.tau * k / 48) for k in range(48)), math.pi / 4, 1.4))
    board.add(Circle(layers.HOUSING, (0.0, 0.0), r))
    cross = rolls.open_hem_radius_m + board.m(3)
    board.line(layers.AXIS, (-cross, 0.0), (cross, 0.0))
    board.line(layers.AXIS, (0.0, -cross), (0.0, cross))
    _cover(board, rolls, voice, half, deep)
    _dimensions(board, rolls, voice, half, deep)
    _names(board, rolls, voice, half)
    alt = finding(
        "mechanics.drawing.section-alt",
        scale=scale.text,
        deep_m=2 * half,
        high_m=2 * deep,
        open_m=2 * rolls.open_hem_radius_m,
        closed_m=2 * rolls.closed_hem_radius_m,
    )
    return board.finish("section", voice.say("mechanics.drawing.section"), voice.say(alt))


def _housing(board: Board, rolls: Rolls, voice: Voice, half: float, deep: float) -> None:
    """Walls and floor hatched, the deck on both sides, the lid over the opening."""
    t = board.m(_WALL_MM)
    walls = (
        (-half - t, deep),
        (-half, deep),
        (-half, -deep),
        (half, -deep),
        (half, deep),
        (half + t, deep),
        (half + t, -deep - t),
        (-half - t, -deep - t),
    )
    board.add(Hatch(layers.HATCH, walls, -math.pi / 4, 1.4))
    board.line(layers.HOUSING, (-half, deep), (-half, -deep), (half, -deep), (half, deep))
    lap = max(rolls.lid_overlap_m, 0.0)
    lid = [(-half - lap, deep), (half + lap, deep), (half + lap, deep + t / 2), (-half - lap, deep + t / 2)]
    board.ring(layers.TRACK, lid, "paper")
    at = (0.0, deep + t / 2 + board.m(1.2))
    board.add(Text(layers.NOTE, at, voice.say("mechanics.drawing.lid"), _HEIGHT_MM, along=0.5))


def _cover(board: Board, rolls: Rolls, voice: Voice, half: float, deep: float) -> None:
    """The sheet off the top of the full roll, under the lid's edge, towards the water."""
    r = rolls.open_hem_radius_m
    out = half + board.m(_WALL_MM + 14.0)
    level = min(deep, max(r, deep - board.m(1.0)))
    board.line(layers.COVER, (0.0, r), (half, level), (out, level))
    y = level - board.m(3.0)
    tail, head = (half + board.m(_WALL_MM + 2.0), y), (out, y)
    board.arrow(layers.TRACK, tail, head, 2.2)
    at = (tail[0], y - board.m(1.4))
    board.add(Text(layers.NOTE, at, voice.say("mechanics.drawing.cover"), _HEIGHT_MM, up=1.0))


def _dimensions(board: Board, rolls: Rolls, voice: Voice, half: float, deep: float) -> None:
    r, t = rolls.open_hem_radius_m, board.m(_WALL_MM)

    def chain(size: float, on: tuple[float, float], *, across: bool) -> list[tuple[list[Point], list[str]]]:
        """Clearance, roll, clearance; then the whole. A roll that does not fit has no clearance to letter."""
        stops = [-size, -r, r, size] if r < size else [-size, size]
        places: list[Point] = [(v, on[1]) if across else (on[0], v) for v in stops]
        words = [voice.length(b - a) for a, b in pairwise(stops)]
        found = [(places, words)]
        if len(stops) > 2:
            inside = voice.say(finding("mechanics.drawing.inside", inside_m=2 * size))
            found.append(([places[0], places[-1]], [inside]))
        return found

    board.stack(chain(half, (0.0, -deep - t), across=True), (0.0, -deep - t), 0.0, (0.0, -1.0))
    # Beyond the words at the cover's end.
    right = half + board.m(_WALL_MM + 2.0) + board.m(width_mm(voice.say("mechanics.drawing.cover"), _HEIGHT_MM))
    board.stack(chain(deep, (half + t, 0.0), across=False), (right, 0.0), math.pi / 2, (1.0, 0.0), first_mm=6.0)


def _names(board: Board, rolls: Rolls, voice: Voice, half: float) -> None:
    """Names in a column on the left, each with a leader to its circle."""
    x = -half - board.m(_WALL_MM + 6.0)
    named = (
        (rolls.open_hem_radius_m, 2.45, "mechanics.drawing.open-hems"),
        (rolls.open_middle_radius_m, 2.85, "mechanics.drawing.open-middle"),
        (rolls.closed_hem_radius_m, 3.35, "mechanics.drawing.closed-hems"),
        (rolls.drum_radius_m, 3.85, "mechanics.drawing.drum"),
    )
    for k, (radius, turn, name) in enumerate(named):
        y = board.m(13.5 - 9.0 * k)
        tip = _on(radius, turn)
        board.add(Line(layers.FLAG_LEADER, (x + board.m(1.0), y), tip))
        board.dot(layers.FLAG_LEADER, tip, 0.6)
        board.add(Text(layers.NOTE, (x, y + board.m(0.3)), voice.say(name), _HEIGHT_MM, along=1.0))
        size = voice.say(finding("mechanics.drawing.diameter", across_m=2 * radius))
        board.add(Text(layers.NOTE, (x, y - board.m(0.9)), size, _HEIGHT_MM, along=1.0, up=1.0))


def _on(radius: float, turn: float) -> Point:
    return radius * math.cos(turn), radius * math.sin(turn)
