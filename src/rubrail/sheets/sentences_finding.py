"""How to find out one input of a truck, a machine or a haul: where to look, in words for somebody standing there."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from rubrail.answers.report import Need
from rubrail.sheets.sentences_words import FLAG, begin, called, found_out, which

if TYPE_CHECKING:
    from rubrail.things.haul import Haul

_LABEL: Final = "Read the white label in the driver's door frame."
_TICKET: Final = "Weigh the truck axle by axle, fueled, nobody in it; write the scale ticket's figures."
_HITCH: Final = "Read the plate or sticker on the hitch; the least of hitch, ball mount and ball counts."
_TAPE: Final = "Measure it with a tape."
_HOW: Final = (
    (r"^truck_(gvwr|front_gawr|rear_gawr|label_gcwr)_lb$", _LABEL),
    (
        r"^truck_(gcwr|tow_rating)_lb$",
        "Look it up on the towing pages of its manual, for this engine and axle.",
    ),
    (r"^truck_(front|rear)_axle_lb$", _TICKET),
    (r"^truck_(front|rear)_tire_load_lb$", "Read the load on the tire's sidewall; on duals the dual figure."),
    (r"^truck_rear_tire_count$", "Count the tires on the rear axle."),
    (r"^truck_registered_lb$", "Read it on the registration."),
    (r"^truck_wheelbase_in$", "Measure from front hub to rear hub."),
    (r"^truck_plug$", "Look at the socket by the hitch and count its contacts."),
    (r"^brake_controller_fitted$", "Look under the dash for a trailer brake controller, or for its button."),
    (r"^bed_rail_height_in$", "Measure from the ground to the top of the bed rail, truck empty."),
    (r"^bed_end_behind_axle_in$", "Measure from rear hub to the end of the bed, tailgate shut."),
    (r"^hitch_to_cab_in$", "Measure from the ball or plate to the back of the cab."),
    (r"^hitch_present$", "Look what hitches the truck has, and tick them."),
    (r"^hitch_.*rating_lb$", _HITCH),
    (r"^hitch_height_in$", "Measure from the ground to the top of the ball or plate, truck loaded to tow."),
    (r"^hitch_ball_size_in$", "Read the size stamped on top of the ball."),
    (r"^hitch_ahead_in$", "Measure from rear hub to the middle of the ball or plate."),
    (r"^front_restoration$", "Measure the front fender before and after hitching up, and after setting the bars."),
    (r"^gear_weight_lb$", "Ask what they weigh, or weigh the truck with them aboard."),
    (r"^gear_x_in$", "Measure from front hub to the middle of it."),
    (r"^item_weight_lb$", "Weigh the machine as it will travel, or read its plate and add what is fitted."),
    (r"^item_cg_in$", "Weigh it axle by axle, or look up the balance point in its manual."),
    (r"^item_(contact|width|length|height).*_in$", "Measure the machine as it will travel."),
    (r"^limit_", "Ask the state's permit office, and write it under the limits of the road."),
    (r"^use$", "Ask whether it is private, for the buyer's own business, for hire, or farm use."),
    (r"^interstate$", "Ask whether the haul crosses a state line."),
    (r"^license_held$", "Ask to see the driver's license."),
)

_WHAT: Final = {
    "item_weight_lb": "weight",
    "item_cg_in": "center of gravity",
    "item_length_in": "length",
    "item_width_in": "width",
    "item_height_in": "height",
    "item_contact_front_in": "where it begins to bear on the deck",
    "item_contact_rear_in": "where it ceases to bear on the deck",
    "item_contact_width_in": "width over the wheels or tracks",
    "gear_weight_lb": "weight aboard",
    "gear_x_in": "place aboard",
    "truck_gvwr_lb": "truck's GVWR",
    "truck_gcwr_lb": "truck's GCWR",
    "truck_front_gawr_lb": "truck's front GAWR",
    "truck_rear_gawr_lb": "truck's rear GAWR",
    "truck_front_axle_lb": "truck's front axle, empty",
    "truck_rear_axle_lb": "truck's rear axle, empty",
    "truck_wheelbase_in": "truck's wheelbase",
    "truck_registered_lb": "registered weight of truck and trailer",
    "truck_tow_rating_lb": "maker's trailer rating for this hitch",
    "hitch_gross_rating_lb": "hitch's rated trailer weight",
    "hitch_vertical_rating_lb": "hitch's rated load on it",
    "hitch_wd_gross_rating_lb": "hitch's rated trailer weight, distributing",
    "hitch_wd_vertical_rating_lb": "hitch's rated load on it, distributing",
    "hitch_height_in": "height of the hitch",
    "hitch_ahead_in": "place of the hitch on the truck",
    "use": "what the haul is for",
    "license_held": "license the driver holds",
}


def how_to_find(need: Need) -> str:
    """One or two sentences: where to look and what to do."""
    if need.basis in ("weighed", "measured"):
        return "It is measured already, and the verdict is that close: weigh the loaded rig."
    for pattern, says in _HOW:
        if re.search(pattern, need.name):
            return says
    there = found_out(need)
    return f"To be had {there}." if there else _TAPE if need.name.endswith("_in") else "Ask the buyer."


def what_it_is(need: Need, haul: Haul) -> str:
    """An input by name, of what it is: ``Weight of the track loader``; a yes-or-no input as a question.

    Parameters
    ----------
    need : Need
        The input.
    haul : Haul
        Whose it is, with its truck and cargo resolved.
    """
    says = _WHAT.get(need.name) or need.says
    says = f"whether {says.removeprefix(FLAG)}" if says.startswith(FLAG) else says
    of = which(need)
    gear = re.fullmatch(r"gear (\d+)", of)
    if gear:
        return begin(f"{says}: {haul.truck.gear[int(gear[1]) - 1].says}")
    piece = next((p for p in (load.piece for load in haul.cargo) if p.id == of), None)
    return begin(f"{says} of {called(piece.title or '', piece.id, what='piece')}" if piece else says)
