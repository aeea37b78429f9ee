"""Crooked covers that the diagnosis did not help to make: stepped through time, with what it leaves out.

Each slider has mass; rope and hem are springs that cannot push; friction holds more than it drags (so edges creep and
jump), scatters along either track, and grows as the edge stands askew. Reels stack unevenly, layer by layer; the sheet
resists shear. Every step is one implicit step of motion, solved by Newton for both sliders and the shaft that runs
free. Readings share mistakes along a run, are rounded to the tape, and may hold a bad one.

Nothing is taken from the program under test: its numbers come as a plain :class:`Numbers`, its names as plain text.
``rough`` 0 is a machine as on the drawing, 1 one that has stood outside for some years.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

INCH = 0.0254
EIGHTH = INCH / 8.0
LEAST_LEAD_M = 0.025
MOST_LEAD_M = 0.15
STEPS = 320
TRIES = 30
GRAVITY = 9.81
WATER = 1000.0

LISTED: dict[str, tuple[float, float]] = {
    # share of the covers, largest amount
    "rope-length": (0.24, 0.10),
    "reel-stacking": (0.12, 1.0),
    "reel-size": (0.08, 0.002),
    "rope-stretch": (0.03, 0.5),
    "hem-drag": (0.10, 40.0),
    "slider-drag": (0.08, 600.0),
    "tight-spot": (0.12, 2500.0),
    "square": (0.10, 0.08),
    "hem-roll": (0.08, 0.0003),
}
"""What the program lists, each with the share of covers that have it and its largest amount (practice)."""

UNLISTED: dict[str, tuple[float, float]] = {
    "rope-slips": (0.02, 0.10),  # on its reel, by so much while closing
    "hem-fallen": (0.002, 0.006),  # off its stack: so much less radius from some turn on
    "reel-overruns": (0.03, 0.15),  # so much rope loose at the end of the opening
    "joint-bent": (100.0, 700.0),  # catches in one direction only, drags on behind it
    "water-aside": (0.01, 0.08),  # lies so deep on one side
    "zero-off": (0.012, 0.05),  # both runs measured from marks that do not face each other
    "gusts": (40.0, 150.0),  # push one side, then the other
}
"""Faults that no list holds, each with its least and largest amount (estimates)."""


@dataclass(frozen=True)
class Numbers:
    """One cover's plain numbers, both sides alike: metres, newtons, amperes."""

    travel_m: float
    pulley_m: float
    rope_back_m: float
    hem_behind_m: float
    width_m: float
    barrel_m: float  # to the middle of the first layer
    layer_m: float  # from one layer to the next
    turns_a_layer: float
    dead_turns: float
    core_m: float
    hem_m: float  # a turn of hem builds up so much
    hem_on_drum_m: float
    rope_ea_n: float
    hem_ea_n: float
    pulley: float  # efficiency
    guide: float  # pull behind a guide over the pull before it
    jam: float  # rope pull over the resistance at the slider
    drag_n: float
    drag_n_m: float
    drum_brake_nm: float
    reel_brake_nm: float
    shaft_rad_nm: float
    idle_a: float
    a_nm: float
    full_load_a: float
    torque_nm: float  # most that the motor gives


@dataclass(frozen=True)
class Fault:
    """What is wrong, in the words of :data:`LISTED` or :data:`UNLISTED`; side "drive" or "idle"."""

    key: str
    side: str
    amount: float
    at_m: float | None = None


@dataclass(frozen=True)
class Reading:
    """What a crew wrote down at one station; + with the drive side ahead in the direction of travel."""

    station_m: float
    closing_m: float | None
    opening_m: float | None
    current_a: float | None


@dataclass(frozen=True)
class Cover:
    """One cover, what is wrong with it (the worst first; none: healthy), and its sheet."""

    faults: tuple[Fault, ...]
    readings: tuple[Reading, ...]
    caught_m: float | None = None
    bad: tuple[int, str] | None = None  # the reading that is false, where one is


