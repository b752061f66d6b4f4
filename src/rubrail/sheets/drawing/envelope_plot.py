"""Greatest cargo weight against the place of its center of gravity, drawn over the trailer it is about.

The place axis is the trailer itself, to scale: a number stands over the spot of the deck it is true of.
"""

from __future__ import annotations

import math
from itertools import pairwise

from rubrail.sheets.drawing.envelope_data import CargoPoint, Curve, axis_title, described, round_step, tape_step
from rubrail.sheets.drawing.figure import Figure, extent, moved, skyline
from rubrail.sheets.drawing.furniture import scale_bar
from rubrail.sheets.drawing.lettering import Box, text_box, text_width
from rubrail.sheets.drawing.marks import verdict_shape
from rubrail.sheets.drawing.outline import TrailerOutline
from rubrail.sheets.drawing.say import load, rise
from rubrail.sheets.drawing.sheet import Sheet, balanced, wrapped
from rubrail.sheets.drawing.svg import element, group, number
from rubrail.sheets.drawing.tokens import NARROW_PX, ON_PAPER, SMALL, TEXT, VERDICT_COLORS, pen_attributes
from rubrail.sheets.drawing.trailer_side import trailer_side

_LB_PER_KG = 1 / 0.45359237
_IN_PER_CM = 1 / 2.54


def envelope_plot(
    curve: Curve,
    *,
    title: str,
    trailer: TrailerOutline | None = None,
    other: Curve | None = None,
    other_title: str = "trailer alone",
    cargo: CargoPoint | None = None,
    clear_band: tuple[float, float] | None = None,
    origin_x_in: float = 0.0,
    origin_title: str = "the front of the deck",
    width_px: float = 960.0,
    height_px: float = 230.0,
    metric: bool = False,
) -> str:
    """SVG chart of the envelope.

    Parameters
    ----------
    curve : Curve
        The envelope that governs.
    title : str
        What is drawn, for the drawing's name.
    trailer : TrailerOutline or None
        Drawn under the axis to the axis's own scale.
    other : Curve or None
        A second envelope, drawn thin.
    cargo : CargoPoint or None
        The buyer's own.
    clear_band : (from, to) or None
        Places where this cargo holds every limit, inches from the coupling point.
    origin_x_in, origin_title
        What places are counted from in the lettering.
    width_px, height_px : float
        Width of the drawing; height of the plot itself.
    """
    plot = _Plot(curve, trailer, other, cargo, origin_x_in, width_px, height_px, metric)
    plot.grid(origin_title)
    if clear_band:
        plot.band(clear_band)
    plot.area()
    if other:
        plot.line(other, pen="detail", name="other")
    plot.line(curve, pen="envelope", name="envelope")
    plot.breakpoints()
    if cargo:
        plot.cargo_point(cargo)
    keyed = plot.segment_labels()
    plot.cursor()
    y = plot.under()
    notes = [*keyed]
    if other:
        notes.append(f"thin line: {other_title}")
    if clear_band:
        notes.append("green: where this cargo holds every limit")
    sheet = plot.sheet
    bar = scale_bar(sheet, y=y + 16, metric=metric) if trailer is not None else sheet.board.right
    sheet.caption(notes, y=y + 2, right_px=bar)
    return sheet.svg(
        title=title, desc=described(curve, cargo, origin_x_in, origin_title, metric=metric), data_view="envelope",
        data_per_lb=f"{plot.per_lb:.8g}", data_origin_x_in=origin_x_in, data_metric=metric or None,
    )  # fmt: skip


