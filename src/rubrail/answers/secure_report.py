"""What an answer about tying down is made of: plain frozen records for the terminal, the pages and the paper."""

from __future__ import annotations

from dataclasses import dataclass

from rubrail.answers.report import Line, Need

Place = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class TieDown:
    """One tie-down of a plan.

    number : as drawn and listed; holds : ``piece`` or ``accessory``; path : ``direct``, ``same side`` or ``over``;
    anchor, far, point : keys of its ends, with their titles and places (behind the coupling point, right, up);
    gear, binder : ids in the kit; the working load limit of each part, ``wll_lb`` that of the weakest, which
    ``weakest`` names; counted_lb : what of it counts toward half the weight; length_in : what it must reach;
    reach_in : what it has; slope_deg : to the deck; plan_deg : to the length of the trailer, seen from above.
    """

    number: int
    holds: str
    path: str
    anchor: str
    anchor_title: str
    far: str
    far_title: str
    point: str
    point_title: str
    gear: str
    gear_title: str
    binder: str
    binder_title: str
    line_wll_lb: float
    hook_wll_lb: float
    binder_wll_lb: float
    anchor_wll_lb: float
    point_wll_lb: float
    wll_lb: float
    weakest: str
    counted_lb: float
    length_in: float
    reach_in: float
    slope_deg: float
    plan_deg: float
    anchor_place_in: Place
    point_place_in: Place
    far_place_in: Place


@dataclass(frozen=True, slots=True)
class Held:
    """One direction: the acceleration asked for and the one held, as shares of the weight.

    working : at working load limits; breaking : before anything breaks; asked is 0 where no figure is stated.
    """

    direction: str
    working_asked_g: float
    working_held_g: float
    breaking_asked_g: float
    breaking_held_g: float


@dataclass(frozen=True, slots=True)
class Change:
    """One change of a plan, tried by judging it again.

    kind : ``add``, ``move``, ``gear``, ``accessory``, ``lock``; says : one sentence; amount, unit : acceleration held
    more in the direction that holds least, where that is what it is for; clears : ids of the checks it clears;
    verdict : of the piece afterwards; number : of the tie-down it changes, 0 for a new one; anchor, point, gear,
    binder, holds : that tie-down afterwards, empty where none is touched.
    """

    kind: str
    says: str
    amount: float
    unit: str
    clears: tuple[str, ...]
    verdict: str
    number: int
    anchor: str
    point: str
    gear: str
    binder: str
    holds: str


@dataclass(frozen=True, slots=True)
class Reading:
    """One published reading of a rule, where they disagree.

    governs : whether the verdict rests on it, as it does on the stricter; holds : ``clear``, ``over``, ``not known``.
    """

    title: str
    source: str
    says: str
    demand: float
    limit: float
    unit: str
    holds: str
    governs: bool


@dataclass(frozen=True, slots=True)
class Secured:
    """One piece under one plan.

    locked : the plan has its articulation locked, where it bends (``bends``); blocked : it stands against something in
    front; friction : between it and the deck;
    least_share : least of what is held over what is asked, over all directions; changes : what to add, move or
    strengthen, that which gains most first, each tried; settle : measurements that would end a doubt; unknown : what
    is not known.
    """

    index: int
    id: str
    title: str
    weight_lb: float
    verdict: str
    governing: Line | None
    lines: tuple[Line, ...]
    ties: tuple[TieDown, ...]
    held: tuple[Held, ...]
    least_share: float
    readings: tuple[Reading, ...]
    bends: bool
    locked: bool
    blocked: bool
    friction: float
    changes: tuple[Change, ...]
    settle: tuple[Need, ...]
    unknown: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class TieDownPlan:
    """A haul tied down on one trailer: the worst of its pieces is its verdict.

    method : ``us`` for the federal rules, ``en`` for EN 12195-1; cautions : what to do before and after, in words.
    """

    trailer: str
    trailer_title: str
    haul: str
    kit: str
    kit_title: str
    method: str
    verdict: str
    pieces: tuple[Secured, ...]
    cautions: tuple[str, ...]
