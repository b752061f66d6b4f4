"""The match board with a big yard: its page cold and warm, and its match against the engine called directly.

Run: python benchmarks/board.py [--units 10000] [--times 40]. Fills a database of its own as ``benchmarks/desk.py``
does and opens the board through Django's test client, everything included but the network. Prints how long the first
opening takes in all and how many requests it is made of, the median and the 95th percentile of warm pages and of
pages after one unit changed, and how much more of the processor than the engine alone the first opening takes, both
in this one run. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
import time
from importlib.resources import files
from typing import Any

from desk import fill, seconds  # the script beside this one

HAUL = "03-landscaper-track-loader"
PAGES = {
    "best first": "",
    "clear only, by deck height": "?verdict=clear&sort=height",
    "over, last page": "?verdict=over&page=9999",
    "price, coupling, unbeaten": "?most=20,000&coupling=ball&unbeaten=1",
}


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--units", type=int, default=10_000)
    parser.add_argument("--times", type=int, default=40)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as home:
        os.environ["RUBRAIL_HOME"] = home
        from rubrail.desk.serve import prepare

        prepare(say=lambda line: None)
        fill(given.units)
        haul = kept_haul()
        open_board(haul, given.times)


def kept_haul() -> Any:
    """A haul of the invented yard, stored."""
    from rubrail.desk.hauls import stored
    from rubrail.desk.models import Haul
    from rubrail.things.folder import load_yard, resolve

    yard = load_yard(files("rubrail.demo") / "yard")
    return Haul.objects.create(title=HAUL, spec=stored(resolve(yard.hauls[HAUL], yard)))


def open_board(haul: Any, times: int) -> None:
    """Open the board cold, then warm, then after one unit changed."""
    from django.test import Client

    from rubrail.answers.roster import roster
    from rubrail.desk.board import on_the_lot
    from rubrail.desk.derived import columns_of
    from rubrail.desk.hauls import thing_of
    from rubrail.desk.models import Unit, User

    client = Client(headers={"host": "localhost"})
    client.force_login(User.objects.get())
    address = f"/haul/{haul.pk}/board/"

    def opened(query: str = "") -> bool:
        answer = client.get(address + query)
        assert answer.status_code == 200, answer.status_code
        return b'id="judged"' in answer.content

    lot = len(on_the_lot())
    client.get("/account/")  # what the first page of all imports
    requests, busy, used = [], True, time.process_time()
    while busy:
        start = time.perf_counter()
        busy = opened()
        requests.append(time.perf_counter() - start)
    used = time.process_time() - used
    print(f"{lot:,} units on the lot; first opening {sum(requests):.2f} s in {len(requests)} requests,", end=" ")
    print(f"the longest {max(requests):.2f} s")

    numbers = on_the_lot()["unit"].tolist()
    columns = columns_of(Unit.objects.in_bulk(numbers).values())
    thing = thing_of(haul)
    before = time.process_time()
    engine = seconds(lambda: roster(haul=thing, of_trailers=columns))
    alone = time.process_time() - before
    print(f"the engine alone, columns in memory: {engine:.2f} s, {1e6 * engine / lot:.0f} us a unit;", end=" ")
    print(f"the first opening takes {used / alone:.2f} times its processor time")

    for says, query in PAGES.items():
        opened(query)
        spread(f"warm, {says}", [seconds(lambda q=query: opened(q)) for _ in range(times)])
    pages = []
    for n in range(times):
        Unit.objects.filter(pk=numbers[n]).update(version=10 + n)
        pages.append(seconds(opened))
    spread("after one unit changed", pages)


def spread(says: str, took: list[float]) -> None:
    """Print the median and the 95th percentile."""
    took = sorted(took)
    at = took[int(0.95 * (len(took) - 1))]
    print(f"board, {says:34} median {1e3 * statistics.median(took):6.1f} ms, 95th percentile {1e3 * at:6.1f} ms")


if __name__ == "__main__":
    main()
