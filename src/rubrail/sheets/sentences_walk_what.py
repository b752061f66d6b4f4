"""What each station of a walk is, from the unit's file: one or two sentences, and the values with their basis."""

from __future__ import annotations

import math
from collections.abc import Callable

from rubrail.answers.walk_parts import Fact, Station
from rubrail.quantity.show import show
from rubrail.sheets.paper.facts import sixteenths
from rubrail.sheets.sentences_amounts import amount, feet, listed
from rubrail.sheets.sentences_words import begin

UNKNOWN = "not known"
NAMES = {
    "kind": "Kind", "ball_size_in": "Made for a ball of", "gross_rating_lb": "Rated gross",
    "vertical_rating_lb": "Rated load on it", "height_min_in": "Lowest level setting",
    "height_max_in": "Highest level setting", "height_in": "Height", "count": "How many",
    "strength_lb": "One breaks at",
    "size_in": "Size", "grade": "Grade",
    "breakaway": "Breakaway", "plug": "Plug",
    "neck_underside_height_in": "Neck's underside, level", "neck_swing_in": "Swings toward the cab",
    "front_from_coupler_in": "Deck's front behind the coupling",
    "axles_behind_front_in": "Middle of the axles behind the deck's front", "rating_lb": "Each rated",
    "flat_length_in": "Level deck", "width_in": "Width", "between_fenders_in": "Between the fenders",
    "deck_material": "Laid with", "main_beam.depth_in": "Main beam", "main_beam.weight_lb_per_ft": "Main beam weighs",
    "crossmember.depth_in": "Crossmember", "crossmember_spacing_in": "Crossmembers, on center", "build": "Built",
    "torque_tube": "Torque tube", "bridging": "Truss under the beams", "outriggers": "Outriggers", "axles": "Axles",
    "gawr_lb": "Each rated (GAWR)", "suspension": "Suspension", "brakes": "Brakes", "size": "Size",
    "load_range": "Load range", "max_load_lb": "One carries, single", "max_load_dual_lb": "One carries, dual",
    "max_pressure_psi": "At a cold pressure of", "pressure_psi": "Run at", "wheel_rating_lb": "One wheel rated",
    "differ": "Note", "frame_under_in": "Ground to the main beam's underside", "bracing": "Bracing",
    "tail_kind": "Tail", "tail_length_in": "Length", "tail_drop_in": "Falls by",
    "tail_lowered_height_in": "Rear edge when lowered", "tilt_length_in": "Part that tilts",
    "tilt_angle_deg": "Tilts to", "length_in": "Length", "rating_pair_lb": "The pair rated",
    "rating_each_lb": "One rated", "stands": "Stands", "surface": "Surface", "weight_lb": "One weighs",
    "assist": "Lifting helped by", "gvwr_lb": "Label GVWR", "empty_lb": "Empty weight",
    "lamps_complete": "Lamps and marking", "year": "Model year",
}  # fmt: skip
WORDS = {
    "equalized": "springs with an equalizer", "independent": "torsion, each axle by itself",
    "pierced": "crossmembers through the main beams", "stacked": "crossmembers on the main beams",
    "ball": "ball coupler", "pintle": "pintle eye", "fixed": "fixed slope", "lowering": "lowers",
    "tilt": "the deck tilts",
}  # fmt: skip
_LONG = (
    "flat_length_in", "tail_length_in", "tilt_length_in", "front_from_coupler_in", "axles_behind_front_in",
    "length_in",
)  # fmt: skip
_SKIP = ("part", "over_bed", "unbraked")
_ALONG = ("winch-track", "rub-rail")
"""Anchors that run along the deck: their places are counted, not they."""
_ASKED = (
    "gross_rating_lb", "vertical_rating_lb", "strength_lb", "neck_underside_height_in", "rating_lb", "height_in",
    "gawr_lb", "size", "max_load_lb", "max_load_dual_lb", "pressure_psi", "wheel_rating_lb", "gvwr_lb", "empty_lb",
    "crossmember_spacing_in", "build", "length_in", "rating_pair_lb", "breakaway", "plug", "brakes",
)  # fmt: skip
"""Facts shown even where they are not known: a limit rests on them."""


