"""The list of a hand-over: what is looked at, read and measured on this truck with this trailer on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from rubrail.answers.checklist import own_lines
from rubrail.answers.checklist_front import number
from rubrail.answers.checklist_parts import STATIONS, Entry, Line
from rubrail.answers.checklist_running import DUAL, SINGLE, tire_lines
from rubrail.answers.hand_over_fields import field_of
from rubrail.things.checks import Checks
from rubrail.things.haul import Haul
from rubrail.things.rig_truck import hitch_for
from rubrail.things.trailer import Trailer

SORT = "handover"
ELECTRIC = ("electric", "electric-over-hydraulic")
IN_BED = ("gooseneck", "kingpin")
AXLES = 6
"""Most axles of a trailer."""


def hand_over_list(trailer: Trailer, *, haul: Haul | None = None, own: Iterable[Checks] = ()) -> tuple[Line, ...]:
    """Lines of a hand-over of one unit to one truck, in the order one walks from the cab to the tail.

    Parameters
    ----------
    trailer : Trailer
    haul : Haul, optional
        With its truck: its figures stand beside what is read.
    own : iterable of Checks
        The yard's own lines; those for a hand-over come after the others of their station.
    """
    makers = (_truck, _hitch, _chains, _tires, _lamps, _last)
    lines = [line for make in makers for line in make(trailer, haul)]
    lines += [line for checks in own for line in own_lines(checks, trailer, sort=SORT)]
    order = list(STATIONS)
    return tuple(sorted(lines, key=lambda line: order.index(line.station)))


def _read(
    key: str, station: str, places: Mapping[str, str], unit: str, haul: Haul | None, trailer: Trailer, **more: Any
):
    """A line whose numbers the rig is weighed again with; ``places`` are the fields by what is asked for."""
    facts = {
        "fields": list(places.values()),
        "filed": [_filed(name, haul, trailer) for name in places.values()],
        "allowed": [_allowed(name) for name in places.values()],
        "weighed": True,
        "kind": trailer.coupling.kind,
    }
    return Line(key, key, station, entry="numbers", places=tuple(places), unit=unit, facts=facts, **more)


def _allowed(name: str) -> list[float]:
    """What a field's number may be: what is typed beyond it is a slip, and is told at the door."""
    field = field_of(name, axles=AXLES)
    return [field.least, field.most]


def _filed(name: str, haul: Haul | None, trailer: Trailer) -> float | None:
    """What the haul's truck or the unit has on file for a field."""
    field = field_of(name, axles=len(trailer.axle))
    thing: Any = None
    if field is None:
        return None
    if field.trailer:
        thing, path = trailer, field.trailer
    elif haul is not None and field.truck:
        thing, path = haul.truck, field.truck
    elif haul is not None:
        way = "distributing_" if haul.weight_distribution and trailer.coupling.kind == "ball" else ""
        thing, path = hitch_for(haul.truck, trailer.coupling), field.hitch
        path = path or (f"{way}{_HITCH[name]}" if name in _HITCH else "")
    if thing is None or not path:
        return None
    for step in path.split("."):
        thing = thing[int(step)] if isinstance(thing, tuple) else getattr(thing, step)
    return number(thing)


_HITCH = {"hitch_gross_rating_lb": "gross_rating_lb", "hitch_vertical_rating_lb": "vertical_rating_lb"}


def _truck(t: Trailer, haul: Haul | None) -> Iterator[Line]:
    title = "" if haul is None else haul.truck.title or haul.truck.id
    yield Line("this-truck", "this truck", "truck", entry="text", facts={"truck": title})
    yield _read(
        "door-label", "truck",
        {"GVWR": "truck_gvwr_lb", "front axle": "truck_front_gawr_lb", "rear axle": "truck_rear_gawr_lb"}, "lb",
        haul, t, sources=("LABEL-GVWR", "LABEL-GAWR"),
    )  # fmt: skip
    dual = haul is not None and (haul.truck.tires.rear_count or 2) > 2
    for end, places in (("front", SINGLE), ("rear", DUAL if dual else SINGLE)):
        yield _read(
            f"{end}-tires", "truck", dict.fromkeys(places, f"truck_{end}_tire_psi"), "psi", haul, t,
            sources=("TIRE-PRESSURE-LAW", "TIRE-STIFFNESS"),
        )  # fmt: skip
        yield _read(f"{end}-sidewall-load", "truck", {"most load": f"truck_{end}_tire_max_lb"}, "lb", haul, t)
        yield _read(f"{end}-sidewall-pressure", "truck", {"at": f"truck_{end}_tire_max_psi"}, "psi", haul, t)
    kinds = {a.brakes for a in t.axle}
    if kinds & {*ELECTRIC, None}:
        unknown = () if None not in kinds else ("kind of brakes",)
        facts = {"flag": "brake_controller", "brakes": sorted(k for k in kinds if k)}
        yield Line("controller", "controller", "truck", facts=facts, missing=unknown, sources=("BRAKE-CONTROLLER",))
        yield Line("gain", "gain", "truck", entry="text", holds=False)
    yield Line("mirrors", "mirrors", "truck")


