"""A haul's match against the yard, kept: only units that changed since it was last looked at are judged again.

The content is one array of short rows (``ENTRY``), best unit first, each with the version of the unit it was made
from. It counts only while its mark is that of the haul and the engine; a lost or spoiled one is made again.
"""

from __future__ import annotations

import hashlib
import json
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.board import best_buys
from rubrail.answers.match import rank
from rubrail.answers.match_joined import joined_verdicts, placement_of
from rubrail.answers.rig import rigs
from rubrail.answers.roster import ROW, roster
from rubrail.checks.verdict import WORDS
from rubrail.desk import derived
from rubrail.desk.books import kit_book, thing_in
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Board, Book, Haul, Unit
from rubrail.desk.models.stock import ON_THE_LOT, Status
from rubrail.desk.stock import readable
from rubrail.desk.turns import in_turn
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.kit import Kit
from rubrail.things.names import CODES

Entries = NDArray[np.void]

STATUSES = tuple(Status.values)
COUPLINGS = (*CODES["coupling_kind"], "")
DECKS = (*CODES["deck_kind"], "")
"""Words by the number an entry stores them under; the last for not known."""
ENTRY = np.dtype(
    [
        ("unit", "<i8"),
        ("version", "<u4"),
        ("status", "u1"),
        ("coupling", "u1"),
        ("deck", "u1"),
        ("price_usd", "<f8"),
        ("unbeaten", "?"),
        *ROW.descr,
    ]
)
"""One unit: which, in which version, what the lot says of it, and what the match says of it (``answers.roster.ROW``).

status, coupling, deck : index into the words above; unbeaten : as ``answers.board.best_buys`` finds it.
"""
AT_ONCE = 800
"""Units judged together: many, because each going takes its time whatever the number; few enough to say how far."""
PATIENCE_S = 1.0
"""How long one request goes on judging before it says how far it is."""


@dataclass(frozen=True)
class Standing:
    """How far a match is.

    entries : best first; units : how many there are on the lot; missing : how many of them are still to be judged;
    mark : of everything it rests on but the units; kit : file of the yard's kit of gear, one of these
    """

    entries: Entries
    units: int
    missing: int
    mark: str
    kit: Book | None

    @property
    def done(self) -> int:
        """Units judged."""
        return self.units - self.missing

    @property
    def says(self) -> str:
        """How far it is, in words."""
        return f"{self.done:,} of {self.units:,} units weighed"


def mark_of(haul: Haul, kit: Book | None) -> str:
    """Mark of everything a match rests on but the units: haul, kit of gear, engine, the layout of an entry."""
    rests_on = json.dumps([haul.spec, kit and kit.spec, derived.mark(), ENTRY.descr], sort_keys=True)
    return hashlib.sha256(rests_on.encode()).hexdigest()


def standing(haul: Haul, thing: HaulThing | None = None, *, patience_s: float | None = None) -> Standing:
    """The match as far as it is known, after judging what is new or changed for at most about ``patience_s``.

    Parameters
    ----------
    haul : Haul
        The stored haul.
    thing : things.haul.Haul, optional
        The same as the engine takes it.
    patience_s : float, optional
        At least one block of units is judged, however short. [s]

    Raises
    ------
    Faults
        If the stored haul no longer reads.
    """
    book = kit_book()
    mark, lot = mark_of(haul, book), on_the_lot()
    kept = _kept(haul, mark)
    holds = _in(lot, kept)
    missing = lot["unit"][~_in(kept, lot)]
    if not missing.size and holds.all():
        return Standing(kept, len(lot), 0, mark, book)
    kit = book and thing_in(book)
    until = time.monotonic() + (PATIENCE_S if patience_s is None else patience_s)
    made = []
    while missing.size:
        thing = thing_of(haul) if thing is None else thing
        made.append(_judged(thing, missing[:AT_ONCE], kit))
        missing = missing[AT_ONCE:]
        if time.monotonic() > until:
            break
    entries = _store(haul, mark, gone=kept[~holds], made=made)
    return Standing(entries, len(lot), len(missing), mark, book)


def on_the_lot() -> NDArray[np.void]:
    """Which units there are to offer, and in which version, by unit."""
    found = Unit.objects.filter(status__in=ON_THE_LOT).order_by("pk").values_list("pk", "version")
    return np.fromiter(found.iterator(chunk_size=5_000), np.dtype([("unit", "<i8"), ("version", "<u4")]))


def _in(those: NDArray[np.void], these: NDArray[np.void]) -> NDArray[np.bool_]:
    """Which of ``these`` are among ``those``, in the same version."""
    if not len(those):
        return np.zeros(len(these), bool)
    order = np.argsort(those["unit"], kind="stable")
    at = order[np.minimum(np.searchsorted(those["unit"], these["unit"], sorter=order), len(those) - 1)]
    return (those["unit"][at] == these["unit"]) & (those["version"][at] == these["version"])


