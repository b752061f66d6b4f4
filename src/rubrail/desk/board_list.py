"""The list of a match: which units are shown, in which order, and how many there are of each verdict."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.checks.verdict import CLEAR, DEPENDS, NOT_KNOWN, OVER, WORDS
from rubrail.desk.board import COUPLINGS, DECKS, STATUSES, Entries
from rubrail.desk.models.stock import Status
from rubrail.quantity.money import UnreadableMoneyError, parse_money

VERDICTS = (CLEAR, DEPENDS, NOT_KNOWN, OVER)
"""Codes in the order they are offered."""
SLUGS = {WORDS[code].replace(" ", "-"): code for code in VERDICTS}
"""Verdicts by the word in the address."""
WHERE = {
    "": ("anywhere", (Status.HERE, Status.HELD, Status.EXPECTED)),
    "here": ("in the yard", (Status.HERE, Status.HELD)),
    "free": ("in the yard, not held", (Status.HERE,)),
    "expected": ("expected", (Status.EXPECTED,)),
}
"""Where a unit stands, by the word in the address: words, and the statuses that count."""
SORTS = {
    "": ("best first", "", False),
    "price": ("lowest price", "price_usd", False),
    "spare": ("most to spare", "share", True),
    "height": ("lowest deck", "deck_height_in", False),
    "coupler": ("least coupler load", "coupler_load_lb", False),
    "empty": ("lightest", "empty_weight_lb", False),
}
"""Orders by the word in the address: words, what is sorted by, whether the greatest comes first."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a person asked to see. ``fault`` says in one sentence what could not be read."""

    verdict: str = ""
    coupling: str = ""
    deck: str = ""
    most: str = ""
    most_usd: float = np.inf
    where: str = ""
    unbeaten: bool = False
    sort: str = ""
    fault: str = ""

    @property
    def narrows(self) -> bool:
        """Whether anything but the order is asked for."""
        return bool(self.verdict or self.coupling or self.deck or self.most or self.where or self.unbeaten)


def asked_of(sent: Mapping[str, str]) -> Asked:
    """What an address asks for; words it does not know count as nothing asked."""

    def one_of(name: str, words: Mapping[str, object] | tuple[str, ...]) -> str:
        word = sent.get(name, "")
        return word if word in words else ""

    most = sent.get("most", "").strip()[:20]
    most_usd, fault = np.inf, ""
    if most:
        try:
            most_usd = float(parse_money(most))
        except UnreadableMoneyError as told:
            fault = f"Price at most {told}, got {most!r}: write dollars such as 12,500. It is not counted."
    return Asked(
        verdict=one_of("verdict", SLUGS),
        coupling=one_of("coupling", COUPLINGS),
        deck=one_of("deck", DECKS),
        most=most,
        most_usd=most_usd,
        where=one_of("where", WHERE),
        unbeaten=bool(sent.get("unbeaten")),
        sort=one_of("sort", SORTS),
        fault=fault,
    )


def counts(entries: Entries, asked: Asked) -> dict[str, int]:
    """How many units have each verdict, by the word in the address, among those everything else asked for leaves."""
    left = entries["verdict"][_others(entries, asked)]
    return {slug: int((left == code).sum()) for slug, code in SLUGS.items()}


def chosen(entries: Entries, asked: Asked) -> Entries:
    """The units asked for, in the order asked for; what is not known stands last."""
    mask = _others(entries, asked)
    if asked.verdict:
        mask &= entries["verdict"] == SLUGS[asked.verdict]
    found = entries[mask]
    _, name, greatest = SORTS[asked.sort]
    if not name:
        return found
    by = np.array(found[name])
    by[np.isnan(by)] = np.inf if not greatest else -np.inf
    return found[np.argsort(-by if greatest else by, kind="stable")]


def _others(entries: Entries, asked: Asked) -> NDArray[np.bool_]:
    """Units that everything asked for but the verdict leaves."""
    mask = np.ones(len(entries), bool)
    if asked.coupling:
        mask &= entries["coupling"] == COUPLINGS.index(asked.coupling)
    if asked.deck:
        mask &= entries["deck"] == DECKS.index(asked.deck)
    if np.isfinite(asked.most_usd):
        # A price that nobody has set is no price at most this.
        mask &= entries["price_usd"] <= asked.most_usd
    if asked.where:
        mask &= np.isin(entries["status"], [STATUSES.index(s) for s in WHERE[asked.where][1]])
    if asked.unbeaten:
        mask &= entries["unbeaten"]
    return mask
