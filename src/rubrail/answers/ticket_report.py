"""What a weighing answers with: plain frozen records."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Rode:
    """Someone or something in the truck while it was weighed: in what was shown, and not in the truck's own weights.

    weight_lb : ``nan`` where not known
    front_lb : of it on the front axle, the rest on the rear; as the seat and the wheelbase say, else half, and then
        ``seat_known`` is false.
    """

    says: str
    weight_lb: float
    front_lb: float
    seat_known: bool


@dataclass(frozen=True, slots=True)
class Stood:
    """One way the rig stood: its place on the ticket, counted from 1, what it carried, and who was aboard."""

    weighing: int
    state: str
    load: str
    aboard: tuple[Rode, ...]


@dataclass(frozen=True, slots=True)
class Checked:
    """One reading against all the others.

    weighing, reading : place on the ticket, counted from 1; on, side, scale : as the ticket says
    fitted_lb : what the set as a whole would have it show; doubt_lb : its standard uncertainty
    normalized : how far it stands out, in its own standard deviations; checked : share of it the others check, 0 to 1
    word : ``agrees``, ``off``, ``one of these is off``, ``waits`` (too far out until the one that is off is settled),
        ``nothing checks it``, ``set aside``, ``not read yet``
    would_be_lb : what it would have to show for the rest to agree with it; ``nan`` where nothing checks it
    why : as the ticket says, where it is set aside.
    """

    weighing: int
    reading: int
    state: str
    load: str
    on: tuple[str, ...]
    side: str
    scale: str
    shown_lb: float
    fitted_lb: float
    doubt_lb: float
    normalized: float
    checked: float
    word: str
    would_be_lb: float
    why: str = ""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One value the readings give.

    name : the value and the load it belongs to; of : ``truck``, ``trailer``, ``rig`` or ``cargo``
    number, doubt, plus_minus : value, standard uncertainty, half of the 95 % interval; ``nan`` where not told
    field : where it is written in the thing's file; ``""`` where nowhere
    before, before_plus_minus, before_basis : as the file has it now
    limit, limit_says, verdict : a rating it is held against, where there is one; ``nan`` where the file has none, and
        then ``not known`` with a load aboard
    one_more : readings, each of which alone would tell it; two_more : a pair that would, where none alone does
    missing : fields of the trailer or truck that must be known for it.
    """

    name: str
    of: str
    load: str
    unit: str
    number: float
    doubt: float
    plus_minus: float
    told: bool
    field: str = ""
    before: float = float("nan")
    before_plus_minus: float = float("nan")
    before_basis: str = ""
    limit: float = float("nan")
    limit_says: str = ""
    verdict: str = ""
    one_more: tuple[Wanted, ...] = ()
    two_more: tuple[Wanted, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def below_nothing(self) -> bool:
        """Whether it is a weight below zero with its whole interval, which no wheel stands on; a coupler may lift."""
        return self.unit == "lb" and self.name != "coupler" and self.number + self.plus_minus < 0


@dataclass(frozen=True, slots=True)
class Wanted:
    """A reading that could still be taken: how the rig stands, what it carries, what is on the plate."""

    state: str
    load: str
    on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Proposal:
    """A value to be written as weighed: whose, which field, and what stands there now."""

    of: str
    field: str
    number: float
    plus_minus: float
    before: float
    before_plus_minus: float
    before_basis: str


@dataclass(frozen=True, slots=True)
class Without:
    """What a value would be were the reading that stands out not counted."""

    name: str
    load: str
    number: float
    plus_minus: float


@dataclass(frozen=True, slots=True)
class Ticketed:
    """A ticket, answered.

    verdict : ``over`` the rig as weighed is past a rating; ``not known`` a weight of the trailer or truck it names is
    not told, or a rating of the loaded rig is on no file; ``depends`` the readings do not agree, or the interval
    reaches past a rating; else ``clear``
    freedom, chi_square, chance : degrees of freedom, misfit, and how often errors of the stated sizes misfit more
    proposals : what may be taken over; none while the readings do not agree
    without : values were the reading that stands out not counted
    stood : each way the rig stood, in the ticket's order, with who was aboard
    names, correlations : the told values, and how their errors go together, row by row.
    """

    title: str
    trailer: str
    truck: str
    verdict: str
    readings: tuple[Checked, ...]
    values: tuple[Weighed, ...]
    freedom: int
    chi_square: float
    chance: float
    agrees: bool
    proposals: tuple[Proposal, ...]
    without: tuple[Without, ...]
    stood: tuple[Stood, ...]
    names: tuple[str, ...]
    correlations: tuple[tuple[float, ...], ...]
    hitch_by_geometry: bool
    bars_drawn: bool
