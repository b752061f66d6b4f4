"""``rubrail tie-down``: chains and binders for a placed haul."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options

if TYPE_CHECKING:
    from rubrail.answers.secure_report import Secured, TieDownPlan
    from rubrail.cli.screen import Screen
    from rubrail.things.kit import Kit
    from rubrail.things.yard import Yard


def command(
    haul: options.Haul,
    trailer: options.Trailer,
    kit: Annotated[
        str | None,
        typer.Option("--kit", metavar="KIT", help="A kit file, or the id of a kit of the yard; else the yard's own."),
    ] = None,
    move: Annotated[
        list[str] | None,
        typer.Option(
            "--move", metavar="N=ANCHOR",
            help="Move tie-down N of the proposal to another anchor, such as '3=5L'; may be given again.",
        ),
    ] = None,
    en: Annotated[bool, typer.Option("--en", help="Judge by EN 12195-1 instead of the federal rules.")] = False,
    friction: Annotated[
        float | None,
        typer.Option("--friction", metavar="SHARE", min=0.0, max=1.0,
                     help="Friction between cargo and deck, instead of what the surfaces give swept and dry."),
    ] = None,
    drawing: Annotated[
        str | None,
        typer.Option("--drawing", metavar="FILE",
                     help="Also draw it from above, as SVG, to a file; from the side to FILE-side beside it."),
    ] = None,
    at: options.At = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:  # fmt: skip
    """Tie a placed haul down with the gear there is: which chain from where to where, and whether it holds."""
    from rubrail.answers.place import place
    from rubrail.answers.tie_down import tie_down
    from rubrail.cli import given
    from rubrail.cli.ends import BadInput
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_tie_down import tie_down_sentence

    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    gear, stands = kit_of(kit, found_yard), given.placement_of(at, the_haul, the_trailer)
    asked = {
        "haul": the_haul,
        "trailer": the_trailer,
        "kit": gear,
        "placement": stands or place(haul=the_haul, trailer=the_trailer).placement,
        "method": "en" if en else "us",
        "friction": friction,
    }
    plan = tie_down(**asked, changes=not move)
    if move:
        plans = _moved(plan, move)
        try:
            plan = tie_down(**asked, plans=plans)
        except ValueError as reason:
            raise BadInput(f"--move cannot be done: {reason}.") from None
    sentence = tie_down_sentence(plan, metric=metric)
    if drawing is not None:
        _draw(drawing, plan, asked, metric)
    if as_json:
        print(told(answer="tie-down", sentence=sentence, record=plan))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), plan, sentence)
    return plan.verdict


def _draw(name: str, plan: TieDownPlan, asked: dict, metric: bool) -> None:
    """Write both views.

    Raises
    ------
    BadInput
        If a file cannot be written.
    """
    from pathlib import Path

    from rubrail.cli.ends import BadInput
    from rubrail.sheets.drawing.tie_views import rig_to_tie, tie_plan, tie_side

    rig = rig_to_tie(haul=asked["haul"], trailer=asked["trailer"], placement=asked["placement"], metric=metric)
    above = Path(name)
    try:
        above.write_text(tie_plan(rig, plan.pieces), encoding="utf-8")
        above.with_stem(f"{above.stem}-side").write_text(tie_side(rig, plan.pieces), encoding="utf-8")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is no file name"
        raise BadInput(f"--drawing {name} cannot be written: {reason.lower()}.") from None


def kit_of(name: str | None, yard: Yard | None) -> Kit:
    """The kit of a file, of an id of the yard, or the yard's own.

    Raises
    ------
    BadInput, Faults
        If there is none, and every fault of the file.
    """
    from pathlib import Path

    from rubrail.cli.ends import BadInput
    from rubrail.things.door import load

    kits = yard.kits if yard else {}
    if name is None:
        if yard is None or yard.kit is None:
            raise BadInput("There is no kit to tie down with: name one with --kit, or in yard.toml (kit = ...).")
        return yard.kit
    if name in kits:
        return kits[name]
    if name.endswith((".toml", ".json")) or Path(name).exists():
        return load(name, "kit")  # type: ignore[return-value]
    raise BadInput(f"--kit must be a kit file or the id of a kit of the yard, got {name!r} ({_listed(kits)}).")


def _listed(kits) -> str:
    return f"it has {', '.join(kits)}" if kits else "it has none"


def _moved(plan: TieDownPlan, moves: list[str]):
    """The proposal with ends moved as typed.

    Raises
    ------
    BadInput
        Every move that cannot be read or that names what is not there.
    """
    from rubrail.answers.tie_down import moved, plan_of
    from rubrail.cli.ends import BadInput
    from rubrail.sheets.drawing.tie_marks import label_of

    plans, faults = [plan_of(p) for p in plan.pieces], []
    known = {
        label_of(n, t.number, pieces=len(plans)): (n, t.number) for n, p in enumerate(plan.pieces) for t in p.ties
    }
    anchors = {t.anchor for p in plan.pieces for t in p.ties}
    for text in moves:
        label, _, anchor = (part.strip() for part in text.partition("="))
        if label not in known or not anchor:
            faults.append(
                f"--move must be a tie-down of the plan and an anchor, such as '{next(iter(known), '1')}="
                f"{min(anchors, default='1L')}', got {text!r}; the plan has {', '.join(known) or 'none'}."
            )
            continue
        n, number = known[label]
        plans[n] = moved(plans[n], number, anchor=anchor)
    if faults:
        raise BadInput(*faults)
    return plans


def show(screen: Screen, plan: TieDownPlan, sentence: str) -> None:
    """Print a plan."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_tie_down import friction_sentence
    from rubrail.sheets.sentences_words import begin, called

    screen.verdict(plan.verdict, sentence)
    for n, piece in enumerate(plan.pieces):
        if len(plan.pieces) > 1:
            screen.text()
            screen.text(f"{begin(called(piece.title, piece.id, what='piece'))}: {piece.verdict}", style="bold")
        _ties(screen, piece, n, len(plan.pieces), counts=plan.method == "us")
        _law(screen, piece)
        if plan.method == "us":
            _held(screen, piece)
            _readings(screen, piece)
        else:
            screen.text(friction_sentence(piece), style="dim")
        _changes(screen, piece)
        part.settle(screen, piece.settle)
        part.unknown(screen, piece.unknown)
    screen.heading("Before driving off")
    for caution in plan.cautions:
        screen.text(caution)
    part.safety(screen)


