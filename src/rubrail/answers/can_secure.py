"""Whether each unit of a yard can secure a haul at all, for the match: the law's count, without the programs.

A unit that carries the machines but cannot hold them is not clear. What statics and guidance say belongs to the plan
(``answers.tie_down``); a match needs only whether a lawful plan exists. Chains go to the strongest anchor in reach,
tie point by tie point, on all units at once; a unit for which that gives enough can be secured, for it is a plan. The
units for which it does not are searched one by one, unless all their anchors together could not do.

How the match joins: only where the yard has a kit, and only for units that the road leaves standing; the verdict of a
unit is then the worse of the two (``joined``). Anchors of a yard are laid out once (``anchors_of_yard``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.can_secure_anchors import Anchors, Choice, anchors_of_yard, begun, take_best
from rubrail.answers.rig import Placement
from rubrail.answers.secure_bundles import EDGE_IN
from rubrail.answers.secure_judge import judged
from rubrail.answers.secure_parts import Outfit, Scene
from rubrail.answers.secure_propose import proposals
from rubrail.answers.secure_scene import outfits_of, scenes
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_APPLICABLE, NOT_KNOWN, OVER, WORDS
from rubrail.rules import tiedown
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.trailer import Trailer

Array = NDArray[np.float64]
SEARCHED = -1


@dataclass(frozen=True, slots=True)
class Able:
    """Whether one unit can secure the haul by law: a verdict word, and what keeps it from ``clear``, named."""

    verdict: str
    says: str


def joined(road: str, able: Able) -> str:
    """Verdict of a unit that carries and must also secure: the worse of the two words."""
    return min(road, able.verdict, key=WORDS.index)


def can_secure(
    *,
    haul: Haul,
    trailers: Sequence[Trailer],
    placements: Sequence[Placement],
    kit: Kit,
    anchors: Anchors | None = None,
) -> tuple[Able, ...]:
    """Whether each trailer can secure a haul that stands on it.

    Parameters
    ----------
    haul : Haul
        With its cargo resolved.
    trailers, placements : sequence
        One placement a trailer.
    kit : Kit
    anchors : Anchors, optional
        ``anchors_of_yard(trailers)`` made before.
    """  # fmt: skip
    if not trailers or not haul.cargo:
        return tuple(Able("clear", "") for _ in trailers)
    laid = anchors_of_yard(trailers) if anchors is None else anchors
    # Every piece once, as it would stand on the first trailer turned either way: what does not depend on the unit.
    facings = sorted({p.facing for p in placements})
    plain = {f: scenes(haul=haul, trailer=trailers[0], placement=_at_zero(f), kit=kit) for f in facings}
    code = np.full(len(trailers), SEARCHED)
    for facing in facings:
        units = np.flatnonzero([p.facing == facing for p in placements])
        front = np.array([placements[u].front_x_in for u in units])
        code[units] = _quick(plain[facing], laid.take(units), front, outfits_of(kit)[1])
    out = []
    for u, trailer in enumerate(trailers):
        c = int(code[u])
        says = _TOO_FEW if c == OVER else "limits or places of anchors, gear or tie points"
        if c == SEARCHED:
            c, says = _searched(haul, trailer, placements[u], kit)
        out.append(Able(WORDS[c], "" if c == CLEAR else _DOUBT if c == DEPENDS else says))
    return tuple(out)


_TOO_FEW = "number and strength of its anchors"
_DOUBT = "what the tie-downs count, against the doubt in the weight"


def _at_zero(facing: tuple[str, ...]) -> Placement:
    return Placement((0.0,) * len(facing), facing)


def _quick(pieces: Sequence[Scene], anchors: Anchors, front: Array, stock: tuple[Outfit, ...]) -> NDArray[np.intp]:
    """Code of each unit, ``SEARCHED`` where the quick way does not decide."""
    code = np.full(len(front), SEARCHED)
    code[_too_few(pieces, anchors, front, stock)] = OVER
    for word, high, seen in (
        (CLEAR, True, anchors),
        (DEPENDS, False, anchors),
        (NOT_KNOWN, True, anchors.unknown_never_governs()),
    ):
        left = np.flatnonzero(code == SEARCHED)
        if left.size:
            ok = _holds(pieces, seen.take(left), front[left], stock, high=high, blind=word == NOT_KNOWN)
            code[left[ok]] = word
    return code


def _asked(scene: Scene, *, high: bool) -> tuple[int, float, int]:
    """Tie-downs the law asks for, what they must count, and how many more for accessories."""
    weight, length = scene.columns["secured_weight_lb"], scene.columns["secured_length_in"]
    pounds, inches = (v.high if high else v.number for v in (weight, length))
    needed = tiedown.tiedowns_needed(
        length_in=inches, weight_lb=pounds, blocked_forward=0.0, is_machine=1.0, is_vehicle=0.0
    )
    heavy = bool(tiedown.machine_rule_applies(weight_lb=pounds, is_machine=1.0))
    accessories = int(float(scene.columns["secured_accessory_count"])) if heavy else 0
    return int(needed), float(tiedown.aggregate_needed_lb(weight_lb=pounds)), accessories


def _too_few(pieces: Sequence[Scene], anchors: Anchors, front: Array, stock: tuple[Outfit, ...]) -> NDArray[np.bool_]:
    """Units whose anchors cannot do, wherever chains went and whatever is not known: too few, or too weak together."""
    if any(s.columns["secured_is_machine"] != 1.0 for s in pieces) or not _known(pieces):
        return np.zeros(len(front), bool)
    best = max((np.inf if o.wll_lb != o.wll_lb else o.wll_lb for o in stock), default=0.0)
    asked = [_asked(s, high=False) for s in pieces]
    listed = anchors.there.any(axis=1)
    out = anchors.there.sum(axis=1) < sum(n + a for n, _, a in asked)
    for n, (scene, (_, pounds, accessories)) in enumerate(zip(pieces, asked, strict=True)):
        free = anchors.there & ~_under(scene, anchors, front[:, n])
        good = np.where(free, np.minimum(np.where(np.isnan(anchors.wll_lb), np.inf, anchors.wll_lb), best), 0.0)
        points = sum(p.holds == "piece" for p in scene.points.values())
        most = np.maximum(free.sum(axis=1) - accessories, 0)
        ranked = np.cumsum(-np.sort(-good, axis=1), axis=1)
        index = np.minimum(np.minimum(most, 2 * points), good.shape[1])
        total = np.where(index > 0, np.take_along_axis(ranked, np.maximum(index - 1, 0)[:, None], 1)[:, 0], 0.0)
        out |= float(tiedown.credit(path=0.0)) * total < pounds * (1 - 1e-9)
    return out & listed


def _holds(
    pieces: Sequence[Scene], anchors: Anchors, front: Array, stock: tuple[Outfit, ...], *, high: bool, blind: bool
) -> NDArray[np.bool_]:
    """Units on which the quick choice gives every piece a lawful plan; ``blind`` takes what is not known as good."""
    if any(s.columns["secured_is_machine"] != 1.0 for s in pieces) or not _known(pieces):
        return np.zeros(len(front), bool)
    chains = [o for o in stock if o.kind == "chain" and o.length_in is not None and (blind or o.wll_lb == o.wll_lb)]
    ok, taken, used = np.ones(len(front), bool), np.zeros(anchors.there.shape, bool), np.zeros(len(front), np.intp)
    order = sorted(range(len(pieces)), key=lambda n: -float(pieces[n].columns["secured_weight_lb"]))
    for step in (_piece, _accessories):
        for n in order:
            choice = begun(anchors, taken)
            choice.free &= ~_under(pieces[n], anchors, front[:, n])
            step_ok = step(pieces[n], anchors, front[:, n], chains, choice, used, high=high, blind=blind)
            ok &= step_ok
            taken = taken | choice.chosen
            used = used + choice.count
    return ok


def _under(scene: Scene, anchors: Anchors, front: Array) -> NDArray[np.bool_]:
    """Anchors that the piece stands on."""
    first, last, width = (scene.number(f"secured_contact_{n}_in") for n in ("front_x", "rear_x", "width"))
    along = (anchors.x_in > first + front[:, None]) & (anchors.x_in < last + front[:, None])
    return along & (np.abs(anchors.y_in) < width / 2 - EDGE_IN)


def _known(pieces: Sequence[Scene]) -> bool:
    """Whether weights, centers, tie points and accessories of every piece are known."""
    return all(
        s.columns["secured_weight_lb"] is not None
        and s.columns["secured_cg_x_in"] is not None
        and s.columns["secured_length_in"] is not None
        and s.columns["secured_accessory_count"] is not None
        and any(p.holds == "piece" and p.placed for p in s.points.values())
        for s in pieces
    )


def _gear(chains: Sequence[Outfit], used: NDArray[np.intp]) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Limit and length of the next chain on each unit, and whether there is one."""
    limit = np.array([np.inf if o.wll_lb != o.wll_lb else o.wll_lb for o in chains] + [0.0])
    length = np.array([float(o.length_in) for o in chains] + [0.0])
    index = np.minimum(used, len(chains))
    return limit[index], length[index], used < len(chains)


