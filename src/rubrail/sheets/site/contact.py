"""How to reach the yard, as the foot of every public page says it: read at the door, and made to be tapped."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from rubrail.sheets.site.markup import Markup, el, together

MOST_LINES, MOST_LETTERS, MOST_DIGITS = 8, 120, 15
"""A phone number has at most 15 digits (ITU-T E.164, remembered)."""
PHONE = re.compile(r"(?<![\w.@/-])\+?\(?\d[\d().\- ]{5,}\d(?![\w@/])")
LEAST_DIGITS = 10
"""Fewer may be a house number, hours or a postal code."""
_LOCAL = r"[A-Za-z0-9._%+'-]{1,64}"
_HOST = r"(?:[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?\.)+[A-Za-z]{2,}"
MAIL = re.compile(rf"(?<![\w.%+'@-]){_LOCAL}@{_HOST}(?![\w@-])")
_MARKUP = re.compile(r"<[^<>]{0,40}>?|&(?:[a-z]{2,8}|#\d{1,6}|#x[0-9a-f]{1,6});", re.IGNORECASE)
_SCRIPT = re.compile(r"\b(?:javascript|data|vbscript):", re.IGNORECASE)
_HIDDEN = ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp")
NOT_HELD = (
    *("hurry", "payload-number", "rating-number", "bare-number"),
    *("empty-number", "price-number", "axle-count", "model-year"),
)
"""Rules that speak of one unit, and those that opening hours would break."""


def contact_lines(texts: Iterable[str], *, of: str) -> tuple[tuple[str, ...], list[str]]:
    """Lines that say how to reach a yard, and one sentence for each fault in them.

    Parameters
    ----------
    texts : iterable of str
        Lines as typed; empty ones are left out.
    of : str
        What they were given by, for the sentences.
    """
    lines = [t.strip(" \t") for t in texts if t.strip()]
    faults = [fault for number, line in enumerate(lines, 1) for fault in _faults(line, f"{of}, line {number},")]
    if len(lines) > MOST_LINES:
        faults.append(f"{of} has {len(lines)} lines; the foot of a page has room for {MOST_LINES}.")
    return tuple(lines), faults


def _faults(line: str, where: str) -> Iterable[str]:
    hidden = next((c for c in line if unicodedata.category(c) in _HIDDEN), None)
    if hidden is not None:
        yield f"{where} holds a character that does not show (U+{ord(hidden):04X}); it takes plain words."
        return
    shown = f"{line[:40]}…" if len(line) > 41 else line
    if len(line) > MOST_LETTERS:
        yield f"{where} has {len(line)} letters; it takes at most {MOST_LETTERS}."
    if found := _MARKUP.search(line) or _SCRIPT.search(line):
        yield f"{where} holds {found[0]!r}; it takes plain words, a phone number or a mail address, and no markup."
        return
    if "@" in MAIL.sub("", line):
        yield f"{where} is {shown!r}; a mail address is written such as office@yard.example."
    for phone in PHONE.findall(MAIL.sub("", line)):
        digits = sum(c.isdigit() for c in phone)
        if digits > MOST_DIGITS:
            yield f"{where} holds the number {phone!r} of {digits} digits; a phone number has at most {MOST_DIGITS}."
    yield from _claims(line, where)


def _claims(line: str, where: str) -> Iterable[str]:
    from rubrail.rules.claims import UnitFacts, find_claims

    for claim in find_claims(line, UnitFacts(used=False, excise_due=False)):
        if claim.rule.id not in NOT_HELD:
            yield f"{where} says “{claim.words}”, which is refused: {claim.rule.why}; {claim.rule.instead}."


def contact_markup(line: str) -> Markup:
    """A line in which phone numbers and mail addresses can be tapped."""
    parts: list[str | Markup] = []
    at = 0
    for found in sorted([*MAIL.finditer(line), *_phones(line)], key=lambda m: m.start()):
        if found.start() < at:
            continue
        href = f"mailto:{found[0]}" if "@" in found[0] else f"tel:{re.sub(r'[^0-9+]', '', found[0])}"
        parts += [line[at : found.start()], el("a", found[0], href=href)]
        at = found.end()
    return together([*parts, line[at:]])


def _phones(line: str) -> Iterable[re.Match[str]]:
    for found in PHONE.finditer(line):
        if LEAST_DIGITS <= sum(c.isdigit() for c in found[0]) <= MOST_DIGITS:
            yield found
