"""Drawings to scale, as SVG, computed from the specification: trailers, rigs, envelopes, bars and marks.

Every drawing is one string of SVG without style or script. On a page its colors come from ``drawing.css`` and the
page's own tokens; on paper from its attributes. Draw for the width it is shown at: letters keep their size.
"""

from rubrail.sheets.drawing.envelope_data import CargoPoint, Curve
from rubrail.sheets.drawing.envelope_plot import envelope_plot
from rubrail.sheets.drawing.from_answers import curve_of, load_marks, placed_pieces
from rubrail.sheets.drawing.loads import LoadMark
from rubrail.sheets.drawing.marks import margin_bar, verdict_mark
from rubrail.sheets.drawing.outline import TrailerOutline, trailer_outline
from rubrail.sheets.drawing.placed import Placed
from rubrail.sheets.drawing.rig import Rig
from rubrail.sheets.drawing.rig_views import rig_plan, rig_side
from rubrail.sheets.drawing.tokens import stylesheet
from rubrail.sheets.drawing.trailer_views import plan_view, side_view, thumbnail

__all__ = [
    "CargoPoint",
    "Curve",
    "LoadMark",
    "Placed",
    "Rig",
    "TrailerOutline",
    "curve_of",
    "envelope_plot",
    "load_marks",
    "margin_bar",
    "placed_pieces",
    "plan_view",
    "rig_plan",
    "rig_side",
    "side_view",
    "stylesheet",
    "thumbnail",
    "trailer_outline",
    "verdict_mark",
]
