"""Every raw column a rig is described by: the one list of names the checks may ask for.

A column's unit is its suffix. ``per`` names the leading member axis a column has beside
``(unit, position, sample)``: ``axle``, ``item`` or ``gear``; most columns have none. Flags are 1 or 0;
kinds are small whole numbers listed in ``CODES``. ``nan`` always means *not known*.
"""

from __future__ import annotations

from dataclasses import dataclass

CODES: dict[str, tuple[str, ...]] = {
    "coupling_kind": ("ball", "gooseneck", "kingpin", "pintle"),
    "suspension_kind": ("equalized", "independent"),
    "deck_kind": ("deck-over", "between-fenders"),
    "tire_family": ("ST", "LT", "P", "commercial"),
    "brake_kind": ("none", "electric", "electric-over-hydraulic", "surge", "air"),
    "plug_kind": ("4-way", "6-way", "7-way", "air and 7-pin"),
    "tail_kind": ("none", "fixed", "lowering", "tilt"),
    "use": ("private", "own-business", "for-hire", "farm"),
    "license_held": ("regular", "C", "B", "A"),
    "tiedown_path": ("direct", "same side", "over"),
    "tiedown_holds": ("piece", "accessory"),
}


@dataclass(frozen=True, slots=True)
class Column:
    """One raw input: its name (unit as suffix), what it is, and where in the files it is written."""

    name: str
    path: str
    says: str
    per: str = ""
    codes: str = ""


def _columns(per: str, *rows: tuple[str, ...]) -> dict[str, Column]:
    return {r[0]: Column(r[0], r[1], r[2], per, r[3] if len(r) > 3 else "") for r in rows}


TRAILER = _columns(
    "",
    ("coupling_kind", "trailer.coupling.kind", "how the trailer couples", "coupling_kind"),
    ("coupler_ball_size_in", "trailer.coupling.ball_size_in", "ball the coupler is made for"),
    (
        "coupler_gross_rating_lb",
        "trailer.coupling.gross_rating_lb",
        "gross trailer weight the coupler is rated for",
    ),
    (
        "coupler_vertical_rating_lb",
        "trailer.coupling.vertical_rating_lb",
        "load on the coupler it is rated for",
    ),
    (
        "coupler_height_in",
        "trailer.coupling.height_in",
        "height of the coupling point with the trailer level",
    ),
    (
        "coupler_height_min_in",
        "trailer.coupling.height_min_in",
        "lowest setting of the coupler, trailer level",
    ),
    (
        "coupler_height_max_in",
        "trailer.coupling.height_max_in",
        "highest setting of the coupler, trailer level",
    ),
    (
        "neck_underside_height_in",
        "trailer.coupling.neck_underside_height_in",
        "ground to the underside of the neck where it passes over the truck's bed, trailer level",
    ),
    (
        "neck_swing_in",
        "trailer.coupling.neck_swing_in",
        "coupling point to the foremost corner of the trailer body",
    ),
    ("trailer_gvwr_lb", "trailer.ratings.gvwr_lb", "gross vehicle weight rating on the certification label"),
    ("trailer_advertised_lb", "trailer.ratings.advertised_lb", "number the unit is advertised by"),
    (
        "trailer_empty_weight_lb",
        "trailer.weights.empty_lb",
        "empty weight of the trailer, coupler load included",
    ),
    ("trailer_empty_coupler_lb", "trailer.weights.empty_coupler_lb", "coupler load of the empty trailer"),
    (
        "suspension_kind",
        "trailer.suspension.kind",
        "whether the axles share by an equalizer",
        "suspension_kind",
    ),
    (
        "suspension_rate_lb_per_in",
        "trailer.suspension.rate_lb_per_in",
        "spring rate of one axle (both wheels)",
    ),
    ("deck_kind", "trailer.deck.kind", "deck above the wheels or between the fenders", "deck_kind"),
    ("deck_front_x_in", "trailer.deck.front_from_coupler_in", "coupling point to the front edge of the deck"),
    ("deck_flat_length_in", "trailer.deck.flat_length_in", "length of the level deck"),
    (
        "tail_length_in",
        "trailer.deck.tail_length_in",
        "length of the sloping tail, measured level; 0 for none",
    ),
    ("tail_drop_in", "trailer.deck.tail_drop_in", "fall of the tail from the deck to its rear edge"),
    ("deck_width_in", "trailer.deck.width_in", "width of the deck"),
    ("between_fenders_in", "trailer.deck.between_fenders_in", "clear width between the fenders"),
    ("deck_height_in", "trailer.deck.height_in", "ground to the top of the deck, trailer level"),
    ("trailer_width_in", "trailer.size.width_in", "overall width of the trailer"),
    (
        "trailer_rear_x_in",
        "trailer.size.rear_from_coupler_in",
        "coupling point to the rearmost part of the trailer",
    ),
    (
        "trailer_front_x_in",
        "trailer.size.front_from_coupler_in",
        "coupling point to the front of the trailer; negative ahead of the coupling",
    ),
    ("chain_count", "trailer.chains.count", "safety chains"),
    ("chain_strength_lb", "trailer.chains.strength_lb", "least breaking strength of one safety chain"),
    ("breakaway_fitted", "trailer.breakaway", "1 where a breakaway brake device is fitted"),
    ("trailer_plug", "trailer.plug", "lighting and brake plug of the trailer", "plug_kind"),
    ("built_year", "trailer.year", "model year"),
    ("lamps_complete", "trailer.lamps_complete", "1 where every lamp and marking required was seen"),
    (
        "tax_bed_center_x_in",
        "trailer.tax.bed_center_from_coupler_in",
        "coupling point to the center of the load-carrying bed, for the excise-tax weight",
    ),
    ("price_usd", "trailer.price_usd", "asking price"),
)

