"""What a ticket's readings say of which unknowns: one row a reading, one column an unknown.

Unknowns are the truck's two axle weights, and for each load (none is a load too) the trailer's coupler load and axle
loads, standing level. How they meet in a reading:

- hitched, the coupler load goes onto the truck: the share *hitch ahead of the rear axle over wheelbase* to the front
  axle where both are known, else what the front axle gains is an unknown of its own;
- drawn-up spring bars give part of the coupler load back to the trailer's axles, and the front axle's gain is unknown;
- on its jack a trailer leans on a support behind the coupling: with the jack ``j`` and the axles ``a`` behind it, the
  jack carries ``a / (a - j)`` of the coupler load and the axles that much less; where j is not known the difference is
  an unknown;
- one side carries half and an unknown more or less;
- who and what was aboard adds its weight where it sits; without a known weight it adds an unknown to each axle.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rubrail.mechanics.least_squares import Fit, fit
from rubrail.quantity.value import Value
from rubrail.rules.scales import off_lb, own_doubt_lb, scale_kind, shared_doubt_lb
from rubrail.things.columns import Array
from rubrail.things.ticket import Aboard, Reading, Scale, Ticket, Weighing
from rubrail.things.ticket_sense import WHOLE
from rubrail.things.trailer import Trailer
from rubrail.things.truck import Truck

EMPTY = ""
HITCH = "hitch"
_SURE_LB = 0.01
"""Least doubt of a weight that somebody states without any, so that it is a number like others. [lb]"""


@dataclass(frozen=True, slots=True)
class Factor:
    """A known number that an unknown is multiplied by, with its standard uncertainty."""

    value: float
    doubt: float


@dataclass(frozen=True, slots=True)
class Item:
    """Someone or something aboard: weight, and the share of it on the front axle, each with standard uncertainty."""

    weight: Factor
    front: Factor


@dataclass(frozen=True, slots=True)
class Row:
    """One reading: factor of each unknown, and known numbers (``factors`` of the layout) times unknowns."""

    unknowns: Mapping[str, float]
    products: tuple[tuple[str, str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading with where on the ticket it stands, both counted from 0."""

    weighing: int
    number: int
    state: Weighing
    reading: Reading
    scale: Scale


def coupler(load: str) -> str:
    """Name of the coupler load with a load aboard."""
    return f"coupler|{load}"


def axle(n: int, load: str) -> str:
    """Name of the load of one axle, counted from 1."""
    return f"axle {n}|{load}"


def gain(load: str, *, bars: bool) -> str:
    """Name of what the truck's front axle gains from the trailer."""
    return f"gain|{load}|{'bars' if bars else ''}"


def back(load: str) -> str:
    """Name of what drawn-up spring bars send to the trailer's axles."""
    return f"back|{load}"


def side(state: Weighing, part: str) -> str:
    """Name of what the left wheels carry above half."""
    return f"side|{state.state}|{state.load or EMPTY}|{state.weight_distribution}|{part}"


def seat(item: str) -> str:
    """Name of how far off the share on the front axle is of something aboard."""
    return f"seat|{item}"


def off(factor: str) -> str:
    """Name of how far off a known number is that unknowns are multiplied by."""
    return f"off|{factor}"


def standard(value: Value) -> Factor:
    """A value whose tolerance is the limit of its error, as a factor."""
    return Factor(float(value), value.plus_minus / 3**0.5)