def _ties(screen: Screen, piece: Secured, n: int, pieces: int, *, counts: bool) -> None:
    from rubrail.sheets.drawing.tie_marks import label_of
    from rubrail.sheets.sentences_amounts import amount, feet
    from rubrail.sheets.sentences_tie_down import gear_taken

    screen.heading("Tie-downs")
    screen.table(
        ("", "left"), ("from", "wrap"), ("to", "wrap"), ("gear", "left"), ("good for", "right"), ("by its", "wrap"),
        ("counts" if counts else "", "right"), ("length", "right"),
        rows=[
            (
                label_of(n, t.number, pieces=pieces),
                t.anchor_title or "not known",
                t.far_title if t.path == "over" else t.point_title or "not known",
                t.gear,
                amount(t.wll_lb, "lb", metric=screen.metric),
                t.weakest or "",
                "" if t.holds == "accessory" or not counts else amount(t.counted_lb, "lb", metric=screen.metric),
                feet(t.length_in, metric=screen.metric),
            )
            for t in piece.ties
        ],
    )  # fmt: skip
    for line in gear_taken(piece):
        screen.text(line)


def _law(screen: Screen, piece: Secured) -> None:
    """Every limit that is not one for each direction: law and fit first, guidance marked as such."""
    from rubrail.sheets.sentences_amounts import amount
    from rubrail.sheets.sentences_lines import yes_or_no
    from rubrail.sheets.sentences_tie_down import locked_sentence
    from rubrail.sheets.sentences_words import KIND_WORDS, begin, together

    alike: dict[tuple, list] = {}
    for line in piece.lines:
        if line.unit == "g" or (line.verdict == "clear" and line.demand == 0):
            continue  # held in each direction comes below; what asks for nothing needs no word
        each = "" if line.member.startswith("tie-down") else line.member
        alike.setdefault((line.check, line.verdict, each), []).append(line)
    screen.heading("What is asked, and what is there")
    rows = []
    for some in alike.values():
        line = some[0]
        name = begin(line.title) + (f" ({together([x.member for x in some])})" if line.member else "")
        counted = line.unit in ("tie-downs", "pieces")
        amounts = ("", "") if yes_or_no(line) else tuple(
            amount(v, "" if counted else line.unit, metric=screen.metric) for v in (line.demand, line.limit)
        )  # fmt: skip
        rows.append((screen.mark(line.verdict), name, KIND_WORDS[line.kind], *amounts))
    screen.table(("", "left"), ("", "wrap"), ("", "wrap"), ("asked", "right"), ("there", "right"), rows=rows)
    locked = locked_sentence(piece)
    if locked:
        screen.text(locked)


def _changes(screen: Screen, piece: Secured) -> None:
    """What clears something, each tried; and where it is clear already, what would gain most."""
    from rubrail.cli import show as part
    from rubrail.sheets.sentences_amounts import text_in_metric
    from rubrail.sheets.sentences_words import begin

    part.remedies(screen, [c for c in piece.changes if c.clears])
    more = [c for c in piece.changes if not c.clears]
    if more:
        screen.heading("What would gain most")
    for change in more:
        screen.text(f"{begin(text_in_metric(change.says) if screen.metric else change.says)}.")


def _held(screen: Screen, piece: Secured) -> None:
    from math import isnan

    from rubrail.sheets.sentences_tie_down import friction_sentence

    def g(value: float) -> str:
        return "not known" if isnan(value) else f"{value:.2f}"

    screen.heading("Acceleration held, as a share of the weight; statics, not law")
    screen.table(
        ("toward", "left"), ("at working limits", "right"), ("asked", "right"), ("before breaking", "right"),
        ("asked", "right"),
        rows=[
            (
                h.direction,
                *((g(h.working_held_g), f"{h.working_asked_g:.3g}") if h.working_asked_g else ("", "")),
                g(h.breaking_held_g),
                f"{h.breaking_asked_g:.3g}",
            )
            for h in piece.held
        ],
    )  # fmt: skip
    screen.text(friction_sentence(piece), style="dim")


def _readings(screen: Screen, piece: Secured) -> None:
    from rubrail.sheets.sentences_tie_down import reading_sentence
    from rubrail.sheets.sentences_words import begin

    titles = dict.fromkeys(r.title for r in piece.readings)
    if titles:
        screen.heading("Read in more than one way")
    for title in titles:
        screen.text(f"{begin(title)}:")
        for reading in (r for r in piece.readings if r.title == title):
            screen.text(f"- {reading_sentence(reading, metric=screen.metric)}")
