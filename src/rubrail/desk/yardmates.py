"""A unit beside the others on the lot: whom it is compared with, and on what it is unusual among them."""

from __future__ import annotations

from rubrail.answers.company import Company, circle_of, company
from rubrail.answers.traits import priced, traits_of
from rubrail.desk.lot import lot
from rubrail.desk.models import Unit

__all__ = ["Company", "company_of"]


def company_of(unit: Unit) -> Company:
    """The others on the lot that are like it, and where it differs from what is usual among them."""
    there = lot()
    circle, others = circle_of(
        coupling=unit.coupling_kind, deck=unit.deck_kind, others=there.pk != unit.pk,
        couplings=there.coupling, decks=there.deck,
    )  # fmt: skip
    price = None if unit.price_usd is None else float(unit.price_usd)
    own = {**traits_of([unit.spec])[0], **priced(price, unit.payload_lb)}
    columns = {key: column[others] for key, column in there.columns.items()}
    decked = (there.deck == unit.deck_kind)[others]
    return company(own=own, others=columns, decked=decked, circle=circle, count=int(others.sum()))
