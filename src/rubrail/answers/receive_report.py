"""What receiving a unit answers: plain frozen records, which go to screen, terminal, JSON and paper as they are."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rubrail.rules.lamps import Lamp
from rubrail.rules.vin_suspects import Suspect

SAME, DIFFERS, NOT_KNOWN, NOT_ORDERED = "same", "differs", "not known", "not ordered"
"""How a field as received stands to the field as ordered."""
ACCEPT, EXCEPTIONS, REFUSE = "accept", "accept with exceptions", "refuse"
OUTCOMES = (REFUSE, EXCEPTIONS, ACCEPT)
"""What can be done with what came, gravest first."""


@dataclass(frozen=True, slots=True)
class VinReading:
    """One reading of the VIN.

    place : where it was read: ``label``, ``frame``, ``papers``, ``order``; vin : as read, without blanks;
    valid : by length, letters, check digit and year code; faults : one sentence for each thing wrong;
    maker : maker's identifier, ``""`` where the length is wrong; known_maker : ``True`` where the yard knows it for
    this maker, ``None`` where the yard knows none; years : model years its year code can mean;
    suspects : single changes that would make it valid, likeliest first; cautions : what looks odd though no rule
    forbids it.
    """

    place: str
    vin: str
    valid: bool
    faults: tuple[str, ...]
    maker: str
    known_maker: bool | None
    year: int | None
    years: tuple[int, ...]
    suspects: tuple[Suspect, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VinDifference:
    """One place at which two readings of the VIN differ.

    first, second : where the two were read; place : counted from 1; first_reads, second_reads : the characters;
    often_mistaken : the two are often taken for each other; backed : which of the two readings the check digit
    supports, ``""`` for neither or both; caught : the check digit tells these two characters apart at this place.
    """

    first: str
    second: str
    place: int
    first_reads: str
    second_reads: str
    often_mistaken: bool
    backed: str
    caught: bool


@dataclass(frozen=True, slots=True)
class VinFindings:
    """What the readings of the VIN say.

    verdict : ``clear`` where label and papers are valid and say the same, ``over`` where a reading is not valid, two
    of them differ or the year contradicts the unit's, ``not known`` where label or papers were not read;
    agree : whether all readings are the same, ``None`` with fewer than two; year_agrees : whether the year code can
    mean the unit's model year, ``None`` where either is not known.
    """

    verdict: str
    readings: tuple[VinReading, ...]
    differences: tuple[VinDifference, ...]
    agree: bool | None
    year_agrees: bool | None


@dataclass(frozen=True, slots=True)
class ReceivedField:
    """One field as ordered and as received.

    path : its name in the trailer's file, members of lists by number from 0; group : heading it stands under;
    label : what it is called; ordered, received : as text, ``not known`` where nobody said; ordered_value,
    received_value : the numbers of measured fields; allows : how far two measured numbers may be apart and still be
    the same; verdict : ``same``, ``differs``, ``not known`` (ordered and not read) or ``not ordered``;
    touches : ``payload`` where what it carries rests on it, ``limits`` where another limit does, else ``""``;
    limits : the checks that rest on it; label_lb, axles_lb, alone_lb : what this difference alone does to the payload
    by label, by axles, and of the trailer alone at its best place, negative where it carries less; ``nan`` where it
    does not differ or cannot be told. [lb]
    """

    path: str
    group: str
    label: str
    unit: str
    ordered: str
    received: str
    ordered_value: float
    received_value: float
    allows: float
    verdict: str
    touches: str
    limits: tuple[str, ...]
    label_lb: float
    axles_lb: float
    alone_lb: float = math.nan


@dataclass(frozen=True, slots=True)
class LabelRow:
    """One figure on the label, on the papers and in the order.

    verdict : ``same``, ``differs`` or ``not known``; governs : the label's figure is the one that counts.
    """

    path: str
    label: str
    unit: str
    on_label: str
    on_papers: str
    in_order: str
    verdict: str
    governs: bool


@dataclass(frozen=True, slots=True)
class RatingLine:
    """One rating against what the others ask of it.

    kind : ``law``, ``rating``, ``guidance`` or ``duty``; member : which axle, ``""`` for the whole;
    demand, limit, margin : in ``unit``, ``nan`` where not known; verdict : ``clear``, ``depends`` (guidance fails),
    ``over``, ``not known`` or ``does not apply``; missing : what to read on the unit; source : keys of the source
    records; says : what it means in one sentence.
    """

    key: str
    title: str
    kind: str
    member: str
    demand: float
    limit: float
    margin: float
    unit: str
    verdict: str
    missing: tuple[str, ...]
    source: tuple[str, ...]
    says: str


@dataclass(frozen=True, slots=True)
class PayloadChange:
    """What the unit carries as ordered and as received, one way of reckoning it.

    key : ``label``, ``axles`` or ``alone``; change_lb : received less ordered, ``nan`` where either is not known.
    """

    key: str
    title: str
    ordered_lb: float
    received_lb: float
    change_lb: float


@dataclass(frozen=True, slots=True)
class ReceiveReason:
    """Why an outcome is proposed.

    outcome : the gravest this reason allows; code : what kind of reason; about : the field, line or place;
    says : one sentence that can stand on the bill of lading.
    """

    outcome: str
    code: str
    about: str
    says: str


@dataclass(frozen=True, slots=True)
class Receiving:
    """A unit received.

    ordered_as : what the order calls it, ``""`` where there is none to compare; proposed : ``accept``,
    ``accept with exceptions`` or ``refuse``; a person decides; reasons : gravest first; costliest : path of the
    differing field that alone costs most payload, ``""`` for none; need_lb, short_lb : heaviest load a buyer waits to
    put on it, and how far what came falls short of that.
    """

    unit: str
    title: str
    compared: bool
    ordered_as: str
    proposed: str
    reasons: tuple[ReceiveReason, ...]
    vin: VinFindings
    fields: tuple[ReceivedField, ...]
    label: tuple[LabelRow, ...]
    consistency: tuple[RatingLine, ...]
    lamps: tuple[Lamp, ...]
    marked_in: float
    payload: tuple[PayloadChange, ...]
    costliest: str
    need_lb: float
    short_lb: float
