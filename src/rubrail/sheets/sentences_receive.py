"""What is said when a unit is received: the outcome proposed, each difference, each rating."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from rubrail.answers.receive_report import ACCEPT, DIFFERS, EXCEPTIONS, NOT_KNOWN, NOT_ORDERED, REFUSE, SAME
from rubrail.answers.report import Need
from rubrail.sheets.sentences_amounts import MINUS, amount, listed, text_in_metric
from rubrail.sheets.sentences_words import begin, limit_name, need_phrase, together
from rubrail.things.names import COLUMNS

if TYPE_CHECKING:
    from rubrail.answers.receive_report import (
        LabelRow,
        PayloadChange,
        RatingLine,
        ReceivedField,
        ReceiveReason,
        Receiving,
    )
    from rubrail.rules.lamps import Lamp

VERDICT_OF: Final = {ACCEPT: "clear", EXCEPTIONS: "depends", REFUSE: "over"}
"""The verdict word, and so the shape and color, of each outcome."""
MARK_OF: Final = {SAME: "clear", DIFFERS: "over", NOT_KNOWN: "not known", NOT_ORDERED: ""}
"""The same of each field."""
DECIDES: Final = "The person who signs decides; this is what the findings ask for."
SAME_DAY: Final = (
    "Write every exception on the carrier's bill before the driver leaves: damage not noted there is ours."
)
"""Common practice, no source."""


def receiving_sentence(r: Receiving, *, metric: bool = False) -> str:
    """The first sentence: what is proposed, and the gravest reason for it."""
    if r.proposed == ACCEPT:
        told = f"{_same(r)} as ordered, " if r.compared else ""
        return f"Accept: {told}label and papers agree on the VIN, and no rating fails.{_open(r)}"
    grave = [x for x in r.reasons if x.outcome == r.proposed]
    first = reason_sentence(grave[0], metric=metric)
    more = len(r.reasons) - 1
    rest = f" {more} more to write down." if more > 1 else " One more to write down." if more else ""
    if r.proposed == REFUSE:
        return f"Refuse as it stands: {_small(first)}{rest}"
    return f"Accept with exceptions: {_small(first)}{rest}"


def _open(r: Receiving) -> str:
    """What is not known, said beside the rest: an unknown is no pass."""
    titles = list(dict.fromkeys(x.title for x in r.consistency if x.verdict == NOT_KNOWN))
    return f" Not known yet: {listed(titles)}." if titles else ""


def _same(r: Receiving) -> str:
    same = sum(f.verdict == SAME for f in r.fields)
    return f"{same} field{'' if same == 1 else 's'}"


def _small(text: str) -> str:
    """A sentence continued: its first letter small, unless the first word is all capitals."""
    first = text.split(" ", 1)[0]
    return text if first[1:2].isupper() else text[:1].lower() + text[1:]


def reason_sentence(reason: ReceiveReason, *, metric: bool = False) -> str:
    """One reason, as it can stand on the bill of lading."""
    return text_in_metric(reason.says) if metric else reason.says


def field_amount(f: ReceivedField, *, ordered: bool, metric: bool = False) -> str:
    """A field's value on one side."""
    value, text = (f.ordered_value, f.ordered) if ordered else (f.received_value, f.received)
    if f.path == "coupling.ball_size_in":
        return text  # balls are called by their size in inches everywhere
    if metric and not math.isnan(value):
        return amount(value, f.unit, metric=True)
    return text_in_metric(text) if metric else text


def effect_words(f: ReceivedField, *, metric: bool = False) -> str:
    """What a difference does: pounds of payload where it costs or gives any, else what rests on it."""
    if f.verdict != DIFFERS:
        return ""
    by = ((f.label_lb, "by label"), (f.axles_lb, "by axles"))
    moved = [f"{signed_lb(v, metric=metric)} {how}" for v, how in by if not math.isnan(v) and abs(v) >= 0.5]
    if not moved and f.alone_lb <= -0.5:
        moved = [f"{signed_lb(f.alone_lb, metric=metric)} at its best place"]
    if moved:
        return listed(moved)
    return {"payload": "enters what it carries; nothing lost today", "limits": "enters other limits"}.get(
        f.touches, "not what it carries"
    )


def signed_lb(value: float, *, metric: bool = False) -> str:
    """Pounds more or fewer: ``+200 lb``, ``−2,400 lb``; *not known*."""
    text = amount(value, "lb", metric=metric)
    return text if math.isnan(value) or text.startswith(MINUS) or round(value) == 0 else f"+{text}"


