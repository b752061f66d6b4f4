"""What is not known for sure of a haul, by how much of a yard it holds back.

A haul is matched against the yard as it stands. Then, on every unit at once: an input that is missing holds a unit
back where a limit stays not known with every other missing input filled in; an input of wide tolerance holds it back
where it is among the ones that must be measured, greatest harm first, before no tolerance breaks a limit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.match import Block, match_columns
from rubrail.answers.report import Need
from rubrail.answers.rig import Rigs, rigs
from rubrail.checks.rows import VERDICT_KINDS, rows_of
from rubrail.checks.tolerance import harms
from rubrail.checks.verdict import DEPENDS, NOT_KNOWN
from rubrail.things.columns import Array, Columns
from rubrail.things.haul import Haul
from rubrail.things.names import CODES, COLUMNS, GEAR, HAUL, ITEM, TRUCK
from rubrail.things.trailer import Trailer
from rubrail.things.where import where_is

Mask = NDArray[np.bool_]
PLACED = frozenset({"item_present", "item_front_x_in", "weight_distribution"})
"""Columns that the placement and the coupling give, not the buyer."""
HAULS = tuple(n for n in (*TRUCK, *GEAR, *ITEM, *HAUL) if n not in PLACED)

STANDS_IN = {"license_held": float(CODES["license_held"].index("A"))}
"""What fills a missing input in a trial where 1 will not do: a lesser license leaves some uses to the state."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """One input of a haul that holds units back.

    need : the input as it stands; missing : nobody knows it, as against known with a wide tolerance
    holds : units whose verdict it holds back; alone : those it would settle by itself
    blurs, unit, limit : what its tolerance takes from one limit at most, and which; 0 and empty where it is missing
    """

    need: Need
    missing: bool
    holds: int
    alone: int
    blurs: float = 0.0
    unit: str = ""
    limit: str = ""


@dataclass(frozen=True, slots=True)
class Doubts:
    """What holds a haul back in a yard, the worst first.

    units : how many were looked at; open : how many of them have a verdict that is held back.
    """

    units: int
    open: int
    doubts: tuple[Doubt, ...]


@dataclass
class _Input:
    """One line of the haul's files: the raw columns read from it, member by member, and on which units."""

    need: Need
    cells: list[tuple[str, int | None, Mask]] = field(default_factory=list)
    missing: bool = False
    holds: int = 0
    alone: int = 0
    lines: int = 0
    share: float = 0.0
    blurs: float = 0.0
    unit: str = ""
    limit: str = ""


def doubts(*, haul: Haul, trailers: Sequence[Trailer]) -> Doubts:
    """Rank what is not known for sure of a haul against a yard.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    trailers : sequence of Trailer
    """
    if not trailers:
        return Doubts(0, 0, ())
    whole = rigs(haul=haul, trailers=tuple(trailers))
    inputs = _inputs(whole)
    held = 0
    for block in match_columns(whole.columns, offsets_in=whole.offsets_in):
        units = slice(block.start, block.start + block.columns.units)
        of_block = {path: _part(one, units) for path, one in inputs.items()}
        found = np.zeros(len(block.judgement.verdict), bool)
        _missing(block, of_block, found)
        _wide(block, of_block, found)
        held += int(found.sum())
        for path, one in of_block.items():
            _add(inputs[path], one)
    listed = [i for i in inputs.values() if i.holds]
    listed.sort(key=lambda i: (-i.holds, -i.alone, not i.missing, -i.lines, -i.share))
    return Doubts(
        len(trailers),
        held,
        tuple(Doubt(i.need, i.missing, i.holds, i.alone, i.blurs, i.unit, i.limit) for i in listed),
    )


def _inputs(whole: Rigs) -> dict[str, _Input]:
    """The lines of the haul's files that a column is read from; a hitch's line belongs to the units that take it."""
    keys = [(t.coupling.kind, t.coupling.ball_size_in) for t in whole.trailers]
    inputs: dict[str, _Input] = {}
    for key in dict.fromkeys(keys):
        mask = np.array([k == key for k in keys])
        first = int(mask.argmax())
        ask = whole.asked(first)
        for name in HAULS:
            for member in _members(whole, name):
                path = where_is(name, whole.haul, whole.trailers[first], member).path
                one = inputs.setdefault(path, _Input(ask(name, member)))
                one.cells.append((name, member, mask))
    return inputs


