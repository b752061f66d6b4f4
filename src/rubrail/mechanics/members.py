"""Members along the first axis, some of them absent."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray


def of_present(*, present: ArrayLike, value: ArrayLike, absent: float = 0.0) -> NDArray[np.float64]:
    """``value`` where the member is there and ``absent`` where it is not.

    An absent member's ``nan`` never leaks; an unknown presence (``nan``) makes the result unknown.

    Parameters
    ----------
    present : array_like
        1 where the member is there, 0 where it is not.
    value : array_like
        What the member has, any unit.
    absent : float
        What stands in for a member that is not there.
    """
    present = np.asarray(present, float)
    return np.where(present == 0, absent, np.asarray(value, float) + 0.0 * present)


def sum_of_present(*, present: ArrayLike, value: ArrayLike) -> NDArray[np.float64]:
    """Sum of ``value`` over the members that are there (first axis)."""
    return of_present(present=present, value=value).sum(axis=0)
