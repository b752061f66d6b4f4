"""What should come along with a unit, and the date codes of its tires."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from rubrail.desk.audit import Delta

PARTS = (
    ("spare", "Spare tire and wheel"),
    ("keys", "Keys"),
    ("ramp-pins", "Ramp pins and springs"),
    ("chains", "Safety chains and hooks"),
    ("breakaway", "Breakaway switch, cable and battery"),
    ("manuals", "Manuals"),
    ("certificate", "Certificate of origin"),
    ("invoice", "Invoice"),
)
"""Common practice: what a yard looks for on the truck and in the driver's papers."""
PART_WORDS = dict(PARTS)
HERE, MISSING, NOT_DUE = "here", "missing", "not due"
STATES = ((HERE, "here"), (MISSING, "missing"), (NOT_DUE, "not ordered"))
MOST_TIRES = 26
CODE = re.compile(r"(?:DOT\b.*\b)?(\d{2})(\d{2})")
OLD_YEARS = 3
"""Common practice, no source: tires of a new trailer older than this are asked about."""


@dataclass(frozen=True, slots=True)
class TireDate:
    """A tire's date code: week and year as its last four figures say; ``made`` is the Monday of that week.

    References: 49 CFR 574.5: four figures since 64 FR 36807 (8 July 1999, read); week first, then year, as remembered.
    """

    code: str
    week: int
    year: int
    made: date

    def age_years(self, *, today: date) -> float:
        """Years since that week."""
        return (today - self.made).days / 365.25


def read_codes(text: str, *, today: date) -> tuple[list[TireDate], list[str]]:
    """Date codes typed one after another, and one sentence for each that cannot be.

    Parameters
    ----------
    text : str
        Separated by blanks, commas, semicolons or lines; the last four figures of the DOT number.
    today : date
        A code of a later week is a slip.
    """
    found, faults = [], []
    words = [w for w in re.split(r"[\s,;]+", text.upper()) if w and w != "DOT"]
    for word in words[: MOST_TIRES + 1]:
        match = re.search(r"(\d{2})(\d{2})$", word)
        if match is None or not ((word.isdigit() and len(word) == 4) or len(word) > 4):
            faults.append(
                f'Tire date codes: "{word[:20]}" is none; give its last four figures, such as 2326 (week 23 of 2026).'
            )
            continue
        week, year = int(match[1]), 2000 + int(match[2])
        if not 1 <= week <= 53:
            faults.append(f'Tire date codes: "{word[:20]}" names week {week}; a year has weeks 01 to 53.')
            continue
        made = date(year, 1, 4) - timedelta(days=date(year, 1, 4).weekday()) + timedelta(weeks=week - 1)
        if made > today:
            faults.append(f'Tire date codes: "{word[:20]}" has not come yet: week {week} of {year}; read it again.')
            continue
        found.append(TireDate(match[0], week, year, made))
    if len(words) > MOST_TIRES:
        faults.append(f"Tire date codes: at most {MOST_TIRES} are kept.")
    return found, faults


def said_codes(codes: Iterable[TireDate]) -> str:
    """Date codes in words, those alike together: ``3 in week 31 of 2026, 1 in week 30 of 2026``."""
    counts = Counter((c.year, c.week) for c in codes)
    return ", ".join(f"{n} in week {week} of {year}" for (year, week), n in sorted(counts.items()))


def tire_notes(codes: Iterable[TireDate], *, today: date) -> list[str]:
    """What to say about the tires' ages; empty where nothing stands out."""
    codes = list(codes)
    notes = []
    old = sorted({c.code for c in codes if c.age_years(today=today) > OLD_YEARS})
    if old:
        notes.append(f"Tires older than {OLD_YEARS} years: {', '.join(old)}. Ask before it is taken as new.")
    if codes and max(c.made for c in codes) - min(c.made for c in codes) > timedelta(days=365):
        notes.append("The tires were made more than a year apart: look whether one was replaced.")
    return notes


def missing_words(found: Mapping[str, Any]) -> list[str]:
    """What does not come along, in words."""
    parts = [PART_WORDS[k] for k, state in found.get("parts", {}).items() if state == MISSING and k in PART_WORDS]
    words = str(found.get("parts_words", "")).strip()
    return [*parts, *([words] if words else [])]


NAMES = (*(f"part-{key}" for key, _ in PARTS), "parts_words", "tires")
LABELS = {
    **{f"part-{key}": word for key, word in PARTS},
    "parts_words": "what else is missing",
    "tires": "tire date codes",
}


def texts_of(found: Mapping[str, Any]) -> dict[str, str]:
    """What the form shows, by its fields; empty ones are left out."""
    texts = {f"part-{k}": str(v) for k, v in found.get("parts", {}).items()}
    texts |= {"parts_words": str(found.get("parts_words", "")), "tires": " ".join(found.get("tires", ()))}
    return {k: v for k, v in texts.items() if v}


def read(texts: Mapping[str, str], *, today: date) -> tuple[dict[str, Any], list[str]]:
    """What the form's texts say as ``found`` keeps it, and one sentence for each that cannot be read."""
    codes, faults = read_codes(texts.get("tires", ""), today=today)
    states = {k: texts.get(f"part-{k}", "") for k, _ in PARTS}
    return {
        "parts": {k: s for k, s in states.items() if s in dict(STATES)},
        "parts_words": texts.get("parts_words", "")[:300],
        "tires": [c.code for c in codes],
    }, faults


def deltas(found: Mapping[str, Any], given: Mapping[str, Any]) -> list[Delta]:
    """What changes, in words."""
    before, after = texts_of(found), texts_of(given)
    return [Delta(n, label, before.get(n, ""), after.get(n, ""), "yard.see") for n, label in LABELS.items()]
