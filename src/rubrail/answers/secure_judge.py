"""Judge any plan of tie-downs: verdict, lines, what each tie-down is good for, what is held in each direction."""

from __future__ import annotations

import numpy as np

from rubrail.answers.lines import lines_of, needs_of
from rubrail.answers.report import Line, Need
from rubrail.answers.secure_columns import columns_of, outfit_of
from rubrail.answers.secure_parts import Plan, Scene
from rubrail.answers.secure_readings import readings_of
from rubrail.answers.secure_report import Change, Held, Secured, TieDown
from rubrail.answers.settle import Asked
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.checks.judge import Judgement, judge
from rubrail.checks.registry import CHECKS, Check, of_case
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import WORDS
from rubrail.mechanics import lashing
from rubrail.rules import tiedown
from rubrail.things.columns import Columns
from rubrail.things.names import COLUMNS

METHODS = ("us", "en")
PARTS = ("line", "hook", "binder", "anchor", "point")
PART_WORDS = {"line": "chain", "hook": "hooks", "binder": "binder", "anchor": "anchor", "point": "tie point"}


def checks_of(method: str) -> tuple[Check, ...]:
    """Checks of one method; that the gear is there and reaches is asked of both.

    Raises
    ------
    ValueError
        If there is no such method.
    """
    if method not in METHODS:
        raise ValueError(f"method must be one of {', '.join(METHODS)}, got {method!r}")
    if method == "us":
        return tuple(of_case("securing"))
    return (*of_case("securing-en"), CHECKS["tiedown-reach"], CHECKS["tiedown-kit"])


def judged(scene: Scene, plan: Plan, *, method: str = "us", tolerances: bool = True) -> tuple[Columns, Judgement]:
    """Columns and judgement of one piece under one plan."""
    columns = columns_of(scene, plan)
    return columns, judge(columns, checks=checks_of(method), tolerances=tolerances)


def verdict_of(scene: Scene, plan: Plan, *, method: str = "us") -> str:
    """The verdict word alone."""
    return WORDS[int(judged(scene, plan, method=method)[1].verdict[0, 0])]


def secured(scene: Scene, plan: Plan, *, method: str = "us", changes: tuple[Change, ...] = ()) -> Secured:
    """Everything about one piece under one plan: what a page asks for when an end was moved.

    Parameters
    ----------
    scene : Scene
        The piece as it stands, and the gear.
    plan : Plan
        Any plan: proposed, or changed by hand.
    method : str
        ``us`` or ``en``.
    changes : tuple of Change
        What to change, where it was looked for.

    Raises
    ------
    ValueError
        If the plan names what is not there.
    """
    columns, judgement = judged(scene, plan, method=method)
    lines = lines_of(judgement, columns, unit=0, asked=asked(scene, plan))
    evaluation = Evaluation(columns)
    held = held_of(evaluation)
    doubtful = tuple(x for x in lines if x.verdict == "depends" and x.kind in (*VERDICT_KINDS, "guidance"))
    return Secured(
        index=scene.index,
        id=scene.id,
        title=scene.title,
        weight_lb=scene.number("secured_weight_lb"),
        verdict=WORDS[int(judgement.verdict[0, 0])],
        governing=_governing(judgement, lines),
        lines=lines,
        ties=ties_of(scene, plan, evaluation),
        held=held,
        least_share=least_share(held),
        readings=readings_of(scene, plan, evaluation) if method == "us" else (),
        bends=scene.columns["secured_bends"] == 1.0,
        locked=plan.locked,
        blocked=plan.blocked,
        friction=scene.number("deck_friction"),
        changes=changes,
        settle=needs_of(doubtful, "settle"),
        unknown=needs_of(lines, "missing"),
    )


def _governing(judgement: Judgement, lines: tuple[Line, ...]) -> Line | None:
    index = int(judgement.governing[0, 0])
    if index < 0 or not lines:
        return None
    row = judgement.rows.rows[index]
    alike = [line for line in lines if line.check == row.check.id]
    wanted = WORDS[int(judgement.codes[index, 0, 0])]
    return next((line for line in alike if line.verdict == wanted), alike[0] if alike else None)


def held_of(evaluation: Evaluation) -> tuple[Held, ...]:
    """Acceleration asked for and held in each direction."""
    working, breaking = evaluation.value("held_working_g"), evaluation.value("held_breaking_g")
    asked_working, asked_breaking = (tiedown.required_g(criterion=c) for c in ("working", "breaking"))
    return tuple(
        Held(
            direction,
            float(asked_working[n]),
            float(working[n].reshape(-1)[0]) if n < len(working) else float("nan"),
            float(asked_breaking[n]),
            float(breaking[n].reshape(-1)[0]),
        )
        for n, direction in enumerate(tiedown.DIRECTIONS)
    )


def least_share(held: tuple[Held, ...]) -> float:
    """Least of what is held over what is asked; ``nan`` where one is not known."""
    pairs = [(h.working_held_g, h.working_asked_g) for h in held] + [
        (h.breaking_held_g, h.breaking_asked_g) for h in held
    ]
    return float(np.min([have / want for have, want in pairs if want > 0]))


