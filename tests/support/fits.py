"""Fits in the form that published examples are printed in."""

from __future__ import annotations

import numpy as np

from rubrail.mechanics.least_squares import fit


def of_one_mean(*, observed: np.ndarray, deviation: float, says: str) -> float:
    """What a fit of one mean to readings of one standard deviation says of the last reading."""
    count = len(observed)
    found = fit(design=np.ones((count, 1)), observed=observed, covariance=np.eye(count) * deviation**2)
    if says == "from the mean":
        return float(found.residuals[-1]) / deviation
    return float(getattr(found, says)[-1])
