"""The desk with a big yard: how long its pages take, and what they ask of the database.

Run: python benchmarks/desk.py [--units 10000] [--times 60]. Fills a database of its own with units like those of the
invented yard, each with weights, price and day of arrival of its own, and opens pages through Django's test client,
everything included but the network. Prints the median and the 95th percentile of each page, and how many queries it
took; then a haul's match against the whole lot, beside the engine called directly on the same units. Nothing here is
asserted.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from importlib.resources import files
from typing import Any

SEARCHES = {
    "first page": "",
    "another page": "?page={page}",
    "by payload": "?sort=-payload",
    "by price, kind of coupling": "?coupling=ball&sort=price",
    "least payload and deck": "?payload=12000&length=22+ft&sort=payload",
    "words": "?words=black+tilt",
    "words and limits": "?words=row&under=license&complete=on&sort=-days",
    "sold ones too": "?status=all&sort=-gvwr",
}


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--units", type=int, default=10_000)
    parser.add_argument("--times", type=int, default=60)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as home:
        os.environ["RUBRAIL_HOME"] = home
        from rubrail.desk.serve import prepare

        prepare(say=lambda line: None)
        took = seconds(lambda: fill(given.units))
        print(f"{given.units:,} units stored in {took:.1f} s, their payloads included")
        yard_pages(given.times)
        unit_page(given.times)
        match_board(given.times)


def seconds(work: Callable[[], Any]) -> float:
    """How long it takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def fill(count: int) -> None:
    """Store units, all unlike one another."""
    from rubrail.desk.models import User
    from rubrail.desk.stock import add_units

    User.objects.create_user(username="ada", name="Ada Quill", role="owner", password=None)
    made = list(many(count))
    for start in range(0, count, 1000):
        add_units(made[start : start + 1000], by=None)


def many(count: int) -> Iterator[Any]:
    """Trailers like those of the invented yard, with numbers of their own."""
    from rubrail.things.door import read_thing
    from rubrail.things.folder import load_yard
    from rubrail.things.trailer import Trailer

    draw = random.Random(1)
    with_own = list(load_yard(files("rubrail.demo") / "yard").trailers.values())
    tables = [t.model_dump(mode="json", by_alias=True, exclude_none=True) for t in with_own]
    for number in range(count):
        table = dict(tables[number % len(tables)])
        table["id"] = f"B-{number:05}"
        table["price_usd"] = str(draw.randrange(3_000, 40_000))
        table["arrived"] = f"20{draw.randrange(24, 26)}-{draw.randrange(1, 13):02}-{draw.randrange(1, 29):02}"
        table["location"] = f"row {draw.choice('ABCDEFGH')}, {draw.randrange(1, 40)}"
        table["status"] = draw.choices(("in-stock", "held", "on-order", "sold"), (6, 1, 1, 2))[0]
        yield read_thing(Trailer, table)


HAUL = "03-landscaper-track-loader"


def match_board(times: int) -> None:
    """Match a haul to everything on the lot: from nothing, as kept, and after one unit was saved."""
    import math

    from django.test import Client

    from rubrail.answers.height import built_columns
    from rubrail.answers.roster import roster
    from rubrail.desk.board import standing
    from rubrail.desk.hauls import stored, thing_of
    from rubrail.desk.models import Board, Haul, Unit, User
    from rubrail.desk.models.stock import ON_THE_LOT
    from rubrail.desk.stock import trailer_of
    from rubrail.things.folder import load_yard, resolve

    yard = load_yard(files("rubrail.demo") / "yard")
    haul = Haul.objects.create(title=HAUL, spec=stored(resolve(yard.hauls[HAUL], yard)))
    thing, on_lot = thing_of(haul), Unit.objects.filter(status__in=ON_THE_LOT)
    columns = built_columns([trailer_of(unit) for unit in on_lot])

    def from_nothing() -> None:
        Board.objects.all().delete()
        assert not standing(haul, thing, patience_s=math.inf).missing

    # Turn about, so that whatever else the machine does meanwhile weighs on both.
    pairs = [(seconds(lambda: roster(haul=thing, of_trailers=columns)), seconds(from_nothing)) for _ in range(3)]
    engine, desk = (min(took) for took in zip(*pairs, strict=True))
    print(
        f"match of {columns.units:,} units: the engine called directly {engine:.2f} s, the desk from its database "
        f"{desk:.2f} s, {desk / engine:.2f} times as long"
    )
    client = Client(headers={"host": "localhost"})
    client.force_login(User.objects.get())
    changed = list(on_lot.values_list("pk", flat=True)[:times])

    def opened() -> None:
        assert client.get(f"/haul/{haul.pk}/board/").status_code == 200

    def one_saved() -> None:
        unit = Unit.objects.get(pk=changed.pop())
        Unit.objects.filter(pk=unit.pk).update(version=unit.version + 1)
        opened()

    for says, work in (("as kept", opened), ("after one unit was saved", one_saved)):
        told(f"board, {says}", [seconds(work) for _ in range(times)])


def told(says: str, took: list[float], more: str = "") -> None:
    """Print one line of figures."""
    took = sorted(took)
    print(
        f"{says:34} median {1e3 * statistics.median(took):6.1f} ms, 95th percentile "
        f"{1e3 * took[int(0.95 * (len(took) - 1))]:6.1f} ms{more}"
    )


def yard_pages(times: int) -> None:
    """Open the yard's page in several ways."""
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from rubrail.desk.models import User

    client = Client(headers={"host": "localhost"})
    client.force_login(User.objects.get())
    draw = random.Random(2)
    for says, query in SEARCHES.items():
        address = "/yard/" + query

        def opened(address: str = address) -> None:
            answer = client.get(address.format(page=draw.randrange(2, 150)))
            assert answer.status_code == 200, answer.status_code

        with CaptureQueriesContext(connection) as asked:
            first = seconds(opened)
            queries = len(asked)
        more = f", first {1e3 * first:6.1f} ms, {queries} queries"
        told(f"yard, {says}", [seconds(opened) for _ in range(times)], more)


def unit_page(times: int) -> None:
    """Open units' pages: each for the first time, and one again and again."""
    from django.test import Client

    from rubrail.desk.models import User

    client = Client(headers={"host": "localhost"})
    client.force_login(User.objects.get())

    def opened(number: int) -> None:
        assert client.get(f"/unit/B-{number:05}/").status_code == 200

    print(f"unit, the very first page of a desk {1e3 * seconds(lambda: opened(0)):6.1f} ms")
    told("unit, each for the first time", [seconds(lambda n=n: opened(n)) for n in range(1, times + 1)])
    told("unit, again", [seconds(lambda: opened(0)) for _ in range(times)])


if __name__ == "__main__":
    main()