def ties_of(scene: Scene, plan: Plan, evaluation: Evaluation) -> tuple[TieDown, ...]:
    """Each tie-down of a plan with its limits, its way and its angles."""
    count = len(plan.ties)
    if not count:
        return ()

    def column(name: str) -> np.ndarray:
        return evaluation.value(name).reshape(-1)[:count]

    parts = {part: column(f"tiedown_{part}_wll_lb") for part in PARTS}
    ends = {
        e: np.stack([column(f"tiedown_{e}_{axis}_in") for axis in "xyz"], axis=-1) for e in ("anchor", "point", "far")
    }
    slope = np.degrees(lashing.slope_rad(anchor_in=ends["anchor"], point_in=ends["point"]))
    angle = np.degrees(lashing.plan_rad(anchor_in=ends["anchor"], point_in=ends["point"]))
    wll, counted = column("tiedown_wll_lb"), column("tiedown_counted_lb")
    length, reach = column("tiedown_length_in"), column("tiedown_reach_in")
    out = []
    for n, tie in enumerate(plan.ties):
        outfit = outfit_of(scene, tie)
        limits = {part: float(parts[part][n]) for part in PARTS}
        out.append(
            TieDown(
                number=n + 1,
                holds=tie.holds,
                path=tie.path,
                anchor=tie.anchor,
                anchor_title=_titled(scene.anchors, tie.anchor),
                far=tie.far,
                far_title=_titled(scene.anchors, tie.far),
                point=tie.point,
                point_title=_titled(scene.points, tie.point),
                gear=tie.gear,
                gear_title=outfit.title,
                binder=tie.binder,
                binder_title=outfit.binder_title,
                line_wll_lb=limits["line"],
                hook_wll_lb=limits["hook"],
                binder_wll_lb=limits["binder"],
                anchor_wll_lb=limits["anchor"],
                point_wll_lb=limits["point"],
                wll_lb=float(wll[n]),
                weakest=_weakest(limits, outfit.kind),
                counted_lb=float(counted[n]),
                length_in=float(length[n]),
                reach_in=float(reach[n]),
                slope_deg=float(slope[n]),
                plan_deg=float(angle[n]),
                anchor_place_in=_place(ends["anchor"][n]),
                point_place_in=_place(ends["point"][n]),
                far_place_in=_place(ends["far"][n] if tie.far else np.full(3, np.nan)),
            )
        )
    return tuple(out)


def _titled(members, key: str) -> str:
    return members[key].title if key else ""


def _place(place: np.ndarray) -> tuple[float, float, float]:
    return (float(place[0]), float(place[1]), float(place[2]))


def _weakest(limits: dict[str, float], kind: str) -> str:
    """What the weakest parts are called; empty where one is not known."""
    if any(np.isnan(v) for v in limits.values()):
        return ""
    least = min(limits.values())
    words = {**PART_WORDS, "line": kind, "binder": "binder" if kind == "chain" else "ratchet"}
    return ", ".join(words[p] for p in PARTS if limits[p] <= least * (1 + 1e-9))


def asked(scene: Scene, plan: Plan) -> Asked:
    """Turns a raw column of a plan, and which tie-down, into what to go and measure."""

    def ask(name: str, member: int | None) -> Need:
        where, says = scene.wheres.get(name, "the plan"), COLUMNS[name].says
        cell = scene.columns.get(name)
        if name.startswith("tiedown_"):
            where, cell = _written(scene, plan, name, member or 0)
        known = hasattr(cell, "basis")
        return Need(
            name=name,
            where=where,
            says=says,
            value=float("nan") if cell is None else float(cell),
            plus_minus=cell.plus_minus if known else 0.0,
            basis=cell.basis if known else "",
        )

    return ask


def _written(scene: Scene, plan: Plan, name: str, member: int):
    """Line of a file that a tie-down's column was read from, and what stands there."""
    tie = plan.ties[member] if member < len(plan.ties) else None
    if tie is None:
        return "the plan", None
    outfit = outfit_of(scene, tie)
    _, end, *rest = name.split("_")
    if end in ("anchor", "far", "point"):
        members = scene.points if end == "point" else scene.anchors
        found = members.get({"anchor": tie.anchor, "far": tie.far, "point": tie.point}[end])
        if found is None:
            return scene.wheres["point" if end == "point" else "anchor"], None
        field = {"wll": "wll_lb", "x": "from_front_in" if end == "point" else "from_coupler_in", "y": "y_in",
                 "z": "height_in"}[rest[0]]  # fmt: skip
        if end == "anchor" and rest[0] == "wll" and tie.far and found.wll_lb is not None:
            found = scene.anchors[tie.far]
        return f"{field} of {found.where}", getattr(found, "wll_lb" if rest[0] == "wll" else f"{rest[0]}_in")
    gear = {"line": "wll_lb", "hook": "hook_wll_lb", "tension": "tension_lb", "reach": "length_in"}
    if end in gear:
        cell = {"line": outfit.line_wll_lb, "hook": outfit.hook_wll_lb, "tension": outfit.tension_lb,
                "reach": outfit.length_in}[end]  # fmt: skip
        return f"{gear[end]} of gear {tie.gear} of the kit", cell
    if end == "binder":
        if outfit.kind == "strap":
            return f"tightener_wll_lb of gear {tie.gear} of the kit", outfit.binder_wll_lb
        what = f"binder {tie.binder}" if tie.binder else f"a [[binder]] for gear {tie.gear}"
        return f"wll_lb of {what} of the kit", outfit.binder_wll_lb
    return f"tie-down {member + 1} of the plan", None
