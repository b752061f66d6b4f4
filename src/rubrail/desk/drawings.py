"""The small drawings of units in lists."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.safestring import SafeString, mark_safe

from rubrail.desk.derived import is_fresh
from rubrail.desk.models import Unit
from rubrail.desk.stock import readable
from rubrail.desk.thumbnails import drawn, unpressed

WIDE_PX = 1200.0
NARROW_PX = 328.0
PAPER_PX = 700.0
"""Letters keep their size, so a drawing is made for the width it is shown at: a desk, a phone, a sheet of paper."""


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


def _drawn(drawing: str) -> SafeString:
    return mark_safe(drawing)
