"""How to find out one input of a truck, a machine or a haul: where to look, in words for somebody standing there."""

from __future__ import annotations

import re
from typing import Final

from rubrail.answers.report import Need
from rubrail.sheets.sentences_words import FLAG, begin, found_out, which

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
    (r"^use$", "Ask whether it is private, for the buyer's own business, for hire, or farm use."),
    (r"^interstate$", "Ask whether the haul crosses a state line."),
    (r"^license_held$", "Ask to see the driver's license."),
)


def how_to_find(need: Need) -> str:
    """One or two sentences: where to look and what to do."""
    for pattern, says in _HOW:
        if re.search(pattern, need.name):
            return says
    there = found_out(need)
    return f"To be had {there}." if there else _TAPE if need.name.endswith("_in") else "Ask the buyer."


def what_it_is(need: Need) -> str:
    """An input by name, with which piece or member: ``Rear axle rating``; a yes-or-no input as a question."""
    says = f"whether {need.says.removeprefix(FLAG)}" if need.says.startswith(FLAG) else need.says
    of = which(need)
    return begin(f"{says}, {of}" if of else says)
