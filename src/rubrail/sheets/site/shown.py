"""What the public pages know of the yard and of each unit. Nothing that is not here can get onto them."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Literal

from rubrail.sheets.listing import Said

Standing = Literal["here", "expected", "held"]
WIDTHS_PX = (480, 960, 2000)
"""Widths of photos."""
STANDING_WORDS = {"here": "in the yard", "expected": "expected", "held": "held for a buyer"}
COUPLING_WORDS = {
    "ball": "ball coupler",
    "gooseneck": "gooseneck",
    "pintle": "pintle eye",
    "kingpin": "fifth-wheel kingpin",
}
DECK_WORDS = {"deck-over": "deck over the wheels", "between-fenders": "deck between the fenders"}
_RESERVED = re.compile(r"^(?:con|prn|aux|nul|com\d|lpt\d)_*(?=\.|$)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class SiteYard:
    """Whose pages they are.

    address : where the pages are found, ending in a slash; contact : lines that say how to reach the yard
    """

    name: str
    address: str
    contact: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SitePhoto:
    """A picture to show: a name of its own, its greatest size, and what it shows. [px]"""

    name: str
    width_px: int
    height_px: int
    says: str = ""

    def sizes(self) -> tuple[tuple[int, int], ...]:
        """Width and height of each size that is offered; none larger than the picture is."""
        widths = [w for w in WIDTHS_PX if w < self.width_px]
        if not widths or widths[-1] != WIDTHS_PX[-1]:
            widths.append(min(self.width_px, WIDTHS_PX[-1]))
        return tuple((w, max(round(self.height_px * w / self.width_px), 1)) for w in widths)

    def path(self, width_px: int) -> str:
        """Its file within the site."""
        return f"photo/{self.name}-{width_px}.jpg"


@dataclass(frozen=True, slots=True)
class SiteUnit:
    """One unit as lists and feeds show it; ``None`` is *not known*.

    payload_lb : what it carries at its best place, the trailer alone; ``None`` where a missing rating may cut it
    price_usd : ``None`` where the price is to be asked for; price_day : day somebody last said it was right
    price_says : the price in words, with its day where it is older
    updated : when what is shown last changed; rests_on : mark of everything its page is made from
    """

    stock_number: str
    title: str
    standing: Standing
    coupling: str
    deck: str = ""
    condition: str = ""
    year: int | None = None
    maker: str = ""
    model: str = ""
    color: str = ""
    vin: str = ""
    axles: int | None = None
    gvwr_lb: float | None = None
    payload_lb: float | None = None
    empty_lb: float | None = None
    deck_length_in: float | None = None
    deck_width_in: float | None = None
    deck_height_in: float | None = None
    price_usd: Decimal | None = None
    price_day: date | None = None
    price_says: str = "ask for the price"
    arrived: date | None = None
    listed: date | None = None
    updated: datetime | None = None
    photos: tuple[SitePhoto, ...] = ()
    rests_on: str = ""

    @property
    def since(self) -> date | None:
        """The day from which it counts as new: the day it came, where that is told, else that of its listing."""
        return self.arrived or self.listed

    @property
    def file(self) -> str:
        """Name of its files, without an ending."""
        return file_name(self.stock_number)

    @property
    def path(self) -> str:
        """Its page within the site."""
        return f"trailer/{self.file}.html"


@dataclass(frozen=True, slots=True)
class SiteDetail:
    """What only a unit's own pages and drawings show.

    says : what it carries, where, and what stops it; headline, paragraphs, ending : the listing's text
    groups : heading and facts, each its name and its words; unknown : what is not measured yet
    drawings : SVG by name
    """

    says: str
    headline: str = ""
    paragraphs: tuple[Said, ...] = ()
    ending: str = ""
    groups: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = ()
    unknown: tuple[str, ...] = ()
    drawings: Mapping[str, str] = field(default_factory=dict)


def file_name(stock_number: str) -> str:
    """A stock number as the name of a file that every system can hold; no two numbers share one."""
    return _RESERVED.sub(lambda m: f"{m[0]}_", stock_number)


def stock_number_of(name: str) -> str:
    """The stock number whose files have that name."""
    return _RESERVED.sub(lambda m: m[0].removesuffix("_"), name)


def mark_of(thing: Any) -> str:
    """A short mark that changes with anything in it."""
    plain = asdict(thing) if hasattr(thing, "__dataclass_fields__") else thing
    return hashlib.sha256(json.dumps(plain, sort_keys=True, default=str).encode()).hexdigest()[:20]