AXLE = _columns(
    "axle",
    ("axle_present", "trailer.axle", "1 where the trailer has this axle"),
    ("axle_x_in", "trailer.axle.from_coupler_in", "coupling point to the axle"),
    ("axle_gawr_lb", "trailer.axle.gawr_lb", "gross axle weight rating"),
    ("axle_braked", "trailer.axle.brakes", "1 where the axle has brakes"),
    ("axle_brake_kind", "trailer.axle.brakes", "kind of brakes", "brake_kind"),
    ("axle_tire_count", "trailer.axle.tires.count", "tires on the axle, 2 or 4"),
    (
        "axle_tire_max_load_lb",
        "trailer.axle.tires.max_load_lb",
        "load one tire carries as mounted (the dual figure on duals) at its maximum pressure",
    ),
    ("axle_tire_max_pressure_psi", "trailer.axle.tires.max_pressure_psi", "pressure of the maximum load"),
    ("axle_tire_pressure_psi", "trailer.axle.tires.pressure_psi", "cold pressure the tires are run at"),
    ("axle_tire_family", "trailer.axle.tires.family", "tire standard the load table follows", "tire_family"),
    ("axle_wheel_rating_lb", "trailer.axle.wheel_rating_lb", "load one wheel is rated for"),
)

TRUCK = _columns(
    "",
    ("truck_gvwr_lb", "truck.ratings.gvwr_lb", "truck's gross vehicle weight rating"),
    ("truck_gcwr_lb", "truck.ratings.gcwr_lb", "truck's gross combination weight rating by its maker"),
    (
        "truck_label_gcwr_lb",
        "truck.ratings.label_gcwr_lb",
        "combination rating printed on the certification label; 0 where none is printed",
    ),
    ("truck_front_gawr_lb", "truck.ratings.front_gawr_lb", "front axle rating"),
    ("truck_rear_gawr_lb", "truck.ratings.rear_gawr_lb", "rear axle rating"),
    (
        "truck_front_axle_lb",
        "truck.weights.front_axle_lb",
        "front axle, truck alone, before people and gear listed",
    ),
    (
        "truck_rear_axle_lb",
        "truck.weights.rear_axle_lb",
        "rear axle, truck alone, before people and gear listed",
    ),
    ("truck_wheelbase_in", "truck.size.wheelbase_in", "front axle to rear axle"),
    ("truck_front_overhang_in", "truck.size.front_overhang_in", "front bumper to front axle"),
    ("truck_width_in", "truck.size.width_in", "width without mirrors"),
    ("truck_front_tire_load_lb", "truck.tires.front_each_lb", "load one front tire carries at its pressure"),
    (
        "truck_rear_tire_load_lb",
        "truck.tires.rear_each_lb",
        "load one rear tire carries at its pressure, as mounted",
    ),
    ("truck_rear_tire_count", "truck.tires.rear_count", "tires on the rear axle"),
    ("truck_registered_lb", "truck.registered_lb", "registered weight of the combination"),
    ("truck_tow_rating_lb", "truck.tow_ratings", "maker's trailer rating for this kind of hitch"),
    (
        "bed_rail_height_in",
        "truck.size.bed_rail_height_in",
        "ground to the top of the bed rail, truck unladen",
    ),
    (
        "bed_end_behind_axle_in",
        "truck.size.bed_end_behind_rear_axle_in",
        "rear axle to the rear end of the bed",
    ),
    ("hitch_to_cab_in", "truck.size.hitch_to_cab_in", "coupling point to the back of the cab"),
    ("turning_circle_in", "truck.size.turning_circle_in", "least turning circle of the truck, curb to curb, across"),
    ("brake_controller_fitted", "truck.brake_controller", "1 where the truck has a trailer brake controller"),
    ("truck_plug", "truck.plug", "lighting and brake plug of the truck", "plug_kind"),
    ("hitch_present", "truck.hitch", "1 where the truck has a hitch of this trailer's kind"),
    (
        "hitch_ahead_in",
        "truck.hitch.ahead_of_rear_axle_in",
        "coupling point ahead of the rear axle; negative behind",
    ),
    ("hitch_height_in", "truck.hitch.height_in", "height of the ball or plate, truck loaded to tow"),
    ("hitch_ball_size_in", "truck.hitch.ball_size_in", "ball on the truck"),
    ("hitch_gross_rating_lb", "truck.hitch.gross_rating_lb", "gross trailer weight, weight-carrying"),
    ("hitch_vertical_rating_lb", "truck.hitch.vertical_rating_lb", "load on the hitch, weight-carrying"),
    (
        "hitch_wd_gross_rating_lb",
        "truck.hitch.distributing_gross_rating_lb",
        "gross trailer weight, distributing",
    ),
    (
        "hitch_wd_vertical_rating_lb",
        "truck.hitch.distributing_vertical_rating_lb",
        "load on the hitch, distributing",
    ),
    ("weight_distribution", "haul.weight_distribution", "1 where a weight-distributing hitch is used"),
    ("front_restoration", "haul.front_restoration", "share of the lost front-axle load it returns, 0 to 1"),
)