def _members(whole: Rigs, name: str) -> Iterator[int | None]:
    if not COLUMNS[name].per:
        yield None
        return
    yield from range(len(whole.pieces) if name in ITEM else len(whole.haul.truck.gear))


def _part(one: _Input, units: slice) -> _Input:
    return _Input(one.need, [(name, member, mask[units]) for name, member, mask in one.cells])


def _add(whole: _Input, part: _Input) -> None:
    whole.missing |= part.missing
    whole.holds += part.holds
    whole.alone += part.alone
    whole.lines += part.lines
    if part.share > whole.share:
        whole.share, whole.blurs, whole.unit, whole.limit = part.share, part.blurs, part.unit, part.limit


def _missing(block: Block, inputs: dict[str, _Input], found: Mask) -> None:
    """Count the units that each missing input holds back."""
    unknown = [one for one in inputs.values() if _is_missing(block.columns, one)]
    judgement = block.judgement
    count, units = len(unknown), len(judgement.verdict)
    counts = judgement.rows.of_kind(*VERDICT_KINDS)
    decides = counts | judgement.rows.of_kind("guidance")
    verdict = judgement.verdict[:, 0]
    asks = (judgement.codes[:, :, 0] == NOT_KNOWN) & decides[:, None]
    asks &= (verdict == NOT_KNOWN) | (verdict == DEPENDS)
    if not count or not asks.any():
        return
    checks = list(dict.fromkeys(judgement.rows.rows[i].check for i in np.flatnonzero(asks.any(axis=1))))
    tried = rows_of(_filled(block.columns, unknown), checks)
    place = {(r.check.id, r.member): i for i, r in enumerate(judgement.rows.rows)}
    holds, open_alone = np.zeros((count, units), bool), np.zeros((count, units), bool)
    for i, row in enumerate(tried.rows):
        asked = asks[place[row.check.id, row.member]]
        nan = np.broadcast_to(np.isnan(tried.sampled_margin(i))[:, 0], (units, 2 * count + 1)).T
        can_be_known = ~nan[-1]
        waits = nan[:count] & can_be_known & asked
        holds |= waits
        for one, some in zip(unknown, waits, strict=True):
            one.lines += int(some.sum())
        if row.check.kind in VERDICT_KINDS:
            open_alone |= nan[count:-1] & asked
    alone = holds & ~open_alone & (verdict == NOT_KNOWN)
    for one, on, by_itself in zip(unknown, holds, alone, strict=True):
        one.missing, one.holds, one.alone = True, int(on.sum()), int(by_itself.sum())
        found |= on


def _is_missing(columns: Columns, one: _Input) -> bool:
    return any(bool((_nan(columns, name, member) & mask).any()) for name, member, mask in one.cells)


def _nan(columns: Columns, name: str, member: int | None) -> Mask:
    values = columns.get(name)
    if values is None:
        return np.ones(1, bool)
    return np.isnan(values if member is None else values[member])[:, 0, 0]


def _filled(columns: Columns, unknown: list[_Input]) -> Columns:
    """Columns with a sample for each missing input, all others filled; one each with it alone filled; all filled."""
    count, units = len(unknown), columns.units
    samples = 2 * count + 1
    changed: dict[str, Array] = {}
    for name, values in columns.values.items():
        if np.isnan(values).any():
            wide = np.repeat(np.broadcast_to(values, (*values.shape[:-3], units, 1, 1)), samples, axis=-1)
            known = np.where(np.isnan(wide), STANDS_IN.get(name, 1.0), wide)
            wide[..., :count], wide[..., -1] = known[..., :count], known[..., -1]
            changed[name] = wide
    for k, one in enumerate(unknown):
        for name, member, mask in one.cells:
            if name not in changed:
                continue
            array = changed[name] if member is None else changed[name][member]
            here = mask & _nan(columns, name, member)
            array[here, 0, k], array[here, 0, count + k] = np.nan, STANDS_IN.get(name, 1.0)
    return columns.with_values(changed)


