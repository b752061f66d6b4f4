"""A unit beside the others on the lot: whom it is compared with, and on what it is unusual among them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.differs import LEAST_OTHERS, Difference, differences
from rubrail.desk.lot import Lot, lot
from rubrail.desk.models import Unit
from rubrail.desk.traits import TRAITS, priced, traits_of

LEAST = 5
"""Fewer others of its own kind are no company: then a wider circle is taken."""
COUPLINGS = {"ball": "ball-coupler", "gooseneck": "gooseneck", "kingpin": "kingpin", "pintle": "pintle"}


@dataclass(frozen=True, slots=True)
class Company:
    """What a unit was compared with, in words, how many, and where it is unusual among them."""

    circle: str
    count: int
    told: tuple[Difference, ...]

    @property
    def enough(self) -> bool:
        """Whether there are as many as make anything usual."""
        return self.count >= LEAST_OTHERS

    @property
    def says(self) -> str:
        """Whom it was compared with: ``11 other gooseneck deck-over units on the lot``."""
        return f"{self.count:,} other {f'{self.circle} ' if self.circle else ''}units on the lot"


def company_of(unit: Unit) -> Company:
    """The others on the lot that are like it, and where it differs from what is usual among them."""
    there = lot()
    circle, others = _circle(unit, there)
    price = None if unit.price_usd is None else float(unit.price_usd)
    own = {**traits_of([unit.spec])[0], **priced(price, unit.payload_lb)}
    columns = {key: column[others] for key, column in there.columns.items()}
    return Company(circle, int(others.sum()), differences(traits=TRAITS, own=own, others=columns))


def _circle(unit: Unit, there: Lot) -> tuple[str, NDArray[np.bool_]]:
    """Those of its coupling and deck; of its coupling where they are too few; else all."""
    others = there.pk != unit.pk
    alike = others & (there.coupling == unit.coupling_kind)
    same = alike & (there.deck == unit.deck_kind)
    coupling = COUPLINGS.get(unit.coupling_kind, "")
    if unit.deck_kind and same.sum() >= LEAST:
        return f"{coupling} {unit.deck_kind}".strip(), same
    if alike.sum() >= LEAST:
        return coupling, alike
    return "", others