@dataclass(frozen=True)
class Runs:
    """Covers run out: leads (k, n) as x_drive − x_idle at the station (k, n) of the edge's middle."""

    closing_at: Array
    closing_m: Array
    closing_nm: Array
    opening_at: Array
    opening_m: Array


class _Wound:
    """What lies on two spools: each thirtieth of a turn keeps the strain that it was wound with."""

    def __init__(self, n: int) -> None:
        self.table = np.zeros((2, n, 2100))

    def _place(self, turned: Array) -> npt.NDArray[np.intp]:
        return np.clip(turned * 30.0, 0, self.table.shape[2] - 1).astype(np.intp)[..., None]

    def keep(self, turned: Array, strain: Array) -> None:
        """Wind on at so many turns with that strain."""
        for ahead in range(4):  # a step winds on a tenth of a turn at most
            np.put_along_axis(self.table, self._place(turned + ahead / 30.0), strain[..., None], axis=2)

    def strain(self, turned: Array) -> Array:
        """Strain of what comes off at so many turns."""
        return np.asarray(np.take_along_axis(self.table, self._place(turned), axis=2)[..., 0])


class _Bench:
    """n covers stepped side by side; index 0 is the drive side."""

    def __init__(self, m: Numbers, faults: Sequence[tuple[Fault, ...]], rough: float, rng: np.random.Generator) -> None:
        n = len(faults)
        self.m, self.n, self.rng = m, n, rng
        self.rough = rough
        self.left = np.zeros(n)

        def scatter(sd: float, *shape: int) -> Array:
            return np.asarray(rough * sd * rng.standard_normal((2, n, *shape)))

        self.slack = scatter(0.0015)
        self.ea = m.rope_ea_n * np.exp(scatter(0.04))
        self.layer_extra = scatter(0.0002, 24)
        self.early = scatter(0.15)
        self.hem_thick = m.hem_m * (1.0 + scatter(0.002))
        self.hem_extra = scatter(0.002)
        self.on_reel, self.on_drum = _Wound(n), _Wound(n)
        worn = 0.2 * min(1.0, 2.0 * rough)
        common = 1.0 + worn * np.clip(rng.standard_normal(n), -2.0, 2.0)
        brakes = 1.0 + worn * np.clip(rng.standard_normal(n), -2.0, 2.0)
        self.brake = np.broadcast_to(brakes, (2, n))
        self.end = m.drag_n * common * np.exp(scatter(0.15))
        self.per = m.drag_n_m * common * np.exp(scatter(0.15))
        self.grid = np.linspace(-0.5, m.travel_m + 0.6, 240)
        self.field = 1.0 + rough * self._field(0.3)
        self.pulley = np.full((2, n), m.pulley)
        self.shear_n = rough * 40e3 * rng.uniform(0.2, 1.0, n)
        self.askew = rough * 0.4
        self.hold = 1.0 + 0.35 * rough
        self.slips = np.zeros((2, n))
        self.slips_at = np.full(n, 0.5 * m.travel_m)
        self.overrun = np.zeros((2, n))
        self.fallen, self.fallen_turn = np.zeros((2, n)), np.full(n, 99.0)
        self.joint, self.joint_at = np.zeros((2, n)), np.zeros(n)
        self.pinch, self.pinch_at = np.zeros((2, n)), np.zeros(n)
        self.water = np.zeros((2, n))
        self.gust = np.zeros(n)
        self.zero = np.zeros(n)
        for i, those in enumerate(faults):
            for f in those:
                self._break(i, f)

    def _field(self, sd: float) -> Array:
        """Friction that varies from place to place, (2, n, grid): lumps about three quarters of a metre long."""
        raw = self.rng.standard_normal((2, self.n, self.grid.size))
        step = self.grid[1] - self.grid[0]
        kernel = np.exp(-0.5 * np.square(np.arange(-40, 41) * step / 0.75))
        kernel /= math.sqrt(float(np.square(kernel).sum()))
        size = self.grid.size + kernel.size
        smooth = np.fft.irfft(np.fft.rfft(raw, size) * np.fft.rfft(kernel, size), size)[..., 40 : 40 + self.grid.size]
        return np.asarray(np.clip(sd * smooth, -0.8, 1.5))

    def _break(self, i: int, f: Fault) -> None:
        """Put one fault into cover i."""
        k, rng = (0 if f.side == "drive" else 1), self.rng
        at = f.at_m if f.at_m is not None else 0.5 * self.m.travel_m
        match f.key:
            case "rope-length":
                self.slack[k, i] += f.amount
            case "reel-stacking":
                self.early[k, i] += f.amount
            case "reel-size":
                self.layer_extra[k, i] += f.amount
            case "rope-stretch":
                self.ea[k, i] /= 1.0 + f.amount
            case "hem-drag":
                self.per[k, i] += f.amount
            case "slider-drag":
                self.end[k, i] += f.amount
            case "tight-spot":
                self.pinch[k, i], self.pinch_at[i] = f.amount, at
            case "square":
                self.hem_extra[k, i] += f.amount
            case "hem-roll":
                self.hem_thick[k, i] += f.amount
            case "rope-slips":
                self.slips[k, i], self.slips_at[i] = f.amount, at
            case "hem-fallen":
                self.fallen[k, i], self.fallen_turn[i] = f.amount, rng.uniform(6.0, 16.0)
            case "reel-overruns":
                self.overrun[k, i] = f.amount
            case "joint-bent":
                self.joint[k, i], self.joint_at[i] = f.amount, at
            case "water-aside":
                self.water[k, i] = f.amount
            case "zero-off":
                self.zero[i] = f.amount if k == 0 else -f.amount
            case "gusts":
                self.gust[i] = f.amount
            case _:
                raise ValueError(f"no such fault: {f.key}")

    def reel_radius(self, turned: Array) -> Array:
        """Radius of either reel, (2, n)."""
        layer = np.clip(np.floor((turned + self.early) / self.m.turns_a_layer), 0, 23).astype(np.intp)
        extra = np.take_along_axis(self.layer_extra, layer[..., None], axis=2)[..., 0]
        return np.asarray(self.m.barrel_m + layer * self.m.layer_m + extra)

    def drum_radius(self, turned: Array) -> Array:
        """Radius of the hem on either end of the drum, (2, n)."""
        return np.asarray(
            self.m.core_m + self.hem_thick * turned - np.where(turned > self.fallen_turn, self.fallen, 0.0)
        )

    def friction(self, x: Array, lead: Array, closing: bool) -> Array:
        """What holds either slider back while it moves, (2, n); closing, with the hem that it draws along its track."""
        place = np.clip((x - self.grid[0]) / (self.grid[1] - self.grid[0]), 0, self.grid.size - 1.001)
        j = place.astype(np.intp)
        here = np.take_along_axis(self.field, j[..., None], axis=2)[..., 0]
        out = self.end * here * (1.0 + self.askew * np.abs(lead) / 0.1)
        out = out + self.pinch * np.exp(-0.5 * np.square((x - self.pinch_at) / 0.25))
        if closing:
            bump = np.exp(-0.5 * np.square((x - self.joint_at) / 0.08)) + 0.25 * (x > self.joint_at)
            out = out + self.joint * bump
        else:
            out = out + 0.1 * self.joint * np.exp(-0.5 * np.square((x - self.joint_at) / 0.08))
        return np.asarray(out + self.hem_drag(x)) if closing else np.asarray(out)

    def hem_drag(self, x: Array) -> Array:
        """Drag along either hem, (2, n)."""
        return np.asarray(self.per * np.maximum(x, 0.0))

    def wet(self, x: Array, closing: bool) -> Array:
        """Water on one side: its weight drags on half the sheet while closing, and it banks up before the housing."""
        half = self.m.width_m / 2.0
        if closing:
            share = np.square(np.clip(x / self.m.travel_m, 0.0, 1.0))
            return np.asarray(0.12 * WATER * GRAVITY * self.water * half * 0.6 * share)
        bank = self.water * np.minimum(3.0, np.sqrt(self.m.travel_m / np.maximum(x, 0.8)))
        return np.asarray(0.5 * WATER * GRAVITY * np.square(bank) * half)

    def blow(self, dt: float) -> Array:
        """Gusts on the edge for a whole run, (steps, n): half on one side, half off the other."""
        keep = math.exp(-dt / 6.0)
        out, now = np.zeros((4 * STEPS, self.n)), self.rng.standard_normal(self.n)
        for j in range(out.shape[0]):
            now = keep * now + math.sqrt(1.0 - keep * keep) * self.rng.standard_normal(self.n)
            out[j] = now
        return out * self.gust / 2.0

    def cycle(self) -> Runs:
        """Close, open, close again; the last closing and the opening are what is read."""
        m = self.m
        x = np.zeros((2, self.n))
        reel = np.full((2, self.n), m.dead_turns)
        drum = np.full((2, self.n), self._turns_of(m.hem_on_drum_m + m.travel_m))
        rope = m.pulley_m + m.rope_back_m + self.slack
        hem = np.full((2, self.n), m.hem_behind_m) + self._square_now(drum)
        # The drum stands so that the shorter hem is just taut, and the other hangs.
        short = m.hem_behind_m - hem.min(axis=0)
        hem = hem + short
        drum = drum - short / (2.0 * math.pi * self.drum_radius(drum))
        first = self._run((x, reel, drum, rope, hem), closing=True)
        back = self._run(first[0], closing=False)
        again = self._run(back[0], closing=True)
        return Runs(*again[1:], back[1], back[2])

    def _turns_of(self, length: float) -> float:
        """Turns of hem that so much of it makes: πt·n² + 2πc·n = length."""
        c, t = self.m.core_m, self.m.hem_m
        return (-c + math.sqrt(c * c + t * length / math.pi)) / t

    def _square_now(self, drum: Array) -> Array:
        """Hem off the drum at the start, over the nominal: laced so that a bare drum leaves what is built in."""
        bare = self._turns_of(self.m.hem_on_drum_m)
        count = 160
        out = self.hem_extra.copy()
        turn = np.linspace(bare, float(drum.max()), count + 1)
        for a, b in itertools.pairwise(turn):
            mid = (a + b) / 2.0
            plain = self.m.core_m + self.m.hem_m * mid
            out -= 2.0 * math.pi * (b - a) * (self.drum_radius(np.full_like(drum, mid)) - plain)
        return out

    def _run(
        self, state: tuple[Array, Array, Array, Array, Array], *, closing: bool
    ) -> tuple[tuple[Array, Array, Array, Array, Array], Array, Array, Array]:
        """One run: state (x, reel turns, drum turns, rope off the reel, hem off the drum) and its record."""
        m, n = self.m, self.n
        x, reel, drum, rope, hem = (a.copy() for a in state)
        speed = 0.12
        dt = m.travel_m / speed / STEPS
        v = np.zeros((2, n))
        free_v = np.zeros(n)
        wind = self.blow(dt)
        done = np.zeros(n, dtype=bool)
        record: tuple[list[Array], list[Array], list[Array]] = ([], [], [])
        for step in range(4 * STEPS):
            old = (x, reel, drum, rope, hem)
            radius, roll = self.reel_radius(reel), self.drum_radius(drum)
            lead = x[0] - x[1]
            mean = (x[0] + x[1]) / 2.0
            grip = self.friction(x, lead, closing)
            still = np.exp(-np.square(v / 0.02))
            grip = grip * (1.0 + (self.hold - 1.0) * still) + self.wet(x, closing)
            shaft = roll if not closing else radius
            turn = speed * dt / shaft[0] / (2.0 * math.pi) * np.ones(n)
            if closing:
                slip = self.slips * np.exp(-0.5 * np.square((mean - self.slips_at) / 0.7)) / (0.7 * 2.5066)
                wound = 2.0 * math.pi * radius * turn - slip * speed * dt
                strain = self._rope_pull(x, rope, radius, closing)[0] * m.guide / self.pulley / self.ea
                rope = rope - wound / (1.0 + strain)
                self.on_reel.keep(reel, strain)
                # What ran over while opening is pulled in again on the first half of the way.
                rope = rope - self.overrun * (mean < m.travel_m / 2) * speed * dt / (m.travel_m / 2)
                reel = reel + turn
            else:
                strain = (self._hem_pull(x, hem, roll, closing)[0] + self.hem_drag(x)) * m.guide / m.hem_ea_n
                hem = hem - 2.0 * math.pi * roll * turn / (1.0 + strain)
                self.on_drum.keep(drum, strain)
                rope = rope + self.overrun * (mean < m.travel_m / 2) * speed * dt / (m.travel_m / 2)
                drum = drum + turn
            kept = (
                self.on_drum.strain(drum - free_v * dt / 2.0)
                if closing
                else self.on_reel.strain(reel - free_v * dt / 2.0)
            )
            x, v, spun = self._step((x, v, free_v), (rope, hem, radius, roll), grip, wind[step], dt, closing)
            if closing:
                hem = hem + 2.0 * math.pi * roll * spun / (1.0 + kept)
                drum = drum - spun
            else:
                rope = rope + 2.0 * math.pi * radius * spun / (1.0 + kept)
                reel = reel - spun
            free_v = spun / dt
            pull = self._rope_pull(x, rope, radius, closing)[0]
            # A cover that has arrived stands.
            x, reel, drum, rope, hem = (
                np.where(done, a, b) for a, b in zip(old, (x, reel, drum, rope, hem), strict=True)
            )
            mean = (x[0] + x[1]) / 2.0
            record[0].append(mean)
            record[1].append(x[0] - x[1])
            record[2].append((pull * m.guide / self.pulley * radius).sum(axis=0))
            done |= (mean >= m.travel_m) if closing else (mean <= 0.0)
            if done.all():
                break
        at, leads, torque = (np.array(r) for r in record)
        return (x, reel, drum, rope, hem), at, leads, torque

    def _rope_pull(self, x: Array, rope: Array, radius: Array, closing: bool) -> tuple[Array, Array]:
        """Pull of each rope at its slider and its stiffness there, (2, n); the way back carries 1/η or η of it."""
        back = 1.0 / self.pulley if closing else self.pulley
        out = np.maximum(self.m.pulley_m - x, 0.1)
        give = (out + self.m.rope_back_m * back) / self.ea
        if closing:  # the idle end of the shaft lags by its twist
            give[1] = give[1] + np.square(radius[1]) * self.m.shaft_rad_nm * self.m.guide / self.m.pulley
        # While it closes, the slider goes to the pulley: shorter free rope at the same material is a slack rope.
        long = self.m.pulley_m - x + self.m.rope_back_m - rope
        return np.maximum(long, 0.0) / give, np.where(long > 0.0, 1.0, 1e-3) / give

    def _hem_pull(self, x: Array, hem: Array, roll: Array, closing: bool) -> tuple[Array, Array]:
        """Pull of each hem at the end that drags nothing (closing the drum, opening the slider), and its stiffness."""
        give = np.maximum(x + self.m.hem_behind_m, 0.1) / self.m.hem_ea_n
        if not closing:
            give[1] = give[1] + np.square(roll[1]) * self.m.shaft_rad_nm * self.m.guide
        long = x + self.m.hem_behind_m - hem - 0.5 * self.hem_drag(x) * np.maximum(x, 0.0) / self.m.hem_ea_n
        return np.maximum(long, 0.0) / give, np.where(long > 0.0, 1.0, 1e-3) / give

    def _step(
        self,
        moving: tuple[Array, Array, Array],
        lengths: tuple[Array, Array, Array, Array],
        grip: Array,
        wind: Array,
        dt: float,
        closing: bool,
    ) -> tuple[Array, Array, Array]:
        """Implicit step: places and speeds of both sliders, and turns of the shaft that runs free."""
        m, n = self.m, self.n
        x0, v0, free_v = moving
        rope, hem, radius, roll = lengths
        mass, ease = 25.0, 0.004
        free = (roll if closing else radius) * 2.0 * math.pi
        brake = (m.drum_brake_nm if closing else m.reel_brake_nm) * self.brake[0] * m.guide
        if not closing:
            brake = brake / m.pulley
        x, spun = x0 + v0 * dt, free_v * dt
        torn = self.shear_n / 6.0 / np.maximum((x0[0] + x0[1]) / 2.0 + m.hem_behind_m, 0.5)
        gale = np.array([wind, -wind])
        reach, before = np.ones(n), np.full(n, math.inf)
        for _ in range(TRIES):
            rope_now = rope + (0.0 if closing else free * spun)
            hem_now = hem + (free * spun if closing else 0.0)
            pull, k_rope = self._rope_pull(x, rope_now, radius, closing)
            drag, k_hem = self._hem_pull(x, hem_now, roll, closing)
            v = (x - x0) / dt
            # Friction's slope is taken as that of the chord from nought: such steps never overshoot.
            k_rub = grip / np.sqrt(v * v + ease * ease)
            rub, k_rub = k_rub * v / grip, k_rub / dt
            tear = torn * ((x[0] - hem_now[0]) - (x[1] - hem_now[1]))
            by_rope = 1.0 / m.jam if closing else m.jam
            force = by_rope * pull - drag - grip * rub - mass * (v - v0) / dt + gale
            force = force - np.array([tear, -tear])
            stiff = by_rope * k_rope + k_hem + k_rub + mass / dt / dt
            k_turn = brake / np.sqrt(np.square(spun / dt) + 0.004**2)
            turn, k_turn = k_turn * spun / dt / brake, k_turn / dt
            if closing:  # hems turn the drum
                arm, k_free = free / (2.0 * math.pi), k_hem
                moment = (arm * drag).sum(axis=0) - brake * turn
                couple = np.array(k_hem) * free  # of a slider's force for a turn of the drum
                back = arm * k_free  # of the drum's moment for a slider's move
            else:
                arm = free / (2.0 * math.pi)
                moment = (arm * pull).sum(axis=0) - brake * turn
                k_free = k_rope
                couple = -by_rope * k_rope * free
                back = -arm * k_rope
            a = np.zeros((n, 3, 3))
            a[:, 0, 0], a[:, 1, 1] = stiff[0] + torn, stiff[1] + torn
            a[:, 0, 1] = a[:, 1, 0] = -torn
            lean = torn * (free[0] - free[1]) if closing else 0.0
            a[:, 0, 2], a[:, 1, 2] = -couple[0] - lean, -couple[1] + lean
            a[:, 2, 0], a[:, 2, 1] = -back[0], -back[1]
            a[:, 2, 2] = (arm * k_free * free).sum(axis=0) + k_turn + 1e-6
            b = np.stack([force[0], force[1], moment], axis=1)
            now = np.abs(b * np.array([1.0, 1.0, 10.0])).max(axis=1)
            self.left = now
            if now.max() < 0.01:
                break
            # Friction turns over within a step: a move that made matters worse is followed by a shorter one.
            reach = np.where(now > before, np.maximum(reach * 0.5, 0.1), np.minimum(1.0, reach * 1.5))
            before = now
            move = np.linalg.solve(a, b[..., None])[..., 0]
            move = np.clip(move * reach[:, None], -0.04, 0.04)
            x = x + move[:, :2].T
            spun = spun + move[:, 2]
        return x, (x - x0) / dt, spun


