"""Drawings of units for the pages, kept for as long as the unit stays as it is."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable, Sequence
from threading import Lock

from django.utils.safestring import SafeString, mark_safe

from rubrail.desk.derived import is_fresh
from rubrail.desk.models import Unit
from rubrail.desk.stock import readable, trailer_of
from rubrail.desk.thumbnails import drawn, unpressed
from rubrail.sheets.drawing import side_view
from rubrail.things.faults import Faults

KEPT = 4096
WIDE_PX = 1200.0
NARROW_PX = 328.0
PAPER_PX = 700.0
"""Letters keep their size, so a drawing is made for the width it is shown at: a desk, a phone, a sheet of paper."""


class Shelf:
    """The latest drawings by what they show, in which version; safe among the server's threads."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: OrderedDict[Hashable, str] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable) -> str | None:
        """The drawing, or nothing where it is not here."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def put(self, key: Hashable, drawing: str) -> None:
        """Keep a drawing, and let the one go that nobody asked for the longest."""
        with self._lock:
            self._kept[key] = drawing
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)


def smalls(units: Sequence[Unit]) -> list[SafeString]:
    """The small side drawings of a list, all to one scale; empty where what is stored of a unit no longer reads.

    Units that another engine drew are drawn again, after one query for what is stored of them.
    """
    stale = [u.pk for u in units if not is_fresh(u)]
    again = {u.pk: u for u in Unit.objects.filter(pk__in=stale)} if stale else {}
    return [small(again.get(u.pk, u)) for u in units]


def small(unit: Unit) -> SafeString:
    """The small side drawing of one unit."""
    if is_fresh(unit):
        return _drawn(unpressed(unit.thumbnail) if unit.thumbnail else "")
    trailer = readable(unit)
    return _drawn(drawn(trailer) if trailer else "")


def side(unit: Unit, *, metric: bool) -> dict[str, SafeString]:
    """The dimensioned side view for a wide page, a narrow one and paper; empty where what is stored does not read."""
    try:
        trailer = trailer_of(unit)
    except Faults:
        return {}
    widths = {"wide": WIDE_PX, "narrow": NARROW_PX, "paper": PAPER_PX}
    return {name: _drawn(side_view(trailer, width_px=width, metric=metric)) for name, width in widths.items()}


def _drawn(drawing: str) -> SafeString:
    return mark_safe(drawing)
