"""A signature as it was drawn: lines from strokes, on a base line."""

from __future__ import annotations

from collections.abc import Sequence

from rubrail.sheets.drawing.svg import document, element, number

WIDE, HIGH = 600, 180
"""The pad's own coordinates; strokes are whole numbers within it."""
BASE_Y = 140


def signature_view(strokes: Sequence[Sequence[int]], *, name: str) -> str:
    """A signature as SVG, the same for a page and for paper.

    Parameters
    ----------
    strokes : sequence of sequence of int
        Each ``x, y, x, y, ...`` in the pad's coordinates.
    name : str
        Whose it is, for who cannot see it.
    """
    pen = {"stroke": "#1E2A32", "fill": "none", "stroke_width": 4, "stroke_linecap": "round"}
    lines = [element("path", d=_line(stroke), class_="rd-s-ink", **pen, stroke_linejoin="round") for stroke in strokes]
    base = element("path", d=f"M8 {BASE_Y}H{WIDE - 8}", class_="rd-s-faint", stroke="#A9B3B8", stroke_width=1.5)
    return document(
        base,
        *lines,
        left=0,
        top=0,
        width=WIDE,
        height=HIGH,
        title=f"Signature of {name}",
        desc="Drawn by hand" if strokes else "Signed by typing the name",
        class_="rd",
    )


def _line(stroke: Sequence[int]) -> str:
    points = [f"{number(x)} {number(y)}" for x, y in zip(stroke[::2], stroke[1::2], strict=True)]
    # A dot is a line of no length; its round ends draw it.
    return f"M{points[0]}" + ("L" + "L".join(points[1:]) if len(points) > 1 else "h0")
