"""Every color, line weight and text size of the drawings, in one place.

A color is written twice on each element: as a class (``rd-s-ink`` strokes, ``rd-f-ink`` fills) that the page's own
tokens color, light or dark, and as the presentation attribute used where no stylesheet is, as on paper.
"""

from __future__ import annotations

from dataclasses import dataclass

COLORS = {
    "paper": "#F6F4EF",
    "sheet": "#FFFEFB",
    "ink": "#1E2A32",
    "steel": "#51636E",
    "faint": "#A9B3B8",
    "rubber": "#C6CCCE",
    "shade": "#E6E9E8",
    "accent": "#2F5D7C",
    "accent-tint": "#DDE8EF",
    "clear": "#27704F",
    "clear-tint": "#CFE6DB",
    "depends": "#8F5A0C",
    "depends-tint": "#F3E2C4",
    "over": "#A8322A",
    "over-tint": "#F2D4D0",
    "unknown": "#5B666F",
}
"""Light palette."""

ON_PAPER = {**COLORS, "paper": "#FFFFFF", "sheet": "#FFFFFF"}
"""Colors of the presentation attributes, which rule where no stylesheet is: the ground there is white."""

DARK = {
    "paper": "#12191E",
    "sheet": "#1B252C",
    "ink": "#E4E9EB",
    "steel": "#9DB0BB",
    "faint": "#4C5C66",
    "rubber": "#3A4851",
    "shade": "#26323A",
    "accent": "#8CBBDB",
    "accent-tint": "#22394A",
    "clear": "#63C29B",
    "clear-tint": "#1D4435",
    "depends": "#E0A64F",
    "depends-tint": "#4A3717",
    "over": "#EE8A80",
    "over-tint": "#55241F",
    "unknown": "#A3AFB8",
}
"""Dark palette: its own, not an inversion."""

FINE, THIN, LINE, BOLD = 0.6, 0.8, 1.25, 2.0
"""Line weights in px: dimension and extension lines; details; outlines; the deck's surface and the ground."""

SMALL, TEXT, LARGE = 11.0, 13.0, 17.0
"""Text sizes in px: captions and dimensions; values; a drawing's own heading figure."""

NARROW_PX = 520.0
"""Below this width a drawing keeps only the dimensions a buyer asks for first."""

DASH = "4 2.5"
"""Pattern of an outline whose dimension is not known and was taken from the class."""

CENTER = "14 3 2 3"
"""Pattern of a center line."""

FONT = "'Source Sans Pro', 'Source Sans 3', 'Noto Sans', sans-serif"
"""Type where no stylesheet is. Static cuts first: taken from a variable font, its lightest cut would be lettered."""

VERDICT_COLORS = {"clear": "clear", "depends": "depends", "over": "over", "not known": "unknown"}


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn: color of the stroke, its weight, color of the fill (None for none)."""

    stroke: str | None
    weight: float = LINE
    fill: str | None = None
    dash: str | None = None


PENS = {
    "outline": Pen("ink", LINE, "sheet"),
    "open": Pen("ink", LINE),
    "solid": Pen("ink", THIN, "ink"),
    "shaded": Pen("ink", LINE, "shade"),
    "deck": Pen("ink", BOLD),
    "detail": Pen("steel", THIN),
    "part": Pen("steel", THIN, "sheet"),
    "glass": Pen("steel", THIN, "shade"),
    "hidden": Pen("faint", THIN),
    "tire": Pen("ink", LINE, "rubber"),
    "hub": Pen("ink", THIN, "sheet"),
    "truck": Pen("steel", LINE, "sheet"),
    "cargo": Pen("accent", LINE, "accent-tint"),
    "cargo-part": Pen("accent", THIN, "sheet"),
    "cargo-line": Pen("accent", THIN),
    "cargo-solid": Pen("accent", THIN, "accent"),
    "cargo-open": Pen("accent", LINE),
    "cargo-wheel": Pen("accent", LINE, "rubber"),
    "cargo-thin": Pen("accent", THIN),
    "ground": Pen("ink", BOLD),
    "dimension": Pen("steel", FINE),
    "arrow": Pen(None, FINE, "steel"),
    "load": Pen("ink", LINE),
    "load-head": Pen(None, FINE, "ink"),
    "envelope": Pen("ink", BOLD),
    "grid": Pen("faint", FINE),
    "center": Pen("steel", FINE, None, CENTER),
    "extension": Pen("steel", FINE),
    "clear": Pen("clear", THIN, "clear-tint"),
    "clear-line": Pen("clear", BOLD),
    "depends": Pen("depends", THIN, "depends-tint"),
    "depends-line": Pen("depends", BOLD),
    "over": Pen("over", THIN, "over-tint"),
    "unknown": Pen("unknown", THIN),
    "swept": Pen(None, FINE, "accent-tint"),
    "road": Pen(None, FINE, "shade"),
    "tie": Pen("ink", 2.4),
    "tie-links": Pen("sheet", 1.0, None, "2.6 2.2"),
    "tie-strap": Pen("steel", 3.2),
    "tie-far": Pen("faint", 1.6),
    "tie-over": Pen("over", 2.6),
    "tie-unknown": Pen("unknown", 2.0, None, DASH),
    "tie-end": Pen("ink", LINE, "sheet"),
    "tie-place": Pen("steel", THIN, "sheet"),
    "tie-number": Pen("ink", THIN, "ink"),
    "spot": Pen("over", LINE, "sheet"),
}


def pen_attributes(pen: str, *, dashed: bool = False, weight: float = 1.0) -> dict[str, str | float | None]:
    """Attributes of an element drawn with a pen.

    Parameters
    ----------
    pen : str
        A name of ``PENS``.
    dashed : bool
        Whether the outline rests on an assumed dimension.
    weight : float
        Factor on the line weight, for small drawings.
    """
    p = PENS[pen]
    classes = [f"rd-s-{p.stroke}" if p.stroke else "", f"rd-f-{p.fill}" if p.fill else ""]
    return {
        "class_": " ".join(c for c in classes if c),
        "fill": ON_PAPER[p.fill] if p.fill else "none",
        "stroke": ON_PAPER[p.stroke] if p.stroke else None,
        "stroke_width": p.weight * weight if p.stroke else None,
        "stroke_dasharray": DASH if dashed else p.dash,
        "stroke_linejoin": "round" if p.stroke else None,
        "stroke_linecap": "butt" if dashed or not p.stroke else "round",
    }


def stylesheet() -> str:
    """The drawings' stylesheet: one class per color and use, colored by the page's own tokens of the same names.

    ``drawing.css`` beside this module is this text; a test holds the two together. A browser that cannot read a
    rule keeps the presentation attribute, which is the light palette.
    """
    rules = "".join(
        f".rd-{use}-{n} {{ {what}: var(--{n}, light-dark({c}, {DARK[n]})); }}\n"
        for n, c in COLORS.items()
        for use, what in (("s", "stroke"), ("f", "fill"))
    )
    return (
        "/* Written by rubrail.sheets.drawing.tokens; change the tokens there, then write this file again. */\n"
        ".rd { display: block; max-width: 100%; height: auto; }\n"
        ".rd-text { font-family: var(--font, inherit); font-variant-numeric: tabular-nums; }\n"
        f"{rules}"
    )
