"""Deck height of a build, part by part, each with how it is known."""

from __future__ import annotations

from dataclasses import dataclass

from rubrail.mechanics.deckheight import deck_height_in
from rubrail.rules.tables import figure
from rubrail.rules.tires import tire_size

STATED, FROM_SIZE, TYPICAL, UNKNOWN = "stated", "from the tire's size", "typical", "not known"
NAN = float("nan")


@dataclass(frozen=True, slots=True)
class Part:
    """One height of the stack: what it is, inches (``nan`` where not known), and how it is known."""

    name: str
    height_in: float
    known: str


@dataclass(frozen=True, slots=True)
class DeckStack:
    """A deck's height and the parts it adds up from, ground first."""

    parts: tuple[Part, ...]

    @property
    def height_in(self) -> float:
        """Ground to the top of the deck, tires at their rated load; ``nan`` where a part is not known. [in]"""
        radius, spring, beam, across, deck = (p.height_in for p in self.parts)
        return float(
            deck_height_in(
                loaded_radius_in=radius,
                axle_to_frame_in=spring,
                beam_depth_in=beam,
                stacked=0,
                crossmember_depth_in=0,
                crossmember_rise_in=across,
                deck_thickness_in=deck,
            )
        )

    @property
    def missing(self) -> tuple[str, ...]:
        """Parts to go and measure."""
        return tuple(p.name for p in self.parts if p.known == UNKNOWN)


def _part(name: str, stated: float | None, fallback: float | None = None, known: str = TYPICAL) -> Part:
    if stated is not None:
        return Part(name, float(stated), STATED)
    return Part(name, NAN, UNKNOWN) if fallback is None else Part(name, float(fallback), known)


def _radius(loaded_radius_in: float | None, size: str | None) -> Part:
    try:
        by_size = None if size is None else tire_size(size).loaded_radius_in
    except ValueError:
        by_size = None
    return _part("loaded tire", loaded_radius_in, by_size, FROM_SIZE)


def deck_stack(
    *,
    loaded_radius_in: float | None,
    tire: str | None,
    axle_to_frame_in: float | None,
    beam_depth_in: float | None,
    stacked: bool | None,
    crossmember_depth_in: float | None,
    crossmember_rise_in: float | None,
    deck_thickness_in: float | None,
    planks: bool | None,
) -> DeckStack:
    """Add up a deck's height from what is known of its build.

    The tire's radius may come from its size, a pierced crossmember's rise and the thickness of planks from what is
    typical; nothing else is guessed.

    Parameters
    ----------
    loaded_radius_in : float or None
        Axle center to ground. [in]
    tire : str or None
        Tire size as marked, used where the radius is not stated; a size that is not metric counts as not known.
    axle_to_frame_in : float or None
        Axle center up to the underside of the main beam. [in]
    beam_depth_in : float or None
        Depth of the main beam. [in]
    stacked : bool or None
        Whether the crossmembers lie on the beams; False where they pierce them.
    crossmember_depth_in, crossmember_rise_in : float or None
        Their depth; their top above the beam's top where they pierce it. [in]
    deck_thickness_in : float or None
        Thickness of the deck. [in]
    planks : bool or None
        Whether the deck is of dressed 2 in planks, used where its thickness is not stated.

    References
    ----------
    DECK-STACK, COMMON-PRACTICE, DRESSED-LUMBER
    """
    if stacked is None:
        across = Part("crossmembers above the main beam", NAN, UNKNOWN)
    elif stacked:
        across = _part("crossmembers above the main beam", crossmember_depth_in)
    else:
        across = _part(
            "crossmembers above the main beam", crossmember_rise_in, figure("frame-typical", "pierced_rise_in")
        )
    return DeckStack(
        (
            _radius(loaded_radius_in, tire),
            _part("axle center to main beam", axle_to_frame_in),
            _part("main beam", beam_depth_in),
            across,
            _part("deck", deck_thickness_in, figure("frame-typical", "dressed_two_by_in") if planks else None),
        )
    )
