"""Letters: how wide a text is, where its box lies, and placing labels so that none lies on another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from rubrail.sheets.drawing.svg import Element, element
from rubrail.sheets.drawing.tokens import FONT, ON_PAPER, SMALL

# Advance widths of the house type at regular weight, in thousandths of its size, measured glyph by glyph and grouped.
_WIDTHS = {
    200: "  ",
    252: "|ij',.:;·’lI",
    303: "!f()[]{}-",
    345: "°tr/\\",
    424: '*s?z"″′',
    468: "xcvyYJ–",
    498: "LFke#$+0123456789<=>^~×≤≥−_ag",
    530: "XVESTZ`oA",
    550: "hunbdpqPR",
    595: "CKB&DG",
    660: "UNHOQ",
    790: "wM¼W¾—½",
    845: "%m@",
}
_WIDTH = {c: w / 1000 for w, letters in _WIDTHS.items() for c in letters}
_OTHER = 0.6
_SAFETY = 1.04
"""Room for a fallback type that runs a little wider."""
_BOLD = 1.035
ASCENT, DESCENT = 0.72, 0.2
"""Height of capitals and depth of descenders, as shares of the text size."""

_SHIFT = {"start": 0.0, "middle": 0.5, "end": 1.0}


@lru_cache(maxsize=8192)
def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a text in px, slightly generous.

    Parameters
    ----------
    text : str
        One line.
    size : float
        Text size, px.
    """
    return sum(_WIDTH.get(c, _OTHER) for c in text) * size * _SAFETY * (_BOLD if bold else 1.0)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in px."""

    x1: float
    y1: float
    x2: float
    y2: float

    def overlaps(self, other: Box, gap: float = 0.0) -> bool:
        """Whether the two come closer than ``gap``."""
        return (
            self.x1 < other.x2 + gap
            and other.x1 < self.x2 + gap
            and self.y1 < other.y2 + gap
            and other.y1 < self.y2 + gap
        )

    def within(self, other: Box) -> bool:
        """Whether it lies wholly inside another."""
        return self.x1 >= other.x1 and self.y1 >= other.y1 and self.x2 <= other.x2 and self.y2 <= other.y2


def text_box(x: float, y: float, text: str, *, size: float, anchor: str = "start", bold: bool = False) -> Box:
    """Box of a text whose baseline starts, centers or ends at a point."""
    width = text_width(text, size, bold=bold)
    left = x - _SHIFT[anchor] * width
    return Box(left, y - ASCENT * size, left + width, y + DESCENT * size)


def letters(
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
) -> Element:
    """A text element; the halo clears the lines behind it."""
    classes = f"rd-text rd-f-{color}" + (" rd-s-paper" if halo else "")
    return element(
        "text",
        text,
        x=x,
        y=y,
        class_=classes,
        font_family=FONT,
        font_size=size,
        font_weight=600 if bold else None,
        text_anchor=anchor if anchor != "start" else None,
        fill=ON_PAPER[color],
        stroke=ON_PAPER["paper"] if halo else None,
        stroke_width=3 if halo else None,
        stroke_linejoin="round" if halo else None,
        paint_order="stroke" if halo else None,
        **attributes,
    )


@dataclass
class Board:
    """Boxes already taken on a drawing; new labels go where there is room.

    left, right
        The sheet's edges in px: nothing is lettered outside them.
    """

    left: float
    right: float
    taken: list[Box] = field(default_factory=list)

    def free(self, box: Box, gap: float = 2.0) -> bool:
        """Whether a box is on the sheet and clear of everything taken."""
        # A text moved just onto the sheet lies on its edge, but for rounding.
        on_sheet = box.x1 >= self.left - 0.01 and box.x2 <= self.right + 0.01
        return on_sheet and not any(box.overlaps(t, gap) for t in self.taken)

    def take(self, box: Box) -> None:
        """Reserve a box."""
        self.taken.append(box)

    def first_free(self, candidates: Iterable[Box], gap: float = 2.0) -> int | None:
        """Index of the first candidate with room, which is then taken; None where none has."""
        for i, box in enumerate(candidates):
            if self.free(box, gap):
                self.take(box)
                return i
        return None

    def clamped(self, x: float, width: float, anchor: str = "middle") -> float:
        """``x`` moved by as little as keeps a text of that width on the sheet."""
        shift = _SHIFT[anchor] * width
        return min(max(x, self.left + shift), self.right - width + shift)

    def gaps(self, x: float, y1: float, y2: float, clear: float = 2.0) -> Sequence[tuple[float, float]]:
        """Stretches of an upright line that cross no taken box: a line is broken where it would cross a text."""
        stretches = [(y1, y2)]
        for box in self.taken:
            if not box.x1 - clear < x < box.x2 + clear:
                continue
            low, high = box.y1 - clear, box.y2 + clear
            cut: list[tuple[float, float]] = []
            for a, b in stretches:
                cut += [(p, q) for p, q in ((a, min(b, low)), (max(a, high), b)) if q - p > 0.5]
            stretches = cut
        return stretches
