"""What a reading of a VIN says: which character is suspicious, where readings differ, what stays open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from rubrail.rules.vin import LENGTH
from rubrail.rules.vin_suspects import FAR, mistaken_rank, not_caught
from rubrail.sheets.sentences_amounts import listed
from rubrail.sheets.sentences_words import begin

if TYPE_CHECKING:
    from rubrail.answers.receive_report import VinDifference, VinFindings, VinReading
    from rubrail.rules.vin_suspects import Suspect

LAST_LETTER: Final = 13
"""Past this place a trailer's VIN is digits."""
MOST: Final = 3
"""Suspicious characters named in a sentence; the others are counted."""
WHY: Final = {
    "mistaken": "the two are often taken for each other",
    "reading": "another reading says so",
    "maker": "it gives a code the yard knows for this maker",
    "year": "it gives the unit's model year",
    "digits": "it makes the end of the serial number all digits",
}
NO_SINGLE: Final = "No single character explains it: more than one is misread. Read it again, letter by letter."
WRONG_LENGTH: Final = (
    "Which place is wrong cannot be told without another, whole reading: read it again, letter by letter."
)
CANNOT_TELL: Final = (
    "A valid VIN is no proof: the check digit does not tell apart characters that stand for one number, nor which"
    " thirty years a year code means on a trailer, nor whether the plate belongs to this trailer."
)


def vin_sentence(findings: VinFindings, *, alone: bool = False) -> str:
    """The first sentence on a VIN: whether the readings are valid and agree.

    Parameters
    ----------
    findings : VinFindings
    alone : bool
        Nothing is asked but whether what was read is valid: no label or paper is missed.
    """
    if not findings.readings:
        return "The VIN was not read."
    bad = [r for r in findings.readings if not r.valid]
    if findings.agree is False:
        return f"The readings of the VIN differ: {_where_differ(findings)}."
    if bad:
        return f"{begin(_reading(bad[0], findings))} cannot be right. {bad[0].faults[0]}"
    if findings.year_agrees is False:
        return "The VIN is valid, and its year code does not stand for the unit's model year."
    if any(r.known_maker is False for r in findings.readings):
        maker = next(r.maker for r in findings.readings if r.known_maker is False)
        return f"The VIN is valid, and its maker code, {maker}, is not one known for this maker."
    if findings.verdict == "clear" or alone:
        same = f", and {_number(len(findings.readings))} readings agree" if len(findings.readings) > 1 else ""
        return f"The VIN is valid{same}."
    read = {r.place for r in findings.readings}
    unread = [p for p in ("label", "papers") if p not in read]
    return f"The VIN is valid as read, and not yet compared: it was not read on the {listed(unread, joint='or')}."


def _number(n: int) -> str:
    return {2: "both", 3: "all three"}.get(n, f"all {n}")


def _reading(r: VinReading, findings: VinFindings) -> str:
    return f"the VIN on the {r.place}" if len(findings.readings) > 1 or r.place in ("label", "papers") else "the VIN"


def _where_differ(findings: VinFindings) -> str:
    if not findings.differences:
        return "they are of different lengths"
    pair = (findings.differences[0].first, findings.differences[0].second)
    some = [d for d in findings.differences if (d.first, d.second) == pair]
    places = listed([f"place {d.place}" for d in some[:MOST]]) + (
        f" and {len(some) - MOST} more places" if len(some) > MOST else ""
    )
    return f"{pair[0]} and {pair[1]} in {places}"


def difference_lines(findings: VinFindings) -> list[str]:
    """Each place at which readings differ, those that say the same there named together."""
    alike: dict[tuple, list[VinDifference]] = {}
    for d in findings.differences:
        alike.setdefault((d.first, d.place, d.first_reads, d.second_reads, bool(d.backed), d.caught), []).append(d)
    return [difference_line(some[0], others=[d.second for d in some[1:]]) for some in alike.values()]


def difference_line(d: VinDifference, *, others: Sequence[str] = ()) -> str:
    """One place at which two readings differ: both characters, which of them the check digit supports, if any.

    Parameters
    ----------
    d : VinDifference
    others : sequence of str
        Where else the second character was read.
    """
    second = listed([f"on the {place}" for place in (d.second, *others)])
    says = f"Place {d.place}: {d.first_reads} on the {d.first}, {d.second_reads} {second}"
    if d.often_mistaken:
        says += ", which are often taken for each other"
    if not d.caught:
        return f"{says}. The check digit does not tell these two apart: look at the plate again."
    if d.backed:
        backed = listed([f"the {place}" for place in ([d.first] if d.backed == d.first else [d.second, *others])])
        return f"{says}. The check digit supports {backed}; look at the plate again all the same."
    return f"{says}. Look at both again."


def suspect_line(s: Suspect) -> str:
    """One suspicious character, and what speaks for it."""
    what = {
        "character": f"Place {s.place}: {s.read} may be {s.likely}",
        "swapped": f"Places {s.place} and {s.place + 1}: {s.read} may be {s.likely}, swapped",
        "left out": f"Place {s.place}: {s.likely} seems to be left out",
        "doubled": f"Place {s.place}: {s.read} seems to be one too many",
    }[s.kind]
    return f"{what}; {listed([WHY[w] for w in s.why])}." if s.why else f"{what}."


def suspects_worth_naming(r: VinReading) -> Sequence[Suspect]:
    """Those something speaks for, the likeliest first; the first few where nothing speaks for any."""
    told = [s for s in r.suspects if s.why]
    best = [s for s in told if "reading" in s.why]
    return best or told or r.suspects[:MOST]


def reading_lines(r: VinReading) -> list[str]:
    """What is wrong with one reading, and which characters to look at again."""
    lines = list(r.faults)
    if r.faults and not r.suspects:
        lines.append(NO_SINGLE if len(r.vin) == LENGTH else WRONG_LENGTH)
    named = suspects_worth_naming(r)
    lines += [suspect_line(s) for s in named[:MOST]]
    if len(r.suspects) > min(len(named), MOST):
        more = len(r.suspects) - min(len(named), MOST)
        lines.append(f"{more} other single changes would make it valid too: only the plate tells which is right.")
    return [*lines, *r.cautions]


def not_caught_line(r: VinReading) -> str:
    """What a valid VIN may still hide: characters easily mistaken that the check digit takes for one another.

    The maker's code is left out where the yard knows it, and the end of the serial number, which is digits; ``""``
    for none.
    """
    first = 4 if r.known_maker else 1
    easy = [
        f"{c} in place {n} from {listed(alike, joint='or')}"
        for n, c, others in not_caught(vin=r.vin)
        if first <= n <= LAST_LETTER and (alike := [o for o in others if mistaken_rank(one=c, other=o) < FAR])
    ]
    return f"Look at these again, for the check digit does not tell them apart: {listed(easy)}." if easy else ""


def vin_facts(r: VinReading) -> list[tuple[str, str]]:
    """What one whole reading says, as names and values."""
    if not r.maker:
        return []
    codes = listed([str(y) for y in r.years], joint="or")
    return [
        ("Maker's code", f"{r.maker}{', a low-volume maker' if r.maker.count('.') else ''}"),
        ("Model year", f"{r.year}, by its code {codes}" if r.year else "its year code stands for none"),
    ]
