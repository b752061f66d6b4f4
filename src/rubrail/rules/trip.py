"""Duties of the road: looking at the cargo again, and moving a dealer's own empty trailers."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.rules.tables import figure

FIRST_CHECK_MI = figure("trip", "first_check_mi")
CHECK_EVERY_MI = figure("trip", "check_every_mi")
CHECK_EVERY_H = figure("trip", "check_every_h")
TOWAWAY_TOTAL_LB = figure("trip", "towaway_total_lb")


def cargo_check_overdue(
    *, checks_done: ArrayLike, miles_since_last: ArrayLike, hours_since_last: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """1 where the cargo should have been looked at again, else 0; ``nan`` not known.

    Within the first 50 miles; then every 150 miles or 3 hours, whichever comes first; a change of duty asks too.

    Parameters
    ----------
    checks_done : array_like
        Checks on the road since the start, not counting the one before it.
    miles_since_last, hours_since_last : array_like
        Since the last check, or since the start where there was none. [mi, h]

    References
    ----------
    CFR-49-392.9
    """
    done, miles = np.asarray(checks_done, float), np.asarray(miles_since_last, float)
    hours = np.asarray(hours_since_last, float)
    first = miles > FIRST_CHECK_MI
    later = (miles > CHECK_EVERY_MI) | (hours > CHECK_EVERY_H)
    return np.where(np.isnan(done + miles + hours), np.nan, np.where(done == 0, first, later))


def towaway_transporter(*, trailers_lb: ArrayLike, tow_unit_lb: ArrayLike) -> NDArray[np.float64]:
    """1 where two empty stock trailers behind a bare tow unit may be 82 ft long, 0 where not, ``nan`` where doubtful.

    The rule speaks of a total weight of 26,000 lb and does not say plainly whether the tow unit counts.

    Parameters
    ----------
    trailers_lb, tow_unit_lb : array_like
        The two trailers together, and the tow unit. [lb]

    References
    ----------
    USC-49-31111
    """
    trailers, tow = np.asarray(trailers_lb, float), np.asarray(tow_unit_lb, float)
    total = trailers + tow
    return np.where(trailers > TOWAWAY_TOTAL_LB, 0.0, np.where(total <= TOWAWAY_TOTAL_LB, 1.0, np.nan))
