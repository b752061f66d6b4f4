"""What is read and measured when a trailer is hitched to the truck that came for it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from rubrail.quantity.parse import UnreadableError, parse_quantity
from rubrail.things.trailer import Trailer

Readings = Mapping[str, float | str | bool]
"""Values by name: numbers in the field's unit, the word of a plug, whether there is a brake controller."""
PLUGS = ("4-way", "6-way", "7-way", "air and 7-pin")


class ReadingError(ValueError):
    """What was read or measured is not taken; ``faults`` has one sentence for each."""

    def __init__(self, *faults: str) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to read or to measure.

    unit : of a number, ``""`` for a word or a yes; least, most : what a number may be
    basis : ``label`` where it is read off a plate or a stamp, else ``measured``
    truck, hitch, trailer : the path it is written to, of which one is given; without any it is reckoned with
    """

    name: str
    says: str
    unit: str
    least: float = 0.0
    most: float = 0.0
    basis: str = "measured"
    truck: str = ""
    hitch: str = ""
    trailer: str = ""


FIELDS: Mapping[str, Field] = {
    f.name: f
    for f in (
        Field("truck_gvwr_lb", "GVWR on the door label", "lb", 1_000, 80_000, "label", truck="ratings.gvwr_lb"),
        Field(
            "truck_front_gawr_lb", "front axle rating on the door label", "lb", 500, 30_000, "label",
            truck="ratings.front_gawr_lb",
        ),
        Field(
            "truck_rear_gawr_lb", "rear axle rating on the door label", "lb", 500, 60_000, "label",
            truck="ratings.rear_gawr_lb",
        ),
        Field("truck_front_tire_psi", "lowest of the truck's front tires, cold", "psi", 1, 150),
        Field("truck_front_tire_max_lb", "most one front tire carries, off its sidewall", "lb", 300, 12_000),
        Field("truck_front_tire_max_psi", "pressure of that load, off the front tire's sidewall", "psi", 20, 150),
        Field("truck_rear_tire_psi", "lowest of the truck's rear tires, cold", "psi", 1, 150),
        Field("truck_rear_tire_max_lb", "most one rear tire carries as mounted, off its sidewall", "lb", 300, 12_000),
        Field("truck_rear_tire_max_psi", "pressure of that load, off the rear tire's sidewall", "psi", 20, 150),
        Field(
            "hitch_ball_size_in", "size stamped on the truck's ball, hook or plate", "in", 1, 6, "label",
            hitch="ball_size_in",
        ),
        Field("ball_rating_lb", "rating stamped on the ball", "lb", 500, 200_000, "label"),
        Field("hitch_gross_rating_lb", "gross rating on the hitch's plate", "lb", 500, 200_000, "label"),
        Field("hitch_vertical_rating_lb", "rating for the load on the hitch, on its plate", "lb", 50, 60_000, "label"),
        Field(
            "hitch_height_in", "height of the ball with the trailer on it", "in", 8, 80, hitch="height_in",
        ),
        Field("coupler_ball_size_in", "size stamped on the coupler", "in", 1, 6, "label",
              trailer="coupling.ball_size_in"),
        Field("bed_rail_height_in", "height of the bed rail", "in", 20, 90, truck="size.bed_rail_height_in"),
        Field("hitch_to_cab_in", "hitch to the back of the cab", "in", 0, 200, truck="size.hitch_to_cab_in"),
        Field(
            "neck_underside_height_in", "height of the neck's underside", "in", 20, 120,
            trailer="coupling.neck_underside_height_in",
        ),
        Field("neck_room_in", "least room between neck and bed rail, hitched", "in", 0, 60),
        Field("deck_front_height_in", "height of the deck's front edge, hitched", "in", 4, 90),
        Field("deck_rear_height_in", "height of the level deck's rear edge, hitched", "in", 4, 90),
        Field("brake_controller", "brake controller in the cab", "", truck="brake_controller"),
        Field("truck_plug", "the truck's plug", "", truck="plug"),
    )
}  # fmt: skip
TIRE = re.compile(r"tire_psi_(\d)")
_TIRE_SAYS = "lowest tire of trailer axle {}, cold"


def field_of(name: str, *, axles: int) -> Field | None:
    """The field of a name; the tires of each axle have one, ``tire_psi_1`` and on."""
    tire = TIRE.fullmatch(name)
    if tire and 1 <= int(tire[1]) <= axles:
        n = int(tire[1])
        return Field(name, _TIRE_SAYS.format(n), "psi", 5, 150, trailer=f"axle.{n - 1}.tires.pressure_psi")
    return FIELDS.get(name)


def names_for(trailer: Trailer) -> tuple[str, ...]:
    """Every name that may be given for a trailer."""
    return (*FIELDS, *(f"tire_psi_{n}" for n in range(1, len(trailer.axle) + 1)))


def read_readings(given: Mapping[str, object], *, trailer: Trailer) -> dict[str, float | str | bool]:
    """Readings from what somebody typed or a file says, by name.

    Parameters
    ----------
    given : mapping
        Text with or without a unit, or plain numbers in the field's own unit.
    trailer : Trailer
        Its axles have tires to be measured.

    Raises
    ------
    ReadingError
        With every fault at once.
    """
    found: dict[str, float | str | bool] = {}
    faults = []
    for name, value in given.items():
        field = field_of(name, axles=len(trailer.axle))
        if field is None:
            faults.append(f"{name!r} is nothing that is measured here; it must be one of "
                          f"{', '.join(names_for(trailer))}.")  # fmt: skip
            continue
        try:
            found[name] = _read(field, value)
        except ReadingError as fault:
            faults += fault.faults
    if faults:
        raise ReadingError(*faults)
    return found


def _read(field: Field, value: object) -> float | str | bool:
    if field.name == "brake_controller":
        words = {"yes": True, "no": False, "true": True, "false": False}
        if isinstance(value, bool) or str(value).lower() in words:
            return value if isinstance(value, bool) else words[str(value).lower()]
        raise ReadingError(f"{field.name} ({field.says}) must be yes or no, got {str(value)[:40]!r}.")
    if field.name == "truck_plug":
        if value in PLUGS:
            return str(value)
        raise ReadingError(f"{field.name} ({field.says}) must be one of {', '.join(PLUGS)}, got {str(value)[:40]!r}.")
    try:
        if isinstance(value, bool):
            raise UnreadableError("is no number")
        number = parse_quantity(str(value), field.unit)
    except UnreadableError:
        number = float("nan")
    if not field.least <= number <= field.most:
        raise ReadingError(
            f"{field.name} ({field.says}) must be {field.least:,g} to {field.most:,g} {field.unit},"
            f" got {str(value)[:40]!r}."
        )
    return float(number)
