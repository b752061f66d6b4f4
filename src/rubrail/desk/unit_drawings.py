"""The drawings of a unit's page, kept for as long as the unit stays as it is."""

from __future__ import annotations

from collections.abc import Callable

from django.utils.safestring import SafeString, mark_safe

from rubrail.answers.envelope import Envelope
from rubrail.desk.drawings import PAPER_PX, WIDE_PX
from rubrail.desk.models import Unit
from rubrail.desk.shelf import Shelf
from rubrail.sheets.drawing import curve_of, envelope_plot, plan_view, side_view, trailer_outline
from rubrail.things.trailer import Trailer

WIDTHS = {"wide": WIDE_PX, "narrow": 336.0, "paper": PAPER_PX}
"""On a phone these drawings reach a hair past the text on either side."""
PLOT_HIGH = {"wide": 250.0, "narrow": 190.0, "paper": 190.0}

Drawings = dict[str, dict[str, SafeString]]
_shelf: Shelf[Drawings] = Shelf(256)


def unit_drawings(unit: Unit, trailer: Trailer, envelope: Envelope | None, *, metric: bool) -> Drawings:
    """Side, plan and envelope, each for a wide page, a narrow one and paper.

    Parameters
    ----------
    unit : Unit
        As stored; its version names what is drawn.
    trailer : Trailer
        The same unit as the engine takes it.
    envelope : Envelope or None
        Without one there is no plot.
    metric : bool
        Letter in metric.
    """
    key = (unit.pk, unit.version, unit.updated, metric)
    drawings = _shelf.get(key)
    if drawings is None:
        drawings = _drawn(trailer, envelope, metric=metric)
        _shelf.put(key, drawings)
    return drawings


def _drawn(trailer: Trailer, envelope: Envelope | None, *, metric: bool) -> Drawings:
    outline = trailer_outline(trailer)
    drawings = {
        "side": _each(lambda name: side_view(outline, width_px=WIDTHS[name], metric=metric)),
        "plan": _each(lambda name: plan_view(outline, width_px=WIDTHS[name], metric=metric)),
    }
    if envelope is not None and envelope.alone:
        curve = curve_of(envelope.alone)
        drawings["envelope"] = _each(
            lambda name: envelope_plot(
                curve,
                title=f"{outline.title}: most cargo by where it balances",
                trailer=outline,
                origin_x_in=envelope.deck_front_x_in,
                width_px=WIDTHS[name],
                height_px=PLOT_HIGH[name],
                metric=metric,
            )
        )
    return drawings


def _each(draw: Callable[[str], str]) -> dict[str, SafeString]:
    return {name: mark_safe(draw(name)) for name in WIDTHS}
