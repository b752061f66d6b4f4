"""From a column of a climb back to the line of a file it came from: what to go and measure."""

from __future__ import annotations

import numpy as np

from rubrail.answers.climb_setup import Climber
from rubrail.answers.report import Need
from rubrail.answers.rig import Rigs
from rubrail.answers.settle import Asked
from rubrail.quantity.value import Value
from rubrail.things.names import CLIMBER, COLUMNS, CONTACT, LOADING
from rubrail.things.rig_loading import LOADING_CELLS, climber_cells, contact_cells, way_ramp

MACHINE_PATHS = {
    "machine_lead_over_in": "length_in and contact", "machine_trail_over_in": "length_in and contact",
    "machine_cg_in": "cg_from_front_in", "machine_slope_rad": "climbs_deg or climbs_percent",
    "machine_gauge_in": "contact.outer_width_in and each_width_in", "machine_end_x_in": "length_in and contact",
}  # fmt: skip
CONTACT_FIELDS = {
    "contact_at_in": "contact.axles_from_front_in", "contact_radius_in": "contact.wheel_radius_in",
    "contact_driven": "contact.drive", "contact_present": "contact",
}  # fmt: skip
TRAILER_PATHS = {"tilt_angle_rad": "deck.tilt_angle_deg", "way_up": "ramp"}


def climb_where(one: Rigs, climber: Climber) -> Asked:
    """Turns a raw column of one climb into what to go and measure."""
    road, trailer, piece = one.asked(0), one.trailers[0], climber.piece
    forward = climber.facing == "front-first"
    cells = {**climber_cells(piece, climber.facing), "machine_end_x_in": None}
    contacts = contact_cells(piece, climber.facing)

    def path_of(name: str, member: int) -> tuple[str, object]:
        if name in ("machine_lead_angle_rad", "machine_trail_angle_rad"):
            approach = (name == "machine_lead_angle_rad") == forward
            return f"clearance.{'approach' if approach else 'departure'}_deg of cargo {piece.id}", cells[name]
        if name in CLIMBER:
            rest = MACHINE_PATHS.get(name, COLUMNS[name].path.partition(".")[2])
            return f"{rest} of cargo {piece.id}", cells[name]
        if name in CONTACT:
            place = len(contacts) - member if forward else member + 1
            listed = f"[{place}]" if name in ("contact_at_in", "contact_radius_in") else ""
            tracks = piece.contact is not None and piece.contact.kind == "tracks"
            field = "contact.length_in" if tracks and name == "contact_at_in" else CONTACT_FIELDS[name] + listed
            return f"{field} of cargo {piece.id}", contacts[min(member, len(contacts) - 1)][name]
        rest = TRAILER_PATHS.get(name, COLUMNS[name].path.partition(".")[2])
        ramp = way_ramp(trailer)
        if rest.startswith("ramp.") and ramp is not None:
            rest = rest.replace("ramp.", f"ramp[{trailer.ramp.index(ramp) + 1}].", 1)
        return f"{rest} of trailer {trailer.id}", LOADING_CELLS[name](trailer)

    def ask(name: str, member: int | None) -> Need:
        if name == "surface_grip":
            bare = piece.contact is None or piece.contact.surface is None
            thing = f"contact.surface of cargo {piece.id}" if bare else f"ramp.surface of trailer {trailer.id}"
            return Need(name, thing, "what it runs on, and what the way up is laid with", np.nan, 0.0, "")
        if name not in (*LOADING, *CLIMBER, *CONTACT, "way_up"):
            if COLUMNS[name].path == "climb":
                return Need(name, "the climb", COLUMNS[name].says, np.nan, 0.0, "")
            return road(name, member)
        where, cell = path_of(name, member or 0)
        value = cell if isinstance(cell, Value) else None
        number = np.nan if cell is None else float(cell)
        says = COLUMNS[name].says
        return Need(name, where, says, number, value.plus_minus if value else 0.0, value.basis if value else "")

    return ask
