"""The whole rig: truck, trailer and cargo from the side and from above, with the loads where they act."""

from __future__ import annotations

from rubrail.sheets.drawing.dims import Rise, Span, column_width, rises, spans
from rubrail.sheets.drawing.figure import Figure, extent, moved, skyline
from rubrail.sheets.drawing.furniture import cg_mark, ground, scale_bar
from rubrail.sheets.drawing.lettering import text_box, text_width
from rubrail.sheets.drawing.loads import axle_load, coupler_load
from rubrail.sheets.drawing.placed import combined_cg_x_in, footprint
from rubrail.sheets.drawing.rig import Band, Rig
from rubrail.sheets.drawing.say import load, place, rise, run
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.svg import element
from rubrail.sheets.drawing.tokens import NARROW_PX, SMALL, pen_attributes
from rubrail.sheets.drawing.trailer_plan import center_line, trailer_plan
from rubrail.sheets.drawing.trailer_side import rail_depth_in, trailer_side
from rubrail.sheets.drawing.trailer_views import ASSUMED_NOTE, describe
from rubrail.sheets.drawing.truck import truck_plan

_PAD = 10.0


def rig_side(rig: Rig, *, width_px: float = 960.0, dimensions: bool = True) -> str:
    """SVG of the rig from its left side, to scale.

    Parameters
    ----------
    rig : Rig
        What is drawn.
    width_px : float
        Width it is shown at; letters keep their size.
    dimensions : bool
        Whether places and heights are dimensioned; loads always are.
    """
    brief = width_px < NARROW_PX
    truck, trailer, pieces = rig.truck_figure, rig.trailer_figure, rig.cargo_figures
    sheet = _sheet(rig, width_px=width_px, dimensions=dimensions)
    ground(sheet)
    sheet.figure(truck, data_part="truck")
    sheet.figure(trailer, data_part="trailer")
    for name, band in rig.bands:
        _band_side(sheet, rig, name, band)
    for i, (placed, figure) in enumerate(zip(rig.cargo, pieces, strict=True)):
        sheet.figure(
            figure, data_part="cargo", data_item=str(i), data_front_x_in=placed.front_x_in, data_cg_x_in=placed.cg_x_in
        )
    _cg_marks_side(sheet, rig)
    everything = (*truck, *trailer, *(p for f in pieces for p in f))
    top = _names(sheet, rig, everything, brief=brief)
    top = min(top, _coupler(sheet, rig, everything))
    y = max([6.0, *(_axle_loads(sheet, rig))])
    if dimensions:
        top = spans(sheet, _places(rig, brief=brief), y=min(top, sheet.top) - 2, below=False)
        rises(sheet, rig.heights[:1] if brief else rig.heights, right=True)
        y = spans(sheet, _lengths(rig), y=y)
    _foot(sheet, rig, y=y, brief=brief)
    return sheet.svg(title=_title(rig, "side view to scale"), desc=rig_described(rig), data_view="rig-side")


def rig_plan(rig: Rig, *, width_px: float = 960.0, dimensions: bool = True) -> str:
    """SVG of the rig from above, to the scale of ``rig_side`` at the same width.

    Parameters
    ----------
    rig, width_px, dimensions
        As for ``rig_side``.
    """
    sheet = _sheet(rig, width_px=width_px, dimensions=dimensions)
    trailer = trailer_plan(rig.trailer)
    truck = moved(truck_plan(rig.truck), rig.truck_x_in) if rig.truck else ()
    if rig.trailer.over_bed:
        sheet.figure(truck, data_part="truck")
        sheet.figure(trailer, data_part="trailer")
    else:
        sheet.figure(trailer, data_part="trailer")
        sheet.figure(truck, data_part="truck")
    o = rig.trailer
    half = o.deck_width_in / 2 * sheet.view.scale
    for name, (low, high) in rig.bands:
        x1, x2 = sheet.view.x(low), sheet.view.x(high)
        look = {**pen_attributes(name), "fill_opacity": 0.75, "data_part": f"{name}-band"}
        sheet.add(element("rect", x=x1, y=-half, width=max(x2 - x1, 1), height=2 * half, **look), layer="figure")
    for i, placed in enumerate(rig.cargo):
        sheet.figure(
            footprint(placed),
            data_part="cargo",
            data_item=str(i),
            data_front_x_in=placed.front_x_in,
            data_cg_x_in=placed.cg_x_in,
        )
    x1, _, x2, _ = extent((*truck, *trailer))
    sheet.figure(center_line(x1 - 4, x2 + 4), layer="lines")
    for i, placed in enumerate(rig.cargo):
        sheet.add(cg_mark(sheet.view.x(placed.cg_x_in), 0.0, radius=_cg_radius(sheet), item=i), layer="marks")
    combined = combined_cg_x_in(rig.cargo)
    if combined is not None and len(rig.cargo) > 1:
        sheet.add(cg_mark(sheet.view.x(combined), 0.0, radius=_cg_radius(sheet) + 1, color="ink"), layer="marks")
    if dimensions:
        half = o.deck_width_in / 2
        width = Rise(-half, half, rise(o.deck_width_in, metric=rig.metric), o.deck_rear_x_in, name="deck-width")
        rises(sheet, [] if o.rests_on("deck_width_in") else [width], right=True)
    return sheet.svg(title=_title(rig, "plan to scale"), desc=rig_described(rig), data_view="rig-plan")