def fact_rows(station: Station, *, metric: bool = False) -> tuple[tuple[str, str], ...]:
    """Names and values with their basis in brackets; what is not known only where a limit asks for it."""
    return tuple(
        (_name(f, station), value_of(f, metric=metric))
        for f in station.facts
        if f.name not in _SKIP and (f.known or f.name in _ASKED)
    )


def _name(f: Fact, station: Station) -> str:
    if f.name.startswith("anchor."):
        kind, _, rest = f.name.removeprefix("anchor.").partition(".")
        if rest:
            return f"{begin(_tied_to(kind))}, least working load"
        return f"Places along the {_tied_to(kind)}s" if kind in _ALONG else f"{begin(_tied_to(kind))}s"
    if f.name.startswith("equipment."):
        return begin(f.word)
    if f.name.startswith("axle."):
        _, n, name = f.name.split(".")
        return f"Axle {n}, {'rated (GAWR)' if name == 'gawr_lb' else 'brakes'}"
    if station.key == "deck" and f.name == "height_in":
        return "Deck height"
    return NAMES[f.name]


def _tied_to(kind: str) -> str:
    return kind if kind == "D-ring" else kind.replace("-", " ")


def value_of(f: Fact, *, metric: bool = False) -> str:
    """A value as it is read, its basis in brackets unless it is the label's."""
    if not f.known:
        return UNKNOWN
    number = "" if math.isnan(f.value) else value_number(f, metric)
    word = "" if f.name.startswith("equipment.") else WORDS.get(f.word, f.word)
    text = ", ".join(filter(None, (number, word)))
    if f.name.startswith("equipment.") and not number:
        return "fitted"
    return f"{text} ({f.basis})" if f.basis and f.basis != "label" else text


def value_number(f: Fact, metric: bool) -> str:
    """A value without its basis."""
    if f.name in ("ball_size_in", "size_in"):
        return sixteenths(f.value)
    if f.name == "year":
        return f"{f.value:.0f}"
    if f.name == "height_in":
        # As a tape reads it, and as the same height is told beside the others.
        return show(f.value, "in", metric=metric)
    return feet(f.value, metric=metric) if f.name in _LONG else amount(f.value, f.unit, metric=metric)


def what_sentence(station: Station, *, metric: bool = False) -> str:
    """What it is, said aloud."""
    return _WHAT[station.key](station, metric)


def _say(s: Station, name: str, metric: bool) -> str:
    """A value without its basis, *not known* where it is not."""
    f = s.fact(name)
    if f is None or not f.known:
        return UNKNOWN
    return WORDS.get(f.word, f.word) if math.isnan(f.value) else value_number(f, metric)


def _rated(s: Station, name: str, metric: bool) -> str:
    f = s.fact(name)
    known = f is not None and f.known
    return f"rated for {value_number(f, metric)}" if known else "whose rating is not known"


def _coupling(s: Station, metric: bool) -> str:
    kind = s.fact("kind").word
    ball = s.fact("ball_size_in")
    names = {"ball": "A ball coupler", "gooseneck": "A gooseneck coupler", "kingpin": "A kingpin"}
    what = names.get(kind, "A pintle eye")
    size = f" for a {value_number(ball, metric)} ball" if ball.known and kind in ("ball", "gooseneck") else ""
    if ball.known and not size:
        size = f" of {value_number(ball, metric)}"
    gross = s.fact("gross_rating_lb")
    rated = f"rated for a trailer of {value_number(gross, metric)}" if gross.known else "its rating is not known"
    return f"{what}{size}, {rated}."


def _chains(s: Station, metric: bool) -> str:
    count, strength = s.fact("count"), s.fact("strength_lb")
    if not count.known:
        first = "How many safety chains it has is not known"
    elif count.value == 0:
        first = "It has no safety chains"
    else:
        breaks = f"each breaking at {value_number(strength, metric)}" if strength.known else "their strength not known"
        first = f"{_count(count.value, 'safety chain')}, {breaks}"
    plug = s.fact("plug").word
    article = "an" if plug[:1] in "aeiou" else "a"
    plug = f"{article} {plug} plug" if plug else "its plug not known"
    away = {"fitted": "a breakaway device", "none": "no breakaway device"}.get(s.fact("breakaway").word)
    if away is None:
        return f"{first}; {plug}; whether it has a breakaway device is not known."
    return f"{first}; {away} and {plug}."


