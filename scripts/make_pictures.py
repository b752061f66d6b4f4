"""Draw the README's pictures from the invented yard: python scripts/make_pictures.py."""

from __future__ import annotations

from pathlib import Path

from rubrail import envelope, load_yard, place, resolve, weigh
from rubrail.answers.tie_down import tie_down
from rubrail.demo import YARD
from rubrail.sheets.drawing import CargoPoint, Rig, curve_of, envelope_plot, load_marks, placed_pieces, rig_side
from rubrail.sheets.drawing.tie_views import rig_to_tie, tie_plan, tie_side
from rubrail.things.rigs import pieces_of

FOLDER = Path(__file__).parents[1] / "docs" / "images"
HAUL, UNIT = "03-landscaper-track-loader", "SH-152"


def main() -> None:
    """Write each picture over what is there."""
    yard = load_yard(YARD)
    haul, trailer = resolve(yard.hauls[HAUL], yard), yard.trailers[UNIT]
    weighing, best = weigh(haul=haul, trailer=trailer), place(haul=haul, trailer=trailer)
    rig = Rig(
        trailer=trailer,
        truck=haul.truck,
        cargo=placed_pieces(weighing, pieces_of(haul)),
        loads=load_marks(weighing),
    )
    limits = envelope(trailer=trailer, haul=haul)
    piece = best.pieces[0]
    plot = envelope_plot(
        curve_of(limits.behind),
        title="Greatest cargo weight against the place of its center of gravity",
        other=curve_of(limits.alone),
        cargo=CargoPoint(piece.cg_x_in, piece.weight_lb, weighing.verdict),
        origin_x_in=limits.deck_front_x_in,
    )
    tied = tie_down(haul=haul, trailer=trailer, kit=yard.kit, placement=best.placement, changes=False)
    deck = rig_to_tie(haul=haul, trailer=trailer, placement=best.placement)
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, drawing in (
        ("rig.svg", rig_side(rig)),
        ("envelope.svg", plot),
        ("tie-plan.svg", tie_plan(deck, tied.pieces)),
        ("tie-side.svg", tie_side(deck, tied.pieces)),
    ):
        (FOLDER / name).write_text(drawing + "\n", encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
