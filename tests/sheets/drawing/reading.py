"""Read a drawing back: its shapes with their parts, its texts with their boxes."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass

from rubrail.sheets.drawing.lettering import Box, text_box

NS = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Letters:
    text: str
    x: float
    y: float
    box: Box
    attributes: dict[str, str]


class Drawing:
    """A parsed drawing."""

    def __init__(self, svg: str) -> None:
        self.svg = svg
        self.root = ET.fromstring(svg)
        self.left, self.top, self.width, self.height = (float(v) for v in self.root.get("viewBox").split())

    @property
    def scale(self) -> float:
        return float(self.root.get("data-scale"))

    @property
    def frame(self) -> Box:
        return Box(self.left, self.top, self.left + self.width, self.top + self.height)

    def elements(self, tag: str | None = None) -> Iterator[ET.Element]:
        return (e for e in self.root.iter() if tag is None or e.tag == NS + tag)

    def parts(self, name: str) -> list[ET.Element]:
        return [e for e in self.root.iter() if e.get("data-part") == name]

    def bottom_of(self, name: str) -> float:
        """Lowest place of a part on the page; the ground is 0 and what lies below it is positive."""
        return max(y for e in self.parts(name) for _, y in points(e))

    def letters(self) -> list[Letters]:
        out = []
        for e in self.elements("text"):
            x, y, size = float(e.get("x")), float(e.get("y")), float(e.get("font-size"))
            bold = e.get("font-weight") == "600"
            box = text_box(x, y, e.text, size=size, anchor=e.get("text-anchor", "start"), bold=bold)
            out.append(Letters(e.text, x, y, box, dict(e.attrib)))
        return out

    def texts(self) -> list[str]:
        return [t.text for t in self.letters()]

    def collisions(self) -> list[tuple[str, str]]:
        """Pairs of texts that lie on each other."""
        found, letters = [], self.letters()
        for i, a in enumerate(letters):
            found += [(a.text, b.text) for b in letters[i + 1 :] if a.box.overlaps(b.box, -0.5)]
        return found

    def clipped(self) -> list[str]:
        """Texts that reach past the frame."""
        return [t.text for t in self.letters() if not t.box.within(self.frame)]


def points(path: ET.Element) -> list[tuple[float, float]]:
    """Corners of a path drawn with M and L, or both ends of a line."""
    if path.tag == NS + "line":
        return [(float(path.get(f"x{i}")), float(path.get(f"y{i}"))) for i in (1, 2)]
    if path.tag == NS + "rect":
        x, y, w, h = (float(path.get(n)) for n in ("x", "y", "width", "height"))
        return [(x, y), (x + w, y + h)]
    numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", path.get("d"))]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def span(elements: list[ET.Element]) -> tuple[float, float, float, float]:
    """Least and greatest x and y of several shapes."""
    xs, ys = zip(*(p for e in elements for p in points(e)), strict=True)
    return min(xs), max(xs), min(ys), max(ys)