def _count(n: float, what: str) -> str:
    words = {1: "One", 2: "Two", 3: "Three", 4: "Four", 6: "Six", 8: "Eight", 12: "Twelve"}
    return f"{words.get(round(n), f'{n:.0f}')} {what}{'' if n == 1 else 's'}"


def _neck(s: Station, metric: bool) -> str:
    if s.fact("part").word == "tongue":
        front = s.fact("front_from_coupler_in")
        return (
            f"The tongue reaches {value_number(front, metric)} ahead of the deck."
            if front.known
            else "How long its tongue is, is not known."
        )
    under = s.fact("neck_underside_height_in")
    if not under.known:
        return "How high the neck's underside stands is not known: measure it, trailer level."
    return f"The neck's underside stands {value_number(under, metric)} above the ground, trailer level."


def _jack(s: Station, metric: bool) -> str:
    kind, count, rating = s.fact("kind"), s.fact("count"), s.fact("rating_lb")
    if not kind.known and not rating.known:
        return "What jack it has is not known."
    name = f"{kind.word} jack".strip() if kind.known else "jack"
    many = count.known and count.value > 1
    rated = f"{'each ' if many else ''}{_rated(s, 'rating_lb', metric)}"
    return f"{_count(count.value if count.known else 1, name)}, {rated}."


def _box(s: Station, metric: bool) -> str:
    return f"Fitted: {listed([f.word for f in s.facts])}."


def _deck_front(s: Station, metric: bool) -> str:
    front = s.fact("front_from_coupler_in")
    if not front.known:
        return "Where the deck begins behind the coupling is not known: measure it."
    begins = f"The deck begins {value_number(front, metric)} behind the coupling"
    axles = s.fact("axles_behind_front_in")
    if not axles.known or axles.value <= 0:
        return f"{begins}."
    return f"{begins}, and {value_number(axles, metric)} ahead of the middle of the running gear."


def _deck(s: Station, metric: bool) -> str:
    kind = {"deck-over": "The deck lies over the wheels", "between-fenders": "The deck lies between the fenders"}.get(
        s.fact("kind").word, "The deck"
    )
    height, material = s.fact("height_in"), s.fact("deck_material").word
    high = f"{value_number(height, metric)} high" if height.known else "its height not known"
    laid = f", laid with {material}" if material else ""
    long = ", ".join(
        f"{value_number(f, metric)} {word}"
        for f, word in ((s.fact("flat_length_in"), "level"), (s.fact("width_in"), "wide"))
        if f.known
    )
    anchors = [f for f in s.facts if f.name.startswith("anchor.") and not f.name.endswith("wll_lb")]
    named = [f"{f.value:.0f} {_ties(f)}" for f in anchors]
    ties = f" It has {listed(named)}." if named else " Where one ties to it was not written down."
    return f"{kind}, {high}{f', {long}' if long else ''}{laid}.{ties}"


def _ties(f: Fact) -> str:
    kind = f.name.removeprefix("anchor.")
    if kind in _ALONG:
        return f"place{'' if f.value == 1 else 's'} along the {_tied_to(kind)}s"
    return f"{_tied_to(kind)}{'' if f.value == 1 else 's'}"


def _frame(s: Station, metric: bool) -> str:
    beam, spacing = s.fact("main_beam.depth_in"), s.fact("crossmember_spacing_in")
    main = (
        f"Main beams {value_number(beam, metric)} deep{f' ({beam.word})' if beam.word else ''}"
        if not math.isnan(beam.value)
        else "Main beams of unknown depth"
    )
    across = "the spacing of crossmembers not known"
    if spacing.known:
        across = f"a crossmember every {value_number(spacing, metric)}"
    more = [
        name for name, fact in (("a torque tube", "torque_tube"), ("a truss under the beams", "bridging"))
        if s.fact(fact).word == "fitted"
    ]  # fmt: skip
    return f"{main}, {across}{f', with {listed(more)}' if more else ''}."