def _place(scene: Scene, key: str, anchors: Anchors, front: Array) -> Array:
    """Place of a tie point on each unit: the scene stands at 0 on its own trailer's deck."""
    point, deck = scene.points[key], scene.number("secured_deck_height_in")
    units = len(front)
    return np.stack(
        [
            float(point.x_in) + front,
            np.full(units, float(point.y_in)),
            float(point.z_in) - deck + anchors.deck_in,
        ],
        axis=-1,
    )


def _piece(scene, anchors, front, chains, choice: Choice, used, *, high: bool, blind: bool) -> NDArray[np.bool_]:
    """Tie-downs of one piece on every unit: each point in turn, a second round where one is not enough."""
    needed, needed_lb, _ = _asked(scene, high=high)
    weight = scene.columns["secured_weight_lb"]
    heavy = bool(tiedown.machine_rule_applies(weight_lb=weight.high if high else weight.number, is_machine=1.0))
    center = scene.number("secured_cg_x_in") + front
    share = float(tiedown.credit(path=0.0))
    points = [p for p in scene.points.values() if p.holds == "piece" and p.placed]

    def enough() -> NDArray[np.bool_]:
        ends = choice.ends.all(axis=1) | (not heavy)
        return (choice.count >= needed) & (choice.counted_lb >= needed_lb * (1 - 1e-9)) & ends

    for _ in range(2):
        for point in points:
            gear_lb, gear_in, there = _gear(chains, used + choice.count)
            take_best(
                choice, anchors, point_in=_place(scene, point.key, anchors, front), open_=~enough() & there,
                gear_lb=gear_lb, gear_in=gear_in, center_in=center, share=share, blind=blind,
                limit_lb=np.inf if point.wll_lb is None else float(point.wll_lb) / 2,
            )  # fmt: skip
    return enough()


