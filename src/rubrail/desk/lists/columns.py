"""The columns of the flat list, from the trailer file's own fields: what each holds, its heading, who may write it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from rubrail.desk.models.stock import Status
from rubrail.desk.spec_fields import Section, SpecField, sections_of
from rubrail.desk.stock import APART
from rubrail.quantity.basis import BASES
from rubrail.things.fields import fields_of
from rubrail.things.measure import Measure
from rubrail.things.trailer import Trailer

SECTIONS = sections_of(Trailer, own=APART)
LISTS = {s.name: s for s in SECTIONS if s.many}
"""Sections with several members a unit: axles, ramps, places to tie to, equipment."""
MEMBERS = {"axle": "axles", "ramp": "ramps", "anchor": "anchors", "equipment": "equipment lines"}
KEY = "stock_number"
EVERY = "*"

WORDS = {
    "title": "what it is",
    "year": "model year",
    "coupling.gross_rating_lb": "coupler rated gross",
    "coupling.vertical_rating_lb": "coupler rated load",
    "coupling.height_min_in": "coupler lowest setting",
    "coupling.height_max_in": "coupler highest setting",
    "coupling.neck_underside_height_in": "neck underside height",
    "coupling.neck_swing_in": "neck swing",
    "ratings.advertised_lb": "advertised number",
    "deck.kind": "deck kind",
    "deck.flat_length_in": "level deck length",
}
"""Words of a column where the field's label says too little outside its section."""
INCH3 = re.compile(r"_in3\Z")


@dataclass(frozen=True, slots=True)
class ListColumn:
    """One column.

    Parameters
    ----------
    key : str
        Path in the unit (``axle.0.gawr_lb``), with ``:basis`` or ``:spread`` for what stands beside a measured
        value, ``axle:count`` for how many of a list there are; ``axle.*.gawr_lb`` stands for every axle alike.
    words : str
        What it is, as a sentence names it.
    kind : str
        ``text``, ``number``, ``measure``, ``choice``, ``flag``, ``count``, ``money``, ``day``, ``basis``,
        ``spread`` or ``members``.
    unit : str
        Unit of its numbers.
    says, accepted : str
        What it means, and what a cell may hold.
    choices : tuple
        Words or numbers it takes.
    reads, writes : tuple of str
        Permissions to have it in an export, and to change it by an import.
    """

    key: str
    words: str
    kind: str
    unit: str = ""
    says: str = ""
    accepted: str = ""
    choices: tuple[str | int, ...] = ()
    reads: tuple[str, ...] = ()
    writes: tuple[str, ...] = ()

    def __hash__(self) -> int:
        """Of its key, which no other column has."""
        return hash(self.key)

    @property
    def path(self) -> str:
        """Path of the value, without what stands beside it."""
        return self.key.partition(":")[0]

    @property
    def heading(self) -> str:
        """What stands above it: its words, and its unit."""
        return self.words[:1].upper() + self.words[1:] + (f" [{self.unit}]" if self.unit else "")

    @property
    def for_every(self) -> bool:
        """Whether it stands for every member of a list."""
        return f".{EVERY}." in self.key


LOT = (
    ListColumn(KEY, "stock number", "text", says="the yard's own number; tells which unit a row is"),
    ListColumn(
        "status",
        "status",
        "choice",
        says="where it stands",
        choices=tuple(Status.values),
        writes=("price.edit",),
    ),
    ListColumn("price_usd", "asking price", "money", "USD", says="asking price", writes=("price.edit",)),
    ListColumn(
        "cost_usd",
        "cost",
        "money",
        "USD",
        says="what the yard paid",
        reads=("money.see",),
        writes=("price.edit", "money.see"),
    ),
    ListColumn("arrived", "arrived", "day", says="day it came to the yard"),
    ListColumn("location", "place on the lot", "text", says="lot and row"),
    ListColumn("color", "color", "text", says="color"),
)


@cache
def measures() -> dict[str, Measure]:
    """The measured fields by path, ``#`` for the number of a member."""
    found = {f.path.replace("[]", ".#"): f.measure for f in fields_of(Trailer)}
    return {path: measure for path, measure in found.items() if measure}


@cache
def measure_at(path: str) -> Measure:
    """How the measured value at a path is read."""
    return measures()[re.sub(r"\.(\d+|\*)\.", ".#.", path)]


def columns_for(counts: Mapping[str, int], *, every: bool = False) -> Iterator[ListColumn]:
    """All columns in the order of the list.

    Parameters
    ----------
    counts : mapping
        How many members of each list get columns of their own.
    every : bool
        Columns that stand for every axle alike as well; only imports have them.
    """
    yield from LOT
    for section in SECTIONS:
        if not section.many:
            for field in section.fields:
                yield from _of(field, WORDS.get(field.path, field.label))
            continue
        most = f"a whole number, {section.least} to {section.most}"
        words = MEMBERS[section.name]
        yield ListColumn(
            f"{section.name}:count", f"number of {words}", "members", says=f"how many {words}", accepted=most
        )
        if every and section.name == "axle":
            for field in section.fields:
                shown = replace(field, path=field.path.replace("#", EVERY))
                yield from _of(shown, f"every {section.name} {field.short}")
        for number in range(min(counts.get(section.name, 0), section.most)):
            yield from _member(section, number)


def _member(section: Section, number: int) -> Iterator[ListColumn]:
    for field in section.member(number):
        yield from _of(field, f"{section.name} {number + 1} {field.short}")


def _of(field: SpecField, words: str) -> Iterator[ListColumn]:
    if INCH3.search(field.path):
        yield ListColumn(field.path, words, "number", "in³", field.says, "a number more than 0")
        return
    yield ListColumn(field.path, words, field.kind, field.unit, field.says, field.accepted, field.choices)
    if field.kind == "measure":
        yield ListColumn(
            f"{field.path}:basis", f"{words} basis", "basis", choices=BASES, says="where the number is from"
        )
        if not measure_at(field.path).rating:
            yield ListColumn(f"{field.path}:spread", f"{words} ±", "spread", field.unit, "how far it may be off")


@cache
def by_key() -> dict[str, ListColumn]:
    """Every column an import knows, by its key."""
    return {c.key: c for c in columns_for({n: s.most for n, s in LISTS.items()}, every=True)}


@cache
def by_words() -> dict[str, ListColumn]:
    """Every column an import knows, by its words as ``plain`` writes them."""
    return {plain(c.words): c for c in by_key().values()}


def plain(text: str) -> str:
    """A heading without capitals, punctuation and the unit in brackets: how headings are compared."""
    bare = re.sub(r"[\[(][^\])]*[\])]", " ", text.lower().replace("±", " plus minus "))
    return " ".join(re.sub(r"[^a-z0-9#]+", " ", bare.replace("%", " percent ")).split())


def named(text: str) -> ListColumn | None:
    """The column of that heading or those words, or nothing."""
    return by_words().get(plain(text)) if text.strip() else None
