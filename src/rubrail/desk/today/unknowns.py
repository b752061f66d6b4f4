"""Unknowns that keep open hauls from an answer, and what would settle most. It takes a moment, so it comes after."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from django.urls import reverse

from rubrail.answers.reading import read_unit
from rubrail.checks.verdict import WORDS
from rubrail.desk.board import ENTRY, mark_of
from rubrail.desk.books import kit_book
from rubrail.desk.held_back import HeldBack, held_back
from rubrail.desk.models import Board, Haul, Unit
from rubrail.desk.models.stock import ON_THE_LOT
from rubrail.desk.stock import readable
from rubrail.desk.today.rows import Row, many, parted
from rubrail.sheets.sentences_unit import to_measure
from rubrail.sheets.sentences_words import begin
from rubrail.things.faults import Faults

PATIENCE_S = 1.5
"""How long one request goes on before it says how far it is. [s]"""
HAULS_MOST = 40
"""Open hauls looked at, the latest changed first."""
HOLDS_S = 900.0
"""So long what was found of a haul holds here although units were corrected since: a morning's list need not look at
every haul again after every change of the yard. A changed haul is looked at again at once. [s]"""
SHOWN, FIRST = 5, 2
"""Rows of units and of hauls at most; rows a phone shows at once."""


_found: dict[tuple[int, int], tuple[float, HeldBack]] = {}
"""By haul in its version: when it was looked at, and what was found."""


@dataclass(frozen=True, slots=True)
class Found:
    """What is told so far: rows, hauls looked at, how many are to be looked at, and how many are open in all."""

    rows: tuple[Row, ...]
    done: int
    of: int
    open: int

    @property
    def first(self) -> list[Row]:
        """Rows a phone shows at once."""
        return parted(self.rows, most=FIRST)[0]

    @property
    def more(self) -> list[Row]:
        """The others, which it folds."""
        return parted(self.rows, most=FIRST)[1]


def unknowns(*, patience_s: float = PATIENCE_S) -> Found:
    """Look at open hauls for about so long; what was looked at before is known already and takes no time.

    Parameters
    ----------
    patience_s : float
        At least one haul more is looked at, however short. [s]
    """
    every = Haul.objects.filter(closed=False)
    hauls = list(every.order_by("-updated", "-pk")[:HAULS_MOST])
    count = every.count() if len(hauls) == HAULS_MOST else len(hauls)
    until, looked = time.monotonic() + patience_s, []
    for haul in hauls:
        looked.append((haul, _held_back(haul)))
        if time.monotonic() > until:
            break
    rows = (*_of_units(hauls), *_of_hauls(looked))
    return Found(rows, len(looked), len(hauls), count)


def _held_back(haul: Haul) -> HeldBack | None:
    key, now = (haul.pk, haul.version), time.monotonic()
    if key in _found and now - _found[key][0] < HOLDS_S:
        return _found[key][1]
    try:
        found = held_back(haul)
    except Faults:
        return None
    for old in [k for k, (at, _) in _found.items() if k[0] == haul.pk or now - at >= HOLDS_S]:
        _found.pop(old, None)
    _found[key] = (now, found)
    return found


def _of_hauls(looked: list[tuple[Haul, HeldBack | None]]) -> Iterator[Row]:
    """For each haul the one thing to find out that settles most, those that settle most units first."""
    for haul, found in looked:
        if found is None:
            says = f"What is stored of {haul} no longer reads, so it is matched with nothing."
            yield Row(f"unread-haul-{haul.pk}", says, reverse("haul-edit", args=[haul.pk]), "Correct it")
    some = [(h, f.units, max(f.rows, key=lambda r: (r.alone, r.holds))) for h, f in looked if f and f.rows]
    some = sorted((s for s in some if s[2].alone), key=lambda s: -s[2].alone)
    for haul, units, row in some[:SHOWN]:
        what = row.what if row.what[1:2].isupper() else row.what[:1].lower() + row.what[1:]
        lead = "Find out" if row.missing else "Find out better"
        says = f"{haul}. {lead}: {what}. That alone settles {row.alone:,} of {many(units, 'unit')}."
        url = haul.get_absolute_url()
        yield Row(f"haul-{haul.pk}-{row.need.name}", says, url, "Open the haul", note=row.how)
    if len(some) > SHOWN:
        says = f"{many(len(some) - SHOWN, 'more haul')} want one thing found out."
        yield Row("hauls-more", says, reverse("hauls"), "See the hauls")


def _of_units(hauls: list[Haul]) -> Iterator[Row]:
    """Units of which something is unknown, by how many open hauls cannot be judged on them."""
    counts, matched = _not_known(hauls)
    broken = Unit.objects.filter(pk__in=list(counts), complete=False, status__in=ON_THE_LOT)
    for unit in sorted(broken.defer("thumbnail"), key=lambda u: (-counts[u.pk], u.stock_number))[:SHOWN]:
        trailer = readable(unit)
        gap = next(iter(read_unit(trailer).gaps), None) if trailer else None
        if gap is not None:
            says = f"{unit}: {many(counts[unit.pk], 'open haul')} of {matched} matched cannot be judged on it."
            yield Row(
                f"unit-{unit.pk}-{gap.name}",
                says,
                unit.get_absolute_url(),
                "Open it",
                note=f"{begin(to_measure(gap))}.",
            )


def _not_known(hauls: list[Haul]) -> tuple[Counter[int], int]:
    """By unit, on how many hauls' kept boards it is not known; and how many boards there are."""
    kit, word = kit_book(), WORDS.index("not known")
    boards = {b.haul_id: b for b in Board.objects.filter(haul__in=hauls)}
    versions = dict(Unit.objects.filter(status__in=ON_THE_LOT).values_list("pk", "version"))
    counts: Counter[int] = Counter()
    matched = 0
    for haul in hauls:
        board = boards.get(haul.pk)
        if board is None or board.mark != mark_of(haul, kit) or len(board.content) % ENTRY.itemsize:
            continue
        matched += 1
        entries = np.frombuffer(bytes(board.content), ENTRY)
        held = entries[entries["verdict"] == word]
        counts.update(int(e["unit"]) for e in held if versions.get(int(e["unit"])) == int(e["version"]))
    return counts, matched
