"""Receive a unit: its VIN, what was ordered against what came, whether its ratings hold together, and what to do.

The answer proposes; a person decides.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence

from rubrail.answers.receive_fields import compare_fields
from rubrail.answers.receive_outcome import outcome
from rubrail.answers.receive_papers import Papers, label_rows
from rubrail.answers.receive_ratings import lamps_of, rating_lines
from rubrail.answers.receive_report import PayloadChange, Receiving
from rubrail.answers.receive_vin import LABEL, ORDER, PAPERS, read_vins
from rubrail.things.trailer import Trailer


def receive(
    *,
    ordered: Trailer | None,
    received: Trailer,
    vins: Mapping[str, str],
    this_year: int,
    maker_codes: Collection[str] = (),
    papers: Papers | None = None,
    label_seen: bool | None = None,
    buyer_waits: bool = False,
    need_lb: float = math.nan,
    rated_cargo_lb: float = math.nan,
) -> Receiving:
    """Hold a unit that came off the truck against its order, its papers, and itself.

    Parameters
    ----------
    ordered : Trailer or None
        As ordered; ``None`` where there is no order to compare.
    received : Trailer
        As read and measured on the unit; its ``vin`` is what the label says, unless ``vins`` has another.
    vins : mapping
        Other readings of the VIN by where they were read: ``label``, ``frame``, ``papers``.
    this_year : int
        Calendar year.
    maker_codes : collection of str
        Identifiers the yard knows for this maker: six characters, or three.
    papers : Papers, optional
        What certificate of origin and invoice say.
    label_seen : bool, optional
        ``False`` where the unit has no certification label; ``None`` where nobody said.
    buyer_waits : bool
        A buyer has been promised this unit.
    need_lb : float
        Heaviest load a buyer waits to put on it. [lb]
    rated_cargo_lb : float
        Cargo its maker rates it for. [lb]
    """
    readings = {
        LABEL: vins.get(LABEL) or received.vin or "",
        **{place: text for place, text in vins.items() if place != LABEL},
    }
    if papers is not None and papers.vin:
        readings.setdefault(PAPERS, papers.vin)
    if ordered is not None and ordered.vin:
        readings.setdefault(ORDER, ordered.vin)
    vin = read_vins(vins=readings, this_year=this_year, maker_codes=maker_codes, year=received.year)
    compared = compare_fields(ordered=ordered, received=received)
    lines = rating_lines(trailer=received, rated_cargo_lb=rated_cargo_lb)
    rows = label_rows(received=received, papers=papers, ordered=ordered, vin=readings[LABEL])
    lamps, marked_in = lamps_of(received)
    carries = _carries(compared.payload, need_lb)
    proposed, reasons = outcome(
        received=received,
        compared=compared,
        vin=vin,
        label=rows,
        lines=lines,
        label_seen=label_seen,
        buyer_waits=buyer_waits,
        need_lb=need_lb,
        carries_lb=carries,
    )
    return Receiving(
        unit=received.id,
        title=received.title or received.id,
        compared=ordered is not None,
        ordered_as=ordered.id if ordered is not None else "",
        proposed=proposed,
        reasons=reasons,
        vin=vin,
        fields=compared.fields,
        label=rows,
        consistency=lines,
        lamps=lamps,
        marked_in=marked_in,
        payload=compared.payload,
        costliest=compared.costliest,
        need_lb=need_lb,
        short_lb=math.nan if math.isnan(need_lb + carries) else max(need_lb - carries, 0.0),
    )


def _carries(payload: Sequence[PayloadChange], need_lb: float) -> float:
    """What it carries by all its own ratings; by the label where that alone is too little already."""
    by = {p.key: p.received_lb for p in payload}
    return by["label"] if math.isnan(by["alone"]) and need_lb > by["label"] else by["alone"]
