"""``rubrail why``: one check of one rig taken apart."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput
from rubrail.cli.screen import MARKS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rubrail.answers.report import Line
    from rubrail.answers.why import Input, Step, Why
    from rubrail.cli.screen import Screen


def command(
    check: Annotated[str, typer.Argument(metavar="CHECK", help="The id of a check (rubrail rules lists them).")],
    haul: options.Haul,
    trailer: options.Trailer,
    at: options.At = None,
    member: Annotated[
        int | None,
        typer.Option("--member", min=1, help="Which axle or piece, for a check of each; the worst without it."),
    ] = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Ask why: the formula with this rig's numbers in it, where each was read, and the source."""
    import rubrail.checks.all  # noqa: F401 - fills the registry
    from rubrail.answers.lines import member_name, member_of
    from rubrail.answers.weigh import weigh
    from rubrail.answers.why import why
    from rubrail.checks.registry import CHECKS
    from rubrail.cli import given
    from rubrail.cli.rules import no_such_check

    if check not in CHECKS:
        raise BadInput(no_such_check(check))
    if CHECKS[check].case == "loading":
        raise BadInput(f"{check} is asked of a machine driving up, moment by moment: rubrail climb tells it.")
    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    placement = given.placement_of(at, the_haul, the_trailer)
    if CHECKS[check].case.startswith("securing"):
        from rubrail.answers.tie_down import why_tied
        from rubrail.cli.tie_down import kit_of

        line, result = why_tied(
            haul=the_haul, trailer=the_trailer, kit=kit_of(None, found_yard), check=check, placement=placement,
            member=None if member is None else member - 1,
        )  # fmt: skip
        return _told(line, result, metric=metric, as_json=as_json)
    weighing = weigh(haul=the_haul, trailer=the_trailer, placement=placement, remedies=False)
    lines = [x for x in weighing.lines if x.check == check]
    if member is not None and CHECKS[check].per:
        lines = [x for x in lines if x.member == member_name(CHECKS[check].per, member - 1)]
    line = lines[0] if lines else None
    which = member_of(CHECKS[check].per, line.member) if line else None
    result = why(haul=the_haul, trailer=the_trailer, check=check, placement=placement, member=which)
    return _told(line, result, metric=metric, as_json=as_json)


def _told(line: Line | None, result: Why, *, metric: bool, as_json: bool) -> str:
    """Print the answer either way."""
    from rubrail.checks.rows import TOLD_KINDS
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_lines import line_sentence
    from rubrail.sheets.sentences_words import begin

    sentence = line_sentence(line, metric=metric) if line else f"{begin(result.title)}: does not apply to this rig."
    if as_json:
        print(told(answer="why", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, sentence, line)
    return line.verdict if line and line.kind not in TOLD_KINDS else "clear"


def show(screen: Screen, why: Why, sentence: str, line: Line | None) -> None:
    """Print how one check comes out as it does."""
    from rubrail.cli import show as part
    from rubrail.rules.sources import source
    from rubrail.sheets.sentences_amounts import amount
    from rubrail.sheets.sentences_words import KIND_WORDS, begin

    word = line.verdict if line else "does not apply"
    if word in MARKS:
        screen.verdict(word, sentence)
    else:
        screen.text(sentence, style="bold")
    screen.text()
    screen.text(f"{begin(KIND_WORDS[why.kind])}. {why.says}")
    screen.heading("The comparison")
    rows = [
        *_side("demand", why.demand_formula, why.demand_filled, amount(why.demand, why.unit, metric=screen.metric)),
        *_side("limit", why.limit_formula, why.limit_filled, amount(why.limit, why.unit, metric=screen.metric)),
        ("margin", f"= {amount(why.limit - why.demand, why.unit, metric=screen.metric)}"),
    ]
    screen.table(("", "left", 6), ("", "wrap"), rows=rows, no_header=True)
    if why.steps:
        screen.heading("How its numbers are made up")
        for step in why.steps:
            _made(screen, step)
    if why.inputs:
        screen.heading("What was read, and how far it may be off")
        screen.table(
            ("what, and where it is written", "wrap"), ("is", "right"), ("off by", "right"), ("basis", "left"),
            rows=[_input(screen, i) for i in why.inputs],
        )  # fmt: skip
    screen.heading("Sources")
    for key in why.sources:
        s = source(key)
        screen.text(f"{key}: {', '.join(t for t in (s.title, s.section) if t)}. How read: {s.how_read}.")
    part.safety(screen)


def _side(name: str, formula: str, filled: str, value: str) -> list[tuple[str, str]]:
    lines = [formula or "no one expression says it"]
    if filled and filled not in (formula, value.split(" ")[0]):
        lines.append(f"= {filled}")
    lines.append(f"= {value}")
    return [(name if i == 0 else "", text) for i, text in enumerate(lines)]


def _made(screen: Screen, step: Step) -> None:
    from rubrail.sheets.sentences_amounts import amount

    value = ", ".join(amount(v, step.unit, metric=screen.metric) for v in step.value)
    screen.text(f"{step.name}: {step.title}")
    lines = [step.formula, step.filled if step.filled != step.formula else "", value]
    screen.table(("", "left", 1), ("", "wrap"), rows=[("", f"= {text}") for text in lines if text], no_header=True)


def _input(screen: Screen, read: Input) -> tuple:
    from rich.text import Text

    from rubrail.sheets.sentences_amounts import amount
    from rubrail.sheets.sentences_words import FLAG, begin

    flag = read.title.startswith(FLAG)
    what = Text(screen.letters(begin(read.title.removeprefix(FLAG))))
    what.append(screen.letters(f"\n{read.path}"), style="dim")
    if flag:
        values = _each("not known" if math.isnan(v) else "yes" if v else "no" for v in read.value)
    else:
        values = read.word or _each(amount(v, read.unit, metric=screen.metric) for v in read.value)
    spread = _each(amount(v, read.unit, metric=screen.metric) if v else "" for v in read.plus_minus)
    return what, values, spread, _each(read.basis)


def _each(texts: Iterable[str]) -> str:
    """One text where all members say the same, else one a line."""
    texts = list(texts)
    return texts[0] if len(set(texts)) == 1 else "\n".join(texts)
