"""Drawings of units for the pages, kept for as long as the unit stays as it is."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from django.utils.safestring import SafeString, mark_safe

from rubrail.desk.models import Unit
from rubrail.desk.stock import trailer_of
from rubrail.sheets.drawing import side_view, thumbnail
from rubrail.things.faults import Faults

KEPT = 4096
SMALL_PX, LONGEST_IN = 176.0, 560.0
"""Small drawings share one scale; only a trailer beyond 46 ft 8 in is drawn smaller than the others."""
WIDE_PX = 1200.0
NARROW_PX = 328.0
PAPER_PX = 700.0
"""Letters keep their size, so a drawing is made for the width it is shown at: a desk, a phone, a sheet of paper."""


class _Shelf:
    """The latest drawings by unit and version; safe among the server's threads."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: OrderedDict[tuple[int, int], str] = OrderedDict()
        self._lock = Lock()

    def get(self, key: tuple[int, int]) -> str | None:
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def put(self, key: tuple[int, int], drawing: str) -> None:
        with self._lock:
            self._kept[key] = drawing
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)


_shelf = _Shelf(KEPT)


def small(unit: Unit) -> SafeString:
    """The small side drawing of a list; all of a list are to one scale. Empty where what is stored no longer reads."""
    key = (unit.pk, unit.version)
    drawing = _shelf.get(key)
    if drawing is None:
        try:
            drawing = thumbnail(trailer_of(unit), width_px=SMALL_PX, longest_in=LONGEST_IN)
        except Faults:
            drawing = ""
        _shelf.put(key, drawing)
    return _drawn(drawing)


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
