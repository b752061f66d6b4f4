"""Links to the sheets that a page can print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from rubrail.desk.models import Haul, Unit, User
from rubrail.sheets.paper.compare import MOST


@dataclass(frozen=True, slots=True)
class SheetLink:
    """One sheet: its name, its address, and what the address asks for beside the paper's size."""

    says: str
    url: str
    asks: str = ""


def unit_papers(unit: Unit, *, user: User) -> list[SheetLink]:
    """Sheets of a unit."""
    names = [("window sheet", "unit-window"), ("spec sheet", "unit-spec"), ("walk-around", "walk-paper")]
    if user.may("quote.see"):
        names.append(("excise-tax worksheet", "unit-tax"))
    return [SheetLink(says, reverse(name, args=[unit.stock_number])) for says, name in names]


def rig_papers(haul: Haul, unit: Unit, *, address: str) -> list[SheetLink]:
    """Sheets of a haul on a unit, its pieces where the address says."""
    names = (("plan", "rig-plan"), ("limits card", "rig-card"), ("threshold sheet", "rig-thresholds"))
    return [SheetLink(says, reverse(name, args=[haul.pk, unit.stock_number]), address) for says, name in names]


def compare_papers(haul: int, numbers: Sequence[str]) -> list[SheetLink]:
    """The comparison sheet, where it has room for so many."""
    if len(numbers) > MOST:
        return []
    asks = urlencode([("unit", n) for n in numbers])
    return [SheetLink("comparison sheet", reverse("haul-compare", args=[haul]), asks)]
