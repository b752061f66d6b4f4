"""Tying down beyond the law's count: guidance, and what statics says the tie-downs hold. Advice, labelled so."""

from __future__ import annotations

import numpy as np

from rubrail.checks.loads_tiedown import PIECE
from rubrail.checks.registry import check
from rubrail.checks.securing import HEAVY, where_applies
from rubrail.mechanics.members import of_present
from rubrail.rules import tiedown
from rubrail.rules.tables import figure

LIGHT = "where(secured_is_machine == 0, 0, secured_weight_lb < 10000)"


def _heavy(weight, machine):
    return tiedown.machine_rule_applies(weight_lb=weight, is_machine=machine)


def _light(weight, machine):
    machine = np.asarray(machine, float)
    return np.where(machine == 0, 0.0, 1.0 - _heavy(weight, machine))


@check(
    id="tiedown-each",
    title="each tie-down of a machine",
    kind="guidance",
    group="securing",
    demand=f"where(tiedown_present == 0, 0, where(tiedown_holds == 1, 0, where({HEAVY}, 5000, 0)))",
    limit=f"where(tiedown_present == 0, inf, where(tiedown_holds == 1, inf, where({HEAVY}, tiedown_wll_lb, inf)))",
    per="tiedown",
    scale="demand",
    affine=False,
    sources=("NA-STANDARD-MACHINES",),
    says="Each tie-down of a heavy machine should be good for 5,000 lb; the federal rule does not say so.",
    settle="read the limits marked on chain, binder and anchor",
    case="securing",
)
def each_of_a_machine(*, tiedown_present, tiedown_holds, secured_is_machine, secured_weight_lb, tiedown_wll_lb):
    """5,000 lb against each tie-down of a machine of 10,000 lb or more: NA-STANDARD-MACHINES."""
    holds = np.asarray(tiedown_holds, float)
    mine = of_present(present=tiedown_present, value=(holds == PIECE) + 0.0 * holds)
    applies = np.where(mine == 0, 0.0, mine * _heavy(secured_weight_lb, secured_is_machine))
    return where_applies(applies, figure("securement", "each_tiedown_lb"), tiedown_wll_lb)


@check(
    id="light-machine-count",
    title="four tie-downs on a lighter machine",
    kind="guidance",
    group="securing",
    demand=f"where({LIGHT}, 4, 0)",
    limit=f"where({LIGHT}, tiedown_count, inf)",
    unit="tie-downs",
    scale="demand",
    affine=False,
    sources=("TIEDOWN-LIGHT-MACHINES",),
    says="Four corners are common practice under 10,000 lb too, where the law may be content with two.",
    settle="weigh the machine with what is on it",
    case="securing",
)
def light_machine_count(*, secured_is_machine, secured_weight_lb, tiedown_count):
    """Four against the tie-downs on a machine under 10,000 lb: TIEDOWN-LIGHT-MACHINES."""
    light = _light(secured_weight_lb, secured_is_machine)
    return where_applies(light, figure("securement", "machine_count"), tiedown_count)


@check(
    id="light-machine-accessories",
    title="accessories of a lighter machine tied down",
    kind="guidance",
    group="securing",
    demand=f"where({LIGHT}, secured_accessory_count, 0)",
    limit=f"where({LIGHT}, accessory_tiedown_count, inf)",
    unit="tie-downs",
    affine=False,
    sources=("TIEDOWN-ACCESSORY", "TIEDOWN-LIGHT-MACHINES"),
    says="Lower and tie down what moves on a lighter machine too; the machinery rule may be followed.",
    settle="count the accessories that move, and see where each can be tied",
    case="securing",
)
def light_machine_accessories(
    *, secured_is_machine, secured_weight_lb, secured_accessory_count, accessory_tiedown_count
):
    """Accessories of a lighter machine against tie-downs on them: TIEDOWN-ACCESSORY, TIEDOWN-LIGHT-MACHINES."""
    light = _light(secured_weight_lb, secured_is_machine)
    return where_applies(light, secured_accessory_count, accessory_tiedown_count)


@check(
    id="light-machine-articulation",
    title="articulation of a lighter machine locked",
    kind="guidance",
    group="securing",
    demand=f"where({LIGHT}, secured_bends, 0)",
    limit=f"where({LIGHT}, articulation_locked, inf)",
    unit="",
    affine=False,
    sources=("TIEDOWN-LIGHT-MACHINES",),
    says="Lock the articulation of a lighter machine as well.",
    settle="look for the machine's articulation lock",
    case="securing",
)
def light_machine_articulation(*, secured_is_machine, secured_weight_lb, secured_bends, articulation_locked):
    """Whether a machine under 10,000 lb that bends is locked: TIEDOWN-LIGHT-MACHINES."""
    light = _light(secured_weight_lb, secured_is_machine)
    return where_applies(light, secured_bends, articulation_locked)


def _asked(criterion: str, held):
    """Accelerations asked for, against those held; a direction without a figure does not apply."""
    held = np.asarray(held, float)
    asked = tiedown.required_g(criterion=criterion)[: held.shape[0]]
    asked = asked.reshape((-1,) + (1,) * (held.ndim - 1)) + np.zeros_like(held)
    return np.where(asked == 0, 0.0, asked), np.where(asked == 0, np.inf, held)


@check(
    id="hold-working",
    title="acceleration held at working load limits",
    kind="guidance",
    group="securing",
    demand="",
    limit="held_working_g",
    unit="g",
    per="direction",
    scale="demand",
    affine=False,
    sources=("CFR-49-393.102", "LASHING-STATICS"),
    says="By statics, tie-downs at their working load limits should hold braking, starting and a bend of the road.",
    settle="weigh the machine, and measure where its tie points and center of gravity are",
    case="securing",
)
def hold_working(*, held_working_g):
    """0.435 g forward, 0.5 rearward and 0.25 to each side against what is held: CFR-49-393.102, LASHING-STATICS."""
    return _asked("working", held_working_g)


@check(
    id="hold-breaking",
    title="acceleration held before a tie-down breaks",
    kind="guidance",
    group="securing",
    demand="",
    limit="held_breaking_g",
    unit="g",
    per="direction",
    scale="demand",
    affine=False,
    sources=("CFR-49-393.102", "LASHING-STATICS", "DESIGN-FACTORS", "PART-FACTORS"),
    says="By statics, no tie-down should break at 0.8 g forward, half a g to the rear and sides, or a fifth upward.",
    settle="weigh the machine, and ask the makers of anchors and binders for their breaking strength",
    case="securing",
)
def hold_breaking(*, held_breaking_g):
    """0.8 g forward, 0.5 rearward and sideways and 0.2 upward against what is held before anything breaks.

    References
    ----------
    CFR-49-393.102, LASHING-STATICS, DESIGN-FACTORS, PART-FACTORS
    """
    return _asked("breaking", held_breaking_g)
