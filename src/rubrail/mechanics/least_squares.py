"""Weighted least squares for readings whose errors are known in size and may be shared, many sets at once.

With design matrix A, readings y and their covariance V the estimates are ``(A' V^-1 A)^-1 A' V^-1 y``. The sum is made
over the readings whitened by the root of V, by singular values: what the readings cannot tell is left out of the
rank, and a combination is *told* only where it lies wholly in the space the readings span.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_RANK = 1e-9
_TOLD = 1e-6
"""Relative: below the first a singular value is none; above the second a combination reaches outside the space."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A fit; every array may have leading axes, one set of readings each.

    values, covariance : estimates and their covariance, of least length where not all is told
    residuals : reading less fitted value
    normalized : residual over its own standard deviation by the set as a whole; ``nan`` where nothing checks it
    shift : how far off the reading would have to be for the rest to agree with it; ``nan`` likewise
    redundancy : share of a reading that the others check, 0 to 1
    chi_square, freedom, rank : sum of squared whitened residuals, degrees of freedom, rank of the set
    scale, span : length of each unknown in the whitened readings, and the space they span, in unknowns so scaled
    """

    values: Array
    covariance: Array
    residuals: Array
    normalized: Array
    shift: Array
    redundancy: Array
    chi_square: Array
    freedom: Array
    rank: Array
    scale: Array
    span: Array

    def tells(self, combination: ArrayLike) -> NDArray[np.bool_]:
        """Whether the readings determine a combination of the unknowns.

        Parameters
        ----------
        combination : array_like
            Factor of each unknown along the last axis.
        """
        scaled = np.asarray(combination, float) / self.scale
        inside = np.einsum("...rp,...p->...r", self.span, scaled)
        outside = scaled - np.einsum("...rp,...r->...p", self.span, inside)
        length = np.linalg.norm(scaled, axis=-1)
        return np.linalg.norm(outside, axis=-1) <= _TOLD * np.where(length > 0, length, 1.0)


def fit(*, design: ArrayLike, observed: ArrayLike, covariance: ArrayLike) -> Fit:
    """Fit unknowns to readings.

    Parameters
    ----------
    design : array_like
        Factor of each unknown in each reading, shape ``(..., reading, unknown)``.
    observed : array_like
        The readings, shape ``(..., reading)``.
    covariance : array_like
        Of the readings' errors, shape ``(..., reading, reading)``, positive definite.

    Raises
    ------
    LinAlgError
        If the covariance is not positive definite.

    References
    ----------
    JCGM-100, OUTLIER-TEST
    """
    a, y, v = (np.asarray(x, float) for x in (design, observed, covariance))
    lead = np.broadcast_shapes(a.shape[:-2], y.shape[:-1], v.shape[:-2])
    a, y, v = (np.broadcast_to(x, lead + x.shape[-k:]) for x, k in ((a, 2), (y, 1), (v, 2)))
    root = np.linalg.cholesky(v)
    white, seen = np.linalg.solve(root, a), np.linalg.solve(root, y[..., None])
    length = np.linalg.norm(white, axis=-2)
    scale = np.where(length > 0, length, 1.0)
    left, singular, right = np.linalg.svd(white / scale[..., None, :], full_matrices=False)
    held = singular > _RANK * singular.max(axis=-1, initial=0.0, keepdims=True)
    inverse = np.where(held, 1.0 / np.where(held, singular, 1.0), 0.0)
    left, right = left * held[..., None, :], right * held[..., :, None]
    back = np.swapaxes(right, -1, -2) * inverse[..., None, :] / scale[..., :, None]
    values = (back @ (np.swapaxes(left, -1, -2) @ seen))[..., 0]
    rest = (seen - left @ (np.swapaxes(left, -1, -2) @ seen))[..., 0]
    normalized, shift, redundancy = _each(root, left, rest)
    rank = held.sum(axis=-1)
    return Fit(
        values, back @ np.swapaxes(back, -1, -2), y - np.einsum("...np,...p->...n", a, values),
        normalized, shift, redundancy, np.square(rest).sum(axis=-1), y.shape[-1] - rank, rank, scale, right,
    )  # fmt: skip


def _each(root: Array, left: Array, rest: Array) -> tuple[Array, Array, Array]:
    """What the set as a whole says of each reading, were that one alone off."""
    count = root.shape[-1]
    ways = np.linalg.solve(root, np.broadcast_to(np.eye(count), root.shape))  # column i: reading i off by 1
    held = np.swapaxes(left, -1, -2) @ ways
    whole = np.square(ways).sum(axis=-2)
    checked = whole - np.square(held).sum(axis=-2)
    redundancy = np.clip(checked / whole, 0.0, 1.0)
    seen = redundancy > _TOLD
    along = np.einsum("...ni,...n->...i", ways, rest)
    checked = np.where(seen, checked, np.nan)
    return along / np.sqrt(checked), along / checked, np.where(seen, redundancy, 0.0)


def doubt(*, covariance: ArrayLike, combination: ArrayLike) -> Array:
    """Standard uncertainty of a combination of unknowns.

    Parameters
    ----------
    covariance : array_like
        Of the unknowns, shape ``(..., unknown, unknown)``.
    combination : array_like
        Factor of each unknown, shape ``(..., unknown)``.

    References
    ----------
    JCGM-100
    """
    c, v = np.asarray(combination, float), np.asarray(covariance, float)
    return np.sqrt(np.maximum(np.einsum("...p,...pq,...q->...", c, v, c), 0.0))


def chance_of_more(*, chi_square: ArrayLike, freedom: ArrayLike) -> Array:
    """Chance that errors of the stated sizes leave a greater chi-square; ``nan`` without degrees of freedom.

    Parameters
    ----------
    chi_square, freedom : array_like
        Sum of squared whitened residuals, and degrees of freedom.
    """
    from scipy.special import gammaincc

    free, misfit = np.asarray(freedom, float), np.asarray(chi_square, float)
    return np.where(free > 0, gammaincc(np.where(free > 0, free, 1) / 2, misfit / 2), np.nan)
