"""``rubrail turn``: a rig through the corner of two lanes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from rubrail.cli import options
from rubrail.cli.ends import BadInput

if TYPE_CHECKING:
    from rubrail.answers.turn import Turn
    from rubrail.cli.screen import Screen

CALLED = {"angle": "--angle", "entry": "--in", "exit": "--out", "curb": "--curb"}


def command(
    haul: options.Haul,
    trailer: options.Trailer,
    entry: Annotated[str, typer.Option("--in", metavar="WIDTH", help="Width of the lane or drive it comes by.")],
    exit_: Annotated[str, typer.Option("--out", metavar="WIDTH", help="Width of the one it leaves by.")],
    angle: Annotated[str, typer.Option("--angle", metavar="ANGLE", help="How far it turns.")] = "90 deg",
    curb: Annotated[str, typer.Option("--curb", metavar="RADIUS", help="Radius of the inner curb.")] = "0",
    drawing: Annotated[
        str | None, typer.Option("--drawing", metavar="FILE", help="Also write the drawing, an SVG, to a file.")
    ] = None,
    at: options.At = None,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Turn a rig through a corner: room to every edge, how far it folds, and what touches."""
    from rubrail.answers.turn import turn
    from rubrail.answers.turn_corner import CornerError, read_corner
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences_turn import turn_sentence

    try:
        corner = read_corner({"angle": angle, "entry": entry, "exit": exit_, "curb": curb}, called=CALLED)
    except CornerError as bad:
        raise BadInput(*bad.faults.values()) from None
    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    placement = given.placement_of(at, the_haul, the_trailer)
    result, driven = turn(haul=the_haul, trailer=the_trailer, corner=corner, placement=placement)
    sentence = turn_sentence(result, metric=metric)
    if drawing is not None:
        _draw(drawing, the_haul, the_trailer, placement, corner, driven, metric)
    if as_json:
        print(told(answer="turn", sentence=sentence, record=result))
    else:
        from rubrail.cli.screen import Screen

        show(Screen(metric=metric), result, sentence)
    return result.verdict


def _draw(name, haul, trailer, placement, corner, driven, metric) -> None:
    from pathlib import Path

    from rubrail.answers.weigh import weigh
    from rubrail.sheets.drawing import Rig, placed_pieces
    from rubrail.sheets.drawing.turn_view import turn_view
    from rubrail.things.rigs import pieces_of

    if driven is None:
        raise BadInput("--drawing needs every length of the turn, and one is not known.")
    weighing = weigh(haul=haul, trailer=trailer, placement=placement, remedies=False)
    cargo = placed_pieces(weighing, pieces_of(haul))
    rig = Rig(trailer=trailer, truck=haul.truck, cargo=cargo, metric=metric)
    try:
        Path(name).write_text(turn_view(rig, driven=driven, corner=corner), encoding="utf-8")
    except OSError as error:
        raise BadInput(
            f"--drawing {name} cannot be written: {(error.strerror or 'no reason given').lower()}."
        ) from None


def show(screen: Screen, turn: Turn, sentence: str) -> None:
    """Print a turn."""
    from rubrail.cli import show as part
    from rubrail.cli.show import limit_rows
    from rubrail.sheets.sentences_amounts import amount, feet
    from rubrail.sheets.sentences_turn import LIMITS_OF_IT, touch_sentence

    screen.verdict(turn.verdict, sentence)
    metric = screen.metric
    if not turn.missing:
        circle = "from its turning circle" if turn.radius_known else "usual for its wheelbase"
        screen.heading("The turn")
        screen.table(
            ("", "wrap"), ("", "right", 12),
            no_header=True,
            rows=[
                ("Room to the nearest edge", amount(turn.spare_in, "in", metric=metric)),
                ("The same with every tolerance against it", amount(turn.worst_spare_in, "in", metric=metric)),
                ("Radius of the front axle's path", feet(turn.radius_in, metric=metric)),
                (f"Least the truck can steer, {circle}", feet(turn.least_radius_in, metric=metric)),
                ("Trailer's axles run inside the front axle's path by", feet(turn.inside_in, metric=metric)),
                ("Widest band it sweeps", feet(turn.swept_in, metric=metric)),
                ("It folds to", f"{turn.fold_deg:.0f}°"),
            ],
        )  # fmt: skip
    screen.heading("What may touch")
    for touch in turn.touches:
        screen.text(touch_sentence(touch))
    limit_rows(screen, "As loaded, on the road", turn.sizes)
    screen.text()
    screen.text(LIMITS_OF_IT, style="dim")
    part.safety(screen)
