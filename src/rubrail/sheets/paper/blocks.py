"""What a printed sheet can hold."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Verdict = Literal["", "clear", "depends", "over", "not known"]


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values in one or two columns; an empty value is left to write in."""

    rows: tuple[tuple[str, str], ...]
    heading: str = ""
    columns: int = 2
    kind: str = field(default="facts", init=False)


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head.

    align : one letter a column, ``l``, ``r`` or ``c``; strong : rows set bold; marks : a verdict for each row, drawn
    as its shape before the first cell; widths : relative widths, equal shares of what is left where 0
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: str = ""
    heading: str = ""
    strong: tuple[int, ...] = ()
    marks: tuple[Verdict, ...] = ()
    widths: tuple[float, ...] = ()
    kind: str = field(default="table", init=False)


@dataclass(frozen=True, slots=True)
class Drawing:
    """An SVG to scale across the page: ``share`` of its width, and no higher than ``high_mm`` where that is not 0."""

    svg: str
    says: str
    heading: str = ""
    caption: str = ""
    share: float = 1.0
    high_mm: float = 0.0
    kind: str = field(default="drawing", init=False)


@dataclass(frozen=True, slots=True)
class Abreast:
    """Drawings side by side, all of one width, each with its name above and what is said of it below.

    rows : for each, its name, its SVG, what is said, and the verdict that goes before it
    """

    rows: tuple[tuple[str, str, str, Verdict], ...]
    heading: str = ""
    kind: str = field(default="abreast", init=False)


@dataclass(frozen=True, slots=True)
class Steps:
    """What to do, in order; with boxes to tick instead of numbers where ``ticks``."""

    rows: tuple[str, ...]
    heading: str = ""
    ticks: bool = False
    columns: int = 1
    kind: str = field(default="steps", init=False)


@dataclass(frozen=True, slots=True)
class Words:
    """Paragraphs; ``quiet`` in small type."""

    rows: tuple[str, ...]
    heading: str = ""
    quiet: bool = False
    kind: str = field(default="words", init=False)


@dataclass(frozen=True, slots=True)
class Big:
    """Figures to be read at arm's length or across a yard: what, and how much."""

    rows: tuple[tuple[str, str], ...]
    heading: str = ""
    columns: int = 3
    size_pt: float = 21.0
    kind: str = field(default="big", init=False)


@dataclass(frozen=True, slots=True)
class Signatures:
    """Lines to sign on, two abreast."""

    rows: tuple[str, ...]
    kind: str = field(default="signatures", init=False)


@dataclass(frozen=True, slots=True)
class Break:
    """What follows begins on a new page."""

    kind: str = field(default="break", init=False)


@dataclass(frozen=True, slots=True)
class Label:
    """What hangs on one thing: its number, what it is, figures with their names, the code of an address, a foot line.

    code : SVG of a QR code; code_says : what is found there
    """

    number: str
    title: str
    figures: tuple[tuple[str, str], ...]
    code: str = ""
    code_says: str = ""
    foot: str = ""


@dataclass(frozen=True, slots=True)
class Labels:
    """A page of labels to be cut out, ``columns`` across and ``down``; one on a page is set to be read from afar."""

    rows: tuple[Label, ...]
    columns: int = 2
    down: int = 4
    kind: str = field(default="labels", init=False)


Block = Facts | Table | Drawing | Abreast | Steps | Words | Big | Signatures | Break | Labels


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet.

    sort : what kind of paper it is, in words, at its head; title : what it is about
    lead : the sentence said first, with ``verdict`` as its shape and word
    yard : whose paper it is; date : the day it speaks of, as it is printed
    link, link_says : address behind the QR code, and what is found there
    foot : said at the foot of every page
    fit : ``page`` for a sheet that is always one page, ``half`` for a card on the upper half of one, to be cut out;
        what would not fit is set smaller; ``bare`` for sheets without a head
    """

    sort: str
    title: str
    blocks: tuple[Block, ...]
    lead: str = ""
    verdict: Verdict = ""
    yard: str = ""
    date: str = ""
    link: str = ""
    link_says: str = ""
    foot: str = ""
    landscape: bool = False
    fit: Literal["", "page", "half", "bare"] = ""
