"""Plans of tie-downs in a page's address: one ``t`` for each tie-down, short enough to send on.

``t=0,2L,1L,chain-3-8,ratchet-3-8``: piece, anchor, tie point, gear, binder; then, where it is not direct, the way and
the second anchor: ``t=0,1L,,strap-4,,over,1R``. ``t=none`` is a plan without any.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.http import QueryDict

from rubrail.answers.secure_columns import outfit_of, places_of
from rubrail.answers.secure_parts import Plan, Scene, Tie
from rubrail.answers.tie_down import plan_from

MOST = 60
"""Tie-downs an address may name, over all pieces."""
NONE = "none"
FIELDS = ("anchor", "point", "gear", "binder", "path", "far", "holds")
USUAL = {"path": "direct", "holds": "piece"}


@dataclass(frozen=True)
class Asked:
    """What an address asks for. plans : one for each piece, None where it asks for the proposal; fault : a sentence
    about what could not be read, and was left out."""

    plans: tuple[Plan, ...] | None
    fault: str = ""


def as_text(piece: int, tie: Tie) -> str:
    """One tie-down as its part of the address."""
    values = [getattr(tie, name) for name in FIELDS]
    short = ["" if USUAL.get(name) == v else v for name, v in zip(FIELDS, values, strict=True)]
    return ",".join([str(piece), *short]).rstrip(",")


def address_of_plans(plans: Sequence[Plan]) -> str:
    """The query that brings these plans back."""
    query = QueryDict(mutable=True)
    query.setlist("t", [as_text(n, t) for n, plan in enumerate(plans) for t in plan.ties] or [NONE])
    query.setlist("loose", [str(n) for n, plan in enumerate(plans) if not plan.locked])
    query.setlist("blocked", [str(n) for n, plan in enumerate(plans) if plan.blocked])
    return query.urlencode(safe=",")


def asked(query: QueryDict, scenes: Sequence[Scene]) -> Asked:
    """The plans an address names.

    Parameters
    ----------
    query : QueryDict
        ``t`` for each tie-down; ``aN``, ``nN``, ``gN``, ``fN``, as fields send them, put the anchor, tie point, gear
        and second anchor of the Nth ``t`` elsewhere. ``loose`` and ``blocked`` name pieces.
    scenes : sequence of Scene
        The pieces, with everything a tie-down may name.
    """
    if "t" not in query:
        return Asked(None)
    texts = [t for t in query.getlist("t") if t != NONE]
    ties: list[list[Tie]] = [[] for _ in scenes]
    reasons = []
    for n, text in enumerate(texts[:MOST]):
        try:
            piece, tie = _read(text, scenes)
            ties[piece].append(_elsewhere(tie, n, query, scenes[piece]))
        except ValueError as reason:
            reasons.append(f"{text[:60]!r}: {reason}")
    if len(texts) > MOST:
        reasons.append(f"there may be at most {MOST} tie-downs, got {len(texts)}")
    loose, blocked = (set(query.getlist(name)) for name in ("loose", "blocked"))
    plans = tuple(
        Plan(tuple(some), locked=str(n) not in loose, blocked=str(n) in blocked) for n, some in enumerate(ties)
    )
    return Asked(plans, _fault(reasons))


def _read(text: str, scenes: Sequence[Scene]) -> tuple[int, Tie]:
    """Piece and tie-down of one part of the address.

    Raises
    ------
    ValueError
        What is wrong with it.
    """
    index, *values = text.split(",")
    if not index.isascii() or not index.isdigit() or len(index) > 2 or int(index) >= len(scenes):
        raise ValueError(f"there is no piece {index[:10]!r}")
    if not 3 <= len(values) <= len(FIELDS):
        raise ValueError("it must name piece, anchor, tie point and gear")
    row = {name: v for name, v in zip(FIELDS, values, strict=False) if v or name in FIELDS[:3]}
    scene = scenes[int(index)]
    return int(index), there(scene, plan_from({"ties": [row]}).ties[0])


def there(scene: Scene, tie: Tie) -> Tie:
    """A tie-down that a scene has everything for; a named tie point says whether it holds an accessory.

    Raises
    ------
    ValueError
        What is not there.
    """
    outfit_of(scene, tie)
    places_of(scene, tie)
    return replace(tie, holds=scene.points[tie.point].holds) if tie.point else tie


def _elsewhere(tie: Tie, n: int, query: QueryDict, scene: Scene) -> Tie:
    """A tie-down with its ends and gear as the fields beside it say."""
    gear, _, binder = query.get(f"g{n}", f"{tie.gear},{tie.binder}").partition(",")
    changed = replace(
        tie, anchor=query.get(f"a{n}", tie.anchor), point=query.get(f"n{n}", tie.point),
        far=query.get(f"f{n}", tie.far), gear=gear, binder=binder,
    )  # fmt: skip
    return tie if changed == tie else there(scene, changed)


def _fault(reasons: Sequence[str]) -> str:
    if not reasons:
        return ""
    more = f", and {len(reasons) - 1} more" if len(reasons) > 1 else ""
    return f"Left out of the plan, because it could not be read: {reasons[0]}{more}."
