"""A sheet being drawn on: one scale, layers in order, room kept for letters, a frame that grows with what is on it."""

from __future__ import annotations

from collections.abc import Iterable

from rubrail.sheets.drawing.figure import Figure, Point, extent
from rubrail.sheets.drawing.lettering import Board, Box, letters, text_box, text_width
from rubrail.sheets.drawing.svg import Element, document, element, group
from rubrail.sheets.drawing.tokens import SMALL, pen_attributes
from rubrail.sheets.drawing.view import View, path

LAYERS = ("ground", "figure", "marks", "lines", "letters")
MAX_SCALE = 2.2
"""px an inch at most, so that a short trailer on a wide page stays a drawing and does not become a poster."""
_EDGE = 2.0


class Sheet:
    """Origin at the coupling point on the ground; px to the right and down.

    Parameters
    ----------
    width_px : float
        Full width of the drawing.
    x_min_in, x_max_in : float
        What must fit between the margins, inches.
    left_px, right_px : float
        Margins for upright dimensions.
    weight : float
        Factor on line weights.
    """

    def __init__(
        self,
        *,
        width_px: float,
        x_min_in: float,
        x_max_in: float,
        left_px: float,
        right_px: float,
        weight: float = 1.0,
    ) -> None:
        room = max(width_px - left_px - right_px, 40.0)
        self.view = View(min(room / max(x_max_in - x_min_in, 1.0), MAX_SCALE), weight)
        self.width = width_px
        self.left = self.view.x(x_min_in) - left_px
        self.right = self.left + width_px
        self.inner_left = self.left + left_px
        self.inner_right = self.view.x(x_max_in)
        self.board = Board(self.left + _EDGE, self.right - _EDGE)
        self.top = self.bottom = 0.0
        self.layers: dict[str, list[Element]] = {name: [] for name in LAYERS}

    def reach(self, *y: float) -> None:
        """Grow the frame to hold these heights on the page."""
        self.top, self.bottom = min(self.top, *y), max(self.bottom, *y)

    def add(self, item: Element, *, layer: str = "lines") -> None:
        """Put an element on a layer."""
        self.layers[layer].append(item)

    def figure(self, figure: Figure, *, layer: str = "figure", **attributes: str | float | None) -> None:
        """Draw a figure as one group and make room for it."""
        _, low, _, high = extent(figure)
        self.reach(self.view.y(high) - 3, self.view.y(low) + 1)
        self.add(self.view.draw(figure, **attributes), layer=layer)

    def stroke(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        *,
        pen: str = "dimension",
        dashed: bool = False,
        layer: str = "lines",
        **attributes: str | float | None,
    ) -> None:
        """A straight line in px."""
        look = pen_attributes(pen, dashed=dashed, weight=self.view.weight)
        self.add(element("line", x1=x1, y1=y1, x2=x2, y2=y2, **look, **attributes), layer=layer)

    def head(self, x: float, y: float, dx: float, dy: float, *, size: float = 6.0, pen: str = "arrow") -> None:
        """An arrowhead with its point at a place, pointing along a unit direction."""
        half = size * 0.26
        bx, by = x - dx * size, y - dy * size
        corners = [(x, y), (bx - dy * half, by + dx * half), (bx + dy * half, by - dx * half)]
        self.polygon(corners, pen=pen)

    def polygon(
        self, corners: list[Point], *, pen: str, layer: str = "lines", **attributes: str | float | None
    ) -> None:
        """A closed shape through px points."""
        look = pen_attributes(pen, weight=self.view.weight)
        self.add(element("path", d=path(corners, closed=True), **look, **attributes), layer=layer)

    def letter(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = SMALL,
        anchor: str = "start",
        bold: bool = False,
        color: str = "ink",
        halo: bool = True,
        **attributes: str | float | None,
    ) -> Box:
        """Letter a text at a place and keep its room."""
        box = text_box(x, y, text, size=size, anchor=anchor, bold=bold)
        self.board.take(box)
        self.reach(box.y1 - 1, box.y2 + 1)
        self.add(
            letters(x, y, text, size=size, anchor=anchor, bold=bold, color=color, halo=halo, **attributes),
            layer="letters",
        )
        return box

    def caption(self, texts: Iterable[str], *, y: float, right_px: float | None = None) -> float:
        """Small lines from the left edge, wrapped to the width; returns where they end."""
        limit = (self.board.right if right_px is None else right_px) - self.inner_left_edge
        line_height = SMALL * 1.3
        for row in wrapped([t for t in texts if t], limit):
            y += line_height
            self.letter(self.inner_left_edge, y, row, color="steel", halo=False)
        return y

    @property
    def inner_left_edge(self) -> float:
        """Left edge shared by everything lettered below the drawing."""
        return self.board.left

    def svg(self, *, title: str, desc: str, **attributes: str | float | None) -> str:
        """The finished drawing."""
        layers = [group(*items, class_=f"rd-{name}") for name, items in self.layers.items() if items]
        return document(
            *layers,
            left=self.left,
            top=self.top - _EDGE,
            width=self.width,
            height=self.bottom - self.top + 2 * _EDGE,
            title=title,
            desc=desc,
            class_="rd",
            data_scale=f"{self.view.scale:.6g}",
            **attributes,
        )


def wrapped(texts: list[str], width: float, *, size: float = SMALL, joint: str = " · ") -> list[str]:
    """Phrases joined into rows no wider than ``width``; a phrase too long by itself is broken between words."""
    rows: list[str] = []
    for text in texts:
        joined = f"{rows[-1]}{joint}{text}" if rows else text
        if rows and text_width(joined, size) <= width:
            rows[-1] = joined
            continue
        current = ""
        for word in text.split():
            trial = f"{current} {word}".strip()
            if current and text_width(trial, size) > width:
                rows.append(current)
                current = word
            else:
                current = trial
        if current:
            rows.append(current)
    return rows


def balanced(text: str, width: float, *, size: float = SMALL) -> list[str]:
    """A phrase broken into as few rows as fit, the rows as even as can be."""
    rows = wrapped([text], width, size=size)
    narrowest = width
    while narrowest > 40:
        trial = wrapped([text], narrowest - 6, size=size)
        if len(trial) > len(rows):
            break
        rows, narrowest = trial, narrowest - 6
    return rows
