"""The walk-around as a sheet to carry: the unit with its stations on top, then station by station."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubrail.sheets.drawing.walk_strip import Pin, walk_strip
from rubrail.sheets.paper.blocks import Drawing, Paper, Table, Words
from rubrail.sheets.sentences_walk import MEASURE, NO_HAUL, StationSaid, walk_said, walk_sentence
from rubrail.sheets.sentences_words import SAFETY

if TYPE_CHECKING:
    from rubrail.answers.walk_parts import Walk
    from rubrail.things.trailer import Trailer

WIDE_PX = 700.0


def walk_sheet(
    walk: Walk, trailer: Trailer, *, yard: str = "", date: str = "", link: str = "", metric: bool = False
) -> Paper:
    """The walk as one or two pages.

    Parameters
    ----------
    walk : Walk
    trailer : Trailer
        The unit the walk is about, to be drawn.
    yard, date, link : str
        Whose paper it is, the day it speaks of as printed, and the address its code leads to.
    metric : bool
    """
    said = walk_said(walk, metric=metric)
    notes = [MEASURE] if walk.haul else [NO_HAUL]
    if walk.others:
        circle = f"{walk.circle} " if walk.circle else ""
        notes.append(f"Compared with {walk.others} other {circle}units on the lot.")
    return Paper(
        sort=f"Walk-around, {walk.trailer}",
        title=walk.trailer_title,
        lead=walk_sentence(walk),
        verdict=walk.verdict,
        blocks=(
            Drawing(
                walk_strip(trailer, pins_of(said), width_px=WIDE_PX),
                says="the unit from its side, its stations numbered",
                high_mm=38,
            ),
            Table(
                ("Station", "What it is, and what it does", "By hand", "Mind"),
                tuple(_row(s) for s in said),
                align="llll",
                marks=tuple(s.verdict for s in said),
                widths=(1.15, 2.6, 1.3, 1.3),
            ),
            Words(tuple(notes), quiet=True),
        ),
        yard=yard,
        date=date,
        link=link,
        link_says="this walk",
        foot=SAFETY,
    )


def pins_of(said: tuple[StationSaid, ...]) -> list[Pin]:
    """The stations as pins of a drawing."""
    return [Pin(s.key, s.number, s.title, s.x_in, s.z_in) for s in said]


def _row(s: StationSaid) -> tuple[str, str, str, str]:
    figure = f"\n{s.figure}\n{s.figure_says}" if s.figure else ""
    *told, check, caution = s.say
    return f"{s.number}. {s.title}{figure}", "\n".join(told), check, caution
