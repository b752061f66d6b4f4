"""Units as papers may speak of them, and what the person who prints is told of what is not printed."""

from __future__ import annotations

from collections.abc import Iterable

from rubrail.desk.models import Unit
from rubrail.desk.shelf import Shelf
from rubrail.desk.stock import readable
from rubrail.sheets.said_truly import SaidTruly, said_truly
from rubrail.sheets.sentences_claims import not_printed_sentence
from rubrail.things.trailer import Trailer

_said: Shelf[SaidTruly] = Shelf(2_000)


def makers_known() -> tuple[str, ...]:
    """Names of makers in the yard's stock."""
    found = Unit.objects.exclude(maker="").order_by("maker").values_list("maker", flat=True).distinct()
    return tuple(found)


def as_printed(unit: Unit, trailer: Trailer, *, makers: tuple[str, ...] | None = None) -> SaidTruly:
    """A unit's trailer with its typed words as they may be printed.

    Parameters
    ----------
    unit : Unit
    trailer : Trailer
        As its file has it.
    makers : tuple of str, optional
        ``makers_known()``, where it was asked before.
    """
    makers = makers_known() if makers is None else makers
    key = (unit.pk, unit.version, unit.updated, makers)
    found = _said.get(key)
    if found is None:
        found = said_truly(trailer, makers=makers)
        _said.put(key, found)
    return found


def title_printed(unit: Unit) -> str:
    """What papers call a unit: its title, or one made of facts where that makes a refused claim."""
    trailer = readable(unit)
    said = None if trailer is None else as_printed(unit, trailer)
    return said.title if said is not None and said.title else unit.says


def not_printed(
    units: Iterable[Unit], *, metric: bool = False, makers: tuple[str, ...] | None = None
) -> list[tuple[Unit, str]]:
    """Units of whose typed words papers leave something out, each with what, and why.

    Parameters
    ----------
    units : iterable of Unit
    metric : bool
    makers : tuple of str, optional
        As for ``as_printed``.
    """
    makers, told = makers_known() if makers is None else makers, []
    for unit in units:
        trailer = readable(unit)
        if trailer is None:
            continue
        said = as_printed(unit, trailer, makers=makers)
        if said.refused:
            told.append((unit, not_printed_sentence(said, unit.stock_number, metric=metric)))
    return told
