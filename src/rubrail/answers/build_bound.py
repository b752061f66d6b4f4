"""Which options matter to the checks, and which classes of builds no choice of weights can save."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rubrail.answers.build import built
from rubrail.answers.height import built_columns
from rubrail.answers.placing import best_places, shifted
from rubrail.answers.rig import rigs
from rubrail.checks.rows import VERDICT_KINDS, Rows, rows_of
from rubrail.checks.verdict import CLEAR
from rubrail.things.catalog import Catalog, Model, Option
from rubrail.things.catalog_merge import weights_of
from rubrail.things.columns import Array, Columns
from rubrail.things.haul import Haul
from rubrail.things.trailer import Trailer

WEIGHT, COUPLER = "trailer_empty_weight_lb", "trailer_empty_coupler_lb"
NEVER_READ = ("price_usd",)
_PROBE_LB = 100.0
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Parts:
    """Options of a model by what they do to it; those that do nothing and ask for money are in neither."""

    changing: tuple[Option, ...]
    weighing: tuple[Option, ...]


def parts_of(catalog: Catalog, model: Model) -> Parts:
    """Sort the options made for a model.

    An option that changes no column is kept where it lowers the price, or a rule may ask for it.
    """
    options = catalog.options_of(model)
    wanted = {name for o in options for name in (*o.requires, *o.requires_one_of)}
    needed = {g.id for g in catalog.group if g.needed}
    changed = _changes(model, options)
    changing, weighing = [], []
    for o in options:
        does = changed[o.id]
        # Axles that move share the empty weight anew, so their effect is more than a weight at a place.
        if does - {WEIGHT, COUPLER}:
            changing.append(o)
        elif does or o.price_usd < 0 or o.id in wanted or o.group in needed:
            weighing.append(o)
    return Parts(tuple(changing), tuple(weighing))


def _changes(model: Model, options: Sequence[Option]) -> dict[str, set[str]]:
    """Columns that each option changes, on the model alone or beside any one other option.

    Options overwrite fields, so what one does beside several it also does beside the last of them.
    """
    pairs = [(), *((o,) for o in options)]
    trailers = [built(model, p) for p in pairs]
    order = {o.id: n for n, o in enumerate(options)}
    found: dict[str, set[str]] = {}
    for option in options:
        with_it = [
            built(model, sorted({o.id: o for o in (*p, option)}.values(), key=lambda o: order[o.id])) for p in pairs
        ]
        columns = built_columns([*trailers, *with_it])
        found[option.id] = {
            name
            for name, cells in columns.values.items()
            if name not in NEVER_READ and cells.shape[-3] > 1 and _halves_differ(cells)
        }
    return found


def _halves_differ(cells: Array) -> bool:
    half = cells.shape[-3] // 2
    return not np.array_equal(cells[..., :half, :, :], cells[..., half:, :, :], equal_nan=True)


def hopeless(
    *, haul: Haul, model: Model, classes: Sequence[Sequence[Option]], weights: Sequence[Option], goal: int
) -> NDArray[np.bool_]:
    """Classes in which, for every order and facing of the cargo, some limit stays passed wherever it stands.

    Every affine margin is a straight line in the cargo's shift, the empty weight and the coupler load, each apart from
    the others. So its greatest value over the deck is at an end, and over all choices of weights each option adds what
    it helps, and nothing where it harms.

    Parameters
    ----------
    haul, model
    classes : sequence of sequence of Option
        The changing options of each class.
    weights : sequence of Option
        Options that add weight only.
    goal : int
        Code of the verdict wanted; guidance counts for ``clear``.

    Returns
    -------
    array of bool
        Shape ``(class,)``.
    """
    trailers = tuple(built(model, c) for c in classes)
    one = rigs(haul=haul, trailers=trailers)
    places = best_places(one.columns, offsets_in=one.offsets_in)
    low, high = places.search.deck_low, places.search.deck_high
    kinds = (*VERDICT_KINDS, "guidance") if goal == CLEAR else VERDICT_KINDS

    def margins(columns: Columns, shift: Array) -> tuple[Array, Rows]:
        rows = rows_of(shifted(columns, offsets_in=one.offsets_in, shift_in=shift))
        return rows.margin, rows

    at_low, rows = margins(one.columns, low)
    at_high, _ = margins(one.columns, high)
    counted = rows.of_kind(*kinds)
    straight = counted & np.array([r.check.affine for r in rows.rows], bool)
    with np.errstate(invalid="ignore"):
        apart = {name: margins(_heavier(one.columns, name), low)[0] - at_low for name in (WEIGHT, COUPLER)}
    best = np.fmax(at_low, at_high)
    for adds in _weights(model, trailers, weights):
        with np.errstate(invalid="ignore"):
            helps = (apart[WEIGHT] * adds[0][:, None] + apart[COUPLER] * adds[1][:, None]) / _PROBE_LB
        best = best + np.fmax(helps, 0.0)
    passed = straight[:, None, None] & np.isfinite(best) & (best < -_SLACK)
    # What is not known of the class stays so: options that add weight make nothing known.
    unknown = counted[:, None, None] & np.isnan(at_low) & np.isnan(at_high)
    no_room = ~places.search.fits
    return (passed.any(axis=0) | unknown.any(axis=0) | no_room).all(axis=1)


def _heavier(columns: Columns, name: str) -> Columns:
    return columns.with_values({name: np.asarray(columns[name]) + _PROBE_LB})


def _weights(model: Model, trailers: Sequence[Trailer], weights: Sequence[Option]) -> list[tuple[Array, Array]]:
    """What each option adds to weight and coupler load, in each class."""
    axles = np.array([np.mean([a.from_coupler_in.number for a in t.axle]) for t in trailers])
    out = []
    for option in weights:
        parts = [(w.number, x.number) for w, x in weights_of(model, (option,))]
        weight = sum(w for w, _ in parts) + 0.0 * axles
        out.append((weight, sum((w * (1 - x / axles) for w, x in parts), 0.0 * axles)))
    return out