class _Plot:
    def __init__(
        self,
        curve: Curve,
        trailer: TrailerOutline | None,
        other: Curve | None,
        cargo: CargoPoint | None,
        origin: float,
        width_px: float,
        height_px: float,
        metric: bool,
    ) -> None:
        self.other = other
        self.curve, self.cargo, self.origin, self.metric, self.high = curve, cargo, origin, metric, height_px
        self.figure: Figure = trailer_side(trailer) if trailer is not None else ()
        finite = [w for c in (curve, other) if c for w in c.weight_lb if math.isfinite(w)]
        greatest = max([*finite, cargo.weight_lb if cargo else 0.0, 1.0])
        unit = _LB_PER_KG if metric else 1.0
        self.step = round_step(greatest / unit / 4) * unit
        self.most = self.step * math.ceil(greatest * 1.04 / self.step)
        self.per_lb = height_px / self.most
        labels = [load(self.step * i, metric=metric) for i in range(round(self.most / self.step) + 1)]
        margin = max(text_width(t, SMALL) for t in labels) + 12
        x1, x2 = (extent(self.figure)[0], extent(self.figure)[2]) if self.figure else (curve.x_in[0], curve.x_in[-1])
        self.sheet = Sheet(
            width_px=width_px,
            x_min_in=min(x1, curve.x_in[0]),
            x_max_in=max(x2, curve.x_in[-1]),
            left_px=margin,
            right_px=24,
        )
        self.labels = labels
        self.left = self.sheet.view.x(min(x1, curve.x_in[0]))
        self.right = self.sheet.inner_right

    def x(self, x_in: float) -> float:
        return self.sheet.view.x(x_in)

    def y(self, weight_lb: float) -> float:
        return -min(weight_lb, self.most) * self.per_lb

    def grid(self, origin_title: str) -> None:
        sheet = self.sheet
        for i, text in enumerate(self.labels):
            y = self.y(self.step * i)
            sheet.stroke(self.left, y, self.right, y, pen="grid" if i else "detail", layer="ground")
            sheet.letter(self.left - 6, y + SMALL * 0.35, text, anchor="end", color="steel", halo=False)
        sheet.letter(sheet.board.left, -self.high - 12, "greatest cargo weight", color="ink", halo=False)
        first, last = self.curve.x_in[0], self.curve.x_in[-1]
        unit = _IN_PER_CM if self.metric else 1.0
        step = tape_step((last - first) / unit / max(sheet.width / 110, 3), metric=self.metric) * unit
        k = math.ceil((first - self.origin) / step - 1e-9)
        while self.origin + k * step <= last + 1e-6:
            x = self.x(self.origin + k * step)
            sheet.stroke(x, 0, x, 5, pen="detail", layer="ground")
            sheet.letter(x, 17, rise(k * step, metric=self.metric), anchor="middle", color="steel", halo=False)
            k += 1
        wide = text_width(axis_title(origin_title), SMALL)
        middle = sheet.board.clamped((self.x(first) + self.x(last)) / 2, wide)
        self.axis_end = max(middle + wide / 2, self.x(last))
        sheet.letter(middle, 31, axis_title(origin_title), anchor="middle", color="steel", halo=False)
        sheet.reach(-self.high - 24)

    def band(self, band: tuple[float, float]) -> None:
        x1, x2 = self.x(band[0]), self.x(band[1])
        wide = max(x2 - x1, 1)
        self.sheet.add(
            element("rect", x=x1, y=-self.high, width=wide, height=self.high, fill_opacity=0.45,
            data_part="clear-band",
                    class_="rd-f-clear-tint", fill=ON_PAPER["clear-tint"]),
            layer="ground",
        )  # fmt: skip
        if self.cargo:
            y = self.y(self.cargo.weight_lb)
            self.sheet.stroke(x1, y, x2, y, pen="clear-line", layer="marks")

    def points(self, curve: Curve) -> list[tuple[float, float]]:
        return [(self.x(x), self.y(w)) for x, w in zip(curve.x_in, curve.weight_lb, strict=True)]

    def area(self) -> None:
        pts = self.points(self.curve)
        d = (
            f"M{number(pts[0][0])} 0"
            + "".join(f"L{number(x)} {number(y)}" for x, y in pts)
            + f"L{number(pts[-1][0])} 0Z"
        )
        self.sheet.add(
            element(
                "path",
                d=d,
                class_="rd-f-accent-tint",
                fill=ON_PAPER["accent-tint"],
                fill_opacity=0.55,
                data_part="feasible",
            ),
            layer="ground",
        )

    def line(self, curve: Curve, *, pen: str, name: str) -> None:
        pts = self.points(curve)
        d = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in pts)
        data = {
            "data_curve": name,
            "data_x_in": " ".join(number(x) for x in curve.x_in),
            "data_weight_lb": " ".join("inf" if math.isinf(w) else f"{w:.1f}" for w in curve.weight_lb),
            "data_governs": "|".join(t.replace("|", "/") for t in curve.governing),
        }
        self.sheet.add(element("path", d=d, **data, **pen_attributes(pen)), layer="figure")

    def breakpoints(self) -> None:
        stretches = self.curve.stretches()
        for i, (start, stop, title) in enumerate(stretches):
            ends = (start,) if i + 1 < len(stretches) else (start, stop)
            for at in ends:
                x, w = self.curve.x_in[at], self.curve.weight_lb[at]
                self.sheet.add(
                    element("circle", cx=self.x(x), cy=self.y(w), r=3, data_x_in=x, data_governs=title,
                    data_part="breakpoint",
                            data_weight_lb=None if math.isinf(w) else f"{w:.1f}", **pen_attributes("hub")),
                    layer="marks",
                )  # fmt: skip
                self.sheet.board.take(Box(self.x(x) - 4, self.y(w) - 4, self.x(x) + 4, self.y(w) + 4))

    def cargo_point(self, cargo: CargoPoint) -> None:
        sheet, x, y = self.sheet, self.x(cargo.x_in), self.y(cargo.weight_lb)
        color = VERDICT_COLORS.get(cargo.verdict, "ink")
        sheet.stroke(x, y, x, 0, pen="detail", dashed=True, layer="figure")
        sheet.stroke(self.left, y, x, y, pen="detail", dashed=True, layer="figure")
        ground = {"class_": "rd-f-paper", "fill": ON_PAPER["paper"]}
        sheet.add(element("circle", cx=x, cy=y, r=8, **ground), layer="letters")
        sheet.add(verdict_shape(cargo.verdict or "clear", x, y, radius=6), layer="letters")
        sheet.board.take(Box(x - 8, y - 8, x + 8, y + 8))
        narrow = sheet.width < NARROW_PX
        under = wrapped([self._spare(cargo, named=not narrow)], 100.0 if narrow else 260.0)
        rows = [(load(cargo.weight_lb, metric=self.metric), TEXT, True), *((t, SMALL, False) for t in under)]
        wide = max(text_width(t, s, bold=b) for t, s, b in rows)
        tall = 17.0 + 13.0 * len(under)
        lifts = [-8.0, 6.0, 24.0, 44.0, 70.0, -8.0 - tall, -30.0 - tall, -60.0 - tall, 100.0]
        boxes = [
            Box(left, y + lift, left + wide, y + lift + tall) for lift in lifts for left in (x + 12, x - 12 - wide)
        ]
        boxes.append(Box(sheet.board.right - wide, -self.high, sheet.board.right, tall - self.high))
        on_sheet = [b for b in boxes if sheet.board.free(b) and b.y2 < -2]
        best = next((b for b in on_sheet if not self._crosses(b)), next(iter(on_sheet), boxes[-1]))
        sheet.letter(best.x1, best.y1 + 11, rows[0][0], size=TEXT, bold=True, color=color, data_part="cargo-weight")
        for i, text in enumerate(under):
            sheet.letter(best.x1, best.y1 + 24 + 13 * i, text, color="ink")
        sheet.board.take(Box(self.left, y - 1, x, y + 1))
        sheet.board.take(Box(x - 1, y, x + 1, 0.0))

    def _spare(self, cargo: CargoPoint, *, named: bool) -> str:
        most = self.curve.weight_at(cargo.x_in)
        if not math.isfinite(most):
            return cargo.title
        left = most - cargo.weight_lb
        words = f"{load(abs(left), metric=self.metric)} {'to spare here' if left >= 0 else 'too much here'}"
        return f"{cargo.title}, {words}" if named else words

    def _crosses(self, box: Box) -> bool:
        """Whether a curve runs through a box."""
        return any(self._runs_through(self.points(c), box) for c in (self.curve, self.other) if c)

    @staticmethod
    def _runs_through(pts: list[tuple[float, float]], box: Box) -> bool:
        for (ax, ay), (bx, by) in pairwise(pts):
            steps = max(int(abs(bx - ax) // 4), 1)
            for k in range(steps + 1):
                x, y = ax + (bx - ax) * k / steps, ay + (by - ay) * k / steps
                if box.x1 - 2 <= x <= box.x2 + 2 and box.y1 - 2 <= y <= box.y2 + 2:
                    return True
        return False

    def segment_labels(self) -> list[str]:
        """Name each stretch at its curve where there is room, else by a letter; returns the key of the letters."""
        keyed: list[str] = []
        signs = iter("ABCDEFGHJKLMNPQRSTUVWXYZ")
        longest_first = sorted(self.curve.stretches(), key=lambda s: self.curve.x_in[s[0]] - self.curve.x_in[s[1]])
        for start, stop, title in longest_first:
            x1, x2 = self.x(self.curve.x_in[start]), self.x(self.curve.x_in[stop])
            spots = []
            for share in (0.5, 0.32, 0.68, 0.16, 0.84):
                x = x1 + share * (x2 - x1)
                spots.append((x, self.y(self.curve.weight_at(x / self.sheet.view.scale))))
            if any(self._label(title, x, at, x2 - x1) for x, at in spots):
                continue
            sign = next(signs, "?")
            self._letter(sign, spots)
            keyed.append(f"{sign} {title}")
        return keyed

    def _label(self, title: str, middle: float, at: float, span: float) -> bool:
        """Letter a stretch's name above or below a spot of its curve, broken into rows if need be."""
        sheet = self.sheet
        for rows in (balanced(title, max(span, 90.0)), balanced(title, 150.0), balanced(title, 100.0)):
            if len(rows) > 3:
                continue
            wide = max(text_width(r, SMALL) for r in rows)
            tall = SMALL * 1.2 * len(rows)
            x = min(max(middle, self.left + wide / 2 + 2), self.right - wide / 2 - 2)
            tops = [*(at - 7 - tall - lift for lift in (0, 8, 18, 30)), *(at + 8 + drop for drop in (0, 8, 18, 30))]
            for top in tops:
                box = Box(x - wide / 2, top, x + wide / 2, top + tall)
                if box.y1 < -self.high - 8 or box.y2 > -3 or not sheet.board.free(box, 3) or self._crosses(box):
                    continue
                for i, row in enumerate(rows):
                    sheet.letter(
                        x, top + SMALL * (0.85 + 1.2 * i), row, anchor="middle", color="ink", data_part="segment"
                    )
                above = box.y2 < at
                near = box.y2 + 2 if above else box.y1 - 2
                if abs(near - at) > 12 or not box.x1 <= middle <= box.x2:
                    foot = min(max(middle, box.x1), box.x2)
                    sheet.stroke(foot, near, middle, at + (-3 if above else 3), pen="extension")
                return True
        return False

    def _letter(self, sign: str, spots: list[tuple[float, float]]) -> None:
        sheet = self.sheet
        for x, at in spots:
            for y in (at - 8, at + 15, at - 20, at + 28):
                box = text_box(x, y, sign, size=SMALL, anchor="middle", bold=True)
                if sheet.board.free(box, 1) and box.y2 < -1:
                    sheet.letter(x, y, sign, anchor="middle", bold=True, data_part="segment")
                    return
        x, at = spots[0]
        sheet.letter(x, -self.high - 10, sign, anchor="middle", bold=True, data_part="segment")
        sheet.stroke(x, -self.high - 6, x, at, pen="extension")

    def cursor(self) -> None:
        """A hidden hair line and dot for the page's script to move; without a script nothing is lost."""
        self.sheet.add(
            group(
                element("line", x1=0, y1=-self.high, x2=0, y2=0, **pen_attributes("detail")),
                element("circle", cx=0, cy=0, r=4, **pen_attributes("solid")),
                data_part="cursor", visibility="hidden",
            ),
            layer="marks",
        )  # fmt: skip
        first, last = self.x(self.curve.x_in[0]), self.x(self.curve.x_in[-1])
        self.sheet.add(
            element(
                "rect",
                x=first,
                y=-self.high,
                width=last - first,
                height=self.high,
                fill="none",
                pointer_events="all",
                data_part="hover",
            ),
            layer="letters",
        )

    def under(self) -> float:
        """The trailer under the axis; returns where the drawing ends."""
        if not self.figure:
            return 34.0
        scale = self.sheet.view.scale
        top = extent(self.figure)[3]
        # Ramps standing behind the deck may reach up beside the axis's lettering, the rest stays below it.
        body = skyline(self.figure, extent(self.figure)[0], max(self.curve.x_in[-1], (self.axis_end + 8) / scale))
        ground = max(40.0 + body * scale, 8.0 + top * scale)
        self.sheet.figure(moved(self.figure, 0.0, -ground / scale), data_part="trailer")
        self.sheet.stroke(self.sheet.left, ground, self.sheet.right, ground, pen="ground", layer="ground")
        self.sheet.reach(ground + 2)
        return ground + 4
