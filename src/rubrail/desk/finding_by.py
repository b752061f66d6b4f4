"""What the yard can be found by: the parts of the address, the numbers among them, the ways to sort."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from rubrail.desk.amounts import written
from rubrail.desk.models.stock import Status
from rubrail.quantity.money import UnreadableMoneyError, parse_money, show_money
from rubrail.quantity.parse import UnreadableError, parse_quantity
from rubrail.quantity.show import convert, show_feet
from rubrail.things.names import CODES

WORDS_MOST = 100
NUMBER_MOST = 1e6
EXAMPLES = {
    "lb": '9000 or "9,000 lb"',
    "kg": '4000 or "4,000 kg"',
    "ft": '20, "20 ft" or "20 ft 6 in"',
    "m": '6 or "6.1 m"',
    "in": '82, "82 in" or "6 ft 10 in"',
    "mm": '2100 or "2,100 mm"',
}
"""What to write, by the unit of a number that names none."""
STATUSES = (("", "On the lot"), *((s.value, str(s.label).capitalize()) for s in Status), ("all", "All, sold too"))
COUPLINGS = CODES["coupling_kind"]
DECKS = CODES["deck_kind"]


@dataclass(frozen=True, slots=True)
class Limit:
    """A number to find by.

    key : in the address; says : in words; column : of the unit; most : whether it is the most, else the least;
    unit : of the column; bare : what a number without a unit is in, for US and for metric readers.
    """

    key: str
    says: str
    column: str
    most: bool
    unit: str
    bare: tuple[str, str]
    main: bool = False


LIMITS = (
    Limit("payload", "payload", "payload_lb", False, "lb", ("lb", "kg"), main=True),
    Limit("length", "deck length", "deck_length_in", False, "in", ("ft", "m"), main=True),
    Limit("price", "price", "price_usd", True, "USD", ("USD", "USD"), main=True),
    Limit("width", "deck width", "deck_width_in", False, "in", ("in", "mm")),
    Limit("height", "deck height", "deck_height_in", True, "in", ("in", "mm")),
    Limit("empty", "empty weight", "empty_weight_lb", True, "lb", ("lb", "kg")),
    Limit("gvwr", "label GVWR", "gvwr_lb", True, "lb", ("lb", "kg")),
)
TRUCK = Limit("truck", "truck's label GVWR", "", True, "lb", ("lb", "kg"))
KINDS = (("coupling", "coupling_kind", COUPLINGS), ("deck", "deck_kind", DECKS))


@dataclass(frozen=True, slots=True)
class Order:
    """A way to sort: its key in the address, the heading, the column, and how its two ends are called."""

    key: str
    heading: str
    column: str
    up: str
    down: str
    numeric: bool = True


ORDERS = (
    Order("unit", "Unit", "stock_number", "A to Z", "Z to A", numeric=False),
    Order("deck", "Deck", "deck_length_in", "shortest first", "longest first"),
    Order("height", "Deck height", "deck_height_in", "lowest first", "highest first"),
    Order("gvwr", "Label GVWR", "gvwr_lb", "lightest first", "heaviest first"),
    Order("payload", "Payload", "payload_lb", "least first", "most first"),
    Order("empty", "Empty", "empty_weight_lb", "lightest first", "heaviest first"),
    Order("price", "Price", "price_usd", "lowest first", "highest first"),
    Order("days", "Days here", "arrived", "newest first", "longest here first"),
)
ORDER_BY_KEY = {o.key: o for o in ORDERS}


PARTS = (
    "words",
    *(key for key, _, _ in KINDS),
    *(limit.key for limit in LIMITS),
    "under",
    "truck",
    "complete",
    "status",
    "unknown",
    "sort",
)
"""Every part of the address, in the order it is written."""


def say(limit: Limit, number: float | Decimal, *, metric: bool) -> str:
    """A limit's number in words, in the person's measures."""
    if limit.unit == "USD":
        return show_money(Decimal(number))
    if limit.key == "length":
        return show_feet(float(number), metric=metric)
    return written(float(number), limit.unit, metric=metric)


def plain(text: str) -> str:
    """One line of printable text: PostgreSQL stores no zero bytes, and does not look for them either."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())[:WORDS_MOST].rstrip()


def number_of(limit: Limit, text: str, *, metric: bool) -> tuple[float | Decimal, str]:
    """A limit's number in the column's unit, and its text with its unit.

    Raises
    ------
    ValueError
        If the text is no such number; one sentence.
    """
    title = limit.says[0].upper() + limit.says[1:]
    if limit.unit == "USD":
        try:
            amount = parse_money(text)
        except UnreadableMoneyError:
            raise ValueError(f'{title} must be an amount such as "$12,500", not "{text}"; it is left out.') from None
        return amount, f"{amount}"
    bare = limit.bare[metric]
    try:
        number = parse_quantity(text, bare)
    except UnreadableError as fault:
        raise ValueError(f'{title} must be {EXAMPLES[bare]}, not "{text}", which {fault}; it is left out.') from None
    if not 0 <= number <= NUMBER_MOST:
        raise ValueError(f'{title} must be 0 to {NUMBER_MOST:,.0f} {bare}, not "{text}"; it is left out.')
    bare_number = all(c.isdigit() or c in "., " for c in text)
    return convert(number, bare, limit.unit), f"{text} {bare}" if bare_number else text
