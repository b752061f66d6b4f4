"""Lines of tires, hubs, brakes and wheel nuts, axle by axle."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rubrail.answers.checklist_front import number
from rubrail.answers.checklist_parts import Line
from rubrail.rules.brakes import FEDERAL_EXEMPT_LB
from rubrail.rules.chambers import chamber_limits_in
from rubrail.rules.label import tires_sum_lb
from rubrail.rules.tables import figure, table
from rubrail.things.rig_trailer import tire_load
from rubrail.things.trailer import Axle, Trailer

LINING_IN = figure("checks", "lining_least_in")
AIR_LININGS = (("lining", figure("checks", "air_drum_least_in")), ("pad", figure("checks", "air_disc_least_in")))
TREAD_32NDS = figure("checks", "tread_least_32nds")
AMPS = (figure("checks", "magnet_least_amps"), figure("checks", "magnet_most_amps"))
SINGLE = ("left", "right")
DUAL = ("left outer", "left inner", "right inner", "right outer")
SHEET = "the maker's sheet"
CHAMBER = "the chamber's limit"
MAGNETS = ("electric",)


def places_of(axle: Axle) -> tuple[str, ...]:
    """Tires of an axle by where they stand, seen from behind; two where the file does not say how many."""
    return DUAL if axle.tires.count == 4 else SINGLE


def torque_lines(t: Trailer) -> Iterator[Line]:
    """Wheel nuts of each axle; where the file has no torque, what the maker's sheet says is entered with them."""
    for n, axle in enumerate(t.axle, 1):
        torque = number(axle.wheel_torque_ft_lb)
        facts = {"axle": n, "torque_ft_lb": torque, "studs": axle.wheel_studs, "wheels": len(places_of(axle))}
        yield Line(
            f"torque-{n}", "torque", "wheels", entry="numbers", places=SINGLE if torque else (SHEET, *SINGLE),
            unit="ft lb", exact=(torque, torque) if torque else (), facts=facts,
            missing=() if torque else (f"torque of the wheel nuts of axle {n}",),
            sources=("TRAILER-MANUALS", "CHECK-PRACTICE", "CFR-49-570.63", "CFR-49-393.205"),
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
    yield _spare(t)


def _spare(t: Trailer) -> Line:
    """The spare, aired like the tires of the first axle."""
    tires = t.axle[0].tires
    wanted = number(tires.pressure_psi)
    listed = any("spare" in e.tag for e in t.equipment)
    return Line(
        "spare", "spare", "tires", entry="numbers", places=("spare",), unit="psi", least=wanted,
        most=number(tires.max_pressure_psi), facts={"listed": listed, "pressure_psi": wanted}, holds=False,
        optional=True, missing=() if wanted is not None else ("pressure on the label, axle 1",),
    )  # fmt: skip


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
    """Hubs and brakes axle by axle, as the wheels are off the ground; linings of a used unit."""
    gvwr = number(t.ratings.gvwr_lb)
    some = any(axle.brakes != "none" for axle in t.axle)
    for n, axle in enumerate(t.axle, 1):
        yield Line(
            f"hubs-{n}", "hubs", "brakes",
            facts={"axle": n, "hubs": axle.hubs or "", "braked": axle.brakes != "none"},
            missing=() if axle.hubs else (f"whether the hubs of axle {n} run in oil or in grease",),
        )  # fmt: skip
        if axle.brakes != "none":
            yield from _brakes(n, axle, used=t.condition == "used", year=t.year)
        elif some and gvwr is not None and gvwr > FEDERAL_EXEMPT_LB:
            yield Line(
                f"no-brakes-{n}", "no brakes", "brakes",
                facts={"axle": n, "gvwr_lb": gvwr, "from_lb": FEDERAL_EXEMPT_LB},
                sources=("CFR-49-393.42", "BRAKES-STATES"),
            )  # fmt: skip
    kinds = {a.brakes for a in t.axle}
    if kinds & {"electric-over-hydraulic", "surge"}:
        yield Line("brake-fluid", "brake fluid", "brakes", facts={"surge": "surge" in kinds})


def _brakes(n: int, axle: Axle, *, used: bool, year: int | None) -> Iterator[Line]:
    facts = {"axle": n, "kind": axle.brakes or "", "year": year}
    missing = () if axle.brakes else (f"kind of brakes on axle {n}",)
    yield Line(f"brakes-{n}", "brakes", "brakes", facts=facts, missing=missing, sources=("CFR-49-393.48",))
    if axle.brakes in MAGNETS:
        yield Line(
            f"magnets-{n}", "magnets", "brakes", entry="numbers", places=SINGLE, unit="A", holds=False,
            least=AMPS[0], most=AMPS[1], facts={"axle": n}, sources=("MAGNET-AMPS", "CHECK-PRACTICE"),
        )  # fmt: skip
    if axle.brakes == "air":
        yield Line(
            f"pushrods-{n}", "pushrods", "brakes", entry="numbers", places=(CHAMBER, *SINGLE), unit="in",
            facts={"axle": n, "picks": [list(pick) for pick in chamber_limits_in().items()]},
            sources=("CFR-49-393.47", "STROKE-LIMITS", "CFR-49-396-A"),
        )  # fmt: skip
    linings = AIR_LININGS if axle.brakes == "air" else (("lining", LINING_IN),)
    for sort, least in linings if used else ():
        yield Line(
            f"{sort}-{n}", sort, "brakes", entry="numbers", places=SINGLE, unit="in", least=least,
            facts={"axle": n, "air": axle.brakes == "air"}, optional=axle.brakes == "air", sources=("CFR-49-393.47",),
        )  # fmt: skip


def _or_none(value: float) -> float | None:
    return None if math.isnan(value) else value
