"""Which character of a VIN is suspicious: the single changes that would make it valid, likeliest first.

Nothing is corrected. A check digit only says that something is misread; which reading is right is seen on the unit.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from rubrail.rules.tables import table
from rubrail.rules.vin import (
    CHECK_PLACE,
    LENGTH,
    LOW_VOLUME_MARK,
    YEAR_PLACE,
    clean,
    maker_id,
    model_years,
    number_of,
    vin_faults,
)

CHARACTERS = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
"""What may stand in a VIN."""
CHECK_CHARACTERS = "0123456789X"
FAR = 4
"""Rank of two characters that nothing makes alike."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """One change that would make a VIN valid.

    kind : ``character``, ``swapped`` (two neighbors), ``left out`` or ``doubled``; place : counted from 1, of the
    first of two; read, likely : what stands there and what would; vin : the whole with that change;
    why : what speaks for it: ``mistaken`` (the two are often taken for each other), ``reading`` (another reading says
    the same), ``maker`` (it gives the maker's code), ``year`` (it gives the unit's model year), ``digits`` (the
    serial number's end becomes all digits).
    """

    kind: str
    place: int
    read: str
    likely: str
    vin: str
    why: tuple[str, ...]


@cache
def _ranks() -> dict[frozenset[str], int]:
    return {frozenset((r["one"], r["other"])): r["rank"] for r in table("vin-mistaken")["rows"]}


def mistaken_rank(*, one: str, other: str) -> int:
    """How easily two characters are taken for each other: 1 the easiest, 4 for two that nothing makes alike.

    References
    ----------
    COMMON-PRACTICE
    """
    return _ranks().get(frozenset((one, other)), FAR)


def told_apart(*, place: int, one: str, other: str) -> bool:
    """Whether the check digit tells two characters apart at a place; letters of one number look the same to it.

    Parameters
    ----------
    place : int
        Counted from 1; the check digit's own place tells every two apart.
    one, other : str
        Two characters that may stand in a VIN.

    References
    ----------
    CFR-49-565
    """
    if one == other:
        return False
    if place == CHECK_PLACE:
        return True
    first, second = number_of(character=one), number_of(character=other)
    return first is None or second is None or first != second


def look_alikes(*, character: str) -> str:
    """Characters that the check digit does not tell from this one, in order: ``B`` and ``2``, ``K``, ``S``."""
    return "".join(
        c for c in CHARACTERS if c != character and number_of(character=c) == number_of(character=character)
    )


def not_caught(*, vin: str) -> tuple[tuple[int, str, str], ...]:
    """What a valid VIN may hide: place, character, and the characters that would have passed there as well.

    Two characters of one number, and so two swapped neighbors of one number, leave the check digit as it is. The
    check digit's own place hides nothing.

    Parameters
    ----------
    vin : str
        17 characters.

    References
    ----------
    CFR-49-565
    """
    places = enumerate(clean(vin=vin), 1)
    return tuple((n, c, look_alikes(character=c)) for n, c in places if n != CHECK_PLACE and look_alikes(character=c))


def suspects(
    *,
    vin: str,
    others: Collection[str] = (),
    maker_codes: Collection[str] = (),
    year: int | None = None,
) -> tuple[Suspect, ...]:
    """Every single change that makes a VIN valid, likeliest first; empty for one that is valid as it stands.

    A change of one character, a swap of two neighbors, and, where there is another reading to hold it against, one
    character left out (16 read) or doubled (18 read).

    Parameters
    ----------
    vin : str
        As read.
    others : collection of str
        Other readings of the same VIN.
    maker_codes : collection of str
        Identifiers the yard knows for this maker: ``1Z9...Z12`` or three characters.
    year : int, optional
        Model year the unit is said to be of.

    References
    ----------
    CFR-49-565, VIN-YEAR, COMMON-PRACTICE
    """
    vin = clean(vin=vin)
    if not vin_faults(vin=vin):
        return ()
    others = {clean(vin=o) for o in others}
    if len(vin) != LENGTH:
        return _by_length(vin, others)
    found = [*_changed(vin), *_swapped(vin)]
    told = [_told(s, vin, others, maker_codes, year) for s in found if not vin_faults(vin=s.vin)]
    return tuple(sorted(told, key=lambda s: _order(s)))


def _changed(vin: str) -> list[Suspect]:
    return [
        Suspect("character", i + 1, vin[i], c, f"{vin[:i]}{c}{vin[i + 1 :]}", ())
        for i in range(LENGTH)
        for c in (CHECK_CHARACTERS if i + 1 == CHECK_PLACE else CHARACTERS)
        if c != vin[i]
    ]


def _swapped(vin: str) -> list[Suspect]:
    return [
        Suspect(
            "swapped", i + 1, vin[i : i + 2], vin[i + 1] + vin[i], f"{vin[:i]}{vin[i + 1]}{vin[i]}{vin[i + 2 :]}", ()
        )
        for i in range(LENGTH - 1)
        if vin[i] != vin[i + 1]
    ]


def _by_length(vin: str, others: Collection[str]) -> tuple[Suspect, ...]:
    """One character left out or doubled, only where that gives another, valid reading."""
    found = []
    for other in sorted(o for o in others if not vin_faults(vin=o)):
        if len(vin) == LENGTH - 1:
            i = next((i for i in range(LENGTH) if other[:i] + other[i + 1 :] == vin), None)
            if i is not None:
                found.append(Suspect("left out", i + 1, "", other[i], other, ("reading",)))
        elif len(vin) == LENGTH + 1:
            i = next((i for i in range(LENGTH + 1) if vin[:i] + vin[i + 1 :] == other), None)
            if i is not None:
                found.append(Suspect("doubled", i + 1, vin[i], "", other, ("reading",)))
    return tuple(found)


def _told(s: Suspect, vin: str, others: Collection[str], codes: Collection[str], year: int | None) -> Suspect:
    why = []
    if s.kind == "swapped" or mistaken_rank(one=s.read, other=s.likely) < FAR:
        why.append("mistaken")
    if s.vin in others:
        why.append("reading")
    if codes and maker_id(vin=s.vin) in codes and maker_id(vin=vin) not in codes:
        why.append("maker")
    if year is not None and s.place <= YEAR_PLACE < s.place + len(s.read) and year in model_years(code=s.vin[9]):
        why.append("year")
    if _digits(s.vin) and not _digits(vin):
        why.append("digits")
    return Suspect(s.kind, s.place, s.read, s.likely, s.vin, tuple(why))


def _digits(vin: str) -> bool:
    """Whether the end of the serial number is all digits, as it is on trailers."""
    return (vin[14:] if vin[2] == LOW_VOLUME_MARK else vin[13:]).isdigit()


def _order(s: Suspect) -> tuple:
    far = 2 if s.kind == "swapped" else mistaken_rank(one=s.read, other=s.likely)
    return ("reading" not in s.why, -len({"maker", "year", "digits"} & set(s.why)), far, s.place, s.likely)


def compared(*, one: str, other: str) -> tuple[int, ...]:
    """Places, counted from 1, at which two readings of one length differ."""
    return tuple(i for i, (a, b) in enumerate(zip(one, other, strict=False), 1) if a != b)


def maker_code(*, code: str) -> str:
    """A maker's identifier as ``maker_id`` gives it, from one written in six characters or three: ``1Z9...Z12``."""
    code = clean(vin=code)
    return f"{code[:3]}...{code[3:]}" if len(code) == 6 else code
