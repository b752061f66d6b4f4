"""Hand over: put what was read and measured on the truck and the unit, weigh again, hold it against what was promised.

The haul's truck and the unit are taken as their files have them; what a plate says or a tape shows goes before that.
Nothing measured is never a pass: where a limit fails, or is not known, the trailer must not go without a decision.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from rubrail.answers.hand_over_fields import Readings
from rubrail.answers.hand_over_put import with_readings
from rubrail.answers.hand_over_report import Changed, HandOver, Way
from rubrail.answers.report import Line, Weighing
from rubrail.answers.rig import Placement, Rigs, at_placement, rigs
from rubrail.answers.turn import Touch
from rubrail.answers.turn_rig import TurnInputs, touches
from rubrail.answers.weigh import weigh
from rubrail.checks.rows import VERDICT_KINDS
from rubrail.checks.verdict import CLEAR, WORDS, verdict_codes
from rubrail.quantity.basis import default_tolerance
from rubrail.rules.tables import figure
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul
from rubrail.things.rigs import pieces_of
from rubrail.things.trailer import Trailer

HAIR = 1e-6
LIMITS = (*VERDICT_KINDS, "guidance")
TEN_FEET_IN = 120.0


def hand_over(
    *,
    haul: Haul | None,
    trailer: Trailer,
    readings: Readings,
    promised: Weighing | None = None,
    placement: Placement | None = None,
) -> HandOver:
    """Weigh a rig again with what was read and measured on it.

    Parameters
    ----------
    haul : Haul or None
        With its truck, cargo and limits resolved; without one nothing can be weighed.
    trailer : Trailer
    readings : mapping
        As ``read_readings`` gives them.
    promised : Weighing, optional
        What the buyer was promised, such as the one frozen in the quote.
    placement : Placement, optional
        Where each piece stands; where it was promised to stand, or the best place, where not given.
    """
    if haul is None:
        return _unweighed(trailer, readings, promised, ())
    try:
        measured, unit, put = with_readings(haul=haul, trailer=trailer, readings=readings)
    except Faults as told:
        return _unweighed(trailer, readings, promised, tuple(f.sentence for f in told.faults))
    weighing = weigh(haul=measured, trailer=unit, placement=placement or _as_promised(measured, promised))
    lines = tuple(hitched_lines(trailer=unit, readings=readings))
    verdict, governing = _worst(weighing, lines)
    changed = _changed(weighing, promised)
    way = _way(verdict, governing, promised, changed)
    return HandOver(
        verdict=verdict,
        held=_held(verdict, way) or bool(new_doubts(lines, changed)),
        way=way,
        governing=governing,
        weighing=weighing,
        promised=promised,
        lines=lines,
        put=put,
        changed=changed,
        touches=_touches(measured, unit, weighing),
    )


def _as_promised(haul: Haul, promised: Weighing | None) -> Placement | None:
    """Where the cargo was promised to stand, if it is the same cargo still."""
    if promised is None or [p.id for p in pieces_of(haul)] != [p.id for p in promised.pieces]:
        return None
    return _stands(promised)


def _stands(weighing: Weighing) -> Placement:
    return Placement(tuple(p.front_x_in for p in weighing.pieces), tuple(p.facing for p in weighing.pieces))


def _unweighed(trailer: Trailer, readings: Readings, promised: Weighing | None, against: tuple[str, ...]) -> HandOver:
    lines = tuple(hitched_lines(trailer=trailer, readings=readings))
    return HandOver("not known", True, "not promised", None, None, promised, lines, (), (), (), against)


def hitched_lines(*, trailer: Trailer, readings: Readings) -> Iterator[Line]:
    """What was measured on the hitched rig itself: how level it stands, and the room over the bed rail."""
    tape = default_tolerance(kind="height", basis="measured", number=0.0)
    front, rear = (readings.get(f"deck_{end}_height_in") for end in ("front", "rear"))
    length = trailer.deck.flat_length_in
    if front is not None and rear is not None:
        run = math.nan if length is None else float(length)
        yield _line(
            "hitched-level", "trailer standing level as measured, inches in ten feet", "guidance",
            demand=TEN_FEET_IN * abs(front - rear) / run, limit=figure("towing-guidance", "level_in_per_120_in"),
            off=TEN_FEET_IN * 2 * tape / run,
            says="Tow level to within an inch in ten feet; off level, torsion axles do not share the load.",
            ask="measure the length of the level deck, and its height at both ends",
        )  # fmt: skip
    room = readings.get("neck_room_in")
    if room is not None and trailer.coupling.kind in ("gooseneck", "kingpin"):
        touching = room <= 0
        yield _line(
            "hitched-room", "room between neck and bed rail as measured", "fit" if touching else "guidance",
            demand=figure("towing-guidance", "neck_clearance_in"), limit=float(room), off=tape,
            says="Leave six inches between neck and bed rail, or the neck strikes the bed where the ground dips.",
            ask="measure the least room between neck and bed rail, hitched",
        )  # fmt: skip


def _line(check: str, title: str, kind: str, *, demand: float, limit: float, off: float, says: str, ask: str) -> Line:
    margin = limit - demand
    code = int(verdict_codes(margin=margin, worst_margin=margin - off, limit=limit))
    return Line(
        check, title, kind, "coupling", "", WORDS[code], demand, limit, margin, margin - off,
        margin / limit if limit else -math.inf, "in", says, ask,
    )  # fmt: skip


def _worst(weighing: Weighing, lines: tuple[Line, ...]) -> tuple[str, Line | None]:
    """The verdict with what was measured hitched; guidance that fails caps it at ``depends``, as everywhere."""
    verdict, governing = weighing.verdict, weighing.governing
    for line in lines:
        word = line.verdict
        if line.kind == "guidance" and word != WORDS[CLEAR]:
            word = "clear" if word == "depends" else "depends"
        if WORDS.index(word) < WORDS.index(verdict):
            verdict, governing = word, line
    return verdict, governing


def _held(verdict: str, way: Way) -> bool:
    """Whether it must not go without a decision: what fails or is not known, and a doubt nobody was promised."""
    return verdict in ("over", "not known") or (verdict == "depends" and way in ("worse", "not promised"))


def new_doubts(lines: Iterable[Line], changed: Iterable[Changed]) -> tuple[Line, ...]:
    """Limits that fail, are not known or in doubt and were promised to stand better, whichever governs.

    A doubt somebody signed for covers no other. Guidance in doubt by its tolerance alone is none, as everywhere.

    Parameters
    ----------
    lines : iterable of Line
        Measured hitched, which nobody was promised.
    changed : iterable of Changed
    """
    measured = [(line, "clear") for line in lines]
    told = [(c.now, "clear" if c.before is None else c.before.verdict) for c in changed]
    return tuple(
        line
        for line, then in (*measured, *told)
        if WORDS.index(line.verdict) < WORDS.index(then) and (line.kind, line.verdict) != ("guidance", "depends")
    )


def _way(verdict: str, governing: Line | None, promised: Weighing | None, changed: Iterable[Changed]) -> Way:
    if promised is None:
        return "not promised"
    now, then = WORDS.index(verdict), WORDS.index(promised.verdict)
    if now != then:
        return "better" if now > then else "worse"
    # A rig that was over already is worse for each limit more that it fails, whichever governs.
    if verdict == "over" and any(c.now.verdict == "over" and c.before and c.before.verdict != "over" for c in changed):
        return "worse"
    return _shares(governing, promised.governing)


def _shares(now: Line | None, then: Line | None) -> Way:
    """Which of two limits has more to spare, as a share of itself; the same where either cannot be told."""
    if now is None or then is None or not (math.isfinite(now.share) and math.isfinite(then.share)):
        return "same"
    if abs(now.share - then.share) <= HAIR:
        return "same"
    return "better" if now.share > then.share else "worse"


def _changed(weighing: Weighing, promised: Weighing | None) -> tuple[Changed, ...]:
    """Limits whose verdict, or what they leave, is another than promised: those that got worse first."""
    if promised is None:
        return ()
    then = {(x.check, x.member): x for x in promised.lines}
    found = []
    for line in weighing.lines:
        if line.kind not in LIMITS:
            continue
        before = then.get((line.check, line.member))
        way: Way = "not promised" if before is None else _line_way(line, before)
        if way != "same":
            found.append(Changed(before, line, way))
    order = ("worse", "not promised", "better")
    return tuple(sorted(found, key=lambda c: (order.index(c.way), WORDS.index(c.now.verdict))))


def _line_way(now: Line, before: Line) -> Way:
    ranks = WORDS.index(now.verdict), WORDS.index(before.verdict)
    if ranks[0] != ranks[1]:
        return "better" if ranks[0] > ranks[1] else "worse"
    if not (math.isfinite(now.margin) and math.isfinite(before.margin)):
        return "same"
    if abs(now.margin - before.margin) <= HAIR * max(1.0, abs(before.limit) if math.isfinite(before.limit) else 1.0):
        return "same"
    return "better" if now.margin > before.margin else "worse"


def _touches(haul: Haul, trailer: Trailer, weighing: Weighing) -> tuple[Touch, ...]:
    """How far the rig may fold, or pitch, before truck and trailer meet, with the cargo where it was weighed."""
    one = rigs(haul=haul, trailers=(trailer,))
    inputs = TurnInputs.of(at_placement(one, _stands(weighing)))
    return tuple(
        Touch(t.name, math.degrees(t.angle_rad), 0.0 if t.folds else math.nan, _needs(one, t.missing))
        for t in touches(inputs)
    )


def _needs(one: Rigs, names: tuple[str, ...]) -> tuple:
    ask = one.asked(0)
    return tuple(ask(name, None) for name in names)
