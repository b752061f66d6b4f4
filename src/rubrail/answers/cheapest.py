"""The cheapest build of a model that clears a haul: every choice of options in order of price, none left out unproven.

Options that change nothing the checks read are never worth their price. The others are of two kinds. *Changing* ones
(axles, tires, tail) make classes of builds; within a class the rest only add weight at places. Margins are straight
lines in the empty trailer's weight and coupler load, so one reading of a class bounds what any choice of its weights
can reach: a class in which some limit stays passed wherever the cargo stands is dropped whole. What is left is judged
in order of price, in blocks, and the first that clears is the cheapest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from heapq import merge
from itertools import groupby, islice, product

import numpy as np

from rubrail.answers.build import Build, broken_rules, build_of, built, model_price
from rubrail.answers.build_bound import hopeless, parts_of
from rubrail.answers.build_order import subsets_by_price
from rubrail.answers.lines import lines_of
from rubrail.answers.match import Block, governing_share, match_columns
from rubrail.answers.report import Line
from rubrail.answers.rig import Rigs, rigs
from rubrail.checks.verdict import WORDS
from rubrail.things.catalog import Catalog, Model, Option
from rubrail.things.haul import Haul

BLOCKS = (16, 64, 256)
"""Builds judged at once: few at first, for the cheapest often clears."""


@dataclass(frozen=True, slots=True)
class Forced:
    """Why an option of the cheapest build is there.

    by : ``rule`` (another option or a group asks for it), ``limit`` (without it ``line`` is not held), or ``price``
    (it costs less than leaving it out)
    """

    option: str
    title: str
    by: str
    says: str
    line: Line | None = None


@dataclass(frozen=True, slots=True)
class Cheapest:
    """What the search found.

    build : the cheapest that reaches the wanted verdict, or ``None`` where none does
    nearest, nearest_line : where none does, the build that comes nearest, and what is in its way
    possible : choices that keep the catalog's rules, at most; judged : how many were weighed; dropped : how many
    classes of builds were proven hopeless
    proven : False where the search was cut at ``most`` builds before the end
    """

    haul: str
    model: str
    wanted: str
    build: Build | None
    verdict: str
    governing: Line | None
    forced: tuple[Forced, ...]
    nearest: Build | None
    nearest_line: Line | None
    possible: int
    judged: int
    dropped: int
    proven: bool


def cheapest(*, haul: Haul, catalog: Catalog, model: str, wanted: str = "clear", most: int = 50_000) -> Cheapest:
    """Find the cheapest build of a model that carries a haul.

    Parameters
    ----------
    haul : Haul
        With its truck, cargo and limits resolved.
    catalog : Catalog
    model : str
        Id of one of its models.
    wanted : str
        ``clear``, or ``depends`` for what holds at the stated values.
    most : int
        Builds to judge at most; a search that is cut says that it is.

    Raises
    ------
    BuildError
        If the catalog has no such model.
    """
    base = build_of_model(catalog, model)
    goal = WORDS.index(wanted)
    parts = parts_of(catalog, base)
    classes = _classes(catalog, base, parts.changing)
    lost = hopeless(haul=haul, model=base, classes=classes, weights=parts.weighing, goal=goal)
    order = {o.id: n for n, o in enumerate(catalog.option)}

    def members(of: Iterable[tuple[Option, ...]]) -> Iterator[Member]:
        queue = merge(*(_members(base, c, parts.weighing, order) for c in of), key=lambda m: m[:2])
        return (m for m in queue if not any(broken_rules(catalog, base, m[2])))

    allowed = members(c for c, gone in zip(classes, lost, strict=True) if not gone)
    judged, best_missed = 0, None
    proven = True
    for block in _blocks(allowed):
        if judged >= most:
            proven = False
            break
        choices = [options for _, _, options in block]
        judged += len(choices)
        verdicts, shares, found = _judged(haul, base, choices)
        good = np.flatnonzero(verdicts >= goal)
        if good.size:
            price = block[good[0]][0]
            ties = [i for i in good if block[i][0] == price]
            # Of builds at one price the one with most to spare.
            i = max(ties, key=lambda i: (verdicts[i], shares[i]))
            build = _named(catalog, base, choices[i])
            line = _line(found, i)
            forced = tuple(_forced(haul, catalog, base, choices[i], goal))
            return Cheapest(
                haul.title or haul.id, model, wanted, build, WORDS[int(verdicts[i])], line, forced,
                None, None, _possible(classes, parts.weighing), judged, int(sum(lost)), True,
            )  # fmt: skip
        i = max(range(len(choices)), key=lambda i: (verdicts[i], np.nan_to_num(shares[i], nan=-np.inf)))
        rank = (int(verdicts[i]), float(np.nan_to_num(shares[i], nan=-np.inf)))
        if best_missed is None or rank > best_missed[0]:
            best_missed = (rank, choices[i], _line(found, i), WORDS[int(verdicts[i])])
    if best_missed is None:
        # Every class is hopeless: weigh the cheapest builds there are, so that what is in the way can be told.
        firsts = [options for _, _, options in islice(members(classes), BLOCKS[-1])]
        verdicts, shares, found = _judged(haul, base, firsts)
        judged += len(firsts)
        i = max(range(len(firsts)), key=lambda i: (verdicts[i], np.nan_to_num(shares[i], nan=-np.inf)))
        best_missed = (None, firsts[i], _line(found, i), WORDS[int(verdicts[i])])
    _, options, line, word = best_missed
    return Cheapest(
        haul.title or haul.id, model, wanted, None, word, None, (), _named(catalog, base, options), line,
        _possible(classes, parts.weighing), judged, int(sum(lost)), proven,
    )  # fmt: skip


def build_of_model(catalog: Catalog, model: str) -> Model:
    """A model of a catalog by its id; the fault of ``build_of`` where there is none."""
    found = next((m for m in catalog.model if m.id == model), None)
    return found if found is not None else build_of(catalog, model).model


def _classes(catalog: Catalog, model: Model, changing: Sequence[Option]) -> list[tuple[Option, ...]]:
    """Every choice of the changing options in which no two exclude each other or are of one group."""
    single = [[(), (o,)] for o in changing if o.group is None]
    grouped = [
        [(), *((o,) for o in options)]
        for _, options in groupby(sorted((o for o in changing if o.group), key=lambda o: o.group), lambda o: o.group)
    ]
    order = {o.id: n for n, o in enumerate(catalog.option)}
    found = []
    for choice in product(*grouped, *single):
        taken = tuple(sorted((o for part in choice for o in part), key=lambda o: order[o.id]))
        ids = {o.id for o in taken}
        if not any(ids & set(o.excludes) for o in taken):
            found.append(taken)
    return found


Member = tuple[Decimal, int, tuple[Option, ...]]


def _members(
    model: Model, of_class: tuple[Option, ...], weighing: Sequence[Option], order: Mapping[str, int]
) -> Iterator[Member]:
    """Builds of a class, cheapest first: price, number of options, options."""
    base = model_price(model, of_class)
    for extra in subsets_by_price(weighing, price=lambda o: o.price_usd):
        options = tuple(sorted((*of_class, *extra), key=lambda o: order[o.id]))
        yield base + sum((o.price_usd for o in extra), Decimal(0)), len(options), options


def _blocks(members: Iterator[Member]) -> Iterator[list[Member]]:
    """Blocks of growing size, never ending in the middle of one price."""
    sizes, block = iter(BLOCKS), []
    size = next(sizes)
    for member in members:
        if len(block) >= size and member[0] > block[-1][0]:
            yield block
            block, size = [], next(sizes, BLOCKS[-1])
        block.append(member)
    if block:
        yield block


def _judged(haul: Haul, model: Model, choices: Sequence[Sequence[Option]]) -> tuple:
    trailers = tuple(built(model, options) for options in choices)
    all_rigs = rigs(haul=haul, trailers=trailers)
    blocks = list(match_columns(all_rigs.columns, offsets_in=all_rigs.offsets_in))
    verdicts = np.concatenate([b.judgement.verdict[:, 0] for b in blocks])
    shares = np.concatenate([governing_share(b.judgement) for b in blocks])
    return verdicts, shares, (all_rigs, blocks)


def _line(found: tuple[Rigs, list[Block]], index: int) -> Line | None:
    all_rigs, blocks = found
    block = max((b for b in blocks if b.start <= index), key=lambda b: b.start)
    unit = index - block.start
    row = int(block.judgement.governing[unit, 0])
    if row < 0:
        return None
    return next(
        iter(lines_of(block.judgement, block.columns, unit=unit, asked=all_rigs.asked(index), only=[row])), None
    )


def _named(catalog: Catalog, model: Model, options: Sequence[Option]) -> Build:
    return build_of(catalog, model.id, [o.id for o in options])


def _forced(haul: Haul, catalog: Catalog, model: Model, options: Sequence[Option], goal: int) -> Iterator[Forced]:
    """Why each option is there: a rule, a limit that fails without it, or a lower price."""
    for option in options:
        rest = [o for o in options if o is not option]
        broken = list(broken_rules(catalog, model, rest))
        if broken:
            yield Forced(option.id, option.title, "rule", broken[0])
            continue
        verdicts, _, found = _judged(haul, model, [rest])
        if verdicts[0] < goal:
            line = _line(found, 0)
            title = line.title if line else "the cargo's place"
            yield Forced(option.id, option.title, "limit", f"Without it: {title} {WORDS[int(verdicts[0])]}.", line)
        else:
            yield Forced(option.id, option.title, "price", "It lowers the price.")


def _possible(classes: Sequence[object], weighing: Sequence[Option]) -> int:
    return len(classes) * 2 ** len(weighing)