def run_out(m: Numbers, faults: Sequence[tuple[Fault, ...]], rough: float, seed: int) -> tuple[Runs, Array]:
    """Run covers out; the second result is the false zero of each. The same seed makes the same covers."""
    bench = _Bench(m, faults, rough, np.random.default_rng(seed))
    return bench.cycle(), bench.zero


def covers(m: Numbers, n: int, seed: int, *, rough: float = 0.5, kind: str = "listed") -> list[Cover]:
    """n covers with full sheets; the same seed makes the same covers.

    ``kind``: "listed" (one or two causes of the list, the second at most three fifths of the first), "unlisted" or
    "healthy".
    """
    made: list[Cover] = []
    for attempt in range(40):
        rng = np.random.default_rng([seed, attempt])
        many = max(12, int(2.5 * (n - len(made))))
        made += [c for c in _batch(m, [_faults(m, kind, rng) for _ in range(many)], rough, rng) if c is not None]
        if len(made) >= n:
            break
    return made[:n]


def _faults(m: Numbers, kind: str, rng: np.random.Generator) -> tuple[Fault, ...]:
    if kind == "healthy":
        return ()
    if kind == "unlisted":
        key = str(rng.choice(list(UNLISTED)))
        low, high = UNLISTED[key]
        return (Fault(key, _side(rng), float(rng.uniform(low, high)), float(rng.uniform(0.15, 0.85) * m.travel_m)),)
    share = np.array([s for s, _ in LISTED.values()])
    keys = rng.choice(list(LISTED), size=1 + int(rng.random() < 0.4), replace=False, p=share / share.sum())
    out = []
    for key in keys:
        at = float(rng.uniform(0.1, 0.9) * m.travel_m) if key == "tight-spot" else None
        most = LISTED[str(key)][1]
        if key == "tight-spot":  # a motor at its rating cannot pull past more
            most = min(most, 0.85 * m.torque_nm / (m.barrel_m + 2.0 * m.layer_m) * m.pulley / m.guide / m.jam)
        out.append(Fault(str(key), _side(rng), float(most * rng.uniform(0.05, 1.0)), at))
    return tuple(out)


