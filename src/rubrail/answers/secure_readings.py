"""Where published readings of the rules disagree: the stricter governs, the others are shown beside it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from rubrail.answers.secure_parts import Plan, Scene
from rubrail.answers.secure_report import Reading
from rubrail.checks.engine import Evaluation
from rubrail.checks.verdict import holds
from rubrail.rules import tiedown
from rubrail.rules.tables import figure


def readings_of(scene: Scene, plan: Plan, evaluation: Evaluation) -> tuple[Reading, ...]:
    """Every rule that is read in more than one way, with what each reading says of this plan.

    References
    ----------
    CFR-49-393.106, FMCSA-HANDBOOK, NSC-10, CFR-49-393.130, QC-C-24.2-R30
    """
    found = (*_counted(evaluation, len(plan.ties)), *_from_weight(scene, plan), *_full_values(evaluation))
    return tuple(found)


def _reading(title: str, source: str, says: str, demand: float, limit: float, unit: str, *, governs=False) -> Reading:
    known = not (np.isnan(demand) or np.isnan(limit))
    word = "not known" if not known else "clear" if holds(limit - demand, limit) else "over"
    return Reading(title, source, says, demand, limit, unit, word, governs)


def _counted(evaluation: Evaluation, count: int) -> Iterator[Reading]:
    """What of a working load limit counts: the regulation's halves, or the end sections of handbook and standard."""
    title = "what counts toward half the weight"
    need = float(evaluation.value("secured_weight_lb").reshape(-1)[0]) * figure("securement", "aggregate_share")
    path, wll, mine = (
        evaluation.value(n).reshape(-1)[:count] for n in ("tiedown_path", "tiedown_wll_lb", "tiedown_holds")
    )
    by_ends = np.where(mine == 0, tiedown.end_section_credit(path=path) * wll, 0.0).sum()
    by_rule = evaluation.value("tiedown_counted_lb").reshape(-1)[:count].sum()
    yield _reading(
        title, "CFR-49-393.106", "half of each fastened to the piece, all of each that goes over", need,
        float(by_rule), "lb", governs=True,
    )  # fmt: skip
    yield _reading(
        title, "FMCSA-HANDBOOK", "half for each end, so that one fastened to the piece counts in full; guidance",
        need, float(by_ends), "lb",
    )  # fmt: skip


def _from_weight(scene: Scene, plan: Plan) -> Iterator[Reading]:
    """Whether the rule for machines begins at 10,000 lb or above it: told only where it decides."""
    weight = scene.number("secured_weight_lb")
    if scene.columns["secured_is_machine"] != 1.0 or weight != figure("securement", "machine_from_lb"):
        return
    title, count = "whether the rule for machines applies", float(sum(t.holds == "piece" for t in plan.ties))
    yield _reading(
        title, "CFR-49-393.130", "from 10,000 lb, exactly 10,000 included: four tie-downs",
        figure("securement", "machine_count"), count, "tie-downs", governs=True,
    )  # fmt: skip
    by_length = tiedown.count_by_length(
        length_in=scene.number("secured_length_in"), weight_lb=weight, blocked_forward=float(plan.blocked)
    )
    yield _reading(
        title, "FMCSA-HANDBOOK", "above 10,000 lb, so by length alone; guidance", float(by_length), count, "tie-downs"
    )


def _full_values(evaluation: Evaluation) -> Iterator[Reading]:
    """At working load limits: the federal lower figures, or the model standard's full ones, law in Quebec."""
    held = evaluation.value("held_working_g").reshape(-1)
    title = "acceleration held at working load limits"
    for criterion, source, says in (
        ("working", "CFR-49-393.102", "the federal figures"),
        ("quebec", "QC-C-24.2-R30", "the full figures, law in Quebec"),
    ):
        asked = tiedown.required_g(criterion=criterion)[: len(held)]
        share = np.where(np.isnan(held), -np.inf, held / asked)
        worst = int(share.argmin())
        yield _reading(
            title, source, f"{says}; {tiedown.DIRECTIONS[worst]} is the least", float(asked[worst]),
            float(held[worst]), "g", governs=criterion == "working",
        )  # fmt: skip
