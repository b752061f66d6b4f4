"""What somebody looks for in the yard: read from the address, asked of the database, said in words.

The address holds everything, so a list can be sent to somebody else: numbers go into it with their units. A number
that is not known passes no limit; how many units fall out for that alone is counted, so that it can be said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import reduce
from operator import and_
from typing import Any
from urllib.parse import urlencode

from django.db.models import Case, F, Q, QuerySet, Value, When

from rubrail.desk.finding_by import KINDS, LIMITS, ORDER_BY_KEY, PARTS, STATUSES, TRUCK, number_of, plain, say
from rubrail.desk.models import Unit
from rubrail.desk.models.stock import ON_THE_LOT
from rubrail.desk.weight_lines import BY_KEY as LINES
from rubrail.desk.weight_lines import NeedsTruckError, WeightLine, line_says, most_gvwr_lb


@dataclass(frozen=True, slots=True)
class Chip:
    """One thing that is asked for, in words, and the address' query without it."""

    says: str
    without: str


@dataclass(frozen=True)
class Wanted:
    """What is looked for.

    texts : the address' parts as they are shared, in a fixed order; limits : key to number in the column's unit;
    faults : key to a sentence; a faulty part is left out of what is asked.
    """

    texts: Mapping[str, str]
    words: str = ""
    status: str = ""
    kinds: Mapping[str, str] = field(default_factory=dict)
    limits: Mapping[str, float | Decimal] = field(default_factory=dict)
    line: WeightLine | None = None
    truck_lb: float | None = None
    complete: bool = False
    unknown: bool = False
    sort: str = "unit"
    down: bool = False
    metric: bool = False
    faults: Mapping[str, str] = field(default_factory=dict)

    def query(self, **changes: str) -> str:
        """The address' query with some parts changed; ``""`` takes one away."""
        parts = {**self.texts, **changes}
        kept = [(name, parts[name]) for name in (*PARTS, "page") if parts.get(name)]
        return f"?{urlencode(kept)}" if kept else ""

    def cleared(self) -> str:
        """The address' query with nothing asked for; the order stays."""
        return self.query(**{name: "" for name in PARTS if name != "sort"})

    @property
    def narrows(self) -> bool:
        """Whether anything but the status is asked for."""
        return bool(self.words or self.kinds or self.limits or self.line or self.complete)

    @property
    def more(self) -> int:
        """How many of the less common parts are asked for."""
        rare = [limit for limit in LIMITS if limit.key in self.limits and not limit.main]
        return len(rare) + bool(self.line) + self.complete

    def chips(self) -> Iterator[Chip]:
        """Everything that is asked for, in words."""
        if self.words:
            yield Chip(f"“{self.words}”", self.query(words=""))
        for key, _, _ in KINDS:
            if key in self.kinds:
                word = f"{self.kinds[key]} coupling" if key == "coupling" else f"{self.kinds[key].replace('-', ' ')}"
                yield Chip(word, self.query(**{key: ""}))
        for limit in LIMITS:
            if limit.key in self.limits:
                bound = "at most" if limit.most else "at least"
                number = say(limit, self.limits[limit.key], metric=self.metric)
                yield Chip(f"{limit.says} {bound} {number}", self.query(**{limit.key: ""}))
        if self.line:
            says = line_says(self.line, truck_gvwr_lb=self.truck_lb, metric=self.metric)
            yield Chip(says, self.query(under="", truck=""))
        if self.complete:
            yield Chip("complete numbers only", self.query(complete=""))
        if self.status:
            yield Chip(dict(STATUSES)[self.status].lower(), self.query(status=""))

    def of_status(self, units: QuerySet) -> QuerySet:
        """Units of the status looked for."""
        if self.status == "all":
            return units
        return units.filter(status__in=[self.status] if self.status else ON_THE_LOT)

    def found(self) -> list[tuple[int, bool]]:
        """Keys of the units found, in order, each with whether all that was asked of it is known.

        Those of which a number asked for is not known are among them: they may fit.
        """
        units = self.of_status(Unit.objects.with_words(self.words))
        units = units.filter(reduce(and_, self._bounds(unknown=True), Q()))
        strict = reduce(and_, self._bounds(unknown=False), Q())
        known = Case(When(strict, then=True), default=False) if strict else Value(True)
        return list(units.annotate(known=known).order_by(*self.order()).values_list("pk", "known"))

    def _bounds(self, *, unknown: bool) -> Iterator[Q]:
        for key, column, _ in KINDS:
            if key in self.kinds:
                yield Q(**{column: self.kinds[key]}) | (Q(**{column: ""}) if unknown else Q())
        bounds = {limit.column: (limit.most, self.limits[limit.key]) for limit in LIMITS if limit.key in self.limits}
        found = [*bounds.items()]
        if self.line:
            found.append(("gvwr_lb", (True, most_gvwr_lb(self.line, truck_gvwr_lb=self.truck_lb))))
        for column, (most, number) in found:
            within = Q(**{f"{column}__{'lte' if most else 'gte'}": number})
            yield within | Q(**{column: None}) if unknown else within
        if self.complete:
            yield Q(complete=True)

    def order(self) -> tuple[Any, ...]:
        """What the database sorts by: what is not known never stands first."""
        # Longest here means earliest arrived.
        descending = self.down != (self.sort == "days")
        column = F(ORDER_BY_KEY[self.sort].column)
        ordered = column.desc(nulls_last=True) if descending else column.asc(nulls_last=True)
        return (ordered, "stock_number", "pk")


def look_for(asked: Mapping[str, str], *, metric: bool = False) -> Wanted:
    """Read what is looked for from an address' parts; what cannot be read is told and left out.

    Parameters
    ----------
    asked : mapping
        The address' parts; those nobody knows are left out.
    metric : bool
        Whether a number without a unit is metric.
    """
    texts = {name: plain(asked.get(name, "")) for name in PARTS}
    faults: dict[str, str] = {}
    limits: dict[str, float | Decimal] = {}
    for limit in (*LIMITS, TRUCK):
        if texts[limit.key]:
            try:
                limits[limit.key], texts[limit.key] = number_of(limit, texts[limit.key], metric=metric)
            except ValueError as fault:
                faults[limit.key] = str(fault)
    truck_lb = limits.pop("truck", None)
    line = LINES.get(texts["under"])
    if line:
        try:
            most_gvwr_lb(line, truck_gvwr_lb=truck_lb)
        except NeedsTruckError as fault:
            line = None
            faults.setdefault("truck", str(fault))
    else:
        texts["under"] = ""
    kinds = {key: texts[key] for key, _, words in KINDS if texts[key] in words}
    for key, _, _ in KINDS:
        texts[key] = kinds.get(key, "")
    texts["status"] = texts["status"] if texts["status"] in dict(STATUSES) else ""
    for name in ("complete", "unknown"):
        texts[name] = "on" if texts[name] else ""
    key = texts["sort"].removeprefix("-")
    down = texts["sort"].startswith("-")
    if key not in ORDER_BY_KEY or texts["sort"] == "unit":
        key, down, texts["sort"] = "unit", False, ""
    return Wanted(
        texts={name: text for name, text in texts.items() if text},
        words=texts["words"],
        status=texts["status"],
        kinds=kinds,
        limits=limits,
        line=line,
        truck_lb=truck_lb,
        complete=bool(texts["complete"]),
        unknown=bool(texts["unknown"]),
        sort=key,
        down=down,
        metric=metric,
        faults=faults,
    )
