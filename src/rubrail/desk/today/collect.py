"""The first page as one person sees it: every topic the person may read, grouped, the most pressing first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from rubrail.desk.models import PutOff, User
from rubrail.desk.today import arrivals, checks, deals, follow, hand_overs, prices, receipts, stock, tickets, titles
from rubrail.desk.today.press import LATE, NOW, PRESSES, SOON
from rubrail.desk.today.rows import Asked, Row, Topic, parted

BUYERS, YARD, MONEY = "Buyers", "The yard", "Stock and prices"
GROUPS = (BUYERS, YARD, MONEY)
TOPICS = (
    Topic("deals", BUYERS, "quote.see", receipts.broken_deals),
    Topic("follow-ups", BUYERS, "quote.edit", follow.follow_ups),
    Topic("quotes", BUYERS, "quote.see", deals.quotes),
    Topic("receipts", YARD, "unit.edit", receipts.receipts),
    Topic("arrivals", YARD, "yard.see", arrivals.arrivals),
    Topic("orders", YARD, "quote.see", arrivals.unanswered),
    Topic("hand-overs", YARD, "unit.edit", hand_overs.hand_overs),
    Topic("checks", YARD, "unit.edit", checks.checks),
    Topic("tickets", YARD, "unit.edit", tickets.tickets),
    Topic("unreadable", YARD, "unit.edit", stock.unreadable),
    Topic("photos", YARD, "unit.edit", stock.photos),
    Topic("prices", MONEY, "price.edit", prices.prices),
    Topic("titles", MONEY, "price.edit", titles.titles),
    Topic("aging", MONEY, "money.see", stock.aging),
)
"""Every topic. A new one is a small module beside this one, and a line here."""


FIRST, FIRST_SOON = 3, 2
"""Rows of a group that a phone shows at once; so many where fewer than the first are late or for today."""


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under one heading; a phone shows the first of them, and folds the others."""

    title: str
    rows: tuple[Row, ...]

    @property
    def first(self) -> list[Row]:
        """Those shown at once, with every one that is late or over a limit."""
        return self._parted[0]

    @property
    def more(self) -> list[Row]:
        """The others."""
        return self._parted[1]

    @property
    def more_now(self) -> int:
        """How many of the others are for today."""
        return sum(row.press == NOW for row in self.more)

    @property
    def _parted(self) -> tuple[list[Row], list[Row]]:
        pressing = sum(row.press != SOON for row in self.rows)
        return parted(self.rows, most=FIRST if pressing >= FIRST else FIRST_SOON)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The page: its groups, the one with the most pressing row first; rows put off; how many are late, for today."""

    groups: tuple[Group, ...]
    off: tuple[Row, ...]
    late: int
    now: int

    @property
    def count(self) -> int:
        """Rows shown."""
        return sum(len(g.rows) for g in self.groups)


def gather(person: User, *, today: date) -> Sheet:
    """Everything that needs this person's hand."""
    asked = Asked(today, person.may)
    off = put_off_by(person, today=today)
    by_group: dict[str, list[Row]] = {}
    away: list[Row] = []
    for topic in TOPICS:
        if not person.may(topic.needs):
            continue
        for row in topic.rows(asked):
            (away if row.key in off else by_group.setdefault(topic.group, [])).append(row)
    groups = [Group(title, tuple(_sorted(by_group[title], today=today))) for title in GROUPS if title in by_group]
    groups.sort(key=lambda g: PRESSES.index(g.rows[0].press))
    rows = [row for group in groups for row in group.rows]
    count = {press: sum(r.press == press for r in rows) for press in PRESSES}
    return Sheet(tuple(groups), tuple(away), count[LATE], count[NOW])


def _sorted(rows: list[Row], *, today: date) -> list[Row]:
    """The longest late first; then what has a day to come, before what any day will do for."""

    def place(row: Row) -> tuple[int, bool, date]:
        open_ended = row.press != LATE and (row.day is None or row.day < today)
        return PRESSES.index(row.press), open_ended, row.day or date.max

    return sorted(rows, key=place)


def put_off_by(person: User, *, today: date) -> frozenset[str]:
    """Keys of the rows a person will not see today."""
    return frozenset(PutOff.objects.filter(person=person, until__gt=today).values_list("row", flat=True))


def put_off(person: User, key: str, *, today: date) -> None:
    """A person will not see a row until tomorrow. Nobody hides one for longer."""
    PutOff.objects.filter(person=person, until__lte=today).delete()
    PutOff.objects.update_or_create(person=person, row=key, defaults={"until": today + timedelta(days=1)})


def bring_back(person: User, key: str) -> None:
    """The row is there again at once."""
    PutOff.objects.filter(person=person, row=key).delete()
