"""The trailer alone, dimensioned: side view, plan, thumbnail."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubrail.sheets.drawing.dims import Rise, Span, column_width, rises, spans
from rubrail.sheets.drawing.figure import extent
from rubrail.sheets.drawing.furniture import ground, scale_bar
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.sheets.drawing.say import NOT_KNOWN, rise, run
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.tokens import NARROW_PX
from rubrail.sheets.drawing.trailer_plan import center_line, trailer_plan
from rubrail.sheets.drawing.trailer_side import trailer_side

if TYPE_CHECKING:
    from rubrail.things.trailer import Trailer

_PAD = 8.0
NOT_KNOWN_SHORT = "?"
ASSUMED_NOTE = "dashed: not known, drawn as typical of its class"
COUPLING_WORDS = {"ball": "ball coupler", "pintle": "pintle eye", "gooseneck": "gooseneck", "kingpin": "kingpin"}


def _outline(trailer: Trailer | TrailerOutline) -> TrailerOutline:
    return trailer if isinstance(trailer, TrailerOutline) else trailer_outline(trailer)


def side_view(
    trailer: Trailer | TrailerOutline,
    *,
    width_px: float = 960.0,
    metric: bool = False,
    deployed: bool = False,
    dimensions: bool = True,
) -> str:
    """SVG of the trailer from its left side, to scale from its own numbers.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
        What is drawn; a dimension it does not state is taken from the class and drawn dashed.
    width_px : float
        Width of the drawing; text keeps its size, so draw for the width it is shown at (72 px an inch on paper
        times 4/3).
    metric : bool
        Meters and centimeters.
    deployed : bool
        Ready to load: ramps down, a lowering tail let down, a tilting deck tilted.
    dimensions : bool
        Whether dimension lines are drawn.
    """
    o = _outline(trailer)
    o = o.let_down() if deployed else o
    figure = trailer_side(o, deployed=deployed, parked=True)
    brief = width_px < NARROW_PX
    left, right = side_rises(o, metric=metric, brief=brief)
    sheet = _sheet(o, width_px=width_px, metric=metric, deployed=deployed, dimensions=dimensions)
    ground(sheet)
    sheet.figure(figure, data_part="trailer")
    y = 6.0
    if dimensions:
        rises(sheet, left, right=False)
        rises(sheet, right, right=True)
        y = spans(sheet, side_spans(o, metric=metric, brief=brief), y=y)
        y = _foot(sheet, o, y=y, metric=metric)
    return sheet.svg(title=f"{o.title}: side view to scale", desc=describe(o, metric=metric), data_view="side")


def _sheet(o: TrailerOutline, *, width_px: float, metric: bool, deployed: bool, dimensions: bool) -> Sheet:
    """A sheet whose scale and margins are those of side view and plan alike, so that the two stand in line."""
    left = right = _PAD
    if dimensions:
        side_left, side_right = side_rises(o, metric=metric, brief=width_px < NARROW_PX)
        left += column_width(side_left)
        right += max(column_width(side_right), column_width(plan_rises(o, metric=metric)))
    x1, _, x2, _ = extent(trailer_side(o, deployed=deployed, parked=True))
    return Sheet(width_px=width_px, x_min_in=x1, x_max_in=x2, left_px=left, right_px=right)


def side_rises(o: TrailerOutline, *, metric: bool, brief: bool) -> tuple[list[Rise], list[Rise]]:
    """Heights dimensioned at the left end and at the right."""
    said = lambda value, *names: NOT_KNOWN_SHORT if o.rests_on(*names) else rise(value, metric=metric)  # noqa: E731
    left: list[Rise] = []
    if o.coupling != "kingpin" or not brief:
        left.append(
            Rise(0, o.coupler_height_in, said(o.coupler_height_in, "coupler_height_in"), 0.0,
                 o.rests_on("coupler_height_in"), "coupler-height")
        )  # fmt: skip
    if o.coupling == "gooseneck":
        left.append(
            Rise(0, o.neck_underside_in, said(o.neck_underside_in, "neck_underside_in"), o.front_x_in,
                 o.rests_on("neck_underside_in"), "neck-underside")
        )  # fmt: skip
    right: list[Rise] = []
    if o.tail_length_in and (o.tail_drop_in > 1 or o.rests_on("tail_drop_in")):
        right.append(
            Rise(0, o.tail_height_in, said(o.tail_height_in, "tail_drop_in", "deck_height_in"), o.deck_rear_x_in,
                 o.rests_on("tail_drop_in", "deck_height_in"), "tail-height")
        )  # fmt: skip
    right.append(
        Rise(0, o.deck_height_in, said(o.deck_height_in, "deck_height_in"), o.flat_rear_x_in,
             o.rests_on("deck_height_in"), "deck-height")
    )  # fmt: skip
    if brief:
        left = left[-1:] if o.coupling == "gooseneck" else left[:1]
        right = right[-1:]
    return left, right


def side_spans(o: TrailerOutline, *, metric: bool, brief: bool) -> list[Span]:
    """Lengths dimensioned under the trailer, nearest first."""

    def span(x1: float, x2: float, z1: float, z2: float, name: str, *rests: str, unknown: bool = False) -> Span:
        assumed = unknown or o.rests_on(*rests)
        return Span(x1, x2, NOT_KNOWN if assumed else run(x2 - x1, metric=metric), z1, z2, assumed, name)

    low = o.beam_bottom_in
    at_coupling = o.coupler_height_in - 3
    deck = [
        span(0, o.deck_front_x_in, at_coupling, low, "deck-front", "deck_front_x_in"),
        span(o.deck_front_x_in, o.flat_rear_x_in, low, low, "deck-length", "flat_length_in"),
    ]
    if o.tail_length_in:
        deck.append(
            span(o.flat_rear_x_in, o.deck_rear_x_in, low, o.tail_height_in - 5, "tail-length", "tail_length_in")
        )
    axles = []
    before, unknown = 0.0, False
    for i, axle in enumerate(o.axles):
        axles.append(
            span(before, axle.x_in, at_coupling if i == 0 else 0, 0, "axle" if i == 0 else "axle-spacing",
                 unknown=unknown or axle.x_assumed)
        )  # fmt: skip
        before, unknown = axle.x_in, axle.x_assumed
    front = 0.0 if o.rests_on("front_x_in") else min(o.front_x_in, 0.0)
    name = "overall-length" if front else "rear-from-coupler"
    overall = span(front, o.rear_x_in, at_coupling, o.tail_height_in - 5, name, "rear_x_in")
    return [*deck, overall] if brief else [*deck, *axles, overall]


def _foot(sheet: Sheet, o: TrailerOutline, *, y: float, metric: bool) -> float:
    texts = [wheels_said(o), crossmembers_said(o, metric=metric)]
    if o.assumed - {"frame_build", "front_x_in"}:
        texts.append(ASSUMED_NOTE)
    bar_left = scale_bar(sheet, y=y + 16, metric=metric)
    return sheet.caption(texts, y=y + 2, right_px=bar_left)


def wheels_said(o: TrailerOutline) -> str:
    """Axles in words."""
    n = len(o.axles)
    dual = " with dual wheels" if any(a.dual for a in o.axles) else ""
    return f"{n} axle{'s' if n > 1 else ''}{dual}"


def crossmembers_said(o: TrailerOutline, *, metric: bool) -> str:
    """Crossmember spacing in words; empty where it is not known."""
    if o.rests_on("crossmember_spacing_in"):
        return ""
    return f"crossmembers every {rise(o.crossmember_spacing_in, metric=metric)}"


def plan_view(
    trailer: Trailer | TrailerOutline,
    *,
    width_px: float = 960.0,
    metric: bool = False,
    deployed: bool = False,
    dimensions: bool = True,
) -> str:
    """SVG of the trailer from above, to the scale of its side view at the same width.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
        What is drawn.
    width_px, metric, deployed, dimensions
        As for ``side_view``.
    """
    o = _outline(trailer)
    o = o.let_down() if deployed else o
    sheet = _sheet(o, width_px=width_px, metric=metric, deployed=deployed, dimensions=dimensions)
    figure = trailer_plan(o, deployed=deployed)
    x1, _, x2, _ = extent(figure)
    sheet.figure(figure, data_part="trailer")
    sheet.figure(center_line(x1 - 4, x2 + 4), layer="lines")
    if dimensions:
        rises(sheet, plan_rises(o, metric=metric), right=True)
    return sheet.svg(title=f"{o.title}: plan to scale", desc=describe(o, metric=metric), data_view="plan")


def plan_rises(o: TrailerOutline, *, metric: bool) -> list[Rise]:
    """Widths dimensioned at the right end: between the fenders or of the deck, then overall."""
    out = []
    end = o.deck_rear_x_in
    known = not o.rests_on("deck_width_in")
    text = rise(o.deck_width_in, metric=metric) if known else NOT_KNOWN_SHORT
    out.append(Rise(-o.deck_width_in / 2, o.deck_width_in / 2, text, end, not known, "deck-width"))
    if o.deck_kind == "between-fenders":
        known = not o.rests_on("width_in")
        text = rise(o.width_in, metric=metric) if known else NOT_KNOWN_SHORT
        last = o.axles[-1]
        out.append(
            Rise(-o.width_in / 2, o.width_in / 2, text, last.x_in + last.radius_in + 4, not known, "overall-width")
        )
    return out


def thumbnail(
    trailer: Trailer | TrailerOutline, *, width_px: float = 160.0, height_px: float = 48.0, longest_in: float = 500.0
) -> str:
    """A small side drawing for lists, all in one list to the same scale.

    Parameters
    ----------
    trailer : Trailer or TrailerOutline
        What is drawn.
    width_px, height_px : float
        Size of the drawing.
    longest_in : float
        Length that fills the width; a longer trailer is drawn smaller.
    """
    o = _outline(trailer)
    figure = trailer_side(o, plain=True)
    x1, _, x2, z2 = extent(figure)
    room = width_px - 4
    scale = min(room / max(longest_in, x2 - x1), (height_px - 5) / z2)
    sheet = Sheet(width_px=width_px, x_min_in=x1, x_max_in=x1 + room / scale, left_px=2, right_px=2, weight=0.8)
    ground(sheet)
    sheet.figure(figure)
    sheet.top, sheet.bottom = -height_px + 4, 0.0
    return sheet.svg(title=f"{o.title}, side view", desc=describe(o, metric=False), data_view="thumbnail")


def describe(o: TrailerOutline, *, metric: bool) -> str:
    """The drawing in words, for those who hear it."""

    def said(words: str, value: float, *names: str) -> str:
        return f"{words} {NOT_KNOWN if o.rests_on(*names) else run(value, metric=metric)}"

    parts = [
        f"{COUPLING_WORDS[o.coupling]}, {wheels_said(o)}",
        said("level deck", o.flat_length_in, "flat_length_in"),
        said("deck width", o.deck_width_in, "deck_width_in"),
        said("deck height", o.deck_height_in, "deck_height_in"),
    ]
    if o.tail_length_in:
        parts.append(said("tail", o.tail_length_in, "tail_length_in"))
    return "; ".join(parts) + "."