def costliest_sentence(r: Receiving, *, metric: bool = False) -> str:
    """The one difference that costs most, or that none costs anything; ``""`` without an order."""
    if not r.compared:
        return ""
    found = next((f for f in r.fields if f.path == r.costliest), None)
    if found is None:
        differs = any(f.verdict == DIFFERS for f in r.fields)
        return "None of the differences alone costs payload." if differs else ""
    return (
        f"What costs most by itself: {found.label}, {field_amount(found, ordered=True, metric=metric)} ordered and"
        f" {field_amount(found, ordered=False, metric=metric)} received, {effect_words(found, metric=metric)}."
    )


def counted(fields: Sequence[ReceivedField]) -> str:
    """How many fields came as ordered, and how many did not."""
    n = {v: sum(f.verdict == v for f in fields) for v in (SAME, DIFFERS, NOT_KNOWN, NOT_ORDERED)}
    words = [f"{n[SAME]} as ordered", f"{n[DIFFERS]} different"]
    if n[NOT_KNOWN]:
        words.append(f"{n[NOT_KNOWN]} ordered and not read yet")
    if n[NOT_ORDERED]:
        words.append(f"{n[NOT_ORDERED]} the order says nothing of")
    return begin(listed(words)) + "."


def line_numbers(line: RatingLine, *, metric: bool = False) -> tuple[str, str, str]:
    """Asked, there, to spare; empty for a yes or no."""
    if not line.unit:
        return "", "", {"clear": "yes", "over": "no"}.get(line.verdict, "")
    spare = "" if line.verdict == "not known" else amount(line.margin, line.unit, metric=metric)
    return amount(line.demand, line.unit, metric=metric), amount(line.limit, line.unit, metric=metric), spare


def alike_lines(lines: Sequence[RatingLine]) -> list[tuple[RatingLine, str]]:
    """The lines that apply, axles that come out the same as one, each with its title."""
    alike: dict[tuple, list[RatingLine]] = {}
    for x in lines:
        if x.verdict != "does not apply":
            numbers = tuple(str(v) for v in (x.demand, x.limit))
            alike.setdefault((x.key, x.verdict, *numbers), []).append(x)
    return [(some[0], begin(limit_name(some[0].title, together([x.member for x in some])))) for some in alike.values()]


def line_title(line: RatingLine) -> str:
    """A rating's title with its axle."""
    return begin(f"{line.title}, {line.member}" if line.member else line.title)


def to_read(line: RatingLine) -> str:
    """What to go and read where a rating cannot be judged; ``""`` where it can."""
    return listed([_phrase(name) for name in line.missing])


def _phrase(name: str) -> str:
    return need_phrase(Need(name, "", COLUMNS[name].says, math.nan, 0.0, "")) if name in COLUMNS else name


def lamp_line(lamp: Lamp, *, metric: bool = False) -> str:
    """One lamp, reflector or marking: ``2 amber front side marker lamps (sides, front)``."""
    count = f"{lamp.count} " if lamp.count > 1 or not lamp.item.endswith("marking") else ""
    color = "" if lamp.color in lamp.item else f"{lamp.color} "
    unsure = "; whether it must have it is not known" if not lamp.sure else ""
    place = text_in_metric(lamp.place) if metric else lamp.place
    return f"{count}{color}{lamp.item} ({place}{unsure})"


def marking_sentence(r: Receiving, *, metric: bool = False) -> str:
    """How much red and white marking each side needs; ``""`` where none is required."""
    if not any("marking" in lamp.item for lamp in r.lamps):
        return ""
    if math.isnan(r.marked_in):
        return "Red and white marking on half of each side; its length is not known."
    return f"Red and white marking on each side, {amount(r.marked_in, 'in', metric=metric)} of it at least."


def payload_words(p: PayloadChange, *, metric: bool = False) -> tuple[str, str, str]:
    """As ordered, as received, and what changed."""
    change = "" if math.isnan(p.change_lb) else signed_lb(p.change_lb, metric=metric)
    return amount(p.ordered_lb, "lb", metric=metric), amount(p.received_lb, "lb", metric=metric), change


def label_words(row: LabelRow, *, metric: bool = False) -> tuple[str, str, str]:
    """A figure on the label, on the papers and in the order."""
    three = (row.on_label, row.on_papers, row.in_order)
    return tuple(text_in_metric(t) if metric else t for t in three)  # type: ignore[return-value]
