"""Printed sheets read back: their words, where each stands, their type."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import dataclass
from functools import cache

import pytest

from answers.yard import haul, yard
from rubrail.answers.build import build_of
from rubrail.sheets.paper import made
from rubrail.sheets.paper.blocks import Paper
from rubrail.sheets.paper.money import order_sheet

needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed")
STAMP = made.Stamp("Sedge Hollow Trailer Yard (invented)", "Nov 25, 2026", "https://yard.example/unit/SH-191/")
MARGIN_PT = 15 / 25.4 * 72
PRINTABLE_PT = 15.0
"""What few printers reach at the lower edge."""
RATES = yard().rates["sedge-hollow-2026"]


@dataclass(frozen=True)
class Word:
    """One word on paper, from the top left corner. [pt]"""

    text: str
    page: int
    x1: float
    y1: float
    x2: float
    y2: float


def told(pdf: bytes) -> str:
    """All its words in reading order, one space between two."""
    out = subprocess.run(["pdftotext", "-", "-"], input=pdf, capture_output=True, check=True).stdout
    return " ".join(out.decode().split())


def words(pdf: bytes) -> tuple[list[tuple[float, float]], list[Word]]:
    """Size of every page, and every word with its place."""
    out = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    pages, found = [], []
    for line in out.splitlines():
        if size := re.search(r'<page width="([\d.]+)" height="([\d.]+)"', line):
            pages.append((float(size[1]), float(size[2])))
        elif it := re.search(r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*)</word>', line):
            found.append(Word(it[5], len(pages), *(float(v) for v in it.groups()[:4])))
    return pages, found


def type_of(pdf: bytes) -> set[str]:
    """Names of the type in it."""
    out = subprocess.run(["pdffonts", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    return {line.split()[0].partition("+")[2] for line in out.splitlines()[2:]}


def outside(pdf: bytes) -> list[str]:
    """Words that leave the margins at either side, or the page above or below."""
    pages, found = words(pdf)
    return [
        w.text
        for w in found
        if w.x1 < MARGIN_PT - 1
        or w.x2 > pages[w.page - 1][0] - MARGIN_PT + 1
        or w.y1 < 0
        or w.y2 > pages[w.page - 1][1] - PRINTABLE_PT
    ]


RIGS = (("04-three-machines", "SH-194"), ("01-mowing-round", "SH-103"), ("11-worn-door-label", "SH-191"))
UNITS = ("SH-191", "SH-101", "SH-141", "SH-212")


@cache
def sheet(name: str, metric: bool) -> Paper:
    """One of the sheets in ``SHEETS``."""
    return SHEETS[name](metric)


def _unit(maker, stock: str, **more):
    return lambda metric: maker(yard().trailers[stock], stamp=STAMP, metric=metric, **more)


def _rig(maker, rig: tuple[str, str], **more):
    return lambda metric: maker(haul(rig[0]), yard().trailers[rig[1]], stamp=STAMP, metric=metric, **more)


def _side(name: str, *stock: str):
    return lambda metric: made.comparison(haul(name), [yard().trailers[s] for s in stock], stamp=STAMP, metric=metric)


def _order(metric: bool) -> Paper:
    book = yard().catalogs["quarrant-2027"]
    return order_sheet(build=build_of(book, "GN-2505"), yard=STAMP.yard, date=STAMP.date, metric=metric)


SHEETS = {
    **{f"window {s}": _unit(made.window, s, rates=RATES) for s in UNITS},
    **{f"spec {s}": _unit(made.spec, s) for s in UNITS},
    "tax SH-212": _unit(made.tax, "SH-212", rates=RATES),
    "tax SH-191": _unit(made.tax, "SH-191", rates=RATES),
    **{f"plan {r[1]}": _rig(made.plan, r, kit=yard().kit) for r in RIGS},
    **{f"card {r[1]}": _rig(made.card, r) for r in RIGS},
    **{f"thresholds {r[1]}": _rig(made.thresholds, r) for r in RIGS},
    "compare 2": _side("03-landscaper-track-loader", "SH-133", "SH-194"),
    "compare 4": _side("04-three-machines", "SH-194", "SH-191", "SH-212", "SH-103"),
    "order GN-2505": _order,
}