def _side(rng: np.random.Generator) -> str:
    return "drive" if rng.random() < 0.5 else "idle"


def _batch(m: Numbers, faults: list[tuple[Fault, ...]], rough: float, rng: np.random.Generator) -> list[Cover | None]:
    """Run and read covers; None for one that is not crooked enough to be asked about, or has no main cause."""
    alone = [(f,) for those in faults for f in those]
    effect: Iterator[float] = iter(())
    if alone:
        runs, zero = run_out(m, alone, 0.0, 1)
        effect = iter(_worst(runs) + np.abs(zero))
    ordered: list[tuple[Fault, ...] | None] = []
    for those in faults:
        each = [float(next(effect)) for _ in those]
        rank = np.argsort(each)[::-1]
        main = len(each) < 2 or each[rank[1]] < 0.6 * each[rank[0]]
        # What is wrong must make an inch by itself: a cover that only wear pulls askew has no answer.
        much = not each or each[rank[0]] > LEAST_LEAD_M
        ordered.append(tuple(those[k] for k in rank) if main and much else None)
    kept = [f for f in ordered if f is not None]
    runs, zero = run_out(m, kept, rough, int(rng.integers(2**31)))
    out: list[Cover | None] = []
    worst = _worst(runs) + np.abs(zero)
    for i, those in enumerate(kept):
        full = _arrived(m, runs, i) and worst[i] < MOST_LEAD_M
        out.append(_read(m, runs, i, those, float(zero[i]), rough, rng) if full else None)
        if those and worst[i] < LEAST_LEAD_M:
            out[-1] = None
    return out