def _accessories(scene, anchors, front, chains, choice: Choice, used, *, high: bool, blind: bool) -> NDArray[np.bool_]:
    """Tie-downs of a heavy machine's accessories, each to the nearest anchor left."""
    count = _asked(scene, high=high)[2]
    points = [p for p in scene.points.values() if p.holds == "accessory" and p.placed][:count]
    ok = np.full(len(front), len(points) == count)
    for point in points:
        gear_lb, gear_in, there = _gear(chains, used + choice.count)
        ok &= take_best(
            choice, anchors, point_in=_place(scene, point.key, anchors, front), open_=there, gear_lb=gear_lb,
            gear_in=gear_in, center_in=front, share=0.0, blind=blind, by_limit=False, limit_lb=np.inf,
        )  # fmt: skip
    return ok


def _searched(haul: Haul, trailer: Trailer, placement: Placement, kit: Kit) -> tuple[int, str]:
    """Verdict by a proposal of one unit: what the law and the gear say of it, and the limit that decides."""
    if not trailer.anchor:
        return NOT_KNOWN, "its anchors, for none are listed"
    found, plans = proposals(scenes(haul=haul, trailer=trailer, placement=placement, kit=kit))
    worst, says = CLEAR, ""
    for scene, plan in zip(found, plans, strict=True):
        _, judgement = judged(scene, plan)
        binding = judgement.rows.of_kind(*VERDICT_KINDS)
        codes = np.where(binding, judgement.codes[:, 0, 0], NOT_APPLICABLE)
        if codes.min() < worst:
            row = judgement.rows.rows[int(codes.argmin())]
            worst, says = int(codes.min()), f"{scene.title}: {row.check.title}"
    return worst, says
