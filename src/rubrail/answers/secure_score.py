"""How well a set of tie-downs holds: the least of what is held over what is asked, and what that proves of other sets.

The linear program's prices hold for every other set of tie-downs on the same piece: by duality no set can hold more
than its weight's share and the sum of what each tie-down is worth at those prices. Each program solved so becomes a
bound on all sets not yet tried, a sum over tie-downs, which NumPy adds up for thousands of sets at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.secure_parts import Outfit, Scene
from rubrail.checks.loads_held import program
from rubrail.mechanics.lashing import TOWARD
from rubrail.rules import tiedown, tiedown_gear
from rubrail.rules.tables import table

Array = NDArray[np.float64]
CRITERIA = tuple((criterion, n) for criterion in ("working", "breaking") for n in range(len(tiedown.DIRECTIONS)))
"""Every criterion with every direction; there is none at working load limits upward."""

_SLACK = 1e-9


def unswept_friction() -> float:
    """Friction that tie-downs are placed for: that of a deck nobody swept. The verdict goes by the stated one.

    References
    ----------
    FRICTION-MEMORY
    """
    return next(float(row["dry"]) for row in table("deck-friction")["rows"] if row["piece"] == "not swept")


def asked_g() -> Array:
    """What is asked, one for each of ``CRITERIA``; 0 where nothing is."""
    return np.concatenate([tiedown.required_g(criterion=c) for c in ("working", "breaking")])


def limits_lb(outfit: Outfit, anchor_lb: float, point_lb: float) -> tuple[float, float]:
    """Working load limit and breaking strength of one tie-down; what is not known never governs here."""
    line, hook, binder = (
        np.inf if v is None else float(v) for v in (outfit.line_wll_lb, outfit.hook_wll_lb, outfit.binder_wll_lb)
    )
    ends = min(binder, anchor_lb, point_lb)
    factor = outfit.line_factor or 1.0
    return min(line, hook, ends), min(factor * min(line, hook), tiedown_gear.part_factor() * ends)


@dataclass(frozen=True)
class Cut:
    """A bound: no set holds more in this direction than ``base`` and what each tie-down is worth a pound."""

    criterion: int
    base: float
    worth: Array

    def of_single(self, wrench: Array, most_lb: Array) -> Array:
        """What each tie-down adds to the bound, shape ``(single,)``."""
        return np.maximum(wrench @ self.worth, 0.0) * most_lb


class Scorer:
    """Programs of one piece.

    Parameters
    ----------
    scene : Scene
        Of a piece whose weight, center of gravity and contact are known.
    most_friction : float
        Friction counts no higher than this, and for this where it is not known.
    """

    def __init__(self, scene: Scene, *, most_friction: float = np.inf) -> None:
        self.piece = {name: scene.number(name) for name in scene.columns}
        if not self.piece["deck_friction"] <= most_friction:
            self.piece["deck_friction"] = min(most_friction, 1.0)
        self.weight = self.piece["secured_weight_lb"]
        height = self.piece["secured_deck_height_in"] + self.piece["secured_cg_height_in"]
        self.about = np.array([self.piece["secured_cg_x_in"], 0.0, height])
        nowhere = np.zeros((0, 3))
        empty = program(
            path=np.zeros(0), anchor_in=nowhere, point_in=nowhere, far_in=nowhere, limit_lb=np.zeros(0),
            drawn_lb=np.zeros(0), piece=self.piece,
        )  # fmt: skip
        self._fixed = {n: empty[n] for n in ("contact_in", "about_in", "weight_lb", "friction")}
        self.asked = asked_g()

    @staticmethod
    def fits(scene: Scene) -> bool:
        """Whether everything a program needs is known; friction may be missing."""
        wanted = [n for n in scene.columns if n.startswith("secured_") and n.endswith(("_in", "_lb"))]
        return not any(np.isnan(scene.number(n)) for n in wanted if n != "secured_length_in")

    def held(self, criterion: int, wrench: Array, most_lb: Array, least_lb: Array | float = 0.0) -> tuple[float, Cut]:
        """Acceleration a set of tie-downs holds in one direction, and the bound its prices are."""
        from rubrail.mechanics.lashing_lp import held

        direction = CRITERIA[criterion][1]
        least = np.broadcast_to(np.asarray(least_lb, float), most_lb.shape)
        answer = held(pull=wrench, least_lb=least, most_lb=most_lb, directions=(direction,), **self._fixed)[0]
        gain = wrench @ answer.worth
        spent = float(np.maximum(gain * most_lb, gain * least).sum())
        return answer.g, Cut(criterion, answer.g - spent + _SLACK, answer.worth)

    def first_cuts(self) -> list[Cut]:
        """Bounds from forces alone: friction holds its share, each tie-down its pull and the friction it adds."""
        friction = self._fixed["friction"]
        cuts = []
        for index, (_, n) in enumerate(CRITERIA):
            up = n == len(tiedown.DIRECTIONS) - 1
            against = -TOWARD[n] - (0.0 if up else friction) * np.array([0.0, 0.0, 1.0])
            worth = np.concatenate([against, np.zeros(3)]) / self.weight
            cuts.append(Cut(index, 0.0 if up else friction, worth))
        return cuts

    def share(
        self, wrench: Array, working_lb: Array, breaking_lb: Array, *, order: Sequence[int], stop_below: float
    ) -> tuple[float, list[Cut]]:
        """Least of held over asked, as far as it matters, and the bounds found on the way.

        Parameters
        ----------
        order : sequence of int
            Criteria in the order to try them.
        stop_below : float
            The search ends with the first criterion at or below this share.
        """
        least, cuts = np.inf, []
        for criterion in order:
            limit = working_lb if CRITERIA[criterion][0] == "working" else breaking_lb
            held, cut = self.held(criterion, wrench, limit)
            cuts.append(cut)
            least = min(least, held / self.asked[criterion])
            if least <= stop_below:
                break
        return least, cuts
