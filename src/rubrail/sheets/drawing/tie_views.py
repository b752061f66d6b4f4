"""A plan of tie-downs from above and from the side, to scale: the deck, the machines, every chain with its number."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubrail.answers.secure_parts import Scene
from rubrail.answers.secure_report import Secured
from rubrail.sheets.drawing.figure import extent, skyline
from rubrail.sheets.drawing.furniture import cg_mark, ground, scale_bar
from rubrail.sheets.drawing.placed import Placed, footprint
from rubrail.sheets.drawing.rig import Rig
from rubrail.sheets.drawing.say import load, run
from rubrail.sheets.drawing.sheet import MAX_SCALE, Sheet
from rubrail.sheets.drawing.tie_marks import Mark, chain, marks_of, number_at, target, targets_of
from rubrail.sheets.drawing.tokens import NARROW_PX
from rubrail.sheets.drawing.trailer_plan import center_line, trailer_plan
from rubrail.things.rig_cargo import pieces_of

if TYPE_CHECKING:
    from rubrail.answers.rig import Placement
    from rubrail.things.haul import Haul
    from rubrail.things.trailer import Trailer

_PAD = 14.0
_AROUND_IN = 10.0
_OUT = 13.0


def rig_to_tie(*, haul: Haul, trailer: Trailer, placement: Placement, metric: bool = False) -> Rig:
    """Trailer and cargo of a placed haul, without its truck."""
    places = zip(pieces_of(haul), placement.front_x_in, placement.facing, strict=True)
    cargo = [Placed(piece, front, facing == "rear-first") for piece, front, facing in places]
    return Rig(trailer=trailer, cargo=cargo, metric=metric)


def tie_plan(rig: Rig, pieces: Sequence[Secured], scenes: Sequence[Scene] = (), *, width_px: float = 960.0) -> str:
    """SVG from above: front to the left, the trailer's right side up.

    Parameters
    ----------
    rig : Rig
        Trailer and cargo; its truck is not drawn.
    pieces : sequence of Secured
        Each with its tie-downs.
    scenes : sequence of Scene
        Where ends may be dragged to; left out on paper.
    width_px : float
        Width it is shown at.
    """
    sheet = _sheet(rig, width_px)
    o = rig.trailer
    sheet.figure(trailer_plan(o), data_part="trailer")
    for i, placed in enumerate(rig.cargo):
        sheet.figure(footprint(placed), data_part="cargo", data_item=str(i))
    x1, x2 = (x / sheet.view.scale for x in (sheet.left, sheet.right))
    sheet.figure(center_line(x1, x2), layer="lines")
    for i, placed in enumerate(rig.cargo):
        sheet.add(cg_mark(sheet.view.x(placed.cg_x_in), 0.0, radius=_cg(sheet), item=i), layer="marks")
    marks = marks_of(pieces)
    for t in targets_of(scenes):
        sheet.add(target(t, sheet.view.x(t.place_in[0]), sheet.view.y(t.place_in[1])), layer="marks")
    for mark in marks:
        points = [(sheet.view.x(x), sheet.view.y(y)) for x, y, _ in mark.path_in]
        sheet.reach(*(y for _, y in points))
        sheet.add(chain(mark, points), layer="marks")
    edge = max(o.deck_width_in, o.width_in) / 2 * sheet.view.scale
    for mark in sorted(marks, key=lambda m: m.path_in[0][0]):
        x, y = sheet.view.x(mark.path_in[0][0]), sheet.view.y(mark.path_in[0][1])
        away = -1.0 if y < 0 else 1.0
        outside = max(edge, abs(y)) + _OUT
        tries = [(x + dx, away * (outside + dy)) for dy in (0.0, 16.0, 32.0, 48.0) for dx in (0.0, -16.0, 16.0, 32.0)]
        number_at(sheet, mark.label, *tries[0], candidates=tries[1:])
    _foot(sheet, rig, marks, scenes, y=sheet.bottom + 4)
    return sheet.svg(title=_title(rig, "tie-downs from above, to scale"), desc=described(pieces, rig.metric),
                     data_view="tie-plan")  # fmt: skip


def tie_side(rig: Rig, pieces: Sequence[Secured], scenes: Sequence[Scene] = (), *, width_px: float = 960.0) -> str:
    """SVG from the left side, to the scale of ``tie_plan`` at the same width; the far side's chains are faint.

    Parameters
    ----------
    rig, pieces, scenes, width_px
        As for ``tie_plan``.
    """
    sheet = _sheet(rig, width_px)
    ground(sheet)
    marks = marks_of(pieces)
    far = [m for m in marks if m.path_in[0][1] > 0 and m.tie.path == "direct"]
    near = [m for m in marks if m not in far]
    trailer, cargo = rig.trailer_figure, rig.cargo_figures
    sheet.figure(trailer, data_part="trailer")
    for mark in far:
        sheet.add(chain(mark, _points(sheet, mark), far=True), layer="figure")
    for i, figure in enumerate(cargo):
        sheet.figure(figure, data_part="cargo", data_item=str(i))
    for i, placed in enumerate(rig.cargo):
        x, z = rig.ride.point(placed.cg_x_in, rig.trailer.deck_z_in(placed.cg_x_in) + placed.outline.cg_height_in)
        guessed = placed.outline.rests_on("cg_height_in", "cg_in")
        mark = cg_mark(sheet.view.x(x), sheet.view.y(z), radius=_cg(sheet), assumed=guessed, item=i)
        sheet.add(mark, layer="marks")
    for t in targets_of(scenes):
        if t.place_in[1] <= 0:
            sheet.add(target(t, sheet.view.x(t.place_in[0]), sheet.view.y(t.place_in[2])), layer="marks")
    for mark in near:
        sheet.add(chain(mark, _points(sheet, mark)), layer="marks")
    _numbers_side(sheet, marks, everything=(*trailer, *(p for f in cargo for p in f)))
    _foot(sheet, rig, marks, scenes, y=max(6.0, sheet.bottom + 2), side=bool(far))
    return sheet.svg(title=_title(rig, "tie-downs from the left, to scale"), desc=described(pieces, rig.metric),
                     data_view="tie-side")  # fmt: skip


def _sheet(rig: Rig, width_px: float) -> Sheet:
    """The deck and what stands on it; a neck or tongue ahead runs off the edge."""
    o = rig.trailer
    ends = [extent(f) for f in rig.cargo_figures]
    x1 = min([o.deck_front_x_in, *(e[0] for e in ends)]) - _AROUND_IN
    x2 = max([o.deck_rear_x_in, *(e[2] for e in ends)]) + _AROUND_IN
    # A short deck makes a narrow drawing, not one with an empty half.
    width_px = min(width_px, (x2 - x1) * MAX_SCALE + 2 * _PAD)
    return Sheet(width_px=width_px, x_min_in=x1, x_max_in=x2, left_px=_PAD, right_px=_PAD)


def _points(sheet: Sheet, mark: Mark) -> list[tuple[float, float]]:
    return [(sheet.view.x(x), sheet.view.y(z)) for x, _, z in mark.path_in]


def _cg(sheet: Sheet) -> float:
    return 5.5 if sheet.width >= NARROW_PX else 4.0


def _numbers_side(sheet: Sheet, marks: Sequence[Mark], *, everything) -> None:
    """Numbers under the anchors, those that fall on each other as one: ``1 2``."""
    together: dict[tuple[int, int], list[Mark]] = {}
    for mark in marks:
        x, _, z = mark.path_in[0]
        together.setdefault((round(x), round(z)), []).append(mark)
    for some in sorted(together.values(), key=lambda m: m[0].path_in[0][0]):
        x, _, z = some[0].path_in[0]
        label = " ".join(m.label for m in some)
        px, py = sheet.view.x(x), sheet.view.y(z) + _OUT
        tries = [(px + dx, py + dy) for dy in (0.0, 15.0, 30.0, 45.0) for dx in (0.0, -14.0, 14.0)]
        number_at(sheet, label, *tries[0], candidates=tries[1:])
    sheet.reach(sheet.view.y(skyline(everything, sheet.left, sheet.right)) - 4)


def _foot(sheet: Sheet, rig: Rig, marks: Sequence[Mark], scenes: Sequence[Scene], *, y: float, side=False) -> None:
    texts = ["numbers as in the table"] if marks else ["no tie-down whose ends are known"]
    if side:
        texts.append("faint: on the far side")
    if scenes:
        texts.append("small rings: where an end may go")
    if any(m.verdict == "over" for m in marks):
        texts.append("red: does not hold")
    if any(m.verdict == "not known" for m in marks):
        texts.append("dashed: a limit or length is not known")
    bar = scale_bar(sheet, y=y + 16, metric=rig.metric)
    sheet.caption(texts, y=y + 2, right_px=bar)


def _title(rig: Rig, what: str) -> str:
    return f"{rig.trailer.title}: {what}"


def described(pieces: Sequence[Secured], metric: bool) -> str:
    """The tie-downs in words, for those who hear the drawing."""
    out = []
    for mark in marks_of(pieces):
        tie = mark.tie
        to = f"to {tie.far_title}, over the top" if tie.path == "over" else f"to {tie.point_title}"
        limit = "limit not known" if math.isnan(tie.wll_lb) else f"good for {load(tie.wll_lb, metric=metric)}"
        way = run(tie.length_in, metric=metric)
        out.append(f"{mark.label}: {tie.gear_title}, from {tie.anchor_title} {to}, {way}, {limit}.")
    return " ".join(out)
