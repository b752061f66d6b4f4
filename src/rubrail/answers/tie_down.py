"""Tie down a placed rig: a plan for every piece with the yard's gear, judged; and any other plan, judged the same way.

The page asks three things: ``laid_out`` once for the scenes, ``tie_down`` for the proposal, and ``retied`` whenever
an end was moved. What holds in law and what is guidance or statics stands on each line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from typing import Any

from rubrail.answers.lines import member_name, member_of
from rubrail.answers.place import best_place
from rubrail.answers.report import Line
from rubrail.answers.rig import Placement, rigs
from rubrail.answers.secure_columns import columns_of
from rubrail.answers.secure_gain import changes_of
from rubrail.answers.secure_judge import METHODS, asked, secured
from rubrail.answers.secure_parts import Plan, Scene, Tie
from rubrail.answers.secure_propose import known_to_each_other, proposals
from rubrail.answers.secure_report import Secured, TieDownPlan
from rubrail.answers.secure_scene import scenes
from rubrail.answers.why import Why, explain
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS
from rubrail.checks.verdict import WORDS
from rubrail.things.haul import Haul
from rubrail.things.kit import Kit
from rubrail.things.names import CODES, COLUMNS
from rubrail.things.trailer import Trailer

CAUTIONS = (
    "Chock the trailer, engine off, parking brake set; lower every bucket, blade and boom all the way.",
    "The machine's manual says where it may be tied; its points go before any drawing.",
    "Nobody in line with a chain that is drawn tight; look at every chain, hook and ring for damage.",
    "Check the tie-downs again after the first miles, and at every stop.",
)
"""What is said where the decision is made."""


def laid_out(
    *,
    haul: Haul,
    trailer: Trailer,
    kit: Kit,
    placement: Placement | None = None,
    friction: float | None = None,
) -> tuple[Scene, ...]:
    """Each piece as it stands, with the trailer's anchors and the kit's gear.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailer : Trailer
    kit : Kit
    placement : Placement, optional
        Where each piece stands; the best place where not given.
    friction : float, optional
        Between pieces and deck, in place of what their surfaces give when swept and dry.
    """
    if placement is None:
        placement = best_place(rigs(haul=haul, trailers=(trailer,)))[0].placement
    return scenes(haul=haul, trailer=trailer, placement=placement, kit=kit, friction=friction)


def tie_down(
    *,
    haul: Haul,
    trailer: Trailer,
    kit: Kit,
    placement: Placement | None = None,
    plans: Sequence[Plan] | None = None,
    method: str = "us",
    friction: float | None = None,
    changes: bool = True,
) -> TieDownPlan:
    """Propose a plan for every piece, or judge the plans given.

    Parameters
    ----------
    haul, trailer, kit, placement, friction
        As in ``laid_out``.
    plans : sequence of Plan, optional
        One for each piece, in the haul's order; proposed where not given.
    method : str
        ``us`` for the federal rules, ``en`` for EN 12195-1.
    changes : bool
        Also look for what to add, move or strengthen.

    Raises
    ------
    ValueError
        If there is no such method, there is not one plan for each piece, or one names what is not there.
    """
    if method not in METHODS:
        raise ValueError(f"method must be one of {', '.join(METHODS)}, got {method!r}")
    found = laid_out(haul=haul, trailer=trailer, kit=kit, placement=placement, friction=friction)
    if plans is None:
        found, plans = proposals(found)
    elif len(plans) != len(found):
        raise ValueError(f"there must be one plan for each of {len(found)} pieces, got {len(plans)}")
    else:
        found = known_to_each_other(found, plans)
    pieces = tuple(
        retied(scene, plan, method=method, changes=changes) for scene, plan in zip(found, plans, strict=True)
    )
    return TieDownPlan(
        trailer=trailer.id,
        trailer_title=trailer.title or trailer.id,
        haul=haul.title or haul.id,
        kit=kit.id,
        kit_title=kit.title or kit.id,
        method=method,
        verdict=min((p.verdict for p in pieces), key=WORDS.index, default="clear"),
        pieces=pieces,
        cautions=CAUTIONS,
    )


def retied(scene: Scene, plan: Plan, *, method: str = "us", changes: bool = False) -> Secured:
    """One piece under any plan.

    Parameters
    ----------
    scene : Scene
        From ``laid_out``; ``known_to_each_other`` where other pieces are tied down too.
    plan : Plan
    method : str
    changes : bool
        Also look for what to add, move or strengthen: some tens of milliseconds more.

    Raises
    ------
    ValueError
        If the plan names what is not there.
    """
    return secured(scene, plan, method=method, changes=changes_of(scene, plan, method=method) if changes else ())


def why_tied(
    *,
    haul: Haul,
    trailer: Trailer,
    kit: Kit,
    check: str,
    placement: Placement | None = None,
    member: int | None = None,
) -> tuple[Line | None, Why]:
    """Why one check of tying down says what it says, of the plan proposed and the piece it stands worst for.

    Parameters
    ----------
    haul, trailer, kit, placement
        As in ``laid_out``.
    check : str
        Id of a check of the securing cases.
    member : int, optional
        Which tie-down or direction, counted from 0; the worst where not given.

    Returns
    -------
    line, why
        The line as the answer has it, None where the check does not apply to any piece.
    """
    c = CHECKS[check]
    method = "en" if c.case == "securing-en" else "us"
    found, plans = proposals(laid_out(haul=haul, trailer=trailer, kit=kit, placement=placement))
    best: tuple[Line | None, int] = (None, 0)
    for n, (scene, plan) in enumerate(zip(found, plans, strict=True)):
        lines = [x for x in secured(scene, plan, method=method).lines if x.check == check]
        if member is not None and c.per:
            lines = [x for x in lines if x.member == member_name(c.per, member)]
        for line in lines:
            if best[0] is None or WORDS.index(line.verdict) < WORDS.index(best[0].verdict):
                best = (line, n)
    line, n = best
    scene, plan = found[n], plans[n]
    which = member_of(c.per, line.member) if line else None
    ask = asked(scene, plan)
    explained = explain(Evaluation(columns_of(scene, plan)), check, member=which)
    inputs = tuple(
        replace(i, path=ask(i.name, which if COLUMNS[i.name].per else None).where) for i in explained.inputs
    )
    return line, replace(explained, inputs=inputs)


def moved(plan: Plan, number: int, *, anchor: str = "", far: str = "", point: str = "") -> Plan:
    """A plan with one end of a tie-down elsewhere.

    Parameters
    ----------
    number : int
        Of the tie-down, counted from 1.
    anchor, far, point : str
        Key of where the end goes; empty leaves it.

    Raises
    ------
    ValueError
        If there is no such tie-down.
    """
    if not 1 <= number <= len(plan.ties):
        raise ValueError(f"there is no tie-down {number}; the plan has {len(plan.ties)}")
    changed = {n: v for n, v in (("anchor", anchor), ("far", far), ("point", point)) if v}
    ties = list(plan.ties)
    ties[number - 1] = replace(ties[number - 1], **changed)
    return replace(plan, ties=tuple(ties))


def plan_of(piece: Secured) -> Plan:
    """The plan a record shows, to change it."""
    names = [f.name for f in fields(Tie)]
    ties = tuple(Tie(**{n: getattr(t, n) for n in names}) for t in piece.ties)
    return Plan(ties, locked=piece.locked, blocked=piece.blocked)


def plan_from(table: Mapping[str, Any]) -> Plan:
    """A plan from plain data, as a page sends it: ``ties`` as a list of tables, ``locked``, ``blocked``.

    Raises
    ------
    ValueError
        Every field that is not known or of another kind.
    """
    names, faults = [f.name for f in fields(Tie)], []
    ties = []
    rows = table.get("ties", [])
    if not isinstance(rows, list):
        raise ValueError("ties must be a list")
    for n, row in enumerate(rows, 1):
        if not isinstance(row, Mapping) or not {"anchor", "point", "gear"} <= set(row):
            faults.append(f"ties[{n}] must name anchor, point and gear")
            continue
        faults += [f"ties[{n}].{k} is not known" for k in row if k not in names]
        faults += [f"ties[{n}].{k} must be text" for k, v in row.items() if not isinstance(v, str)]
        path, holds = row.get("path", "direct"), row.get("holds", "piece")
        faults += [f"ties[{n}].path must be one of {', '.join(CODES['tiedown_path'])}"] * (
            path not in CODES["tiedown_path"]
        )
        faults += [f"ties[{n}].holds must be one of {', '.join(CODES['tiedown_holds'])}"] * (
            holds not in CODES["tiedown_holds"]
        )
        ties.append({k: v for k, v in row.items() if k in names})
    for name in ("locked", "blocked"):
        if not isinstance(table.get(name, False), bool):
            faults.append(f"{name} must be true or false")
    if faults:
        raise ValueError("; ".join(faults))
    return Plan(
        tuple(Tie(**t) for t in ties), locked=table.get("locked", True), blocked=table.get("blocked", False)
    )
