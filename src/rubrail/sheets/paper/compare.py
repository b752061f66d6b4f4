"""Two to four units for one haul on the same rows, with their rigs to one scale."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rubrail.sheets.drawing import Rig, placed_pieces
from rubrail.sheets.drawing.rig_small import common_reach, rig_small
from rubrail.sheets.paper.blocks import Abreast, Block, Paper, Table, Words
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import SAFETY, begin
from rubrail.sheets.sentences_yard import comparison_sentence
from rubrail.things.haul import Haul
from rubrail.things.rigs import pieces_of
from rubrail.things.trailer import Trailer

if TYPE_CHECKING:
    from rubrail.answers.compare import Comparison, Row

MOST = 4
WIDE_PX, GUTTER_PX = 940.0, 22.0
"""Width of the sheet in drawing pixels, and what is left between two drawings."""
BEST = "▶ "
"""Beside the best number of a row: a mark, not a color."""


def comparison_sheet(
    *,
    comparison: Comparison,
    haul: Haul,
    trailers: Sequence[Trailer],
    yard: str = "",
    date: str = "",
    link: str = "",
    metric: bool = False,
) -> Paper:
    """The sheet.

    Raises
    ------
    ValueError
        If there are more units than a sheet has room for.
    """
    if len(trailers) > MOST:
        raise ValueError(f"a comparison sheet takes up to {MOST} units, got {len(trailers)}")
    rows = [r for r in comparison.rows if r.key != "verdict"]
    table = Table(
        ("", *(w.trailer for w in comparison.weighings)),
        tuple((begin(r.title), *(_cell(r, i, metric=metric) for i in range(len(trailers)))) for r in rows),
        align="l" + "r" * len(trailers),
        widths=(1.3, *(1.0 for _ in trailers)),
    )
    blocks: list[Block] = [Abreast(tuple(_abreast(comparison, haul, trailers, metric=metric))), table]
    blocks.append(
        Words(
            (
                f"{BEST.strip()} is the best on its row. Drawn to one scale, each at its best place."
                " What is judged here is the rig on the road; driving on and tying down are on each unit's own plan."
                " Makers rate frames for a load in different lengths of deck: ask.",
            ),
            quiet=True,
        )
    )
    return Paper(
        sort="Comparison",
        title=haul.title or haul.id,
        lead=comparison_sentence(comparison, metric=metric),
        blocks=tuple(blocks),
        yard=yard,
        date=date,
        link=link,
        link_says="this comparison",
        foot=SAFETY,
        landscape=True,
        fit="page",
    )


def _abreast(
    comparison: Comparison, haul: Haul, trailers: Sequence[Trailer], *, metric: bool
) -> Iterator[tuple[str, str, str, str]]:
    """Each rig as placed, all to one scale, with its sentence."""
    pieces = pieces_of(haul)
    rigs = [
        Rig(trailer=trailer, truck=haul.truck, cargo=placed_pieces(w, pieces), metric=metric)
        for trailer, w in zip(trailers, comparison.weighings, strict=True)
    ]
    longest, highest = common_reach(rigs)
    width = WIDE_PX / len(rigs) - GUTTER_PX
    for rig, w in zip(rigs, comparison.weighings, strict=True):
        svg = rig_small(rig, width_px=width, longest_in=longest, highest_in=highest)
        yield w.trailer, svg, weighing_sentence(w, tried=False, metric=metric), w.verdict


def _cell(row: Row, i: int, *, metric: bool) -> str:
    value = row.values[i]
    if isinstance(value, float) and math.isinf(value) and value < 0:
        return "none"
    shown = value if isinstance(value, str) else amount(value, row.unit, metric=metric)
    return f"{BEST}{shown}" if i in row.best else shown
