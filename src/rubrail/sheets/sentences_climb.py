"""The sentences about driving up: does it get there, what limits it, what to change, and what to mind."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rubrail.sheets.sentences_amounts import amount, listed, text_in_metric
from rubrail.sheets.sentences_lines import ask_for, closest, settle_sentence, why_not, yes_or_no
from rubrail.sheets.sentences_words import begin, called, unit

if TYPE_CHECKING:
    from rubrail.answers.climb import Climbing, MachineClimb
    from rubrail.answers.climb_course import Moment
    from rubrail.answers.report import Line, Remedy

CAUTIONS = (
    "Level ground; chock the trailer's wheels; stands down; ramps pinned and set to the gauge.",
    "Belt on, slow and straight, in low gear; nobody behind or beside it; the machine's own manual governs.",
)
"""Said wherever a climb is shown."""
LIMITS_OF_IT = (
    "Standing still at every step: no momentum, no braking, no soft ground. The trailer stands as it stands; what its"
    " springs give under the machine is not taken off the slopes."
)
"""What the climb takes for granted."""
WAYS = {"ramps": "over the ramps of", "tail": "over the lowered tail of", "tilt": "up the tilting deck of"}


def climb_sentence(a: Climbing, *, metric: bool = False) -> str:
    """The first sentence of a climb: the machine that has it worst."""
    trailer = unit(a.trailer_title, a.trailer)
    if not a.machines:
        return f"Nothing of this haul drives up {trailer} by itself."
    worst = min(a.machines, key=lambda m: _WORST.index(m.verdict))
    said = machine_sentence(a, worst, metric=metric)
    if len(a.machines) == 1:
        return said
    others = [m for m in a.machines if m is not worst]
    same = [m for m in others if m.verdict == worst.verdict]
    if len(same) == len(others):
        return f"{said} The other {_machines(len(others))} likewise."
    return said


_WORST = ("over", "not known", "depends", "clear", "does not apply")


def _machines(n: int) -> str:
    return "machine" if n == 1 else f"{n} machines"


def machine_sentence(a: Climbing, m: MachineClimb, *, metric: bool = False) -> str:
    """One machine: verdict, what governs, by how much, what to do."""
    who, trailer = called(m.title, m.piece, what="machine"), unit(a.trailer_title, a.trailer)
    if m.governing is not None and m.governing.check == "way-up":
        if m.verdict == "over":
            return f"Over: no ramps lead {who} onto {trailer}; it takes ramps, a dock or a crane."
        return f"Not known how {who} gets onto {trailer}: {ask_for(m.governing.missing, m.governing.ask)}."
    rig = f"{who}, {'backed' if m.facing == 'rear-first' else 'driven forward'} {WAYS[a.way]} {trailer},"
    line = m.governing
    if m.verdict == "not known":
        why = why_not(line, metric=metric) if line else "something it needs was not written down"
        return f"Not known: whether {rig} gets up; {why}."
    if m.verdict == "over":
        more = sum(x.verdict == "over" and x.kind != "guidance" and x is not line for x in m.lines)
        why = why_not(line, more=more, metric=metric)
        return f"Over: {rig} fails on {why}. {what_to_do(m.remedies, metric=metric)}"
    if m.verdict == "depends":
        return f"Depends: {rig} gets up, but {_doubt(m, metric)}"
    return f"Clear: {rig} gets up" + (f"; closest: {closest(line, metric=metric)}." if line else ".")


def _doubt(m: MachineClimb, metric: bool) -> str:
    against = [x for x in m.lines if x.kind == "guidance" and x.verdict in ("over", "not known")]
    doubtful = [x for x in m.lines if x.kind != "guidance" and x.verdict == "depends"]
    if doubtful:
        settle = settle_sentence(m.settle, brief=True, metric=metric) if m.settle else ""
        return f"{doubtful[0].title} is in doubt. {settle}".strip()
    if not against:
        return "one of its limits is in doubt."
    said = f"against guidance: {listed([_against(x, metric) for x in against[:2]])}."
    best = next((r for r in m.remedies if r.verdict == "clear"), None)
    return f"{said} {begin(best.says)}, and it is clear." if best else said


def _against(line: Line, metric: bool) -> str:
    if yes_or_no(line) or not math.isfinite(line.margin):
        return line.title
    return f"{line.title} ({_figure(line, metric)})"


def what_to_do(remedies: tuple[Remedy, ...], *, metric: bool = False) -> str:
    """The best change, said aloud; none found says so."""
    if not remedies:
        return "No single change tried here clears it: another unit, or another way of loading."
    best = remedies[0]
    end = {"clear": "and it is clear", "depends": "and it depends"}.get(best.verdict, "which clears part of it")
    says = text_in_metric(best.says) if metric else best.says
    return f"{begin(says)}, {end}."


def _figure(line: Line, metric: bool) -> str:
    """The number of a line in a few characters."""
    if line.check in ("coupler-uplift", "tips-back", "uphill-light", "truck-rear-light"):
        return amount(line.limit, line.unit, metric=metric)
    return f"{amount(line.demand, line.unit, metric=metric)} of {amount(line.limit, line.unit, metric=metric)}"


_PREFIX = {"coupler-uplift": "coupler ", "tips-back": "uphill ", "uphill-light": "uphill ", "climb-grip": "grip ",
           "truck-rear-light": "truck's rear ", "belly-clearance": "belly ", "nose-clearance": "nose ",
           "tail-clearance": "tail ", "ramp-pair": "ramps ", "ramp-each": "ramp ", "axle-while-loading": "axle ",
           "jack-load": "jack "}  # fmt: skip


def moment_figure(m: MachineClimb, moment: Moment, *, metric: bool = False) -> tuple[str, str]:
    """The figure a critical moment is about, and its verdict; both ``""`` where it is about none."""
    mine = [x for x in m.lines if x.check in moment.checks]
    if not mine:
        if "tips over" in moment.says and m.drop_rad:
            return f"{math.degrees(m.drop_rad):.0f}° at once", ""
        if moment.says == "at its place" and m.course is not None:
            return f"coupler {amount(m.course.coupler_lb[-1], 'lb', metric=metric)}", ""
        return "", ""
    line = min(mine, key=lambda x: (_WORST.index(x.verdict), x.kind == "guidance",
                                    x.share if not math.isnan(x.share) else math.inf))  # fmt: skip
    if yes_or_no(line):
        return ("truck lifted" if line.check == "rig-lifts" and line.demand else line.title), line.verdict
    if math.isinf(line.limit):
        return "", line.verdict
    return _PREFIX.get(line.check, "") + _figure(line, metric), line.verdict


def day_said(a: Climbing) -> str:
    """What was taken of the day, in words."""
    d = a.day
    ground = "on level ground"
    if d.ground_deg:
        ground = f"on ground that {'rises' if d.ground_deg > 0 else 'falls'} {abs(d.ground_deg):g}° toward the truck"
    hitched = "hitched" if d.hitched else "standing on its jack"
    under = "blocks under the rear" if d.blocks else "stands down where it has any" if d.stands else "stands up"
    return f"{begin(ground)}, {d.surface}, {hitched}, {under}{'' if d.chocked else ', wheels not chocked'}."
