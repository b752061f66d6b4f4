"""Labels for the yard: stock number, what it is, its rating, what it honestly carries, a code that leads to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rubrail.sheets.paper.blocks import Block, Break, Label, Labels, Paper
from rubrail.sheets.paper.press import qr
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import SAFETY

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer

GOVERNS: Final = "The certification label governs."
SIZES: Final = {"labels": (2, 4), "weather": (1, 1)}
"""How many stand across and down a page; one a page hangs out in the yard, to be read across a row."""
CARRIES: Final = "Carries, at its best place"


@dataclass(frozen=True, slots=True)
class LabelFacts:
    """What a label says of one unit; ``None`` is *not known*.

    payload_lb : the trailer alone, at its best place; link, link_says : address its code leads to, and what is there
    """

    stock_number: str
    title: str
    gvwr_lb: float | None
    payload_lb: float | None
    link: str = ""
    link_says: str = "Scan for its page"


def label_sheet(
    units: Iterable[LabelFacts], *, size: str = "labels", yard: str = "", date: str = "", metric: bool = False
) -> Paper:
    """Labels of units, in their order.

    Parameters
    ----------
    units : iterable of LabelFacts
    size : str
        One of ``SIZES``.
    yard, date : str
        Whose labels they are, and the day they speak of.
    metric : bool

    Raises
    ------
    ValueError
        If there is no such size.
    """
    if size not in SIZES:
        raise ValueError(f"size must be one of {', '.join(SIZES)}, got {size!r}.")
    across, down = SIZES[size]
    rows = tuple(_label(u, yard, metric) for u in units)
    blocks: list[Block] = []
    for start in range(0, len(rows), across * down):
        blocks += [Break()] if blocks else []
        blocks.append(Labels(rows[start : start + across * down], columns=across, down=down))
    return Paper(
        sort="Labels" if size == "labels" else "Weather cards",
        title=f"{len(rows)} of the yard",
        blocks=tuple(blocks),
        yard=yard,
        date=date,
        foot=SAFETY,
        landscape=size == "weather",
        fit="bare",
    )


def _label(u: LabelFacts, yard: str, metric: bool) -> Label:
    figures = (("Label GVWR", _said(u.gvwr_lb, metric)), (CARRIES, _said(u.payload_lb, metric)))
    return Label(
        number=u.stock_number,
        title=u.title if u.title != u.stock_number else "",
        figures=figures,
        code=qr(u.link) if u.link else "",
        code_says=u.link_says if u.link else "",
        foot=f"{yard}. {GOVERNS}" if yard else GOVERNS,
    )


def _said(value: float | None, metric: bool) -> str:
    return "not known" if value is None else amount(value, "lb", metric=metric)


def labels_of(trailers: Sequence[Trailer], *, address: str = "") -> list[LabelFacts]:
    """What labels say of trailers.

    Parameters
    ----------
    trailers : sequence of Trailer
    address : str
        Where the yard's public pages are found, ending in a slash; without it labels have no code.
    """
    from rubrail.sheets.site.made import payloads, title_of
    from rubrail.sheets.site.shown import file_name

    return [
        LabelFacts(
            stock_number=t.id,
            title=title_of(t, payload_lb=lb),
            gvwr_lb=None if t.ratings.gvwr_lb is None else float(t.ratings.gvwr_lb),
            payload_lb=lb,
            link=f"{address}trailer/{file_name(t.id)}.html" if address else "",
        )
        for t, lb in zip(trailers, payloads(trailers), strict=True)
    ]