GEAR = _columns(
    "gear",
    ("gear_weight_lb", "truck.gear.weight_lb", "people or gear in the truck"),
    ("gear_x_in", "truck.gear.behind_front_axle_in", "its place behind the front axle"),
)

ITEM = _columns(
    "item",
    ("item_present", "haul.cargo", "1 where there is such a piece of cargo"),
    ("item_weight_lb", "cargo.weight_lb", "weight with all that travels on it"),
    ("item_front_x_in", "placement", "coupling point to the foremost point of the piece as placed"),
    ("item_cg_in", "cargo.cg_from_front_in", "foremost point, as placed, to the center of gravity"),
    ("item_length_in", "cargo.length_in", "overall length as carried"),
    (
        "item_contact_front_in",
        "cargo.contact.start_from_front_in",
        "foremost point, as placed, to where the contact begins",
    ),
    ("item_contact_rear_in", "cargo.contact.length_in", "foremost point, as placed, to where the contact ends"),
    ("item_width_in", "cargo.width_in", "overall width as carried"),
    ("item_contact_width_in", "cargo.contact.outer_width_in", "width over the wheels or tracks"),
    ("item_height_in", "cargo.height_in", "height above the deck as carried"),
)

HAUL = _columns(
    "",
    ("use", "haul.use", "private, own business, for hire or farm", "use"),
    ("interstate", "haul.interstate", "1 where the haul crosses a state line"),
    ("license_held", "haul.license_held", "the driver's license group", "license_held"),
    ("limit_width_in", "limits.width_in", "greatest width without a permit"),
    ("limit_height_in", "limits.height_in", "greatest height without a permit"),
    ("limit_combination_length_in", "limits.combination_length_in", "greatest length of truck and trailer"),
    ("limit_trailer_length_in", "limits.trailer_length_in", "greatest length of the trailer"),
    ("limit_rear_overhang_in", "limits.rear_overhang_in", "load may reach so far behind the trailer"),
    ("limit_single_axle_lb", "limits.single_axle_lb", "greatest load on one axle"),
    ("limit_tandem_lb", "limits.tandem_lb", "greatest load on a tandem"),
    ("limit_gross_lb", "limits.gross_lb", "greatest weight of the combination without a permit"),
    (
        "limit_bridge_ties_up",
        "limits.bridge_ties_up",
        "1 where the state rounds an exact half of 500 lb in its bridge table up",
    ),
    ("limit_brake_exempt_lb", "limits.brake_exempt_gross_lb", "trailers up to this weight need no brakes"),
    (
        "limit_breakaway_exempt_lb",
        "limits.breakaway_exempt_gross_lb",
        "trailers up to this weight need no breakaway",
    ),
)

