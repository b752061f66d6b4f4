from __future__ import annotations

import math

import pytest

from rubrail.sheets.drawing import CargoPoint, Curve, curve_of, envelope_plot, trailer_outline
from rubrail.sheets.drawing.envelope_data import round_step, tape_step
from sheets.drawing.made import gooseneck
from sheets.drawing.reading import Drawing, points, span

TITLES = ["truck gross weight against its label", "trailer gross weight against its label", "all trailer axles", ""]
CURVE = Curve([92, 180, 260, 392], [9_000, 17_000, 17_000, 12_000], TITLES)


def plot(curve=CURVE, **changes) -> Drawing:
    table = {"title": "envelope", "trailer": trailer_outline(gooseneck()), "origin_x_in": 92.0}
    return Drawing(envelope_plot(curve, **{**table, **changes}))


def per_lb(drawing: Drawing) -> float:
    return float(drawing.root.get("data-per-lb"))


@pytest.mark.parametrize("width", [340.0, 960.0])
def test_breakpoints_stand_at_their_place_and_weight(width):
    drawing = plot(width_px=width)
    marks = drawing.parts("breakpoint")
    assert [float(m.get("data-x-in")) for m in marks] == [92, 180, 260, 392]
    for mark, x, w in zip(marks, CURVE.x_in, CURVE.weight_lb, strict=True):
        assert float(mark.get("cx")) == pytest.approx(x * drawing.scale, abs=0.01)
        assert float(mark.get("cy")) == pytest.approx(-w * per_lb(drawing), abs=0.01)
        assert float(mark.get("data-weight-lb")) == w


def test_the_trailer_under_the_axis_has_the_scale_of_the_axis():
    drawing = plot()
    assert [float(w.get("cx")) / drawing.scale for w in drawing.parts("wheel")] == pytest.approx([300, 342], abs=0.02)


def test_the_curve_carries_its_numbers_for_a_script():
    (curve,) = [e for e in plot().elements("path") if e.get("data-curve") == "envelope"]
    assert curve.get("data-x-in") == "92 180 260 392"
    assert [float(w) for w in curve.get("data-weight-lb").split()] == list(CURVE.weight_lb)
    assert curve.get("data-governs").split("|") == TITLES


@pytest.mark.parametrize("width", [340.0, 700.0, 960.0])
def test_every_stretch_is_named_on_the_curve_or_in_the_key(width):
    said = " ".join(plot(width_px=width).texts())
    for title in TITLES[:-1]:
        assert all(word in said for word in title.split())


def test_the_cargo_stands_on_the_plot_with_what_it_has_to_spare():
    drawing = plot(cargo=CargoPoint(220, 14_000, "clear"))
    assert "14,000 lb" in drawing.texts()
    # The curve is level at 17,000 lb there.
    assert any("3,000 lb to spare here" in t for t in drawing.texts())
    (shape,) = [e for e in drawing.elements("g") if e.get("data-verdict")]
    circle = shape[0]
    assert float(circle.get("cx")) == pytest.approx(220 * drawing.scale, abs=0.01)
    assert float(circle.get("cy")) == pytest.approx(-14_000 * per_lb(drawing), abs=0.01)


def test_too_much_is_said_as_too_much():
    # Half way from 92 to 180 in the limit is 13,000 lb.
    drawing = plot(cargo=CargoPoint(136, 14_000, "over"))
    assert any("1,000 lb too much here" in t for t in drawing.texts())


def test_the_band_of_this_cargo_is_painted():
    drawing = plot(cargo=CargoPoint(220, 14_000, "clear"), clear_band=(200, 240))
    (band,) = drawing.parts("clear-band")
    assert span([band])[:2] == pytest.approx((200 * drawing.scale, 240 * drawing.scale), abs=0.01)


def test_a_limit_that_bounds_nothing_is_drawn_at_the_top():
    drawing = plot(Curve([92, 200, 392], [math.inf, 8_000, 9_000], ["a", "b", ""]))
    (curve,) = [e for e in drawing.elements("path") if e.get("data-curve") == "envelope"]
    assert points(curve)[0][1] == min(y for _, y in points(curve))
    assert curve.get("data-weight-lb").startswith("inf ")


@pytest.mark.parametrize(
    "bad", [([1.0], [2.0], ["a"]), ([1.0, 2.0], [2.0], ["a", "b"]), ([1.0, 2.0], [2.0, 3.0], ["a"])]
)
def test_a_curve_needs_equal_arrays(bad):
    with pytest.raises(ValueError, match="a curve needs two or more places with a weight and a title each"):
        Curve(*bad)


def test_steps_of_the_axes_read_well():
    assert [round_step(s) for s in (900, 1_100, 2_100, 2_600, 5_100)] == [1_000, 2_000, 2_500, 5_000, 10_000]
    assert [tape_step(s, metric=False) for s in (5, 20, 50)] == [6, 24, 60]


def test_metric_letters_kilograms():
    texts = plot(metric=True, cargo=CargoPoint(220, 14_000, "clear")).texts()
    assert "6,350 kg" in texts
    assert not [t for t in texts if " lb" in t]


def test_stretches_of_an_answer_become_a_curve_with_exact_ends():
    class Stretch:
        def __init__(self, a, b, h, k, title):
            self.from_x_in, self.to_x_in, self.title, self.member = a, b, title, None
            self.inverse_at_zero, self.inverse_per_in = h, k

        def weight_lb(self, x):
            return 1 / (self.inverse_at_zero + self.inverse_per_in * x)

    curve = curve_of([Stretch(100, 200, 3e-4, -1e-6, "a"), Stretch(200, 300, 1e-4, 0.0, "b")])
    assert (curve.x_in[0], curve.x_in[-1]) == (100, 300)
    assert curve.weight_at(100) == pytest.approx(5_000)
    assert curve.weight_at(250) == pytest.approx(10_000)
    assert [t for *_, t in curve.stretches()] == ["a", "b"]
