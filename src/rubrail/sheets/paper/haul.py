"""Sheets of one haul on one unit: where the cargo stands, how it gets on and is tied; the card for the glove box."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from rubrail.checks.rows import TOLD_KINDS
from rubrail.checks.verdict import WORDS
from rubrail.sheets.drawing import Rig, load_marks, placed_pieces, rig_plan, rig_side
from rubrail.sheets.paper.blocks import Big, Block, Drawing, Facts, Paper, Steps, Table, Words
from rubrail.sheets.paper.facts import tape
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_amounts import amount, feet, listed, percent
from rubrail.sheets.sentences_words import SAFETY, begin, limit_name
from rubrail.things.haul import Haul
from rubrail.things.rigs import pieces_of
from rubrail.things.trailer import Trailer

if TYPE_CHECKING:
    from rubrail.answers.report import Line, Weighing

WIDE_PX = 700.0
NEAREST = 12
"""Limits a plan prints: every one that does not hold, then those with the least to spare."""
STEPS = (
    "Level, firm ground. Truck in park, brake set, engine off; the trailer's wheels chocked.",
    "Rear stands or ramp feet down on solid footing before anything drives up.",
    "Ramps pinned, even, and as far apart as the tracks or wheels.",
    "Nobody behind or beside the machine; belt on; low gear, straight, no stop on the crest.",
    "Follow the machine's own manual where it says otherwise.",
)
AFTER = (
    "Measure: the machine's front stands where the plan says, behind the front of the deck.",
    "Lower and secure every bucket, blade and boom; lock what bends.",
    "Tie down by the plan; look again after the first miles and at every stop.",
    "Weigh the loaded rig: only a scale ticket makes these figures more than estimates.",
)


def placement_sheet(
    *,
    weighing: Weighing,
    haul: Haul,
    trailer: Trailer,
    extra: Sequence[Block] = (),
    also: Sequence[tuple[str, str]] = (),
    yard: str = "",
    date: str = "",
    link: str = "",
    metric: bool = False,
) -> Paper:
    """Where each piece stands in inches from the front of the deck, loads against limits, and the steps.

    Parameters
    ----------
    weighing : Weighing
        Of this haul on this trailer, as placed.
    extra : sequence of Block
        What loading and tying down add, from ``loading_blocks`` and ``tie_down_blocks``.
    also : sequence of (str, str)
        What else was judged, such as ``driving on``, and its verdict: a rig that carries the machines and cannot load
        or hold them is not clear.
    """
    rig = Rig(
        trailer=trailer,
        truck=haul.truck,
        cargo=placed_pieces(weighing, pieces_of(haul)),
        loads=load_marks(weighing),
        metric=metric,
    )
    pieces = tuple(
        (
            f"{n}. {p.title or p.id}",
            amount(p.weight_lb, "lb", metric=metric),
            p.facing.replace("-", " "),
            amount(p.front_from_deck_in, "in", metric=metric),
            amount(p.cg_from_deck_in, "in", metric=metric),
        )
        for n, p in enumerate(weighing.pieces, 1)
    )
    blocks: list[Block] = [
        Drawing(rig_side(rig, width_px=WIDE_PX), says="the rig from its side, to scale"),
        Drawing(rig_plan(rig, width_px=WIDE_PX), says="the rig from above, to scale"),
        Table(
            ("In the order they go on, front first", "Weighs", "Stands", "Front from the deck's front", "CG from it"),
            pieces, align="lrlrr", heading="Where each piece stands",
        ),
        _limits(weighing.lines, metric=metric),
        Steps(STEPS, heading="Loading"),
        *extra,
        Steps(AFTER, heading="Then"),
    ]  # fmt: skip
    verdict = min((weighing.verdict, *(v for _, v in also)), key=WORDS.index)
    return Paper(
        sort=f"Placement, loading and tie-down plan, {weighing.trailer}",
        title=haul.title or haul.id,
        lead=_lead(weighing, also, verdict, metric=metric),
        verdict=verdict,
        blocks=tuple(blocks),
        yard=yard,
        date=date,
        link=link,
        link_says="this rig",
        foot=SAFETY,
    )


def _lead(weighing: Weighing, also: Sequence[tuple[str, str]], verdict: str, *, metric: bool) -> str:
    said = weighing_sentence(weighing, tried=False, metric=metric)
    if verdict == weighing.verdict:
        return said
    parts = listed([f"{what} is {v}" for what, v in also if v != "does not apply"])
    return f"{begin(verdict)} as a whole: {parts}. On the road: {said[0].lower()}{said[1:]}"


_WORST = ("over", "not known", "depends", "clear")


def _limits(lines: Sequence[Line], *, metric: bool) -> Table:
    judged = [x for x in lines if x.kind not in TOLD_KINDS and x.verdict in _WORST]
    judged.sort(key=lambda x: (_WORST.index(x.verdict), x.share if not math.isnan(x.share) else -math.inf))
    shown = [x for x in judged if x.verdict != "clear"] or []
    shown += [x for x in judged if x.verdict == "clear" and math.isfinite(x.share)][: max(NEAREST - len(shown), 3)]
    rows = tuple(
        (
            begin(limit_name(x.title, x.member)),
            amount(x.demand, x.unit, metric=metric),
            amount(x.limit, x.unit, metric=metric),
            "" if x.verdict == "not known" else amount(x.margin, x.unit, metric=metric),
            percent(x.share),
        )
        for x in shown
    )
    left = len(judged) - len(shown)
    heading = "Limits, the closest first" + (f"; {left} more hold with more to spare" if left > 0 else "")
    return Table(
        ("Limit", "Is", "May be", "To spare", ""), rows, align="lrrrr", heading=heading,
        marks=tuple(x.verdict for x in shown),
    )  # fmt: skip


def limits_card(
    *, weighing: Weighing, haul: Haul, trailer: Trailer, yard: str = "", date: str = "", link: str = "",
    metric: bool = False,
) -> Paper:  # fmt: skip
    """A card for the glove box, half a page: limits in big type, pressures, and where each piece stands."""
    values = {x.name: x for x in weighing.loads if not x.member}
    wanted = (
        ("coupler_load_lb", "Coupler", ("coupler-vertical", "hitch-vertical")),
        ("axle_group_load_lb", "Trailer axles", ("axle-group",)),
        ("trailer_gross_lb", "Trailer, loaded", ("trailer-gross",)),
        ("truck_rear_load_lb", "Truck rear axle", ("truck-rear-axle",)),
        ("truck_gross_lb", "Truck, loaded", ("truck-gross",)),
        ("combination_gross_lb", "Truck and trailer", ("combination-gross", "road-gross")),
    )
    big = []
    for name, title, checks in wanted:
        if name not in values:
            continue
        held = [x for x in weighing.lines if x.check in checks and not math.isinf(x.limit)]
        # A rating nobody knows is not replaced by another that is known.
        limit = math.nan if any(math.isnan(x.limit) for x in held) else min((x.limit for x in held), default=math.nan)
        now = amount(values[name].value, "lb", metric=metric)
        big.append((f"{title}; with this load {now}", amount(limit, "lb", metric=metric)))
    each = [_pressure(a.tires, metric=metric) for a in trailer.axle]
    pressures = tuple((f"Trailer axle {n}, cold", it) for n, it in enumerate(each, 1))
    if len(set(each)) == 1:
        pressures = (("Trailer tires, cold", each[0]),)
    places = tuple(
        (p.title or p.id, f"its front {feet(p.front_from_deck_in, metric=metric)}, {p.facing.replace('-', ' ')}")
        for p in weighing.pieces
    )
    blocks: list[Block] = [
        Big(tuple(big), heading="Never more than", columns=3, size_pt=22.0),
        Facts(
            places, heading="Where the load stands, behind the front of the deck", columns=1 if len(places) < 3 else 2
        ),
        Facts(
            (
                *pressures,
                ("Coupler height, level", tape(trailer.coupling.height_in, metric=metric)),
                ("Height loaded", _measured(weighing, "overall-height", metric)),
                ("Width loaded", _measured(weighing, "overall-width", metric)),
                ("Length of the rig", _measured(weighing, "combination-length", metric)),
            ),
            heading="Tires and road",
        ),
        Words(("Check coupler, pin, chains, breakaway, lights, tires and tie-downs before every start.",)),
    ]
    return Paper(
        sort=f"Limits card, {weighing.trailer}",
        title=weighing.trailer_title,
        lead=f"For {haul.title or haul.id}, behind {weighing.truck}.",
        blocks=tuple(b for b in blocks if not isinstance(b, Facts | Big) or b.rows),
        yard=yard,
        date=date,
        link=link,
        link_says="this rig",
        foot=SAFETY,
        fit="half",
    )


def _pressure(tires: object, *, metric: bool) -> str:
    value = getattr(tires, "pressure_psi", None) or getattr(tires, "max_pressure_psi", None)
    return "not known" if value is None else amount(float(value), "psi", metric=metric)


def _measured(weighing: Weighing, check: str, metric: bool) -> str:
    line = next((x for x in weighing.lines if x.check == check), None)
    return "not known" if line is None or math.isnan(line.demand) else feet(line.demand, metric=metric)