class Layout:
    """The unknowns of a ticket, and the row of any reading, taken or thinkable.

    Parameters
    ----------
    ticket : Ticket
    trailer : Trailer or None
        Gives the axles' number and places.
    truck : Truck or None
        Gives wheelbase and hitch.
    """

    def __init__(self, ticket: Ticket, *, trailer: Trailer | None, truck: Truck | None) -> None:
        self.ticket, self.trailer, self.truck = ticket, trailer, truck
        named = [int(p[5:]) for w in ticket.weighing for r in w.reading for p in r.on if p.startswith("axle ")]
        self.axles = max([len(trailer.axle) if trailer else 1, *named])
        self.loads = tuple(dict.fromkeys([EMPTY, *(w.load or EMPTY for w in ticket.weighing)]))
        self.factors: dict[str, Factor] = {}
        self.items: dict[str, Item] = {}
        self._hitch()
        self.taken = tuple(self._taken())
        rows = [self.row(t.state, t.reading.on, t.reading.side) for t in self.taken]
        names = ["steer", "drive", *(n for load in self.loads for n in self._of(load))]
        names += [n for row in rows for n in row.unknowns]
        names += [gain(load, bars=False) for load in self.loads] if HITCH not in self.factors else []
        names += [off(f) for row in rows for f, _, _ in row.products if self.factors[f].doubt]
        self.names = tuple(dict.fromkeys(names))
        self.index = {name: n for n, name in enumerate(self.names)}
        self.rows = tuple(rows)

    def _of(self, load: str) -> list[str]:
        return [coupler(load), *(axle(n, load) for n in range(1, self.axles + 1))]

    def _hitch(self) -> None:
        """The share of the coupler load that goes to the truck's front axle, where wheelbase and hitch are known."""
        kind = self.trailer.coupling.kind if self.trailer else None
        hitches = [h for h in self.truck.hitch if kind in (None, h.kind)] if self.truck else []
        base = self.truck.size.wheelbase_in if self.truck else None
        places = {h.ahead_of_rear_axle_in for h in hitches}
        if base is None or len(places) != 1 or None in places:
            return
        wheelbase, ahead = standard(base), standard(hitches[0].ahead_of_rear_axle_in)
        share = ahead.value / wheelbase.value
        self.factors[HITCH] = Factor(share, np.hypot(ahead.doubt, share * wheelbase.doubt) / wheelbase.value)

    def axle_place(self) -> Factor | None:
        """Middle of the trailer's axles behind the coupling."""
        places = [a.from_coupler_in for a in self.trailer.axle] if self.trailer else [None]
        if None in places or self.axles != len(places):
            return None
        each = [standard(p) for p in places]
        return Factor(sum(f.value for f in each) / len(each), sum(f.doubt for f in each) / len(each))

    def _taken(self) -> list[Taken]:
        scales = {s.id: s for s in self.ticket.scale}
        only = self.ticket.scale[0]
        return [
            Taken(n, m, w, r, scales.get(r.scale or "", only))
            for n, w in enumerate(self.ticket.weighing)
            for m, r in enumerate(w.reading)
            if r.shown_lb is not None and not r.set_aside
        ]

    def row(self, state: Weighing, on: Sequence[str], of_side: str | None = None) -> Row:
        """What one reading is made of.

        Parameters
        ----------
        state : Weighing
            How the rig stood.
        on : sequence of str
            What stood on the plate.
        of_side : str, optional
            ``left`` or ``right`` where only those wheels did.
        """
        unknowns: dict[str, float] = {}
        products: dict[tuple[str, str], float] = {}
        half = 0.5 if of_side else 1.0
        for part in self._parts(state, on):
            self._part(state, part, half, unknowns, products)
            if part in ("steer", "drive"):
                self._aboard(state, part, half, unknowns)
            if of_side:
                unknowns[side(state, part)] = 1.0 if of_side == "left" else -1.0
        return Row(
            {n: c for n, c in unknowns.items() if c},
            tuple((f, n, c) for (f, n), c in products.items() if abs(c) > 1e-12),
        )

    def _parts(self, state: Weighing, on: Sequence[str]) -> list[str]:
        nose = self._nose(state)
        parts = [p for word in on for p in WHOLE.get(word, (word,))]
        beyond = {f"axle {n}" for n in range(self.axles + 1, 7)} | ({"jack", "coupler"} - {nose})
        return [p for p in parts if p not in beyond]

    def _nose(self, state: Weighing) -> str:
        """What a trailer alone stands on in front; its jack unless its coupler was on a plate."""
        return "coupler" if any("coupler" in r.on for r in state.reading) else "jack"

    def _part(self, state: Weighing, part: str, half: float, unknowns: dict, products: dict) -> None:
        load, bars = state.load or EMPTY, state.weight_distribution
        lean = state.state == "trailer" and self._nose(state) == "jack"

        def add(name: str, by: float, factor: str = "") -> None:
            where, key = (products, (factor, name)) if factor else (unknowns, name)
            where[key] = where.get(key, 0.0) + half * by

        if part in ("steer", "drive"):
            add(part, 1.0)
            if state.state != "hitched":
                return
            front = 1.0 if part == "steer" else -1.0
            if bars or HITCH not in self.factors:
                add(gain(load, bars=bars), front)
            else:
                add(coupler(load), front, HITCH)
            if part == "drive":
                add(coupler(load), 1.0)
                if bars:
                    add(back(load), -1.0)
            return
        nose = part in ("coupler", "jack")
        add(coupler(load) if nose else f"{part}|{load}", 1.0)
        if bars:
            add(back(load), 1.0 / self.axles)
        if lean:
            by = 1.0 if nose else -1.0 / self.axles
            factor = self._lean(state)
            add(coupler(load) if factor else f"lean|{load}", by, factor)

    def _lean(self, state: Weighing) -> str:
        """Name of the factor by which a jack carries more than the coupler would; ``""`` where it is not known."""
        at, axles = state.jack_from_coupler_in, self.axle_place()
        if at is None or axles is None or float(at) >= axles.value:
            return ""
        j = standard(at)
        rest = axles.value - j.value
        name = f"jack at {j.value:g}"
        self.factors[name] = Factor(j.value / rest, np.hypot(axles.value * j.doubt, j.value * axles.doubt) / rest**2)
        return name

    def front_share(self, thing: Aboard) -> Factor:
        """Share of somebody's weight on the front axle; half, with that doubt, where nobody says where they sat."""
        if not self.seat_known(thing):
            return Factor(0.5, 0.5 / 3**0.5)
        at, base = standard(thing.behind_front_axle_in), float(self.truck.size.wheelbase_in)
        return Factor(1 - at.value / base, at.doubt / base)

    def seat_known(self, thing: Aboard) -> bool:
        """Whether the ticket says where they sat, and the truck how far apart its axles are."""
        base = self.truck.size.wheelbase_in if self.truck else None
        return base is not None and thing.behind_front_axle_in is not None

    def _aboard(self, state: Weighing, part: str, half: float, unknowns: dict[str, float]) -> None:
        for thing in state.aboard:
            if thing.weight_lb is None:
                # Nobody weighed it: what it puts on each axle is an unknown like the axle's own weight.
                name = f"aboard|{thing.says.strip().lower()}|{part}"
                unknowns[name] = unknowns.get(name, 0.0) + half
                continue
            weight, front = standard(thing.weight_lb), self.front_share(thing)
            name = f"aboard|{thing.says.strip().lower()}|{weight.value:g}|{front.value:g}"
            self.items[name] = Item(weight, front)
            here, way = (front.value, 1.0) if part == "steer" else (1 - front.value, -1.0)
            unknowns[name] = unknowns.get(name, 0.0) + half * here
            if front.doubt:
                unknowns[seat(name)] = unknowns.get(seat(name), 0.0) + half * way * weight.value

    # ---- numbers

    def vector(self, factors: Mapping[str, float]) -> Array:
        """A combination of unknowns as the fit takes it; names that the ticket has not are left out."""
        v = np.zeros(len(self.names))
        for name, by in factors.items():
            if name in self.index:
                v[self.index[name]] += by
        return v

    def row_vector(self, row: Row, values: Array | None = None) -> Array:
        """A row with the known numbers put in, and what each of them is off times the unknown it multiplies.

        Parameters
        ----------
        row : Row
        values : array, optional
            Unknowns as fitted so far, shape ``(..., unknown)``; without them no known number is off.
        """
        v = self.vector(row.unknowns)
        for factor, name, by in row.products:
            v[self.index[name]] += by * self.factors[factor].value
        doubtful = [p for p in row.products if off(p[0]) in self.index] if values is not None else []
        if doubtful:
            v = np.array(np.broadcast_to(v, values.shape))
            for factor, name, by in doubtful:
                v[..., self.index[off(factor)]] += by * values[..., self.index[name]]
        return v

    def _said(self) -> list[tuple[str, float, float]]:
        """What is said of unknowns beside the readings: which, its value, its standard uncertainty."""
        found = [(n, i.weight.value, max(i.weight.doubt, _SURE_LB)) for n, i in self.items.items()]
        found += [(seat(n), 0.0, i.front.doubt) for n, i in self.items.items() if i.front.doubt]
        found += [(off(f), 0.0, self.factors[f].doubt) for f in self.factors if off(f) in self.index]
        return [f for f in found if f[0] in self.index]

    def solve(self, shown_lb: Array) -> Fit:
        """Fit the unknowns to readings of the rows taken; leading axes hold several sets.

        What is aboard, where it sits, and the numbers of the rig that are known within a tolerance are unknowns too,
        each with one row more for what is said of it; those rows come last. A known number times an unknown is taken
        as straight about the unknown's first estimate.

        Parameters
        ----------
        shown_lb : array
            Shape ``(..., reading)``. [lb]
        """
        shown, said = np.asarray(shown_lb, float), self._said()
        observed = np.array([value for _, value, _ in said])
        observed = np.concatenate([shown, np.broadcast_to(observed, (*shown.shape[:-1], len(said)))], axis=-1)
        readings, count = self.covariance(shown), len(self.rows)
        covariance = np.zeros((*readings.shape[:-2], count + len(said), count + len(said)))
        covariance[..., :count, :count] = readings
        for n, (_, _, spread) in enumerate(said, count):
            covariance[..., n, n] = spread**2
        first = fit(design=self._design(None), observed=observed, covariance=covariance)
        if not any(name.startswith("off|") for name, _, _ in said):
            return first
        return fit(design=self._design(first.values), observed=observed, covariance=covariance)

    def _design(self, values: Array | None) -> Array:
        """Every row taken, and one for each thing said, shape ``(..., row, unknown)``."""
        rows = [self.row_vector(r, values) for r in self.rows]
        rows += [self.vector({name: 1.0}) for name, _, _ in self._said()]
        if not rows:
            return np.zeros((0, len(self.names)))
        return np.stack(np.broadcast_arrays(*rows), axis=-2)

    def covariance(self, shown_lb: Array) -> Array:
        """Of the readings' errors: each one's own, and its scale's shared. [lb squared]

        Parameters
        ----------
        shown_lb : array
            Shape ``(..., reading)``. [lb]
        """
        own, shared = self.doubts(shown_lb)
        same = np.array([[a.scale.id == b.scale.id for b in self.taken] for a in self.taken], float)
        same = same.reshape(len(self.taken), len(self.taken))
        return shared[..., :, None] * shared[..., None, :] * same + own[..., :, None] ** 2 * np.eye(len(self.taken))

    def doubts(self, shown_lb: Array) -> tuple[Array, Array]:
        """Standard uncertainty of each reading by itself, and that shared within its scale. [lb]"""
        shown = np.asarray(shown_lb, float)
        own, shared = np.zeros(shown.shape), np.zeros(shown.shape)
        for n, taken in enumerate(self.taken):
            kind, off = scale_kind(taken.scale.kind), scale_off_lb(taken.scale, shown[..., n])
            step = division_lb(taken.scale)
            own[..., n] = own_doubt_lb(off_lb=off, division_lb=step, again_lb=kind.again_lb)
            shared[..., n] = shared_doubt_lb(off_lb=off)
        return own, shared


def division_lb(scale: Scale) -> float:
    """A scale's division, its own or usual for its kind. [lb]"""
    return float(scale.division_lb) if scale.division_lb else scale_kind(scale.kind).division_lb


def scale_off_lb(scale: Scale, shown_lb: Array) -> Array:
    """How far a scale may be off at a reading: as it states, by its class, or as a share. [lb]"""
    shown = np.asarray(shown_lb, float)
    if scale.accuracy_lb is not None:
        return np.full(shown.shape, float(scale.accuracy_lb))
    kind = scale_kind(scale.kind)
    if not kind.scale_class:
        return kind.share * np.abs(shown)
    return off_lb(scale_class=kind.scale_class, division_lb=division_lb(scale), shown_lb=shown)
