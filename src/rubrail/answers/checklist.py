"""Checklists computed from a unit: which lines it needs, each with the figures it is held to.

Every line comes from the unit's own file. What the file does not say is told at the line as missing, and a line whose
figures contradict each other cannot be in order until the file or the unit is corrected.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from rubrail.answers.checklist_front import chain_lines, coupling_lines, jack_lines, label_lines
from rubrail.answers.checklist_parts import STATIONS, Line
from rubrail.answers.checklist_rest import (
    anchor_lines,
    deck_lines,
    frame_lines,
    lamp_lines,
    last_lines,
    ramp_lines,
)
from rubrail.answers.checklist_round import round_lines
from rubrail.answers.checklist_running import brake_lines, tire_lines, torque_lines
from rubrail.things.checks import Checks, OwnLine
from rubrail.things.trailer import Trailer

Maker = Callable[[Trailer], Iterator[Line]]

INSPECTION: tuple[Maker, ...] = (
    label_lines,
    coupling_lines,
    chain_lines,
    jack_lines,
    deck_lines,
    anchor_lines,
    frame_lines,
    tire_lines,
    brake_lines,
    torque_lines,
    ramp_lines,
    lamp_lines,
    last_lines,
)
SORTS: Mapping[str, tuple[Maker, ...]] = {"inspection": INSPECTION, "round": (round_lines,)}
"""What makes the lines of each sort of list."""


class SortError(ValueError):
    """No checklist of that sort; the message says which there are."""


def checklist(trailer: Trailer, *, sort: str = "inspection", own: Iterable[Checks] = ()) -> tuple[Line, ...]:
    """Lines of a checklist of one unit, in the order one walks: front to back, and what is last.

    Parameters
    ----------
    trailer : Trailer
    sort : str
        A key of ``SORTS``: ``inspection`` before delivery, ``round`` of the yard.
    own : iterable of Checks
        The yard's own lines; those for this sort and this kind of unit come after the others of their station.

    Raises
    ------
    SortError
        If there is no such sort.
    """
    if sort not in SORTS:
        raise SortError(f"sort must be one of {', '.join(SORTS)}, got {sort!r}.")
    lines = [line for make in SORTS[sort] for line in make(trailer)]
    lines += [line for checks in own for line in own_lines(checks, trailer, sort=sort)]
    order = list(STATIONS)
    # Sorting keeps the order within a station.
    return tuple(sorted(lines, key=lambda line: order.index(line.station)))


def own_lines(checks: Checks, trailer: Trailer, *, sort: str) -> Iterator[Line]:
    """The yard's own lines that belong on this list of this unit."""
    for line in checks.line:
        if sort in line.on and _for(line, trailer):
            yield Line(
                key=f"own-{checks.id}-{line.id}",
                sort="own",
                station=line.station,
                entry=line.entry,
                places=line.places or (("reading",) if line.entry == "numbers" else ()),
                unit=line.unit or "",
                least=line.least,
                most=line.most,
                holds=line.holds,
                optional=line.optional,
                sources=(),
                own={"title": line.title, "do": line.do, "good": line.good or ""},
            )


def _for(line: OwnLine, trailer: Trailer) -> bool:
    """Whether a line of the yard is for a unit of this coupling and condition."""
    return (not line.couplings or trailer.coupling.kind in line.couplings) and (
        not line.condition or trailer.condition == line.condition
    )
