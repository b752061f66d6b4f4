"""Lines of wheels, hubs, tires and brakes, axle by axle."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rubrail.answers.checklist_front import number
from rubrail.answers.checklist_parts import Line
from rubrail.rules.label import tires_sum_lb
from rubrail.rules.tables import figure, table
from rubrail.things.rig_trailer import tire_load
from rubrail.things.trailer import Axle, Trailer

LINING_IN = figure("checks", "lining_least_in")
TREAD_32NDS = figure("checks", "tread_least_32nds")
AMPS = (figure("checks", "magnet_least_amps"), figure("checks", "magnet_most_amps"))
SINGLE = ("left", "right")
DUAL = ("left outer", "left inner", "right inner", "right outer")
MAGNETS = ("electric",)


def places_of(axle: Axle) -> tuple[str, ...]:
    """Tires of an axle by where they stand, seen from behind; two where the file does not say how many."""
    return DUAL if axle.tires.count == 4 else SINGLE


def wheel_lines(t: Trailer) -> Iterator[Line]:
    """Wheel nuts and hubs of each axle."""
    for n, axle in enumerate(t.axle, 1):
        torque = number(axle.wheel_torque_ft_lb)
        facts = {"axle": n, "torque_ft_lb": torque, "studs": axle.wheel_studs, "wheels": len(places_of(axle))}
        yield Line(
            f"torque-{n}", "torque", "wheels", entry="numbers" if torque else "look",
            places=SINGLE if torque else (), unit="ft lb" if torque else "",
            exact=(torque, torque) if torque else (), facts=facts,
            missing=() if torque else (f"torque of the wheel nuts of axle {n}",),
            sources=("TRAILER-MANUALS", "CHECK-PRACTICE", "CFR-49-393.205"),
        )  # fmt: skip
    for n, axle in enumerate(t.axle, 1):
        yield Line(
            f"hubs-{n}", "hubs", "wheels", facts={"axle": n, "hubs": axle.hubs or ""},
            missing=() if axle.hubs else (f"whether the hubs of axle {n} run in oil or in grease",),
        )  # fmt: skip


def tire_lines(t: Trailer) -> Iterator[Line]:
    """Tires as the sidewall says them, pressure measured and reckoned, tread and age, the spare."""
    for n, axle in enumerate(t.axle, 1):
        yield _sidewall(n, axle)
        yield _pressure(n, axle)
        yield Line(
            f"tire-codes-{n}", "date code", "tires", entry="numbers", places=places_of(axle), unit="code",
            holds=False, facts={"axle": n},
        )  # fmt: skip
        if t.condition == "used":
            yield Line(
                f"tread-{n}", "tread", "tires", entry="numbers", places=places_of(axle), unit="32nds",
                least=TREAD_32NDS, facts={"axle": n}, sources=("CFR-49-393.75",),
            )  # fmt: skip
    spare = any("spare" in e.tag for e in t.equipment)
    yield Line("spare", "spare", "tires", facts={"listed": spare}, holds=False, optional=True)


def _sidewall(n: int, axle: Axle) -> Line:
    tires, gawr = axle.tires, number(axle.gawr_lb)
    load = number(tire_load(axle))
    passenger = math.nan if tires.family is None else float(tires.family == "P")
    sum_lb = math.nan
    if load is not None:
        sum_lb = float(tires_sum_lb(tire_count=len(places_of(axle)), tire_max_load_lb=load, passenger_tire=passenger))
    wheels = number(axle.wheel_rating_lb)
    wheels_lb = math.nan if wheels is None or tires.count is None else wheels * tires.count
    short = []
    if gawr is not None and sum_lb < gawr:
        short.append(f"the tires of axle {n} carry {sum_lb:,.0f} lb together and its rating is {gawr:,.0f} lb")
    if gawr is not None and wheels_lb < gawr:
        short.append(
            f"the wheels of axle {n} are rated for {wheels_lb:,.0f} lb together and the axle for {gawr:,.0f} lb"
        )
    named = (
        ("rating of the axle", gawr), ("number of tires", tires.count), ("load of one tire as mounted", load),
        ("tire standard", tires.family), ("rating of one wheel", wheels),
    )  # fmt: skip
    facts = {
        "axle": n, "size": tires.size or "", "load_range": tires.load_range or "", "count": tires.count,
        "load_lb": load, "sum_lb": _or_none(sum_lb), "gawr_lb": gawr, "wheels_lb": _or_none(wheels_lb),
    }  # fmt: skip
    return Line(
        f"sidewall-{n}", "sidewall", "tires", facts=facts, short="; ".join(short),
        missing=tuple(f"{w}, axle {n}" for w, v in named if v is None),
        sources=("NHTSA-TIRES-GAWR", "WHEEL-RATING"),
    )  # fmt: skip


def _pressure(n: int, axle: Axle) -> Line:
    tires = axle.tires
    family = next((row for row in table("tire-families")["rows"] if row["family"] == tires.family), None)
    facts = {
        "axle": n,
        "pressure_psi": number(tires.pressure_psi),
        "max_pressure_psi": number(tires.max_pressure_psi),
        "max_load_lb": number(tire_load(axle)),
        "gawr_lb": number(axle.gawr_lb),
        "exponent": family["exponent"] if family else None,
        "derate": family["derate"] if family else None,
        "count": tires.count,
    }
    named = (
        ("pressure on the label", "pressure_psi"), ("pressure of the tires' maximum load", "max_pressure_psi"),
        ("load of one tire as mounted", "max_load_lb"), ("rating of the axle", "gawr_lb"),
        ("tire standard", "exponent"), ("number of tires", "count"),
    )  # fmt: skip
    return Line(
        f"pressure-{n}", "pressure", "tires", entry="numbers", places=places_of(axle), unit="psi",
        most=number(tires.max_pressure_psi), facts=facts,
        missing=tuple(f"{words}, axle {n}" for words, name in named if facts[name] is None),
        sources=("TIRE-GAWR", "TIRE-PRESSURE-LAW", "TIRE-STIFFNESS"),
    )  # fmt: skip


def brake_lines(t: Trailer) -> Iterator[Line]:
    """Brakes of each axle by their kind; linings of a used unit."""
    for n, axle in enumerate(t.axle, 1):
        if axle.brakes == "none":
            continue
        facts = {"axle": n, "kind": axle.brakes or ""}
        missing = () if axle.brakes else (f"kind of brakes on axle {n}",)
        yield Line(f"brakes-{n}", "brakes", "brakes", facts=facts, missing=missing, sources=("CFR-49-393.48",))
        if axle.brakes in MAGNETS:
            yield Line(
                f"magnets-{n}", "magnets", "brakes", entry="numbers", places=SINGLE, unit="A", holds=False,
                least=AMPS[0], most=AMPS[1], facts={"axle": n}, sources=("MAGNET-AMPS", "CHECK-PRACTICE"),
            )  # fmt: skip
        if t.condition == "used" and axle.brakes != "air":
            yield Line(
                f"lining-{n}", "lining", "brakes", entry="numbers", places=SINGLE, unit="in", least=LINING_IN,
                facts={"axle": n}, sources=("CFR-49-393.47",),
            )  # fmt: skip
    kinds = {a.brakes for a in t.axle}
    if kinds & {"electric-over-hydraulic", "surge"}:
        yield Line("brake-fluid", "brake fluid", "brakes", facts={"surge": "surge" in kinds})


def _or_none(value: float) -> float | None:
    return None if math.isnan(value) else value
