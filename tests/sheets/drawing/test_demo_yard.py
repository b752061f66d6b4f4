"""Every unit, truck and machine of the invented yard, at every width: nothing on top of anything, nothing cut off."""

from __future__ import annotations

import math
from functools import cache
from importlib.resources import files

import pytest

from rubrail.sheets.drawing import (
    CargoPoint,
    Curve,
    LoadMark,
    Placed,
    Rig,
    envelope_plot,
    plan_view,
    rig_plan,
    rig_side,
    side_view,
    thumbnail,
    trailer_outline,
)
from rubrail.sheets.drawing.cargo_outline import cargo_outline
from rubrail.sheets.drawing.figure import extent
from rubrail.sheets.drawing.machines import cargo_side
from rubrail.things.folder import load_yard
from sheets.drawing.reading import Drawing, points

WIDTHS = (336.0, 720.0, 960.0)


@cache
def yard():
    return load_yard(files("rubrail.demo") / "yard")


def sound(svg: str) -> Drawing:
    """Parsed, and held to what every drawing must keep."""
    drawing = Drawing(svg)
    assert drawing.collisions() == []
    assert drawing.clipped() == []
    for word in ("<style", "<script", " style=", "href=", "nan", "inf "):
        assert word not in svg.replace('"inf ', '"')
    assert drawing.root[0].text
    assert drawing.root[1].text
    return drawing


def loads(i: int) -> list[LoadMark]:
    """Large and small, known and not, so that the lettering is as wide as it can be."""
    return [
        LoadMark("truck-front", 12_345.0 + i, 13_000, "clear"),
        LoadMark("truck-rear", 23_456.0, math.nan if i % 3 else 24_000, "not known" if i % 3 else "depends"),
        LoadMark("coupler", 5_678.0 - 40 * i, 7_500, "depends", governs=i % 2 == 0),
        LoadMark("axles", math.nan if i % 5 == 4 else 24_680.0, 25_000, "over", governs=i % 2 == 1),
    ]


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
def test_every_unit(width, metric):
    for trailer in yard().trailers.values():
        for deployed in (False, True):
            sound(side_view(trailer, width_px=width, metric=metric, deployed=deployed))
            sound(plan_view(trailer, width_px=width, metric=metric, deployed=deployed))
        small = sound(thumbnail(trailer))
        (surface,) = small.parts("deck")
        assert all(small.left <= x <= small.left + small.width for x, _ in points(surface))


@pytest.mark.parametrize("width", WIDTHS)
def test_every_truck_before_every_kind_of_trailer(width):
    by_coupling = {}
    for trailer in yard().trailers.values():
        by_coupling.setdefault(trailer.coupling.kind, trailer)
    assert set(by_coupling) == {"ball", "pintle", "gooseneck", "kingpin"}
    for i, truck in enumerate(yard().trucks.values()):
        for trailer in by_coupling.values():
            rig = Rig(trailer=trailer, truck=truck, loads=loads(i))
            sound(rig_side(rig, width_px=width))
            sound(rig_plan(rig, width_px=width))


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
def test_every_machine_on_a_trailer_alone_and_with_another(width, metric):
    trailers, trucks = list(yard().trailers.values()), list(yard().trucks.values())
    machines = list(yard().cargo.values())
    for i, machine in enumerate(machines):
        trailer, truck, other = (
            trailers[i % len(trailers)],
            trucks[i % len(trucks)],
            machines[(i * 7 + 3) % len(machines)],
        )
        o = trailer_outline(trailer)
        first = Placed(machine, o.deck_front_x_in + 4 + 5 * i, rear_first=i % 2 == 1)
        second = Placed(other, first.rear_x_in + 12, rear_first=i % 3 == 0)
        for cargo in ([first], [first, second]):
            rig = Rig(trailer=trailer, truck=truck, cargo=cargo, loads=loads(i), metric=metric, clear_band=(150, 160))
            sound(rig_side(rig, width_px=width))
            sound(rig_plan(rig, width_px=width))


def test_every_machine_is_drawn_as_long_and_as_high_as_it_says():
    for machine in yard().cargo.values():
        o = cargo_outline(machine)
        x1, z1, x2, z2 = extent(cargo_side(o))
        assert z1 >= -0.6, machine.id
        assert x1 == pytest.approx(0, abs=2.5), machine.id
        assert x2 == pytest.approx(o.length_in, abs=2.5), machine.id
        assert z2 == pytest.approx(o.height_in, abs=2.5), machine.id


@pytest.mark.parametrize("width", WIDTHS)
def test_envelopes_over_every_unit(width):
    titles = [
        "truck gross weight against its label",
        "hitch on the truck against the load on it",
        "trailer gross weight against its label",
        "all trailer axles against the sum of their ratings",
        "",
    ]
    for i, trailer in enumerate(yard().trailers.values()):
        o = trailer_outline(trailer)
        a, b = o.deck_front_x_in, o.flat_rear_x_in
        xs = [a, a + 0.2 * (b - a), a + 0.5 * (b - a), a + 0.5 * (b - a) + 4 + i, b]
        curve = Curve(xs, [4_000, 7_000, 15_000, 15_000, 9_000 + 100 * i], titles)
        other = Curve([a, b], [16_000, 12_000], ["trailer gross weight", ""])
        at = xs[0] + (xs[4] - xs[0]) * (i % 10) / 9
        cargo = CargoPoint(at, 3_000 + 400 * i, ("clear", "depends", "over", "not known")[i % 4])
        svg = envelope_plot(
            curve,
            title="t",
            trailer=o,
            other=other,
            cargo=cargo,
            origin_x_in=a,
            width_px=width,
            clear_band=(at - 8, at + 9),
        )
        sound(svg)


def test_the_same_drawing_is_the_same_text():
    trailer, truck = next(iter(yard().trailers.values())), next(iter(yard().trucks.values()))
    machine = next(iter(yard().cargo.values()))

    def all_of_them() -> list[str]:
        rig = Rig(trailer=trailer, truck=truck, cargo=[Placed(machine, 100)], loads=loads(1))
        return [side_view(trailer), plan_view(trailer), thumbnail(trailer), rig_side(rig), rig_plan(rig)]

    assert all_of_them() == all_of_them()
