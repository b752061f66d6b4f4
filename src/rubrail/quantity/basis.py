"""Where a number came from, and how far it may be off for that reason: the one table of default tolerances."""

from dataclasses import dataclass

BASES = ("label", "weighed", "measured", "maker", "estimated", "typical")
"""``label``: the certification label or a stamped rating. ``weighed``: a scale ticket. ``measured``: by tape or gauge.
``maker``: the maker's sheet. ``estimated``: somebody's judgment. ``typical``: our default for the class."""

BASIS_SAYS = {
    "label": "on the certification label, or stamped on the part",
    "weighed": "from a scale ticket",
    "measured": "taken with a tape or a gauge",
    "maker": "from the maker's sheet",
    "estimated": "somebody's judgment",
    "typical": "a default for the class",
}


@dataclass(frozen=True, slots=True)
class Tolerance:
    """A tolerance stated as an amount, as a share of the number, or both; the larger counts."""

    amount: float = 0.0
    share: float = 0.0

    def of(self, number: float) -> float:
        """Tolerance of one number, in the number's own unit."""
        return max(self.amount, self.share * abs(number))


_NONE = Tolerance()

# One row a kind of number. Common practice, no source: the `estimated` figures for machine weight (5 %), center of
# gravity (4 in), empty weight (150 lb) and axle place (2 in) are what the trade carries; the rest are in proportion.
# Amounts are in the core unit of the kind: lb, in, psi, degrees, lb/in.
TOLERANCES: dict[str, dict[str, Tolerance]] = {
    "machine weight": {
        "weighed": Tolerance(40, 0.005),
        "measured": Tolerance(40, 0.005),
        "maker": Tolerance(share=0.03),
        "estimated": Tolerance(share=0.05),
        "typical": Tolerance(share=0.10),
    },
    "empty weight": {
        "weighed": Tolerance(40),
        "measured": Tolerance(40),
        "maker": Tolerance(150),
        "estimated": Tolerance(150),
        "typical": Tolerance(300),
    },
    "coupler load": {
        "weighed": Tolerance(20),
        "measured": Tolerance(20),
        "maker": Tolerance(75),
        "estimated": Tolerance(100),
        "typical": Tolerance(200),
    },
    "gear weight": {
        "weighed": Tolerance(5),
        "measured": Tolerance(5),
        "maker": Tolerance(10),
        "estimated": Tolerance(25),
        "typical": Tolerance(50),
    },
    # One bale or pallet of many: guesses of a bale miss by 100 lb and more.
    "piece weight": {
        "weighed": Tolerance(share=0.01),
        "measured": Tolerance(share=0.01),
        "maker": Tolerance(share=0.03),
        "estimated": Tolerance(share=0.10),
        "typical": Tolerance(share=0.15),
    },
    "center of gravity": {
        "weighed": Tolerance(1),
        "measured": Tolerance(1),
        "maker": Tolerance(2),
        "estimated": Tolerance(4),
        "typical": Tolerance(6),
    },
    "place": {
        "weighed": Tolerance(1),
        "measured": Tolerance(0.5),
        "maker": Tolerance(1),
        "estimated": Tolerance(2),
        "typical": Tolerance(4),
    },
    "length": {
        "weighed": Tolerance(1),
        "measured": Tolerance(0.5),
        "maker": Tolerance(1),
        "estimated": Tolerance(2),
        "typical": Tolerance(4),
    },
    "width": {
        "weighed": Tolerance(0.5),
        "measured": Tolerance(0.25),
        "maker": _NONE,  # makers build to the legal width and state the most it comes to
        "estimated": Tolerance(1),
        "typical": Tolerance(2),
    },
    "height": {
        "weighed": Tolerance(0.5),
        "measured": Tolerance(0.5),
        "maker": Tolerance(1),
        "estimated": Tolerance(1),
        "typical": Tolerance(2),
    },
    "pressure": {
        "weighed": Tolerance(1),
        "measured": Tolerance(1),
        "maker": _NONE,
        "estimated": Tolerance(5),
        "typical": Tolerance(5),
    },
    "angle": {
        "weighed": Tolerance(0.5),
        "measured": Tolerance(0.5),
        "maker": Tolerance(1),
        "estimated": Tolerance(2),
        "typical": Tolerance(3),
    },
    "spring rate": {
        "weighed": Tolerance(share=0.05),
        "measured": Tolerance(share=0.05),
        "maker": Tolerance(share=0.10),
        "estimated": Tolerance(share=0.20),
        "typical": Tolerance(share=0.30),
    },
    # A rating that was read has nothing to be off by. One that nobody read is no rating yet: the classes of trucks in
    # the trade's own tables spread about a tenth either side.
    "rating": {"estimated": Tolerance(share=0.05), "typical": Tolerance(share=0.10)},
    # Chosen: nothing to be off by.
    "nominal": {},
}


def default_tolerance(*, kind: str, basis: str, number: float) -> float:
    """Tolerance of a number that states none.

    Parameters
    ----------
    kind : str
        Row of ``TOLERANCES``.
    basis : str
        One of ``BASES``; ``label`` has none whatever the kind.
    number : float
        The number, in the unit the row is stated in.

    Raises
    ------
    KeyError
        If the kind is not in the table or the basis is not one of ``BASES``.
    """
    if basis not in BASES:
        raise KeyError(basis)
    return TOLERANCES[kind].get(basis, _NONE).of(number)
