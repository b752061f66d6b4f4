"""A long list taken into the yard: how much of the processor's time each step takes.

Run: python benchmarks/importing.py [--rows 10000]. Writes a list of units like those of the invented yard, each with
weights, price and day of arrival of its own, as the desk exports it, and takes it into an empty database; then the
same list again, which says nothing new; then with another price and weight in every row. Nothing here is asserted.
"""

from __future__ import annotations

import argparse
import os
import random
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--rows", type=int, default=10_000)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as home:
        os.environ["RUBRAIL_HOME"] = home
        from rubrail.desk.serve import prepare

        prepare(say=lambda line: None)
        steps(given.rows)


def steps(count: int) -> None:
    """Take the list in three times."""
    from rubrail.desk.lists.writing import csv_of, list_of
    from rubrail.desk.models import User

    by = User.objects.create_user(username="ada", name="Ada Quill", role="owner", password=None)
    columns, rows = list_of(units(count), role="owner")
    keys = [c.key for c in columns]
    print(f"{count:,} rows of {len(columns)} columns, {len(csv_of(columns, rows, marked=True)) / 1e6:.1f} MB")
    for says in ("new", "the same again", "price and weight changed"):
        if says.startswith("price"):
            for row in rows:
                for key, more in (("price_usd", 100), ("weights.empty_lb", 7)):
                    place = keys.index(key)
                    row[place] = row[place] + more if row[place] else row[place]
        take(says, csv_of(columns, rows, marked=True), by)


def units(count: int) -> list[Any]:
    """Units as they would be stored, with weights of their own."""
    from desk import many
    from rubrail.desk.models import Unit
    from rubrail.desk.stock import said

    draw, made = random.Random(3), [Unit(**said(t)) for t in many(count)]
    for unit in made:
        for name in ("empty_lb", "empty_coupler_lb"):
            value = unit.spec.get("weights", {}).get(name)
            if value:
                value["value"] += draw.randrange(-60, 60)
    return made


def take(says: str, data: bytes, by: Any) -> None:
    """One list from file to yard."""
    from django.utils import timezone

    from rubrail.desk.lists.choices import first_choices
    from rubrail.desk.lists.plan import plan_of, stored_units
    from rubrail.desk.lists.preview import preview_of
    from rubrail.desk.lists.reading import read_sheet
    from rubrail.desk.lists.row import Layout
    from rubrail.desk.lists.taking import take_in
    from rubrail.desk.models import Incoming

    sheet, read_s = timed(lambda: read_sheet(data, name="list.csv"))
    samples = [cells for _, cells in sheet.rows[:50]]
    choices = first_choices(sheet.headings, samples, role=by.role, csv=True)
    incoming = Incoming.objects.create(
        owner=by, name="list.csv", kind=sheet.kind, note="", headings=list(sheet.headings), row_count=len(sheet.rows),
        content=Incoming.packed(sheet.rows), expires=timezone.now() + timedelta(hours=1),
    )  # fmt: skip
    layout = Layout(incoming.headings, choices)
    plan, plan_s = timed(lambda: plan_of(incoming.rows, layout=layout, units=stored_units()))
    _, preview_s = timed(lambda: preview_of(plan))
    taken, take_s = timed(lambda: take_in(plan, incoming=incoming, by=by))
    told = {"read": read_s, "worked out": plan_s, "shown": preview_s, "taken in": take_s}
    print(
        f"{says:26}" + ", ".join(f"{step} {took:6.2f} s" for step, took in told.items()), f"({taken.said or 'none'})"
    )


def timed(work: Callable[[], Any]) -> tuple[Any, float]:
    """What comes of it, and the processor's time it took."""
    start = time.process_time()
    done = work()
    return done, time.process_time() - start


if __name__ == "__main__":
    main()
