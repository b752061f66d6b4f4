"""A model with options set on it, as a trailer: fields and parts. What options weigh is statics, and not done here."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeVar

from rubrail.things.fill import plus, times
from rubrail.things.measure import Known
from rubrail.things.part import Part
from rubrail.things.trailer import Trailer

if TYPE_CHECKING:
    from rubrail.things.catalog import Model, Option

P = TypeVar("P", bound=Part)
LISTS = ("axle", "ramp", "anchor")
NOT_OF_A_TRAILER = ("each_axle", "basis")


def set_on(part: P, change: Part) -> P:
    """A part with the fields that a change states; parts within it likewise, lists as a whole."""
    found = {}
    for name in change.model_fields_set - {"basis"}:
        now, then = getattr(part, name), getattr(change, name)
        found[name] = set_on(now, then) if isinstance(now, Part) and isinstance(then, Part) else then
    return part.model_copy(update=found) if found else part


def merged(model: Model | Trailer, options: Sequence[Option]) -> Trailer:
    """The trailer that a model with options is: first every ``set`` in order, then what is added, left off and raised.

    Parameters
    ----------
    model : Model
        The base.
    options : sequence of Option
        In the catalog's order, so that the same options always give the same trailer.

    Returns
    -------
    Trailer
        With the weights of the base, and not judged for sense.
    """
    trailer = Trailer.model_construct(
        _fields_set=model.model_fields_set & set(Trailer.model_fields),
        **{n: getattr(model, n) for n in Trailer.model_fields},
    )
    for option in options:
        trailer = _set(trailer, option)
    dropped = {tag for o in options for tag in o.drops}
    if dropped:
        kept = tuple(e for e in trailer.equipment if e.tag not in dropped)
        trailer = trailer.model_copy(update={"equipment": kept})
    for option in options:
        more = {n: getattr(trailer, n) + getattr(option.more, n) for n in option.more.model_fields_set - {"basis"}}
        trailer = trailer.model_copy(update=more) if more else trailer
    lift = plus(*(o.lift_in for o in options if o.lift_in is not None))
    return _lifted(trailer, lift) if lift is not None and lift.number else trailer


def weights_of(model: Model | Trailer, options: Sequence[Option]) -> list[tuple[Known, Known]]:
    """Weights that options put on a model and take off it, each with its place behind the coupling point.

    The equipment they add and leave off is among them; what is left off counts less than nothing, once.
    """
    found = [(a.weight_lb, a.from_coupler_in) for o in options for a in o.adds]
    found += [(times(e.weight_lb, e.count), e.from_coupler_in) for o in options for e in o.more.equipment]
    dropped = {tag for o in options for tag in o.drops}
    found += [(times(e.weight_lb, -e.count), e.from_coupler_in) for e in model.equipment if e.tag in dropped]
    return found


def _set(trailer: Trailer, option: Option) -> Trailer:
    change = option.set
    if not change.model_fields_set:
        return trailer
    found = {}
    for name in change.model_fields_set.difference(NOT_OF_A_TRAILER):
        then = getattr(change, name)
        found[name] = set_on(getattr(trailer, name), then) if isinstance(then, Part) else then
    axles = found.get("axle", trailer.axle)
    if change.each_axle.model_fields_set:
        found["axle"] = tuple(set_on(a, change.each_axle) for a in axles)
    return trailer.model_copy(update=found)


def _lifted(trailer: Trailer, lift: Known) -> Trailer:
    """A trailer whose deck, anchors and neck over the bed stand higher, where their heights are known."""

    def up(height: Known) -> Known:
        return None if height is None else plus(height, lift)

    deck = trailer.deck.model_copy(update={"height_in": up(trailer.deck.height_in)})
    neck = trailer.coupling.neck_underside_height_in
    coupling = trailer.coupling.model_copy(update={"neck_underside_height_in": up(neck)})
    anchors = tuple(a.model_copy(update={"height_in": up(a.height_in)}) for a in trailer.anchor)
    return trailer.model_copy(update={"deck": deck, "coupling": coupling, "anchor": anchors})
