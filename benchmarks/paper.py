"""Every printed sheet: how long it takes warm, from things to PDF, and how much of that is the press.

Run: python benchmarks/paper.py [times]. The first of each is left out, for it loads what all the others use. Printed
are the median and the slowest of this one run, in milliseconds; nothing here is asserted about time.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable

from rubrail import load_yard, resolve
from rubrail.answers.build import build_of
from rubrail.demo import YARD
from rubrail.sheets.paper import made
from rubrail.sheets.paper.blocks import Paper
from rubrail.sheets.paper.money import order_sheet
from rubrail.sheets.paper.press import press

TIMES = int(sys.argv[1]) if len(sys.argv) > 1 else 7
STAMP = made.Stamp("Invented yard", "Nov 25, 2026", "https://yard.example/unit/SH-194/")


def sheets() -> dict[str, Callable[[], Paper]]:
    """Each sheet, to be reckoned anew at every call."""
    yard = load_yard(YARD)
    rates = next(iter(yard.rates.values()))
    unit, small = yard.trailers["SH-194"], yard.trailers["SH-103"]
    three = resolve(yard.hauls["04-three-machines"], yard)
    one = resolve(yard.hauls["11-worn-door-label"], yard)
    four = [yard.trailers[s] for s in ("SH-194", "SH-191", "SH-212", "SH-103")]
    book = yard.catalogs["quarrant-2027"]
    return {
        "window sheet": lambda: made.window(unit, stamp=STAMP, rates=rates),
        "window sheet, small unit": lambda: made.window(small, stamp=STAMP, rates=rates),
        "spec sheet": lambda: made.spec(unit, stamp=STAMP),
        "plan, one machine": lambda: made.plan(one, yard.trailers["SH-191"], kit=yard.kit, stamp=STAMP),
        "plan, three machines": lambda: made.plan(three, unit, kit=yard.kit, stamp=STAMP),
        "limits card": lambda: made.card(three, unit, stamp=STAMP),
        "threshold sheet": lambda: made.thresholds(three, unit, stamp=STAMP),
        "comparison of four": lambda: made.comparison(three, four, stamp=STAMP),
        "tax worksheet": lambda: made.tax(unit, rates=rates, stamp=STAMP),
        "order sheet": lambda: order_sheet(build=build_of(book, "GN-2505"), yard=STAMP.yard, date=STAMP.date),
    }


def main() -> None:
    """Print one line a sheet."""
    print(f"{'':28}{'median':>8}{'slowest':>9}{'of it the press':>17}  ms")
    for name, make in sheets().items():
        press(make())
        whole, pressed = [], []
        for _ in range(TIMES):
            start = time.perf_counter()
            paper = make()
            middle = time.perf_counter()
            press(paper)
            whole.append((time.perf_counter() - start) * 1000)
            pressed.append((time.perf_counter() - middle) * 1000)
        print(f"{name:28}{statistics.median(whole):8.0f}{max(whole):9.0f}{statistics.median(pressed):17.0f}")


if __name__ == "__main__":
    main()
