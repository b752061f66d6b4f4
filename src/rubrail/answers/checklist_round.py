"""The yard's round: few lines, so that every unit that stands in front is fit to be shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rubrail.answers.checklist_front import chain_lines
from rubrail.answers.checklist_parts import Line
from rubrail.answers.checklist_running import tire_lines
from rubrail.things.trailer import Trailer

KEPT = ("pressure", "battery")


def round_lines(t: Trailer) -> Iterator[Line]:
    """Tires and battery measured, lights, ramps up, tidy, its sheet and its place for photos."""
    for line in (*tire_lines(t), *chain_lines(t)):
        if line.sort in KEPT:
            yield line
    for key, station in (("lights", "lamps"), ("stands", "jack"), ("tidy", "deck"), ("sheet", "label")):
        yield Line(f"round-{key}", f"round {key}", station, holds=key in ("lights", "stands"))
    if t.ramp:
        yield replace(Line("round-ramps", "round ramps", "ramps"), facts={"kind": t.ramp[0].kind})
