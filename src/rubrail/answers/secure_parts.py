"""What a plan of tie-downs is made of: anchors, tie points, gear; and the plan itself, as a page may change it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from rubrail.quantity.value import Value

Cell = Value | None


@dataclass(frozen=True, slots=True)
class Anchor:
    """One place on the trailer to tie to.

    key : its number in the file with its side, ``3L``; title : what it is, in words; x_in, y_in, z_in : behind the
    coupling point, right of the center line, above the ground; wll_lb : working load limit; where : line of the file.
    """

    key: str
    title: str
    kind: str
    x_in: Cell
    y_in: Cell
    z_in: Cell
    wll_lb: Cell
    where: str

    @property
    def placed(self) -> bool:
        """Whether its place is known."""
        return None not in (self.x_in, self.y_in, self.z_in)


@dataclass(frozen=True, slots=True)
class Point(Anchor):
    """One place on the piece to tie to, as the piece stands on the trailer; without a limit where none is stated."""

    holds: str = "piece"


@dataclass(frozen=True, slots=True)
class Outfit:
    """One chain with its binder, or one strap.

    gear, binder : ids in the kit, ``binder`` empty where none is needed or none is left; the limits of its parts as
    marked or by the table; length_in : its length; tension_lb : what it is drawn to where a gauge says so.
    """

    gear: str
    binder: str
    kind: str
    title: str
    binder_title: str
    line_wll_lb: Cell
    line_factor: float | None
    hook_wll_lb: Cell
    binder_wll_lb: Cell
    length_in: Cell
    tension_lb: Cell

    @property
    def wll_lb(self) -> float:
        """Limit of its weakest part; ``nan`` where one is not known."""
        parts = (self.line_wll_lb, self.hook_wll_lb, self.binder_wll_lb)
        return float("nan") if None in parts else min(float(p) for p in parts)


@dataclass(frozen=True, slots=True)
class Top:
    """The edge that straps lie over: half its width; its height above the ground from ``from_x_in`` to ``to_x_in``,
    and the lower height beyond, where a last layer does not reach the ends."""

    half_in: float
    high_in: float
    from_x_in: float
    to_x_in: float
    low_in: float

    def at(self, x_in: float) -> float:
        """Height above the ground at a place."""
        return self.high_in if self.from_x_in <= x_in <= self.to_x_in else self.low_in


@dataclass(frozen=True, slots=True)
class Tie:
    """One tie-down of a plan.

    anchor, far : keys of anchors, ``far`` for one that goes over or round; point : key of a tie point, empty for one
    that goes over the top; gear, binder : ids in the kit; path : ``direct``, ``same side`` or ``over``;
    holds : ``piece`` or ``accessory``.
    """

    anchor: str
    point: str
    gear: str
    binder: str = ""
    path: str = "direct"
    far: str = ""
    holds: str = "piece"


@dataclass(frozen=True, slots=True)
class Plan:
    """The tie-downs of one piece, and what else is done to it.

    locked : its articulation is locked; blocked : it stands against a headboard, bulkhead or blocking in front.
    """

    ties: tuple[Tie, ...] = ()
    locked: bool = True
    blocked: bool = False


@dataclass(frozen=True)
class Scene:
    """One piece as it stands on one trailer, with what there is to tie it down.

    columns : the ``secured_`` columns and ``deck_friction`` by name; wheres : where each is written;
    top : its top edge, ``None`` where not known; front_x_in, rear_x_in : its ends; anchors, points : by key;
    stock : outfits left for this piece, the strongest first; outfits : every pairing of gear and binder the kit
    allows, by their ids; counts : how many of each id the kit has; elsewhere : how many of each the plans of other
    pieces take; taken : anchors they take.
    """

    index: int
    id: str
    title: str
    columns: Mapping[str, Cell | float]
    wheres: Mapping[str, str]
    top: Top | None
    front_x_in: float
    rear_x_in: float
    anchors: Mapping[str, Anchor]
    points: Mapping[str, Point]
    stock: tuple[Outfit, ...]
    outfits: Mapping[tuple[str, str], Outfit]
    counts: Mapping[str, int]
    elsewhere: Mapping[str, int] = field(default_factory=dict)
    taken: frozenset[str] = frozenset()

    def number(self, name: str) -> float:
        """A column as a number, ``nan`` where not known."""
        cell = self.columns[name]
        return float("nan") if cell is None else float(cell)


def used(ties: Iterable[Tie]) -> Counter[str]:
    """How many of each kind of gear tie-downs take, by id."""
    return Counter(name for tie in ties for name in (tie.gear, tie.binder) if name)


def anchors_of(ties: Iterable[Tie]) -> Counter[str]:
    """How many ends stand on each anchor."""
    return Counter(key for tie in ties for key in (tie.anchor, tie.far) if key)
