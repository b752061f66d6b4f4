"""The cheapest build among 2^18 choices of options against judging every choice.

Run: python benchmarks/builds.py [--seconds 20]. A model of the invented yard gets 18 options that may be taken
freely: some change what the checks read (axles, tires, label, coupler), the rest add weight at their places; all ask
for money. Judging every choice is the same engine on the same blocks, without order of price and without proofs. It
takes long, so it is measured on a random sample of choices for as long as asked, and the time for all of them is
reckoned from that; the printed ratio says so. The sample is also searched for a build that clears for less: there
must be none.
"""

from __future__ import annotations

import argparse
import time
from decimal import Decimal
from pathlib import Path

import numpy as np

import rubrail.demo
from rubrail import load_yard, resolve
from rubrail.answers.build import built, model_price
from rubrail.answers.cheapest import cheapest
from rubrail.answers.match import match_columns
from rubrail.answers.rig import rigs
from rubrail.checks.verdict import CLEAR
from rubrail.things.catalog import Catalog, Option
from rubrail.things.door import read_thing

BOOK, MODEL = "tarnbeck-2027", "LE-20"
CHANGING = ("tires-3520", "tires-g", "label-15400", "coupler-20k", "ramps-8ft", "torsion", "crossmembers-12")
"""Options of the model's own book that change what the checks read; their groups and rules are taken off."""
COUNT = 18
BLOCK = 256
HAULS = ("03-landscaper-track-loader", "04-three-machines")


def book(catalog: Catalog) -> Catalog:
    """The price book with one model and 18 options without rules."""
    model = next(m for m in catalog.model if m.id == MODEL)
    own = {o.id: o for o in catalog.option}
    free = {"models": (), "group": None, "requires": (), "requires_one_of": (), "excludes": ()}
    options = [own[name].model_copy(update=free) for name in CHANGING]
    rng = np.random.default_rng(1)
    for n in range(COUNT - len(options)):
        table = {
            "id": f"gear-{n + 1}",
            "title": f"gear {n + 1}",
            "price_usd": int(rng.integers(40, 900)),
            "adds": [{"weight_lb": int(rng.integers(5, 120)), "from_coupler_in": int(rng.integers(10, 290))}],
        }
        options.append(_option(catalog, table))
    return catalog.model_copy(update={"model": (model,), "group": (), "option": tuple(options)})


def _option(catalog: Catalog, table: dict) -> Option:
    whole = catalog.model_dump(mode="json", by_alias=True, exclude_none=True, exclude_unset=True)
    read = read_thing(Catalog, whole | {"option": [*whole["option"], table]}, where="the made-up book")
    return read.option[-1]


def choice(options: tuple[Option, ...], number: int) -> tuple[Option, ...]:
    """The options whose bits a number has."""
    return tuple(o for bit, o in enumerate(options) if number >> bit & 1)


def judge_sample(haul, catalog: Catalog, *, seconds: float) -> tuple[int, float, Decimal | None]:
    """Choices judged, the time that took, and the least price among those that clear."""
    model, options = catalog.model[0], catalog.option
    order = np.random.default_rng(2).permutation(2 ** len(options))
    done, least, begun = 0, None, time.perf_counter()
    while done < len(order) and time.perf_counter() - begun < seconds:
        taken = [choice(options, int(n)) for n in order[done : done + BLOCK]]
        one = rigs(haul=haul, trailers=tuple(built(model, t) for t in taken))
        blocks = match_columns(one.columns, offsets_in=one.offsets_in)
        codes = np.concatenate([b.judgement.verdict[:, 0] for b in blocks])
        prices = [model_price(model, t) for t, code in zip(taken, codes, strict=True) if code >= CLEAR]
        least = min([*prices, *([least] if least is not None else [])], default=None)
        done += len(taken)
    return done, time.perf_counter() - begun, least


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=20.0)
    seconds = parser.parse_args().seconds
    yard = load_yard(Path(rubrail.demo.__file__).parent / "yard")
    catalog = book(yard.catalogs[BOOK])
    every = 2 ** len(catalog.option)
    for name in HAULS:
        haul = resolve(yard.hauls[name], yard)
        begun = time.perf_counter()
        found = cheapest(haul=haul, catalog=catalog, model=MODEL, most=every)
        took = time.perf_counter() - begun
        done, spent, least = judge_sample(haul, catalog, seconds=seconds)
        whole = spent / done * every
        asks = f"asks ${found.build.price_usd:,.0f}" if found.build else "there is none"
        print(f"{name}: {every:,} choices of {len(catalog.option)} options; {asks}, proven: {found.proven}")
        print(f"  search: {took:.2f} s; {found.judged:,} builds judged, {found.dropped:,} kinds dropped")
        print(
            f"  every choice: {whole:,.0f} s, reckoned from {done:,} judged in {spent:.1f} s ({done / every:.1%}); "
            f"ratio {whole / took:,.0f}, reckoned and not measured"
            if done < every
            else f"  every choice: {spent:,.1f} s, all measured; ratio {spent / took:,.0f}"
        )
        cheaper = least is not None and (found.build is None or least < found.build.price_usd)
        asks = "none of them clears" if least is None else f"the cheapest of them that clears asks ${least:,.0f}"
        print(f"  among the choices judged: {asks}{'; THE SEARCH MISSED IT' if cheaper else ''}")


if __name__ == "__main__":
    main()