def _sheet(rig: Rig, *, width_px: float, dimensions: bool) -> Sheet:
    x1, _, x2, _ = extent((*rig.truck_figure, *rig.trailer_figure, *(p for f in rig.cargo_figures for p in f)))
    right = _PAD
    if dimensions:
        heights = rig.heights
        plan = Rise(0, 0, rise(rig.trailer.deck_width_in, metric=rig.metric), 0)
        right += max(column_width(heights[:1] if width_px < NARROW_PX else heights), column_width([plan]))
    return Sheet(width_px=width_px, x_min_in=x1, x_max_in=x2, left_px=_PAD, right_px=right)


def _band_side(sheet: Sheet, rig: Rig, name: str, band: Band) -> None:
    """A band on the edge of the deck: where the cargo's center of gravity may lie."""
    o, (x1, x2) = rig.trailer, band
    (ax, az), (bx, bz) = rig.ride.point(x1, o.deck_z_in(x1)), rig.ride.point(x2, o.deck_z_in(x2))
    view = sheet.view
    high = max(min(rail_depth_in(o), 6.0) * view.scale, 4.0)
    top = [(view.x(ax), view.y(az)), (view.x(bx), view.y(bz))]
    corners = [*top, *((x, y + high) for x, y in reversed(top))]
    sheet.polygon(corners, pen=name, layer="figure", data_part=f"{name}-band")
    for x, z in ((ax, az), (bx, bz)):
        sheet.stroke(view.x(x), view.y(z) - 3, view.x(x), view.y(z) + high, pen=f"{name}-line", layer="figure")
    sheet.stroke(view.x(ax), view.y(az), view.x(bx), view.y(bz), pen=f"{name}-line", layer="figure")


def _cg_radius(sheet: Sheet) -> float:
    return 5.5 if sheet.width >= NARROW_PX else 4.0


def _cg_marks_side(sheet: Sheet, rig: Rig) -> None:
    for i, placed in enumerate(rig.cargo):
        o = placed.outline
        x, z = rig.ride.point(placed.cg_x_in, rig.trailer.deck_z_in(placed.cg_x_in) + o.cg_height_in)
        guessed = o.rests_on("cg_height_in", "cg_in")
        mark = cg_mark(sheet.view.x(x), sheet.view.y(z), radius=_cg_radius(sheet), assumed=guessed, item=i)
        sheet.add(mark, layer="marks")
    combined = combined_cg_x_in(rig.cargo)
    if combined is None:
        return
    deck = rig.ride.point(combined, rig.trailer.deck_z_in(combined))
    x, y = sheet.view.x(deck[0]), sheet.view.y(deck[1])
    # A pointer on the deck's edge: where all the cargo together weighs down.
    half, high = 3.5, 7.0
    corners = [(x, y + 1), (x - half, y + 1 + high), (x + half, y + 1 + high)]
    sheet.polygon(corners, pen="solid", layer="marks", data_part="load-cg", data_x_in=combined)


def _names(sheet: Sheet, rig: Rig, everything: Figure, *, brief: bool) -> float:
    """Name and weight over each piece; returns the top of the lettering."""
    top = 0.0
    for item, placed in enumerate(rig.cargo):
        o = placed.outline
        middle = sheet.view.x((placed.front_x_in + placed.rear_x_in) / 2)
        limit = min(max(o.length_in * sheet.view.scale, 96.0 if brief else 140.0), 130.0 if brief else 240.0)
        weight = load(o.weight_lb, metric=rig.metric) if o.weight_lb is not None else "weight not known"
        rows = [(shortened(o.title, limit), False), (weight, True)]
        wide = max(text_width(t, SMALL, bold=b) for t, b in rows)
        x = sheet.board.clamped(middle, wide)
        half = wide / 2 / sheet.view.scale
        base = sheet.view.y(skyline(everything, x / sheet.view.scale - half, x / sheet.view.scale + half)) - 6
        line = SMALL * 1.2
        while not all(
            sheet.board.free(text_box(x, base - line * (1 - i), t, size=SMALL, anchor="middle", bold=b))
            for i, (t, b) in enumerate(rows)
        ):
            base -= 4
        for i, (text, bold) in enumerate(rows):
            box = sheet.letter(
                x, base - line * (1 - i), text, anchor="middle", bold=bold, color="accent", data_item=str(item)
            )
            top = min(top, box.y1)
    return top


