"""What the excise tax asks of a trailer: both weights, and the tires sold with it."""

from __future__ import annotations

import math
import re

from rubrail.answers.envelope import alone
from rubrail.answers.height import built_columns
from rubrail.answers.price_parts import ExciseFacts, TaxedTire
from rubrail.checks import all as _every_module  # noqa: F401  fills the registry
from rubrail.checks.engine import Evaluation
from rubrail.things.trailer import Trailer

WEIGHTS = {"by_rating_lb": "excise-by-rating", "by_axles_lb": "excise-by-axles"}


def excise_facts(trailer: Trailer, *, free_as: str = "", new: bool | None = None) -> ExciseFacts:
    """Facts of one trailer.

    Parameters
    ----------
    trailer : Trailer
    free_as : str
        A word of ``rules.excise.free_words``.
    new : bool, optional
        Whether it is sold new; as the trailer's condition says, new where it says nothing.
    """
    evaluation = Evaluation(alone(built_columns((trailer,))))
    found = {name: float(evaluation.check(check)[0].flat[0]) for name, check in WEIGHTS.items()}
    if new is None:
        new = trailer.condition != "used"
    return ExciseFacts(**found, tires=tires_of(trailer), free_as=free_as, new=new)


def tires_of(trailer: Trailer) -> tuple[TaxedTire, ...] | None:
    """The tires on its axles by their greatest load; ``None`` where any is not known, for then no sum is."""
    found = []
    for axle in trailer.axle:
        load, count = axle.tires.max_load_lb, axle.tires.count
        if load is None or count is None or math.isnan(float(load)):
            return None
        found.append(TaxedTire(float(load), count, not is_radial(axle.tires.size)))
    return tuple(found)


_RADIAL = re.compile(r"\d\s*Z?R\s*\d{2}")


def is_radial(size: str | None) -> bool:
    """Whether a sidewall says radial. A size that does not say so earns half the credit, as a bias-ply tire does."""
    return bool(size and _RADIAL.search(size))
