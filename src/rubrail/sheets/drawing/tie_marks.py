"""What a plan of tie-downs is drawn from: each chain between its places, its number, and where its ends may go."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rubrail.answers.secure_parts import Scene
from rubrail.answers.secure_report import Secured, TieDown
from rubrail.sheets.drawing.lettering import Box, letters, text_width
from rubrail.sheets.drawing.sheet import Sheet
from rubrail.sheets.drawing.svg import Element, element, group
from rubrail.sheets.drawing.tokens import SMALL, pen_attributes
from rubrail.sheets.drawing.view import path

Place = tuple[float, float, float]
_LETTERS = "ABCDEFGHIJKL"
_ROUND = 7.5


@dataclass(frozen=True, slots=True)
class Mark:
    """One tie-down as drawn.

    label : its number, with the letter of its piece where there are several; path_in : places it runs through, x, y,
    z; ends : how many ends it has on the trailer, the first and the last place of the path.
    """

    label: str
    tie: TieDown
    piece: int
    path_in: tuple[Place, ...]
    verdict: str
    strap: bool


@dataclass(frozen=True, slots=True)
class Target:
    """A place an end may be dragged to."""

    kind: str
    key: str
    piece: int | None
    place_in: Place
    title: str


def label_of(piece: int, number: int, *, pieces: int) -> str:
    """Number of a tie-down as drawn and listed: ``3``, or ``B3`` where several pieces are tied down."""
    return f"{_LETTERS[piece % len(_LETTERS)]}{number}" if pieces > 1 else str(number)


def marks_of(pieces: Sequence[Secured]) -> list[Mark]:
    """Every tie-down whose places are known, of every piece."""
    out = []
    for n, piece in enumerate(pieces):
        for tie in piece.ties:
            path = _path(tie)
            if path:
                out.append(
                    Mark(
                        label_of(n, tie.number, pieces=len(pieces)), tie, n, path, _verdict(piece, tie),
                        "strap" in tie.gear_title,
                    )
                )  # fmt: skip
    return out


def _path(tie: TieDown) -> tuple[Place, ...]:
    if any(map(math.isnan, (*tie.anchor_place_in, *tie.point_place_in))):
        return ()
    if tie.path == "direct":
        return (tie.anchor_place_in, tie.point_place_in)
    x, y, z = tie.point_place_in
    middle = ((x, y, z), (x, -y, z)) if tie.path == "over" else ((x, y, z),)
    return (tie.anchor_place_in, *middle, tie.far_place_in)


def _verdict(piece: Secured, tie: TieDown) -> str:
    """Worst verdict of the lines that are about this one tie-down."""
    mine = {line.verdict for line in piece.lines if line.member == f"tie-down {tie.number}"}
    return next((v for v in ("over", "not known", "depends") if v in mine), "clear")


def targets_of(scenes: Iterable[Scene]) -> list[Target]:
    """Anchors of the trailer and tie points of the pieces, where their places are known."""
    out: dict[tuple, Target] = {}
    for scene in scenes:
        for kind, members, piece in (("anchor", scene.anchors, None), ("point", scene.points, scene.index)):
            for m in members.values():
                if m.placed:
                    place = (float(m.x_in), float(m.y_in), float(m.z_in))
                    out.setdefault((kind, m.key, piece), Target(kind, m.key, piece, place, m.title))
    return list(out.values())


def pens_of(mark: Mark, *, far: bool = False) -> tuple[str, ...]:
    """Pens a tie-down is drawn with, lowest first."""
    if far:
        return ("tie-far",)
    if mark.verdict == "over":
        return ("tie-over",)
    if mark.verdict == "not known":
        return ("tie-unknown",)
    return ("tie-strap",) if mark.strap else ("tie", "tie-links")


def chain(mark: Mark, points: Sequence[tuple[float, float]], *, far: bool = False) -> Element:
    """One tie-down through px points, with what a page needs to move its ends."""
    steps = list(points)
    parts = [element("path", d=path(steps, closed=False), **pen_attributes(pen)) for pen in pens_of(mark, far=far)]
    ends = [("anchor", steps[0], mark.tie.anchor)]
    if mark.tie.far:
        ends.append(("far", steps[-1], mark.tie.far))
    if mark.tie.point:
        ends.append(("point", steps[1], mark.tie.point))
    if not far:
        parts += [
            element("circle", cx=x, cy=y, r=3.2 if kind != "point" else 2.6, data_end=kind, data_key=key,
                    data_tie=mark.label, **pen_attributes("tie-end"))
            for kind, (x, y), key in ends
        ]  # fmt: skip
    return group(
        *parts,
        data_part="tie",
        data_tie=mark.label,
        data_piece=mark.piece,
        data_number=mark.tie.number,
        data_anchor=mark.tie.anchor,
        data_point=mark.tie.point or None,
        data_far=mark.tie.far or None,
        data_path=mark.tie.path,
        data_holds=mark.tie.holds,
        data_verdict=mark.verdict,
    )


def target(t: Target, x: float, y: float) -> Element:
    """A place an end may go, small enough not to hide the ring it marks."""
    shown = element("circle", cx=x, cy=y, r=2.2 if t.kind == "anchor" else 1.8, **pen_attributes("tie-place"))
    return group(
        element("title", t.title), shown, data_part=f"tie-{t.kind}", data_key=t.key,
        data_piece=t.piece, data_x_in=t.place_in[0], data_y_in=t.place_in[1], data_z_in=t.place_in[2],
    )  # fmt: skip


def number_at(sheet: Sheet, label: str, x: float, y: float, *, candidates: Sequence[tuple[float, float]] = ()) -> None:
    """A number in a filled disc, wider where it is several, at the first of several places that is free."""
    half = max(_ROUND, text_width(label, SMALL, bold=True) / 2 + 4)

    def room(cx: float, cy: float) -> Box:
        return Box(cx - half, cy - _ROUND, cx + half, cy + _ROUND)

    places = [(sheet.board.clamped(px, 2 * half), py) for px, py in ((x, y), *candidates)]
    cx, cy = next((p for p in places if sheet.board.free(room(*p), 1.0)), places[0])
    sheet.board.take(room(cx, cy))
    sheet.reach(cy - _ROUND - 1, cy + _ROUND + 1)
    look = pen_attributes("tie-number")
    disc = element("rect", x=cx - half, y=cy - _ROUND, width=2 * half, height=2 * _ROUND, rx=_ROUND, **look)
    figure = letters(
        cx, cy + SMALL * 0.36, label, size=SMALL, anchor="middle", bold=True, color="sheet", halo=False
    )
    sheet.add(group(disc, figure, data_part="tie-label", data_tie=label), layer="letters")
