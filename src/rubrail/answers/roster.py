"""What a match says of each unit, as one short row of numbers: a big yard's match can be kept and mended in part.

A row holds the verdict, the limit that governs and the place of the cargo. Lines a person reads are made from it for
the few units that somebody looks at (``answers.board.candidates``).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.match import Block, governing_share, match_columns
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.registry import CHECKS
from rubrail.things.columns import Columns
from rubrail.things.haul import Haul
from rubrail.things.rigs import arrangements, haul_before, offsets_in

ROW = np.dtype(
    [
        ("verdict", "i1"),
        ("check", "<i2"),
        ("member", "i1"),
        ("margin", "<f8"),
        ("share", "<f8"),
        ("arrangement", "<u2"),
        ("shift_in", "<f8"),
        ("coupler_load_lb", "<f8"),
        ("empty_weight_lb", "<f8"),
        ("deck_height_in", "<f8"),
    ]
)
"""One unit.

verdict : code into ``checks.verdict.WORDS``; check : index into ``check_ids()`` of the limit that governs, member :
which axle or piece of it, each -1 where there is none; margin, share : of that limit, in its unit and relative;
arrangement : index into the haul's arrangements; shift_in : foremost point of the cargo behind the coupling point.
"""


def check_ids() -> tuple[str, ...]:
    """Ids of every check, in the order that a row counts them."""
    return tuple(sorted(CHECKS))


def roster(*, haul: Haul, of_trailers: Columns) -> NDArray[np.void]:
    """A haul on many trailers, each at its own best placement.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    of_trailers : Columns
        As ``answers.height.built_columns`` makes them.

    Returns
    -------
    array of ROW
        Shape ``(unit,)``, in the order of the columns.
    """
    arranged = arrangements(haul)
    columns = haul_before(haul=haul, of_trailers=of_trailers, arranged=arranged)
    offsets = offsets_in(haul, arranged)
    rows = np.zeros(of_trailers.units, ROW)
    number = {name: i for i, name in enumerate(check_ids())}
    for block in match_columns(columns, offsets_in=offsets):
        _write(rows[block.start : block.start + block.columns.units], block, number)
    return rows


def _write(rows: NDArray[np.void], block: Block, number: dict[str, int]) -> None:
    judged = block.judgement.rows
    governing = block.judgement.governing[:, 0]
    # One more at the end, which -1 reads: no limit governs.
    check = np.array([*(number[r.check.id] for r in judged.rows), -1])
    member = np.array([*(-1 if r.member is None else r.member for r in judged.rows), -1])
    margin = np.take_along_axis(judged.margin[:, :, 0], np.maximum(governing, 0)[None], 0)[0]
    rows["verdict"] = block.judgement.verdict[:, 0]
    rows["check"], rows["member"] = check[governing], member[governing]
    rows["margin"] = np.where(governing < 0, np.inf, margin)
    rows["share"] = governing_share(block.judgement)
    rows["arrangement"], rows["shift_in"] = block.places.arrangement, block.places.shift_in
    rows["coupler_load_lb"] = block.evaluation.value("coupler_load_lb")[:, 0, 0]
    rows["empty_weight_lb"] = block.columns["trailer_empty_weight_lb"][:, 0, 0]
    rows["deck_height_in"] = block.columns["deck_height_in"][:, 0, 0]