def _worst(runs: Runs) -> Array:
    return np.asarray(np.maximum(np.abs(runs.closing_m).max(axis=0), np.abs(runs.opening_m).max(axis=0)))


def _arrived(m: Numbers, runs: Runs, i: int) -> bool:
    shut, back = runs.closing_at[-1, i], runs.opening_at[-1, i]
    finite = np.isfinite(runs.closing_m[:, i]).all() and np.isfinite(runs.opening_m[:, i]).all()
    return bool(finite and shut >= m.travel_m - 0.02 and back <= 0.02)


def _read(
    m: Numbers, runs: Runs, i: int, faults: tuple[Fault, ...], zero: float, rough: float, rng: np.random.Generator
) -> Cover:
    """Tape one cover at six stations and where it catches; mistakes are shared along each run."""
    at = list(np.linspace(0.06, 0.97, 6) * m.travel_m)
    caught = None
    for f in faults:
        if f.key == "tight-spot" and f.at_m is not None and rng.random() < 0.8:
            caught = float(np.clip(f.at_m + rng.normal(0.0, 0.12), 0.1, m.travel_m - 0.1))
            at.append(caught)
    stations = np.sort(np.array(at))
    meant = stations + rough * rng.normal(0.0, 0.03, stations.size)
    order = np.argsort(runs.closing_at[:, i], kind="stable")
    shut = np.interp(meant, runs.closing_at[order, i], runs.closing_m[order, i])
    torque = np.interp(meant, runs.closing_at[order, i], runs.closing_nm[order, i])
    order = np.argsort(runs.opening_at[:, i], kind="stable")
    back = -np.interp(meant, runs.opening_at[order, i], runs.opening_m[order, i])
    leads = []
    for lead, side in ((shut, 1.0), (back, -1.0)):
        shared = rough * (rng.normal(0.0, 0.003) + _wander(stations, 0.0025, rng))
        taped = lead + side * zero + shared + rng.normal(0.0, EIGHTH, stations.size)
        leads.append(np.round(taped / EIGHTH) * EIGHTH)
    amps = m.idle_a + m.a_nm * torque
    amps = amps + m.full_load_a * (rough * 0.03 * rng.standard_normal() + 0.03 * rng.standard_normal(amps.size))
    rows = tuple(
        Reading(float(s), float(a), float(b), float(c)) for s, a, b, c in zip(stations, *leads, amps, strict=True)
    )
    return Cover(faults, rows, caught)