def _wide(block: Block, inputs: dict[str, _Input], found: Mask) -> None:
    """Count the units that each input of wide tolerance holds back."""
    judgement = block.judgement
    verdict = judgement.verdict[:, 0]
    counts = judgement.rows.of_kind(*VERDICT_KINDS)
    # A unit that is not known yet has its doubts waiting behind what is missing.
    open_units = (verdict == DEPENDS) | (verdict == NOT_KNOWN)
    doubtful = (judgement.codes[:, :, 0] == DEPENDS) & counts[:, None] & open_units
    if not doubtful.any():
        return
    own, owner = list(inputs.values()), _owners(block, inputs)
    size, units, nudges = len(own), len(verdict), len(judgement.nudges)
    holds = np.zeros((units, size), bool)
    alone = np.broadcast_to((verdict == DEPENDS)[:, None], holds.shape) & doubtful.any(axis=0)[:, None]
    for i in np.flatnonzero(doubtful.any(axis=1)):
        margin = np.broadcast_to(judgement.rows.sampled_margin(i)[:, 0], (units, 1 + 2 * nudges))
        harm = np.nan_to_num(harms(margin, nudges), nan=0.0, posinf=np.inf)
        # Those of the haul by line of its files, those of the trailer each by itself.
        summed = np.zeros((units, size + nudges))
        for n, per_unit in enumerate(owner):
            np.add.at(summed, (np.arange(units), np.where(per_unit < 0, size + n, per_unit)), harm[:, n])
        worst = judgement.worst[i, :, 0]
        taken = _taken(worst, summed)[:, :size] & doubtful[i][:, None]
        holds |= taken
        with np.errstate(invalid="ignore"):
            settled = (worst[:, None] + summed[:, :size] >= 0) & (summed[:, :size] > 0)
        alone = alone & (settled | ~doubtful[i][:, None])
        _blur(own, taken, summed[:, :size], judgement.rows.scale[i, :, 0], judgement.rows.rows[i].check)
    alone &= holds
    for k, one in enumerate(own):
        if not one.missing:
            one.holds, one.alone = int(holds[:, k].sum()), int(alone[:, k].sum())
    found |= holds.any(axis=1)


def _owners(block: Block, inputs: dict[str, _Input]) -> list[NDArray[np.intp]]:
    """Which input each nudge belongs to on each unit, -1 where it is the trailer's."""
    place = {(n.name, n.member): i for i, n in enumerate(block.judgement.nudges)}
    owner = [np.full(len(block.judgement.verdict), -1, np.intp) for _ in place]
    for k, one in enumerate(inputs.values()):
        for name, member, mask in one.cells:
            at = place.get((name, member))
            if at is not None:
                owner[at][mask] = k
    return owner


def _taken(worst: Array, harm: Array) -> Mask:
    """Which inputs must be measured, greatest harm first, until no tolerance breaks the limit: ``(unit, input)``."""
    sure = np.isinf(harm).any(axis=1)
    finite = np.where(np.isinf(harm), 0.0, harm)
    order = np.argsort(-finite, axis=1, kind="stable")
    ranked = np.take_along_axis(finite, order, 1)
    before = np.cumsum(ranked, axis=1) - ranked
    need = (worst[:, None] + before < 0) & (ranked > 0)
    taken = np.zeros_like(need)
    np.put_along_axis(taken, order, need, 1)
    # A check that applies only under a nudge: every input that can make it apply has to be sure.
    return np.where(sure[:, None], np.isinf(harm), taken)


def _blur(own: list[_Input], taken: Mask, harm: Array, scale: Array, check: object) -> None:
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(taken & np.isfinite(harm), harm / np.where(scale > 0, scale, np.inf)[:, None], 0.0)
    for k in np.flatnonzero(taken.any(axis=0)):
        unit = int(share[:, k].argmax())
        if share[unit, k] > own[k].share:
            own[k].share, own[k].blurs = float(share[unit, k]), float(harm[unit, k])
            own[k].unit, own[k].limit = check.unit, check.title  # type: ignore[attr-defined]