def shortened(text: str, width: float, *, size: float = SMALL) -> str:
    """A text cut at a word so that it fits a width."""
    if text_width(text, size) <= width:
        return text
    words = text.split()
    while len(words) > 1 and text_width(" ".join(words) + " …", size) > width:
        words.pop()
    kept = " ".join(words).rstrip(",;:")
    while len(kept) > 3 and text_width(kept + " …", size) > width:
        kept = kept[:-1]
    return kept + " …"


def _coupler(sheet: Sheet, rig: Rig, everything: Figure) -> float:
    mark = next((m for m in rig.loads if m.place == "coupler"), None)
    if mark is None:
        return 0.0
    at = skyline(rig.ride(trailer_side(rig.trailer, plain=True)), -1.5, 1.5)
    beside = skyline(everything, -34 / sheet.view.scale, 34 / sheet.view.scale)
    return coupler_load(sheet, mark, top_in=max(at, 4.0), clear_y=sheet.view.y(beside), metric=rig.metric)


def _axle_loads(sheet: Sheet, rig: Rig) -> list[float]:
    ends = []
    for mark in rig.loads:
        xs = rig.axles_x_in(mark.place) if mark.place != "coupler" else []
        if xs:
            ends.append(axle_load(sheet, mark, xs, metric=rig.metric))
    return ends


def _places(rig: Rig, *, brief: bool) -> list[Span]:
    """From the front of the deck to the front of each piece, and to its center of gravity."""
    o = rig.trailer
    if o.rests_on("deck_front_x_in"):
        return []
    start = rig.ride.point(o.deck_front_x_in, o.deck_height_in + o.headboard_in)
    out = []
    for i, (placed, figure) in enumerate(zip(rig.cargo, rig.cargo_figures, strict=True)):
        front = placed.front_x_in - o.deck_front_x_in
        if abs(front) >= 1.0:
            out.append(
                Span(o.deck_front_x_in, placed.front_x_in, place(front, metric=rig.metric), start[1],
                _top_at(figure, placed.front_x_in),
                     name=f"piece-{i}-front")
            )  # fmt: skip
        if not brief and not placed.outline.rests_on("cg_in"):
            cg = placed.cg_x_in
            high = rig.trailer.deck_z_in(cg) + placed.outline.cg_height_in + 6 / 1.0
            out.append(
                Span(
                    o.deck_front_x_in,
                    cg,
                    f"CG {place(cg - o.deck_front_x_in, metric=rig.metric)}",
                    start[1],
                    high,
                    name=f"piece-{i}-cg",
                )
            )
    return sorted(out, key=lambda s: s.x2_in)


def _top_at(figure: Figure, x: float) -> float:
    return skyline(figure, x - 0.5, x + 2.0)


def _lengths(rig: Rig) -> list[Span]:
    """Length of the combination."""
    o = rig.trailer
    if rig.truck is None or rig.truck.rests_on("front_overhang_in", "wheelbase_in", "hitch_ahead_in"):
        return []
    rear = max([o.rear_x_in, *(p.rear_x_in for p in rig.cargo)])
    front = rig.truck_x_in + rig.truck.front_x_in
    if o.rests_on("rear_x_in"):
        return []
    return [
        Span(front, rear, run(rear - front, metric=rig.metric), 20, o.tail_height_in - 4, name="combination-length")
    ]


def _foot(sheet: Sheet, rig: Rig, *, y: float, brief: bool) -> None:
    texts = []
    if rig.cargo and not brief:
        texts.append("CG: center of gravity, from the front of the deck")
    names = {name for name, _ in rig.bands}
    if "clear" in names:
        texts.append("green: center of gravity here holds every limit, whatever the tolerances")
    if "depends" in names:
        texts.append("amber: holds at the stated values")
    if rig.assumed:
        texts.append(ASSUMED_NOTE)
    bar = scale_bar(sheet, y=y + 16, metric=rig.metric)
    sheet.caption(texts, y=y + 2, right_px=bar)


def _title(rig: Rig, what: str) -> str:
    behind = f" behind {rig.truck.title}" if rig.truck else ""
    return f"{rig.trailer.title}{behind}: {what}"


def rig_described(rig: Rig) -> str:
    """The rig in words, for those who hear it."""
    parts = [describe(rig.trailer, metric=rig.metric)]
    for p in rig.cargo:
        weight = (
            load(p.outline.weight_lb, metric=rig.metric) if p.outline.weight_lb is not None else "weight not known"
        )
        at = place(p.front_x_in - rig.trailer.deck_front_x_in, metric=rig.metric)
        parts.append(f"{p.outline.title}, {weight}, {at} behind the front of the deck.")
    for m in rig.loads:
        limit = f" of {load(m.limit_lb, metric=rig.metric)}" if m.limit_lb < float("inf") else ""
        verdict = f", {m.verdict}" if m.verdict else ""
        parts.append(f"{m.place.replace('-', ' ')} {load(m.value_lb, metric=rig.metric)}{limit}{verdict}.")
    return " ".join(parts)
