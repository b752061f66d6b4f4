"""The public pages of many units written into a folder: all of them, again with nothing changed, with one changed.

Run: python benchmarks/site.py [units]. Units are those of the invented yard over and over, each with a number and a
price of its own, so that no page is another's; what is drawn and reckoned of a build is so once. The first run is of
units of which each weighs and measures otherwise, so that nothing of one serves another. Printed are the seconds of
each run, its files, and the ratio to the second; nothing here is asserted about time.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import cycle, islice
from pathlib import Path

from rubrail import load_yard
from rubrail.demo import YARD
from rubrail.sheets.site import made
from rubrail.sheets.site.folder import write_site
from rubrail.sheets.site.from_files import files_of_trailers, may_be_shown
from rubrail.sheets.site.shown import SiteYard
from rubrail.things.folder import plain_listing
from rubrail.things.trailer import Trailer

COUNT = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
DAY = date(2026, 11, 28)


def many(count: int, *, alike: bool = True) -> list[Trailer]:
    """Units for sale, each another; built like others, or each otherwise."""
    ours = [t for t in load_yard(YARD).trailers.values() if may_be_shown(t)]
    rows = list(islice(cycle(ours), count))
    if not alike:
        rows = [_otherwise(t, 0.01 * n) for n, t in enumerate(rows)]
    return [t.model_copy(update={"id": f"N-{n:05d}", "price_usd": Decimal(5000 + n)}) for n, t in enumerate(rows)]


def _otherwise(t: Trailer, more: float) -> Trailer:
    weighs, high = t.weights.empty_lb, t.deck.height_in
    weights = weighs and {"empty_lb": replace(weighs, number=weighs.number + more)}
    deck = high and {"height_in": replace(high, number=high.number + more / 10)}
    changed = {"weights": t.weights.model_copy(update=weights or {}), "deck": t.deck.model_copy(update=deck or {})}
    return t.model_copy(update=changed)


def run(what: str, units: Sequence[Trailer], folder: Path, first: float = 0.0) -> float:
    """Write, print a line, and return the seconds."""
    start = time.perf_counter()
    yard = SiteYard("Invented yard", "https://yard.example/")
    done = write_site(files_of_trailers(units, yard=yard, wording=plain_listing(), today=DAY), folder)
    took = time.perf_counter() - start
    ratio = f"{first / took:10.0f} x" if first else ""
    size_mb = done.size_bytes / 1e6
    print(f"{what:22}{took:9.2f} s{done.written:9,}{done.kept:11,}{done.removed:9,}{size_mb:9.1f}{ratio}")
    return took


def forget() -> None:
    """Forget what was kept, so that the next run begins as the first did."""
    made._read.cache_clear()
    made._drawings.cache_clear()


def main() -> None:
    """Print one line a run."""
    units = many(COUNT)
    builds = sum(may_be_shown(t) for t in load_yard(YARD).trailers.values())
    print(f"{COUNT:,} units{'':11}{'took':>11}{'written':>9}{'as before':>11}{'gone':>9}{'MB':>9}{'faster':>12}")
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home) / "site"
        run("each built otherwise", many(COUNT, alike=False), Path(home) / "other")
        forget()
        first = run(f"units of {min(builds, COUNT)} builds", units, folder)
        run("nothing changed", units, folder, first)
        middle = COUNT // 2
        dearer = units[middle].model_copy(update={"price_usd": Decimal(99_999)})
        run("one price changed", [*units[:middle], dearer, *units[middle + 1 :]], folder, first)
        run("one unit sold", [*units[:middle], *units[middle + 1 :]], folder, first)


if __name__ == "__main__":
    main()