SECURED = _columns(
    "",
    ("secured_weight_lb", "plan", "weight of the piece that is tied down"),
    ("secured_length_in", "plan", "its length as carried"),
    ("secured_cg_x_in", "plan", "coupling point to its center of gravity as placed"),
    ("secured_cg_height_in", "plan", "its center of gravity above what it stands on"),
    ("secured_contact_front_x_in", "plan", "coupling point to where its contact with the deck begins"),
    ("secured_contact_rear_x_in", "plan", "coupling point to where its contact with the deck ends"),
    ("secured_contact_width_in", "plan", "width over its wheels, tracks or skids"),
    ("secured_deck_height_in", "plan", "ground to the deck it stands on"),
    ("secured_is_machine", "plan", "1 for a machine on wheels or tracks"),
    ("secured_is_vehicle", "plan", "1 for an automobile, light truck or van"),
    ("secured_accessory_count", "plan", "accessories that must be lowered and secured"),
    ("secured_bends", "plan", "1 where it bends in the middle, or nobody says that it does not"),
    ("articulation_locked", "plan", "1 where the plan has its articulation locked"),
    ("blocked_forward", "plan", "1 where it stands against a headboard, bulkhead or blocking"),
    ("deck_friction", "plan", "friction between the piece and the deck, as a share of what rests on it"),
    ("kit_short_count", "plan", "pieces of tie-down gear the plan uses beyond those the kit holds"),
)

TIEDOWN = _columns(
    "tiedown",
    ("tiedown_present", "plan", "1 where the plan has this tie-down"),
    ("tiedown_holds", "plan", "whether it holds the piece or one of its accessories", "tiedown_holds"),
    (
        "tiedown_path",
        "plan",
        "from an anchor straight to the piece, round it to the same side, or over it to the other side",
        "tiedown_path",
    ),
    ("tiedown_line_wll_lb", "plan", "working load limit of its chain or strap"),
    ("tiedown_line_factor", "plan", "breaking strength of that chain or strap over its working load limit"),
    ("tiedown_hook_wll_lb", "plan", "working load limit of its hooks"),
    ("tiedown_binder_wll_lb", "plan", "working load limit of its binder or ratchet"),
    ("tiedown_anchor_wll_lb", "plan", "working load limit of its anchor on the trailer, or the lower of its two"),
    ("tiedown_point_wll_lb", "plan", "working load limit of the machine's tie point; no limit where none is stated"),
    ("tiedown_tension_lb", "plan", "tension it is drawn to"),
    ("tiedown_reach_in", "plan", "length of its chain or strap"),
    ("tiedown_anchor_x_in", "plan", "coupling point to its anchor"),
    ("tiedown_anchor_y_in", "plan", "anchor right of the center line"),
    ("tiedown_anchor_z_in", "plan", "ground to its anchor"),
    ("tiedown_point_x_in", "plan", "coupling point to where it meets the piece"),
    ("tiedown_point_y_in", "plan", "where it meets the piece, right of the center line"),
    ("tiedown_point_z_in", "plan", "ground to where it meets the piece"),
    ("tiedown_far_x_in", "plan", "coupling point to its second anchor, for one that goes over"),
    ("tiedown_far_y_in", "plan", "second anchor right of the center line"),
    ("tiedown_far_z_in", "plan", "ground to its second anchor"),
)

LOADING = _columns(
    "",
    ("tail_kind", "trailer.deck.tail_kind", "how the rear of the deck lies", "tail_kind"),
    ("tail_lowered_height_in", "trailer.deck.tail_lowered_height_in", "ground to the rear edge of a tail let down"),
    ("tilt_length_in", "trailer.deck.tilt_length_in", "rear part of the level deck that tilts"),
    ("tilt_angle_rad", "climb", "deck to ground when tilted"),
    ("ramp_count", "trailer.ramp.count", "ramps that lead onto the deck; 0 for none"),
    ("ramp_length_in", "trailer.ramp.length_in", "length of a ramp"),
    ("ramp_width_in", "trailer.ramp.width_in", "width of a ramp"),
    ("ramp_gap_in", "trailer.ramp.inner_gap_in", "clear gap between two ramps as set; 0 for one across the width"),
    ("ramp_loose", "trailer.ramp.kind", "1 where ramps may be set at any distance from each other"),
    ("ramp_rating_each_lb", "trailer.ramp.rating_each_lb", "load one ramp is rated for"),
    ("ramp_rating_pair_lb", "trailer.ramp.rating_pair_lb", "load the pair of ramps is rated for"),
    ("ramp_section_stated", "climb", "1 where the section and the steel of a ramp are stated"),
    ("ramp_section_modulus_in3", "trailer.ramp.section_modulus_in3", "section modulus of one ramp"),
    ("ramp_yield_psi", "trailer.ramp.yield_psi", "yield strength of what the ramp is made of"),
    ("stands_fitted", "trailer.ramp.stands", "1 where legs stand under the rear when loading"),
    ("stand_gap_in", "trailer.ramp.stand_gap_in", "ground to the foot of those legs, let down, trailer empty"),
    ("jack_count", "trailer.jack.count", "jacks under the nose"),
    ("jack_rating_lb", "trailer.jack.rating_lb", "load one jack holds"),
)

