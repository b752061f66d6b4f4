"""A plan of tie-downs as its page lists it: fields to change it by, what is asked, what is held, what would gain."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import isnan
from typing import Any

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from rubrail.answers.report import Line
from rubrail.answers.secure_parts import Anchor, Outfit, Plan, Scene, Tie
from rubrail.answers.secure_report import Held, Secured, TieDown
from rubrail.desk.tie_address import as_text
from rubrail.sheets.drawing.tie_marks import label_of
from rubrail.sheets.sentences_amounts import amount, feet
from rubrail.sheets.sentences_lines import settle_sentence, yes_or_no
from rubrail.sheets.sentences_tie_down import friction_sentence, gear_taken, locked_sentence, reading_sentence
from rubrail.sheets.sentences_words import KIND_HEADS, begin, called, limit_name, need_phrase, together

COUNTED = ("tie-downs", "pieces")


def pieces_shown(
    found: Sequence[Secured], scenes: Sequence[Scene], plans: Sequence[Plan], *, method: str, metric: bool
) -> list[dict[str, Any]]:
    """Every piece with its tie-downs; these are counted on over all pieces, as the address has them."""
    out, first = [], 0
    for n, (piece, scene, plan) in enumerate(zip(found, scenes, plans, strict=True)):
        shown = zip(piece.ties, plan.ties, strict=True)
        ties = [
            _tie(first + k, label_of(n, t.number, pieces=len(found)), n, t, tie, scene, method=method, metric=metric)
            for k, (t, tie) in enumerate(shown)
        ]
        first += len(plan.ties)
        out.append({
            "index": n,
            "title": begin(called(piece.title, piece.id, what="piece")),
            "verdict": piece.verdict,
            "ties": ties,
            "gear": gear_taken(piece),
            "bends": piece.bends,
            "locked": plan.locked,
            "blocked": plan.blocked,
            "locked_says": locked_sentence(piece),
            "friction_says": friction_sentence(piece),
            "held": [_held(h) for h in piece.held] if method == "us" else [],
            "readings": _readings(piece, metric=metric),
            "groups": _groups(piece.lines, metric=metric),
            "settle": settle_sentence(piece.settle, metric=metric) if piece.settle else "",
            "needs": [begin(need_phrase(need)) for need in piece.unknown],
        })  # fmt: skip
    return out


def _tie(
    at: int, label: str, n: int, t: TieDown, tie: Tie, scene: Scene, *, method: str, metric: bool
) -> dict[str, Any]:
    short = not isnan(t.length_in) and not isnan(t.reach_in) and t.length_in > t.reach_in
    return {
        "at": at,
        "label": label,
        "text": as_text(n, tie),
        "path": tie.path,
        "anchors": _members(scene.anchors.values(), tie.anchor),
        "fars": _members(scene.anchors.values(), tie.far) if tie.path != "direct" else None,
        "points": _members(scene.points.values(), tie.point) if tie.path != "over" else None,
        "gears": _gears(scene, tie),
        "good_for": amount(t.wll_lb, "lb", metric=metric),
        "weakest": t.weakest.replace(", ", " and "),
        "counts": "" if method != "us" else "an accessory" if t.holds == "accessory"
        else amount(t.counted_lb, "lb", metric=metric),
        "length": feet(t.length_in, metric=metric),
        "short": feet(t.reach_in, metric=metric) if short else "",
    }  # fmt: skip


@dataclass(frozen=True)
class Choices:
    """What a field offers, and what it has chosen. html : its options."""

    html: SafeString
    title: str


def _members(members: Iterable[Anchor], chosen: str) -> Choices:
    """Places an end may go, front first; one not known only where the plan has it so."""
    order = sorted(members, key=lambda m: float("inf") if m.x_in is None else float(m.x_in))
    found = [(m.key, m.title) for m in order]
    return _choices(found if chosen else [("", "not known"), *found], chosen)


def _gears(scene: Scene, tie: Tie) -> Choices:
    """Gear of the kit, a chain with its binder; without one only where the plan has it so."""
    chosen = (tie.gear, tie.binder)
    fitting = (
        (f"{gear},{binder}", _outfit(o))
        for (gear, binder), o in scene.outfits.items()
        if binder or o.kind == "strap" or (gear, binder) == chosen
    )
    return _choices(list(fitting), ",".join(chosen))


def _outfit(o: Outfit) -> str:
    if o.kind == "strap":
        return o.title
    return f"{o.title}, {o.binder_title if o.binder else 'no binder'}"


def _choices(found: Sequence[tuple[str, str]], chosen: str) -> Choices:
    # Made here and not in the template: a plan of many tie-downs has thousands of options.
    options = (
        f'<option value="{escape(key)}"{" selected" if key == chosen else ""}>{escape(title)}</option>'
        for key, title in found
    )
    return Choices(mark_safe("".join(options)), dict(found).get(chosen, ""))


def _held(h: Held) -> dict[str, str | bool]:
    def g(value: float) -> str:
        return "not known" if isnan(value) else f"{value:.2f} g"

    working, breaking = (
        asked > 0 and have < asked
        for have, asked in ((h.working_held_g, h.working_asked_g), (h.breaking_held_g, h.breaking_asked_g))
    )
    return {
        "direction": begin(h.direction),
        "working": g(h.working_held_g) if h.working_asked_g else "",
        "working_asked": f"{h.working_asked_g:.3g} g" if h.working_asked_g else "",
        "breaking": g(h.breaking_held_g),
        "breaking_asked": f"{h.breaking_asked_g:.3g} g" if h.breaking_asked_g else "",
        "less_working": working,
        "less_breaking": breaking,
    }


def _readings(piece: Secured, *, metric: bool) -> list[tuple[str, list[tuple[bool, str]]]]:
    """Readings under what they read; the governing one of each first."""
    titles = dict.fromkeys(r.title for r in piece.readings)
    return [
        (
            begin(title),
            [(r.governs, reading_sentence(r, metric=metric))
             for r in sorted(piece.readings, key=lambda r: not r.governs) if r.title == title],
        )
        for title in titles
    ]  # fmt: skip


def _groups(lines: Sequence[Line], *, metric: bool) -> list[tuple[str, list[dict[str, str]]]]:
    """Lines by kind, those alike as one; what is held in each direction has a table of its own."""
    alike: dict[tuple, list[Line]] = {}
    for line in lines:
        if line.unit == "g" or line.verdict == "does not apply" or (line.verdict == "clear" and line.demand == 0):
            continue  # what asks for nothing needs no word
        each = "" if line.member.startswith("tie-down") else line.member
        alike.setdefault((line.kind, line.check, line.verdict, each), []).append(line)
    return [
        (head, rows)
        for kind, head in KIND_HEADS.items()
        if (rows := [_line(some, metric=metric) for key, some in alike.items() if key[0] == kind])
    ]


def _line(some: Sequence[Line], *, metric: bool) -> dict[str, str]:
    line = some[0]
    members = [x.member for x in some if x.member]
    title = limit_name(line.title, line.member) if len(some) == 1 else f"{line.title}, {together(members)}"
    demand, there = ("", "") if yes_or_no(line) else (
        amount(v, "" if line.unit in COUNTED else line.unit, metric=metric) for v in (line.demand, line.limit)
    )  # fmt: skip
    return {"title": begin(title), "verdict": line.verdict, "demand": demand, "there": there,
            "says": line.says if line.verdict in ("over", "depends", "not known") else ""}  # fmt: skip
