"""What loading and tying down add to a plan: the machine's way up, and every tie-down with its ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubrail.sheets.drawing.tie_marks import label_of
from rubrail.sheets.paper.blocks import Block, Drawing, Steps, Table, Words
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import begin, limit_name

if TYPE_CHECKING:
    from rubrail.answers.climb import Climbing
    from rubrail.answers.secure_report import TieDown, TieDownPlan

_WORST = ("over", "not known", "depends", "clear")
CLOSEST = 6


def loading_blocks(climbing: Climbing, *, strips: dict[int, str] | None = None, metric: bool = False) -> list[Block]:
    """Each machine's way up: what is said of it, its critical moments drawn, and its closest limits.

    Parameters
    ----------
    climbing : Climbing
    strips : mapping, optional
        For each machine that drives, by its place in the haul, the drawn strip of its critical moments.
    """
    from rubrail.sheets.sentences_climb import climb_sentence, machine_sentence

    blocks: list[Block] = [Words((climb_sentence(climbing, metric=metric),), heading="Driving on")]
    said = climb_sentence(climbing, metric=metric)
    for machine in climbing.machines:
        its = machine_sentence(climbing, machine, metric=metric)
        if its != said:
            blocks.append(Words((its,)))
        strip = (strips or {}).get(machine.item)
        if strip:
            blocks.append(Drawing(strip, says=f"critical moments of {machine.title}", high_mm=150))
        lines = [x for x in machine.lines if x.verdict in _WORST]
        lines.sort(key=lambda x: (_WORST.index(x.verdict), x.share if x.share == x.share else -1.0))
        rows = tuple(
            (
                begin(limit_name(x.title, x.member)),
                amount(x.demand, x.unit, metric=metric),
                amount(x.limit, x.unit, metric=metric),
            )
            for x in lines[:CLOSEST]
        )
        if rows:
            blocks.append(
                Table(
                    (f"Closest limits of {machine.title} on its way up", "Is", "May be"),
                    rows,
                    align="lrr",
                    marks=tuple(x.verdict for x in lines[:CLOSEST]),
                )
            )
    return blocks


def tie_down_blocks(plan: TieDownPlan, *, side: str = "", above: str = "", metric: bool = False) -> list[Block]:
    """The plan drawn, each tie-down with its ends, gear and weakest part, and the cautions.

    Parameters
    ----------
    plan : TieDownPlan
    side, above : str
        The plan drawn from the side and from above.
    """
    from rubrail.sheets.sentences_tie_down import tie_down_sentence

    blocks: list[Block] = [Words((tie_down_sentence(plan, metric=metric),), heading="Tying down")]
    blocks += [Drawing(svg, says="tie-downs, numbered", high_mm=60) for svg in (above, side) if svg]
    for n, piece in enumerate(plan.pieces):
        if not piece.ties:
            continue
        rows = tuple(_row(t, label_of(n, t.number, pieces=len(plan.pieces)), metric=metric) for t in piece.ties)
        blocks.append(
            Table(
                ("No.", "from", "to", "with", "weakest link", "counts"),
                rows,
                align="lllllr",
                heading=begin(piece.title or piece.id),
                widths=(0, 1.1, 1.0, 1.5, 1.0, 0),
            )
        )
    blocks.append(Steps(plan.cautions))
    return blocks


def _row(tie: TieDown, label: str, *, metric: bool) -> tuple[str, ...]:
    gear = ", ".join(filter(None, (tie.gear_title, tie.binder_title)))
    how = {"direct": "", "same side": ", back to the same side", "over": ", over the top"}.get(tie.path, "")
    return (
        label,
        tie.anchor_title + (f" and {tie.far_title}" if tie.far_title else ""),
        f"{tie.point_title}{how}",
        gear,
        ", ".join(filter(None, (tie.weakest, amount(tie.wll_lb, "lb", metric=metric)))),
        "" if tie.holds == "accessory" else amount(tie.counted_lb, "lb", metric=metric),
    )
