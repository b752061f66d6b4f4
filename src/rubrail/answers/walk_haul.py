"""What each station does for a haul: read from the weighing, the climb and the tie-down plan, not worked out again."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from rubrail.answers.climb import Climbing
from rubrail.answers.report import Line, Need, Piece, Weighing
from rubrail.answers.rig import Placement, Rigs, at_placement
from rubrail.answers.secure_report import TieDownPlan
from rubrail.answers.turn_rig import TurnInputs, touches
from rubrail.answers.walk_alone import FOOT_IN, against, jack_holds, over_bed
from rubrail.answers.walk_frame import member_loads
from rubrail.answers.walk_parts import Amount, Point, severity
from rubrail.checks.engine import Evaluation
from rubrail.checks.registry import CHECKS
from rubrail.checks.rows import TOLD_KINDS
from rubrail.checks.verdict import DUTY_WORDS, WORDS
from rubrail.things.columns import Columns
from rubrail.things.rig_loading import way_kind

NAN = math.nan
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
QUIET = ("clear", "does not apply", "not reached")
"""Verdicts of what is told only where it is otherwise."""


@dataclass(frozen=True)
class Asked:
    """One rig with all that was asked of it; ``tied`` is nothing where there is no gear to tie with."""

    one: Rigs
    placement: Placement
    columns: Columns
    weighing: Weighing
    climbing: Climbing
    tied: TieDownPlan | None


def haul_at(a: Asked, key: str) -> tuple[Point, ...]:
    """Points of one station, the most telling first."""
    made = _POINTS.get(key)
    return tuple(sorted(made(a), key=severity)) if made else ()


def _point(line: Line, about: str = "") -> Point:
    return Point(line.check, about or line.member, line.verdict, line=line, needs=(*line.missing, *line.settle))


def _rank(line: Line) -> tuple:
    words = DUTY_WORDS if line.verdict in DUTY_WORDS and line.verdict not in WORDS else WORDS
    return words.index(line.verdict), math.inf if math.isnan(line.share) else line.share


def _road(a: Asked, *checks: str, unless: tuple[str, ...] = ()) -> Iterator[Point]:
    """The worst member of each of these checks, in this order; those in ``unless`` only where they are not clear."""
    for point in _lines(a.weighing.lines, checks, unless):
        yield _named(point, a.weighing.pieces)


def _named(point: Point, pieces: tuple[Piece, ...]) -> Point:
    """The point with *piece 2* told by its name."""
    word, _, number = point.about.partition(" ")
    if word != "piece" or not number.isdigit():
        return point
    return replace(point, about=told_apart([p.title for p in pieces])[int(number) - 1])


def told_apart(titles: Sequence[str]) -> list[str]:
    """Names of pieces, those of one name counted: ``first slab scissor lift``, ``second slab scissor lift``."""
    seen: Counter[str] = Counter()
    out = []
    for title in titles:
        seen[title] += 1
        if titles.count(title) < 2 or seen[title] > len(ORDINALS):
            out.append(title)
            continue
        shy = title[1:2].islower()
        out.append(f"{ORDINALS[seen[title] - 1]} {title[:1].lower() + title[1:] if shy else title}")
    return out


def _rest(a: Asked, *, truck: bool) -> Iterator[Point]:
    """Everything that is not clear and told at no station: of the truck, or of the road and the papers."""
    for check in dict.fromkeys(x.check for x in a.weighing.lines):
        c = CHECKS[check]
        if check not in PLACED and c.kind not in TOLD_KINDS and (c.group == "truck") == truck:
            yield from _road(a, check, unless=(check,))


def _lines(lines: tuple[Line, ...], checks: tuple[str, ...], unless: tuple[str, ...], about: str = "") -> Iterator:
    for check in checks:
        mine = [x for x in lines if x.check == check and x.verdict != "does not apply"]
        worst = min(mine, key=_rank, default=None)
        if worst is not None and not (check in unless and worst.verdict in QUIET):
            yield _point(worst, about)


def _climb(a: Asked, *checks: str, unless: tuple[str, ...] = ()) -> Iterator[Point]:
    """The same of the machine that has it worst on its way up."""
    for check in checks:
        found = []
        for m in a.climbing.machines:
            title = m.title if len(a.climbing.machines) > 1 else ""
            found += list(_lines(m.lines, (check,), unless, title))
        worst = min(found, key=lambda p: _rank(p.line), default=None)
        if worst is not None:
            yield worst


def load(a: Asked, name: str) -> float:
    """A load of the whole rig, as weighed."""
    return next((x.value for x in a.weighing.loads if x.name == name and not x.member), NAN)


def _coupling(a: Asked) -> Iterator[Point]:
    yield from _road(
        a, "coupler-vertical", "hitch-vertical", "hitch-kind", "ball-size", "gooseneck-ball", "coupler-gross",
        "hitch-gross", "coupler-share-low", "coupler-share-high", "coupler-lift",
        unless=("hitch-kind", "coupler-share-low", "coupler-share-high", "coupler-lift"),
    )  # fmt: skip
    yield from _rest(a, truck=True)


def _chains(a: Asked) -> Iterator[Point]:
    fitted = {True: "fitted", False: "none", None: ""}[a.one.trailers[0].breakaway]
    for point in _road(a, "chain-strength", "gooseneck-chains", "plug-match", "brake-controller", "breakaway"):
        yield replace(point, words=(fitted,)) if point.key == "breakaway" else point


def _neck(a: Asked) -> Iterator[Point]:
    if over_bed(a.one.trailers[0]):
        yield from _road(a, "neck-clearance", "neck-over-rail", unless=("neck-over-rail",))
    else:
        yield from _road(a, "level-trim")
    yield from _folds(a)
    yield from _road(
        a, "neck-swing", "level-trim", "hitch-too-low", "hitch-too-high",
        unless=("level-trim", "hitch-too-low", "hitch-too-high"),
    ) if over_bed(a.one.trailers[0]) else _road(
        a, "hitch-too-low", "hitch-too-high", unless=("hitch-too-low", "hitch-too-high")
    )  # fmt: skip


def _folds(a: Asked) -> Iterator[Point]:
    ask = a.one.asked(0)
    for meeting in touches(TurnInputs.of(a.columns)):
        yield Point(
            "fold" if meeting.folds else "crest",
            about=meeting.name,
            amounts=(Amount("angle", meeting.angle_rad, "rad"),),
            needs=tuple(ask(n, None) for n in meeting.missing),
        )


def _jack(a: Asked) -> Iterator[Point]:
    t = a.one.trailers[0]
    most = jack_holds(t)
    point = against("jack-loaded", load(a, "coupler_load_lb"), most, (most, "jack.rating_lb", "rating of the jack"))
    yield replace(point, needs=(*_coupler_needs(a), *point.needs)) if math.isnan(point.get("demand")) else point


def _coupler_needs(a: Asked) -> tuple[Need, ...]:
    """What the load on the coupler waits for: the check of its share asks for nothing else."""
    return next((x.missing for x in a.weighing.lines if x.check == "coupler-share-high"), ())


def _box(a: Asked) -> Iterator[Point]:
    """What the label leaves for what is packed here; the limit itself is told with the label."""
    for point in _road(a, "trailer-gross"):
        left = Amount("left", point.line.margin, "lb")
        yield replace(point, key="left-by-label", line=None, amounts=(left,))


def _deck_front(a: Asked) -> Iterator[Point]:
    row = sorted(a.weighing.pieces, key=lambda p: p.front_x_in)
    for first in row[:1]:
        yield Point(
            "first-piece",
            about=first.title,
            amounts=(Amount("behind", first.front_from_deck_in, "in"),),
            words=(first.facing,),
        )
        now, then = (_coupler(a, shift) for shift in (0.0, -FOOT_IN))
        more = then - now
        needs = _coupler_needs(a) if math.isnan(more) else ()
        yield Point("foot-forward-haul", amounts=(Amount("coupler", more, "lb"),), needs=needs)
    yield from _road(
        a, "deck-front", "body-clear-of-neck", "body-over-tongue",
        unless=("deck-front", "body-clear-of-neck", "body-over-tongue"),
    )  # fmt: skip


def _coupler(a: Asked, shift_in: float) -> float:
    """Coupler load with every piece so far behind its place."""
    moved = Placement(tuple(x + shift_in for x in a.placement.front_x_in), a.placement.facing)
    return float(np.ravel(Evaluation(at_placement(a.one, moved)).value("coupler_load_lb"))[0])


def _deck(a: Asked) -> Iterator[Point]:
    yield from _road(a, "overall-height", "between-fenders", "deck-width", "deck-rear", unless=("deck-rear",))
    yield from _tied(a)


def _tied(a: Asked) -> Iterator[Point]:
    if a.tied is None or not a.tied.pieces:
        yield Point("no-kit", words=("nothing",) if a.tied is not None else ())
        return
    names = told_apart([p.title for p in a.tied.pieces])
    for piece, name in zip(a.tied.pieces, names, strict=True):
        keys = {k for t in piece.ties for k in (t.anchor, t.far) if k}
        titles = dict.fromkeys(
            title for t in piece.ties for key, title in ((t.anchor, t.anchor_title), (t.far, t.far_title)) if key
        )
        yield Point(
            "tie-down",
            about=name if len(a.tied.pieces) > 1 else "",
            verdict=piece.verdict,
            line=piece.governing,
            amounts=(
                Amount("anchors", float(len(keys)), ""),
                Amount("tie-downs", float(len(piece.ties)), ""),
                Amount("weight", piece.weight_lb, "lb"),
            ),
            words=tuple(titles),
            needs=(*piece.settle, *piece.unknown),
        )


def _frame(a: Asked) -> Iterator[Point]:
    yield from member_loads(a.one)


def _gear(a: Asked) -> Iterator[Point]:
    # Of one axle both say the same.
    alone = ("axle",) if len(a.one.trailers[0].axle) == 1 else ()
    yield from _road(a, "axle-group", "axle", "brakes-all-wheels", unless=("brakes-all-wheels", *alone))
    yield from _climb(a, "axle-while-loading")


def _tires(a: Asked) -> Iterator[Point]:
    yield from _road(a, "axle-tires", "axle-wheels", "tires-carry-axle-rating", unless=("tires-carry-axle-rating",))


_UP = (
    "climb-slope", "ramp-pair", "ramp-outside", "ramp-inside", "climb-grip", "coupler-uplift", "rig-lifts",
    "nose-clearance", "tail-clearance", "tips-back", "uphill-light", "ramp-each", "ramp-bending", "truck-rear-light",
    "way-up",
)  # fmt: skip
_UP_IF_NOT_CLEAR = (
    "rig-lifts", "nose-clearance", "tail-clearance", "tips-back", "uphill-light", "ramp-each", "ramp-bending",
    "truck-rear-light", "way-up",
)  # fmt: skip


def _tail(a: Asked) -> Iterator[Point]:
    yield from _climb(a, "belly-clearance")
    yield from _road(a, "deck-rear")
    if way_kind(a.one.trailers[0]) in ("tail", "tilt"):
        yield from _climb(a, *_UP, unless=_UP_IF_NOT_CLEAR)


def _ramps(a: Asked) -> Iterator[Point]:
    if way_kind(a.one.trailers[0]) not in ("tail", "tilt"):
        yield from _climb(a, *_UP, unless=_UP_IF_NOT_CLEAR)
    if a.one.trailers[0].deck.tail_kind in (None, "none"):
        yield from _climb(a, "belly-clearance")


def _lights(a: Asked) -> Iterator[Point]:
    yield from _road(a, "trailer-gross", "lamps", "conspicuity")
    yield from _rest(a, truck=False)


PLACED = frozenset(
    (
        "coupler-vertical", "hitch-vertical", "hitch-kind", "ball-size", "gooseneck-ball", "coupler-gross",
        "hitch-gross", "coupler-share-low", "coupler-share-high", "coupler-lift", "chain-strength",
        "gooseneck-chains", "plug-match", "brake-controller", "breakaway", "neck-clearance", "neck-over-rail",
        "level-trim", "neck-swing", "hitch-too-low", "hitch-too-high", "trailer-gross", "deck-front",
        "body-clear-of-neck", "body-over-tongue", "overall-height", "between-fenders", "deck-width", "deck-rear",
        "axle-group", "axle", "brakes-all-wheels", "axle-tires", "axle-wheels", "tires-carry-axle-rating",
        "lamps", "conspicuity",
    )
)  # fmt: skip
"""Checks of the road that a station names; what else is not clear is told at the coupling or with the papers."""

_POINTS: dict[str, Callable[[Asked], Iterator[Point]]] = {
    "coupling": _coupling, "chains": _chains, "neck": _neck, "jack": _jack, "box": _box, "deck-front": _deck_front,
    "deck": _deck, "frame": _frame, "running-gear": _gear, "tires": _tires, "tail": _tail, "ramps": _ramps,
    "lights": _lights,
}  # fmt: skip