CLIMBER = _columns(
    "",
    ("machine_weight_lb", "cargo.weight_lb", "weight of the machine that climbs"),
    ("machine_cg_in", "cargo.cg_from_front_in", "its trailing contact to its center of gravity"),
    ("machine_cg_height_in", "cargo.cg_height_in", "its center of gravity above what it stands on"),
    ("machine_lead_over_in", "cargo.length_in", "its leading contact to its leading end"),
    ("machine_trail_over_in", "cargo.length_in", "its trailing contact to its trailing end"),
    ("machine_tracked", "cargo.contact.kind", "1 on tracks, 0 on wheels or drums"),
    ("machine_belly_in", "cargo.clearance.belly_in", "ground to its lowest point between the contacts"),
    ("machine_lead_angle_rad", "climb", "steepest slope its leading end meets without touching"),
    ("machine_trail_angle_rad", "climb", "steepest slope its trailing end leaves without touching"),
    ("machine_slope_rad", "climb", "steepest slope its manual allows"),
    ("machine_gauge_in", "climb", "middle of a tire or track, or end of a drum, out from the center line"),
    ("machine_end_x_in", "placement", "coupling point to its trailing contact at its place"),
)

CONTACT = _columns(
    "contact",
    ("contact_present", "climb", "1 where the machine has this contact, the trailing one first"),
    ("contact_at_in", "cargo.contact.axles_from_front_in", "trailing contact to this one"),
    ("contact_radius_in", "cargo.contact.wheel_radius_in", "radius of its wheels; 0 for a track"),
    ("contact_driven", "cargo.contact.drive", "1 where it drives"),
)

CLIMB = _columns(
    "",
    ("way_up", "climb", "1 where ramps, a lowering tail or a tilting deck lead onto the deck"),
    ("climb_hitched", "climb", "1 hitched to the truck, 0 standing by itself"),
    ("climb_chocked", "climb", "1 where the trailer's wheels are chocked"),
    ("climb_slope_rad", "climb", "steepest slope the machine stands on"),
    ("climb_crest_in", "climb", "how far the way rises into it between its contacts"),
    ("climb_nose_rad", "climb", "steepest slope its leading end meets"),
    ("climb_tail_rad", "climb", "steepest slope its trailing end meets"),
    ("climb_grip", "climb", "friction it needs, as a share of what presses"),
    ("surface_grip", "climb", "friction there is, as a share of what presses"),
    ("climb_uphill_lb", "climb", "least that its uphill end carries"),
    ("climb_ramp_lb", "climb", "most that stands on all ramps together"),
    ("climb_ramp_moment_lb_in", "climb", "greatest bending of all ramps together"),
    ("climb_coupler_least_lb", "climb", "least load on the coupler"),
    ("climb_coupler_most_lb", "climb", "greatest load on the coupler, or on the jack under it"),
    ("climb_truck_rear_alone_lb", "climb", "load on the truck's rear axle without the trailer"),
    ("climb_truck_rear_lb", "climb", "least load on the truck's rear axle"),
    ("climb_lifted", "climb", "1 where the truck's rear, or the unhitched nose, leaves the ground"),
)

CLIMB_AXLE = _columns("axle", ("climb_axle_lb", "climb", "greatest load on this axle while the machine climbs"))

ROAD: dict[str, Column] = {**TRAILER, **AXLE, **TRUCK, **GEAR, **ITEM, **HAUL}
"""Columns every rig has, read from its files; those of other load cases are laid out by their own answers."""
COLUMNS: dict[str, Column] = {
    **ROAD, **SECURED, **TIEDOWN, **LOADING, **CLIMBER, **CONTACT, **CLIMB, **CLIMB_AXLE,
}  # fmt: skip

UNITS = {
    "_lb_per_in": "lb/in",
    "_lb_in": "lb in",
    "_lb": "lb",
    "_in": "in",
    "_psi": "psi",
    "_rad": "rad",
    "_usd": "USD",
    "_ft": "ft",
}


def unit_of(name: str) -> str:
    """Unit a name's suffix states, or ``""`` for counts, flags, kinds and ratios."""
    for suffix, unit in UNITS.items():
        if name.endswith(suffix):
            return unit
    return ""
