"""The greatest acceleration tie-downs hold: a linear program of balance, friction and limits.

The piece is rigid. Tie-downs only pull, each up to its limit; at each corner of the area it stands on the deck only
pushes, and friction stays inside its cone, taken as a many-sided pyramid inside it. Loads share in the best way that
balance allows: what slack or unequal stretch takes from that is not in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rubrail.mechanics.lashing import TOWARD

FACETS = 8
"""Sides of the friction pyramid; the four directions of the vehicle are among its edges, so they are exact."""
MOST_G = 20.0
_ARM_IN = 40.0
"""Unit of length of the moment rows, so that all rows are of one size."""
UP = 4


@dataclass(frozen=True, slots=True)
class Held:
    """What a linear program found.

    g : greatest acceleration, as a share of the weight; 0 where the piece cannot even stand
    worth : what a pound more of force or an inch-pound more of moment in each of the six balances adds to ``g``
    tension_lb : tension of each tie-down at that acceleration
    """

    g: float
    worth: NDArray[np.float64]
    tension_lb: NDArray[np.float64]


@cache
def _solver() -> object:
    import highspy

    # The class above this one prints a banner on standard output when it is made, before it can be told not to.
    solver = highspy.Highs.__bases__[0]()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("presolve", "off")
    return solver


def balance(
    *,
    pull: ArrayLike,
    contact_in: ArrayLike,
    about_in: ArrayLike,
    friction: float,
    facets: int = FACETS,
) -> NDArray[np.float64]:
    """Columns of the six balances: the acceleration's place, each tie-down, each edge of each corner's friction cone.

    Parameters
    ----------
    pull : array_like
        Force and moment a pound of tension, shape ``(tiedown, 6)`` (``lashing.pulls``).
    contact_in : array_like
        Corners the piece stands on, shape ``(corner, 3)``. [in]
    about_in : array_like
        Center of gravity. [in]
    friction : float
        Share of what rests on the deck.
    facets : int
        Edges of each friction pyramid.

    Returns
    -------
    array
        Shape ``(6, 1 + tiedown + corner * facets)``; moments in units of 40 in.
    """
    turn = 2 * np.pi * np.arange(facets) / facets
    edges = np.stack([friction * np.cos(turn), friction * np.sin(turn), np.ones(facets)], axis=-1)
    arms = np.asarray(contact_in, float) - np.asarray(about_in, float)
    force = np.broadcast_to(edges, (len(arms), facets, 3))
    cone = np.concatenate([force, np.cross(arms[:, None, :], force)], axis=-1).reshape(-1, 6)
    columns = np.concatenate([np.zeros((1, 6)), np.asarray(pull, float).reshape(-1, 6), cone])
    columns[:, 3:] /= _ARM_IN
    return columns.T


def held(
    *,
    pull: ArrayLike,
    least_lb: ArrayLike,
    most_lb: ArrayLike,
    contact_in: ArrayLike,
    about_in: ArrayLike,
    weight_lb: float,
    friction: float,
    directions: Sequence[int] = (0, 1, 2, 3, 4),
    facets: int = FACETS,
) -> list[Held]:
    """Greatest acceleration in each direction that keeps every balance.

    Parameters
    ----------
    pull, contact_in, about_in, friction, facets
        As for ``balance``.
    least_lb, most_lb : array_like
        Tension each tie-down may take, shape ``(tiedown,)``; equal where it is only as tight as it was drawn. [lb]
    weight_lb : float
        Weight of the piece. [lb]
    directions : sequence of int
        0 forward, 1 rearward, 2 left, 3 right; 4 up, beyond the weight itself.

    References
    ----------
    LASHING-STATICS
    """
    import highspy

    matrix = balance(pull=pull, contact_in=contact_in, about_in=about_in, friction=friction, facets=facets)
    count, ties = matrix.shape[1], len(np.asarray(least_lb, float))
    lower, upper = np.zeros(count), np.full(count, np.inf)
    upper[0] = MOST_G
    lower[1 : 1 + ties] = np.asarray(least_lb, float) / weight_lb
    upper[1 : 1 + ties] = np.asarray(most_lb, float) / weight_lb

    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = count, len(matrix)
    program.sense_ = highspy.ObjSense.kMaximize
    program.col_cost_ = np.concatenate([[1.0], np.zeros(count - 1)])
    program.col_lower_, program.col_upper_ = lower, upper
    program.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    program.a_matrix_.start_ = 6 * np.arange(count + 1)
    program.a_matrix_.index_ = np.tile(np.arange(6), count)
    solver, optimal = _solver(), highspy.HighsModelStatus.kOptimal
    out = []
    for direction in directions:
        matrix[:3, 0] = TOWARD[direction]
        # Against going up the weight itself is spent: what is asked of the tie-downs is a share beyond it.
        weight = np.array([0.0, 0.0, 0.0 if direction == UP else 1.0, 0.0, 0.0, 0.0])
        program.row_lower_ = program.row_upper_ = weight
        program.a_matrix_.value_ = matrix.T.reshape(-1)
        solver.passModel(program)
        solver.run()
        if solver.getModelStatus() != optimal:
            out.append(Held(0.0, np.zeros(6), np.zeros(ties)))
            continue
        solution = solver.getSolution()
        # A balance is improved by what pushes against its right side, hence the sign.
        worth = -np.asarray(solution.row_dual, float) / weight_lb
        worth[3:] /= _ARM_IN
        value = np.asarray(solution.col_value, float)
        out.append(Held(max(float(value[0]), 0.0) + 0.0, worth, value[1 : 1 + ties] * weight_lb))
    return out