def _hitch(t: Trailer, haul: Haul | None) -> Iterator[Line]:
    kind = t.coupling.kind
    if kind in ("ball", "gooseneck"):
        yield _read(
            "ball", "coupling", {"on the truck": "hitch_ball_size_in", "on the trailer": "coupler_ball_size_in"},
            "size", haul, t, sources=("BALL-MATCH",),
        )  # fmt: skip
        yield _read("ball-rating", "coupling", {"ball": "ball_rating_lb"}, "lb", haul, t,
                    sources=("COUPLING-RATINGS",))  # fmt: skip
    yield _read(
        "hitch-rating", "coupling",
        {"trailer": "hitch_gross_rating_lb", "load on it": "hitch_vertical_rating_lb"}, "lb", haul, t,
        sources=("COUPLING-RATINGS",),
    )  # fmt: skip
    yield Line("coupled", "coupled", "coupling", facts={"kind": kind})
    yield _read("ball-height", "coupling", {"with the trailer on": "hitch_height_in"}, "in", haul, t,
                sources=("TOW-LEVEL",))  # fmt: skip
    yield _read(
        "level", "coupling", {"deck front": "deck_front_height_in", "deck rear": "deck_rear_height_in"}, "in", haul, t,
        sources=("TOW-LEVEL",),
    )  # fmt: skip
    if kind in IN_BED:
        yield _read("rail", "coupling", {"bed rail": "bed_rail_height_in"}, "in", haul, t, sources=("NECK-CLEARANCE",))
        yield _read("neck", "coupling", {"neck's underside": "neck_underside_height_in"}, "in", haul, t,
                    sources=("NECK-CLEARANCE",))  # fmt: skip
        yield _read("neck-room", "coupling", {"least room": "neck_room_in"}, "in", haul, t,
                    sources=("NECK-CLEARANCE",))  # fmt: skip
        yield _read(
            "cab-room", "coupling", {"hitch to cab": "hitch_to_cab_in"}, "in", haul, t, sources=("NECK-SWING",)
        )
    yield Line("tailgate", "tailgate", "coupling", facts={"kind": kind}, optional=True)


def _chains(t: Trailer, haul: Haul | None) -> Iterator[Line]:
    kind, chains = t.coupling.kind, t.chains
    if kind != "kingpin":
        strength, count = number(chains.strength_lb), chains.count
        facts = {
            "kind": kind, "count": count, "strength_lb": strength,
            "together_lb": None if strength is None or count is None else strength * count,
        }  # fmt: skip
        yield Line("chains-on", "chains on", "chains", facts=facts, sources=("CHAIN-STRENGTH",))
    if any(a.brakes != "none" for a in t.axle) or t.breakaway:
        yield Line("breakaway-on", "breakaway on", "chains", sources=("CFR-49-393.43",))
    facts = {"plug": t.plug or "", "plug_flag": "truck_plug"}
    yield Line("plugged", "plugged", "chains", facts=facts, sources=("PLUG-MATCH",))
    yield Line("jack-up", "jack up", "jack")


def _tires(t: Trailer, haul: Haul | None) -> Iterator[Line]:
    yield from (line for line in tire_lines(t) if line.sort == "pressure")


def _lamps(t: Trailer, haul: Haul | None) -> Iterator[Line]:
    if any(a.brakes != "none" for a in t.axle):
        yield Line("brakes-tried", "brakes tried", "brakes", facts={"axles": len(t.axle)})
    yield Line("lamps-together", "lamps together", "lamps")


def _last(t: Trailer, haul: Haul | None) -> Iterator[Line]:
    yield Line("shown-loading", "shown loading", "last", facts={"ramps": bool(t.ramp)})
    yield Line("limits-card", "limits card", "last")
    yield Line("papers-given", "papers given", "last", facts={"new": t.condition != "used"})
    yield Line("agency", "agency", "last", holds=False)
    yield Line("told-days", "told days", "last", sources=("TRAILER-MANUALS", "AXLE-SERVICE"))


def readings_of(
    lines: Sequence[Line], entries: Mapping[str, Entry], *, plug: str | None = None
) -> dict[str, float | str | bool]:
    """What the entries of a hand-over's list say of the rig, as readings to weigh it again with.

    Parameters
    ----------
    lines : sequence of Line
    entries : mapping
        Latest entry by the line's key.
    plug : str, optional
        The trailer's plug: where it was plugged in and tried, the truck has it too.
    """
    found: dict[str, float | str | bool] = {}
    for line in lines:
        entry = entries.get(line.key)
        if entry is None or entry.empty or entry.answer == "not here":
            continue
        for name, value in _numbers(line, entry):
            # Two of one kind: the lower tire counts.
            found[name] = min(value, found.get(name, value))
        if "flag" in line.facts and entry.answer:
            found[line.facts["flag"]] = entry.answer == "ok"
        if line.facts.get("plug_flag") and entry.answer == "ok" and plug:
            found["truck_plug"] = plug
    return found


def _numbers(line: Line, entry: Entry) -> Iterator[tuple[str, float]]:
    if line.sort == "pressure":
        names: Sequence[str] = [f"tire_psi_{line.facts['axle']}"] * len(line.places)
    else:
        names = line.facts.get("fields", ())
    for name, value in zip(names, entry.numbers, strict=False):
        if value is not None:
            # A flat tire is weighed as the least a file can say; its own line is not in order in any case.
            yield (
                name,
                max(float(value), field_of(name, axles=AXLES).least) if line.sort == "pressure" else float(value),
            )