def _kept(haul: Haul, mark: str) -> Entries:
    stored = Board.objects.filter(haul_id=haul.pk, mark=mark).values_list("content", flat=True).first()
    content = b"" if stored is None else bytes(stored)
    # A content of another length is of no use; it is made anew.
    return np.frombuffer(content if len(content) % ENTRY.itemsize == 0 else b"", ENTRY)


def _judged(thing: HaulThing, numbers: NDArray[np.int64], kit: Kit | None) -> Entries:
    """Entries of some units, as they are stored now."""
    wanted = [int(n) for n in numbers]
    # What a unit is in full is read only where its packed columns are of another engine.
    units = {u.pk: u for u in Unit.objects.filter(pk__in=wanted).defer("spec", "thumbnail")}
    stale = [u.pk for u in units.values() if u.derived_by != derived.mark()]
    units |= {u.pk: u for u in Unit.objects.filter(pk__in=stale)} if stale else {}
    entries = np.zeros(len(units), ENTRY)
    if not units:
        return entries
    rows = roster(haul=thing, of_trailers=derived.columns_of(units.values()))
    for name in ROW.names:
        entries[name] = rows[name]
    for entry, unit in zip(entries, units.values(), strict=True):
        entry["unit"], entry["version"] = unit.pk, unit.version
        entry["status"] = STATUSES.index(unit.status)
        entry["coupling"] = _number(COUPLINGS, unit.coupling_kind)
        entry["deck"] = _number(DECKS, unit.deck_kind)
        entry["price_usd"] = np.nan if unit.price_usd is None else float(unit.price_usd)
    _join(thing, entries, kit)
    return entries


def _join(thing: HaulThing, entries: Entries, kit: Kit | None) -> None:
    """Lower the verdict of units that the road leaves standing to what loading and securing leave of it."""
    standing = np.flatnonzero(entries["verdict"] != WORDS.index("over"))
    if not standing.size or not thing.cargo:
        return
    stored = Unit.objects.in_bulk([int(n) for n in entries["unit"][standing]])
    trailers = {i: readable(stored[int(entries["unit"][i])]) for i in standing if int(entries["unit"][i]) in stored}
    read = [i for i, t in trailers.items() if t is not None]
    if not read:
        return
    every = rigs(haul=thing, trailers=tuple(trailers[i] for i in read))
    found = joined_verdicts(
        every,
        verdicts=[WORDS[entries["verdict"][i]] for i in read],
        shares=[float(entries["share"][i]) for i in read],
        placements=[placement_of(every, entries[i]) for i in read],
        kit=kit,
    )
    for i, joined in zip(read, found, strict=True):
        if joined.lowered:
            entries["verdict"][i], entries["share"][i] = WORDS.index(joined.verdict), joined.share
            entries["check"][i] = entries["member"][i] = -1
            entries["margin"][i] = np.nan


def _number(words: tuple[str, ...], word: str) -> int:
    """Number of a word; that of *not known* where the list has no such word."""
    return words.index(word) if word in words else words.index("")


def _store(haul: Haul, mark: str, *, gone: Entries, made: list[Entries]) -> Entries:
    """Put new entries to those kept, and keep the whole; what others judged meanwhile stays.

    A haul that was changed meanwhile keeps nothing of this: its next match begins with its new content.
    """
    with in_turn(f"board {haul.pk}"):
        kept = _kept(haul, mark)
        entries = _ranked(_latest(kept[~_in(gone, kept)], *made))
        if Haul.objects.filter(pk=haul.pk, version=haul.version).exists():
            Board.objects.update_or_create(haul_id=haul.pk, defaults={"mark": mark, "content": entries.tobytes()})
    return entries


def _latest(*parts: Entries) -> Entries:
    """Every unit once, in the latest version that any part has, by unit."""
    entries = np.concatenate(parts)
    entries = entries[np.lexsort((entries["version"], entries["unit"]))]
    last = np.ones(len(entries), bool)
    last[:-1] = entries["unit"][1:] != entries["unit"][:-1]
    return entries[last]


def _ranked(entries: Entries) -> Entries:
    """Best first, and what nothing beats marked."""
    entries["unbeaten"] = best_buys(
        verdict=entries["verdict"],
        price=entries["price_usd"],
        share=entries["share"],
        empty_lb=entries["empty_weight_lb"],
        height_in=entries["deck_height_in"],
    )
    return entries[rank(entries["verdict"], entries["share"], entries["price_usd"])]
