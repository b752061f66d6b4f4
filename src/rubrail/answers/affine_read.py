"""The arithmetic a page does with the coefficients, in plain Python: multiply, add, take the least.

The script of the placement bench is this module written once more; a test holds both to the engine. Everything works
on ``plain(...)``, which is what the page carries: numbers, lists and nulls.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from rubrail.answers.affine import Affine, Asked, Least, Losses, Part, Plane, Steady, Straight
from rubrail.checks.rows import VERDICT_KINDS, feels_cargo
from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_APPLICABLE, NOT_KNOWN, OVER, TOLERANCE

INF, NAN = math.inf, math.nan


@dataclass(frozen=True, slots=True)
class RowAt:
    """One row at a placement."""

    demand: float
    limit: float
    margin: float
    worst: float
    share: float
    code: int


@dataclass(frozen=True, slots=True)
class StateAt:
    """A rig at a placement. loads : value and spread of each; governing : index of the row that decides, or -1."""

    rows: tuple[RowAt, ...]
    loads: tuple[tuple[float, float], ...]
    verdict: int
    governing: int


def plain(table: Affine) -> dict[str, Any]:
    """The coefficients as a page carries them; ``None`` is not known, infinite or absent by its place."""
    return {
        "reference": [_number(x) for x in table.reference_in],
        "tolerance": TOLERANCE,
        "rows": [plain_row(r) for r in table.rows],
        "loads": [
            {"name": x.name, "member": x.member, "value": _list(x.value), "losses": _losses(x.losses)}
            for x in table.loads
        ],
    }


def plain_row(row: Steady | Straight | Least | Asked) -> dict[str, Any]:
    """One row as a page carries it."""
    check = row.row.check
    out: dict[str, Any] = {
        "id": check.id,
        "member": row.row.member,
        "kind": check.kind,
        "binds": check.kind in VERDICT_KINDS,
        "unit": check.unit,
        "by": check.scale,
        "feels": feels_cargo(check),
    }
    if isinstance(row, Straight):
        return out | {
            "form": "straight", "demand": _list(row.demand), "limit": _list(row.limit),
            "losses": _losses(row.losses), "unknown": row.unknown,
        }  # fmt: skip
    if isinstance(row, Least):
        return out | {"form": "least", "parts": [_part(p) for p in row.parts], "fixed": _number(row.fixed)}
    answer = {n: _number(getattr(row, n)) for n in ("demand", "limit", "margin", "worst", "share")}
    return out | {"form": "asked" if isinstance(row, Asked) else "steady", **answer, "code": row.code}


def _number(value: float) -> float | None:
    """Twelve digits; ``None`` for what is not finite."""
    return float(f"{value:.12g}") if math.isfinite(value) else None


def _list(plane: Plane | None) -> list[float | None] | None:
    return None if plane is None else [_number(v) for v in plane]


def _losses(losses: Losses) -> dict[str, Any]:
    return {
        "fixed": _number(losses.fixed),
        "even": [_list(p) for p in losses.even],
        "odd": [[_list(a), _list(b)] for a, b in losses.odd],
    }


def _part(part: Part) -> dict[str, Any]:
    pairs = [[_list(a), _list(b)] for a, b in part.nudged]
    return {"after": part.after, "demand": _list(part.demand), "limit": _list(part.limit), "nudged": pairs}


def read(data: dict[str, Any], front_x_in: list[float]) -> StateAt:
    """Every row and load with the pieces at these places.

    Parameters
    ----------
    data : dict
        As ``plain`` gives it.
    front_x_in : list of float
        Front of each piece behind the coupling point. [in]
    """
    offset = [x - r for x, r in zip(front_x_in, data["reference"], strict=True)]
    rows = tuple(row_at(r, offset, front_x_in, data["tolerance"]) for r in data["rows"])
    loads = tuple(_load_at(x, offset) for x in data["loads"])
    verdict = verdict_of(data["rows"], rows)
    return StateAt(rows, loads, verdict, _governing(data["rows"], rows, verdict))


def _load_at(load: dict[str, Any], offset: list[float]) -> tuple[float, float]:
    now = value(load["value"], offset)
    return now, NAN if math.isnan(now) else lost(load["losses"], offset)


def value(plane: list[float | None], offset: list[float]) -> float:
    """A plane at offsets from the reference; ``nan`` where it is not known."""
    if plane[0] is None:
        return NAN
    total = plane[0]
    for slope, by in zip(plane[1:], offset, strict=True):
        total += slope * by
    return total


def lost(losses: dict[str, Any], offset: list[float]) -> float:
    """What tolerances take together."""
    total = losses["fixed"]
    for plane in losses["even"]:
        total += abs(value(plane, offset))
    for up, down in losses["odd"]:
        total += max(0.0 if p is None else value(p, offset) for p in (up, down, None))
    return total


def least_at(row: dict[str, Any], offset: list[float], front: list[float]) -> tuple[float, float, float, float]:
    """Demand, limit, margin and worst margin of a row that is the least of parts; all open where no part counts."""
    parts = [p for p in row["parts"] if _counts(p, row["member"], front)]
    if not parts:
        return 0.0, INF, INF, INF
    pairs = [(value(p["demand"], offset), value(p["limit"], offset)) for p in parts]
    demand, limit = min(pairs, key=lambda pair: pair[1] - pair[0])
    margin = limit - demand
    worst = margin - row["fixed"]
    for k in range(len(parts[0]["nudged"])):
        loss = 0.0
        for side in (0, 1):
            nudged = min(INF if p["nudged"][k][side] is None else value(p["nudged"][k][side], offset) for p in parts)
            loss = max(loss, margin - nudged)
        worst -= loss
    return demand, limit, margin, worst


def _counts(part: dict[str, Any], member: int | None, front: list[float]) -> bool:
    ahead = part["after"]
    if ahead is None:
        return True
    return front[ahead] < front[member] or (front[ahead] == front[member] and ahead < member)


def row_at(row: dict[str, Any], offset: list[float], front: list[float], tolerance: float) -> RowAt:
    """One row with the pieces at these fronts, which lie at these offsets from the reference."""
    if row["form"] in ("steady", "asked"):
        code = row["code"]
        open_ = NAN if code == NOT_KNOWN else INF
        demand, limit, margin, worst = (
            NAN if row["demand"] is None else row["demand"],
            open_ if row["limit"] is None else row["limit"],
            open_ if row["margin"] is None else row["margin"],
            open_ if row["worst"] is None else row["worst"],
        )
        bare = -INF if code == OVER else open_
        return RowAt(demand, limit, margin, worst, bare if row["share"] is None else row["share"], code)
    if row["form"] == "least":
        demand, limit, margin, worst = least_at(row, offset, front)
    else:
        demand, limit = value(row["demand"], offset), value(row["limit"], offset)
        margin = limit - demand
        worst = NAN if row["unknown"] else margin - lost(row["losses"], offset)
    return RowAt(
        demand, limit, margin, worst, _share(row, demand, limit, margin), _code(margin, worst, limit, tolerance)
    )


def _share(row: dict[str, Any], demand: float, limit: float, margin: float) -> float:
    """Margin as a share of the limit or of the demand, as ``checks.rows`` has it."""
    if limit == INF or (row["unit"] == "" and margin >= 0):
        return INF
    scale = abs(demand if row["by"] == "demand" else limit)
    if scale == 0:
        return INF if margin >= 0 else (-INF if margin < 0 else NAN)
    return margin / scale


def _code(margin: float, worst: float, limit: float, tolerance: float) -> int:
    """Verdict of a row, as ``checks.verdict`` has it."""
    if limit == INF:
        return NOT_APPLICABLE
    if math.isnan(margin) or math.isnan(worst):
        return NOT_KNOWN
    slack = tolerance * max(1.0, abs(limit))
    if margin < -slack:
        return OVER
    return CLEAR if worst >= -slack else DEPENDS


def verdict_of(rows: list[dict[str, Any]], at: tuple[RowAt, ...]) -> int:
    """Worst of ratings, law and fit; guidance that fails or is not known makes it depend at best."""
    must, advised = CLEAR, NOT_APPLICABLE
    for row, now in zip(rows, at, strict=True):
        if row["binds"]:
            must = min(must, now.code)
        elif row["kind"] == "guidance":
            advised = min(advised, now.code)
    return must if advised > NOT_KNOWN else min(must, DEPENDS)


def _governing(rows: list[dict[str, Any]], at: tuple[RowAt, ...], verdict: int) -> int:
    """The row that decides, as ``checks.judge`` finds it."""
    pairs = list(zip(rows, at, strict=True))
    by_advice = verdict == DEPENDS and not any(r["binds"] and now.code <= DEPENDS for r, now in pairs)
    best, found = INF, -1
    for index, (row, now) in enumerate(pairs):
        if by_advice:
            candidate = row["kind"] == "guidance" and now.code <= NOT_KNOWN
        else:
            candidate = row["binds"] and now.code < NOT_APPLICABLE
        if not candidate:
            continue
        share = INF
        if row["feels"] or now.code != CLEAR:
            share = 0.0 if math.isnan(now.share) else now.share
        rank = now.code + 0.49 * math.tanh(share)
        # Alike axles are told by the first of them, whatever the last digit says.
        if rank < best - 1e-9:
            best, found = rank, index
    return found
