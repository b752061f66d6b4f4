"""Two to four units for one haul on the same rows, with their rigs to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubrail.sheets.drawing import Rig, placed_pieces, rig_side
from rubrail.sheets.paper.blocks import Block, Drawing, Paper, Table, Words
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
FULL_PX = 940.0
BEST = "▸ "
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
    blocks: list[Block] = [table]
    pieces = pieces_of(haul)
    for w, trailer in zip(comparison.weighings, trailers, strict=True):
        rig = Rig(trailer=trailer, truck=haul.truck, cargo=placed_pieces(w, pieces), metric=metric)
        blocks.append(
            Table(("",), ((weighing_sentence(w, tried=False, metric=metric),),), marks=(w.verdict,), heading=w.trailer)
        )
        blocks.append(Drawing(rig_side(rig, width_px=FULL_PX, dimensions=False), says=w.trailer_title, share=0.8))
    blocks.append(
        Words(
            (
                f"{BEST.strip()} is the best on its row."
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
    )


def _cell(row: Row, i: int, *, metric: bool) -> str:
    value = row.values[i]
    shown = value if isinstance(value, str) else amount(value, row.unit, metric=metric)
    return f"{BEST}{shown}" if i in row.best else shown
