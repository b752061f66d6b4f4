"""One number with where it came from and how far it may be off."""

from dataclasses import dataclass

from rubrail.quantity.basis import BASES


@dataclass(frozen=True, slots=True)
class Value:
    """A number, its basis, and its tolerance either way.

    Parameters
    ----------
    number : float
        In the unit the field's name states.
    basis : str
        One of ``BASES``.
    plus_minus : float
        Same unit, zero or more; 0 means none.

    Raises
    ------
    ValueError
        If the basis is not one of the words or the tolerance is negative.
    """

    number: float
    basis: str = "label"
    plus_minus: float = 0.0

    def __post_init__(self) -> None:
        if self.basis not in BASES:
            raise ValueError(f"basis must be one of {', '.join(BASES)}, got {self.basis!r}")
        if not self.plus_minus >= 0:
            raise ValueError(f"plus_minus must be 0 or more, got {self.plus_minus!r}")

    def __float__(self) -> float:
        return float(self.number)

    @property
    def low(self) -> float:
        """The least it may be."""
        return self.number - self.plus_minus

    @property
    def high(self) -> float:
        """The most it may be."""
        return self.number + self.plus_minus