def _wander(at: Array, sd: float, rng: np.random.Generator) -> Array:
    """A mistake that changes over some metres of the run."""
    cov = sd * sd * np.exp(-np.abs(at[:, None] - at) / 3.0) + 1e-12 * np.eye(at.size)
    return np.asarray(np.linalg.cholesky(cov) @ rng.standard_normal(at.size))


def thinned(cover: Cover, rng: np.random.Generator) -> Cover:
    """The same cover with a poor sheet: two or three stations, often one direction, mostly no current."""
    keep = np.sort(rng.choice(len(cover.readings), size=int(rng.integers(2, 4)), replace=False))
    way, amps = rng.random(), rng.random() < 0.3
    rows = []
    for k in keep:
        r = cover.readings[k]
        rows.append(
            replace(
                r,
                closing_m=None if way < 0.25 else r.closing_m,
                opening_m=None if way > 0.6 else r.opening_m,
                current_a=r.current_a if amps else None,
            )
        )
    return replace(cover, readings=tuple(rows))


def spoilt(cover: Cover, rng: np.random.Generator) -> Cover:
    """One lead read false: its sign where that makes half an inch, else an inch or two off."""
    k, which = int(rng.integers(len(cover.readings))), str(rng.choice(["closing_m", "opening_m"]))
    good = getattr(cover.readings[k], which)
    if good is None:
        which = "opening_m" if which == "closing_m" else "closing_m"
        good = getattr(cover.readings[k], which)
    off = float(rng.choice([-2.0, -1.0, 1.0, 2.0])) * INCH
    wrong = -good if abs(good) > INCH / 2.0 and rng.random() < 0.4 else good + off
    rows = list(cover.readings)
    rows[k] = replace(rows[k], **{which: wrong})
    return replace(cover, readings=tuple(rows), bad=(k, which.removesuffix("_m")))