def _gear(s: Station, metric: bool) -> str:
    axles, each = s.fact("axles"), s.fact("gawr_lb")
    several = axles.value > 1
    rated = "their ratings differ" if each is None else _rated(s, "gawr_lb", metric)
    first = f"{_count(axles.value, 'axle')}, {'each ' if each and each.known and several else ''}{rated}"
    hang = {
        "equalized": "on springs with an equalizer" if several else "on springs",
        "independent": "on torsion arms, each by itself" if several else "on torsion arms",
    }.get(s.fact("suspension").word)
    brake = s.fact("brakes")
    known = {"": "brakes not known", "none": "no brakes"}
    brakes = _unlike(s) if brake is None else known.get(brake.word, f"{brake.word} brakes")
    return f"{', '.join(filter(None, (first, hang, brakes)))}."


def _unlike(s: Station) -> str:
    """Brakes of axles that have not all the same: ``electric brakes on axle 1, none on axle 2``."""
    each = [(f.name.split(".")[1], f.word) for f in s.facts if f.name.endswith(".brakes")]
    said = [
        f"{'no brakes' if w == 'none' else f'{w} brakes' if w else 'brakes not known'} on axle {n}" for n, w in each
    ]
    return listed(said)


def _tires(s: Station, metric: bool) -> str:
    count, size, reach = s.fact("count"), s.fact("size"), s.fact("load_range")
    each = next((f for f in s.facts if f.name in ("max_load_lb", "max_load_dual_lb")), None)
    psi = s.fact("max_pressure_psi")
    many = _count(count.value, "tire") if count.known else "Tires"
    name = f" {size.word}" if size.known else ", size not known"
    range_ = f", range {reach.word}" if reach.known else ""
    carries = "what one carries is not known"
    if each is not None and each.known:
        carries = f"each carries {value_number(each, metric)}"
        carries += f" at {value_number(psi, metric)}" if psi.known else ", at a pressure not known"
    return f"{many}{name}{range_}; {carries}."


def _underneath(s: Station, metric: bool) -> str:
    under = s.fact("frame_under_in")
    if not under.known:
        return "Main beams, springs, hangers and wiring; how high the beams stand is not known."
    high = amount(under.value, "in", metric=metric)
    return f"Main beams, springs, hangers and wiring; by its build the beams stand {high} above the ground."


def _tail(s: Station, metric: bool) -> str:
    kind = s.fact("tail_kind").word
    if kind == "tilt":
        length = s.fact("tilt_length_in")
        return f"{value_number(length, metric)} of the deck tilts." if length.known else "Part of the deck tilts."
    length = _say(s, "tail_length_in", metric)
    if kind == "lowering":
        edge = _say(s, "tail_lowered_height_in", metric)
        return f"The last {length} lowers until its edge is {edge} above the ground."
    return f"The last {length} slopes down by {_say(s, 'tail_drop_in', metric)}."


def _ramps(s: Station, metric: bool) -> str:
    kind = s.fact("kind")
    if kind.word in ("", "none"):
        return "It has no ramps of its own." if kind.word else "How one drives up onto it was not written down."
    pair, each = s.fact("rating_pair_lb"), s.fact("rating_each_lb")
    rated = "their rating is not known"
    if pair.known:
        rated = f"rated for {value_number(pair, metric)} together"
    elif each is not None and each.known:
        rated = f"each rated for {value_number(each, metric)}"
    stands = ", with stands under the rear" if s.fact("stands").word == "fitted" else ""
    count = s.fact("count").value
    if count == 1:
        rated = rated.replace("each rated", "rated").replace(" together", "").replace("their rating", "its rating")
    many = _count(count, "gate" if kind.word == "gate" else f"{kind.word} ramp")
    return f"{many}, {_say(s, 'length_in', metric)} long, {rated}{stands}."


def _lights(s: Station, metric: bool) -> str:
    lamps = {"all seen": "Every lamp and marking was seen", "not all seen": "Not every lamp and marking was seen"}.get(
        s.fact("lamps_complete").word, "Whether every lamp and marking is there was not looked at"
    )
    gvwr = s.fact("gvwr_lb")
    label = f"the label says {value_number(gvwr, metric)} gross" if gvwr.known else "the label's rating is not known"
    return f"{lamps}; {label}."


_WHAT: dict[str, Callable[[Station, bool], str]] = {
    "coupling": _coupling, "chains": _chains, "neck": _neck, "jack": _jack, "box": _box, "deck-front": _deck_front,
    "deck": _deck, "frame": _frame, "running-gear": _gear, "tires": _tires, "underneath": _underneath, "tail": _tail,
    "ramps": _ramps, "lights": _lights,
}  # fmt: skip
