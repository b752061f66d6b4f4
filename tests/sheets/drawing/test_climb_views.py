"""A climb's drawings: the machine lies on the way at every step, frames are cut and lettered, curves carry numbers."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from rubrail.answers.climb import climb_on
from rubrail.answers.climb_setup import Day
from rubrail.demo import YARD
from rubrail.sheets.drawing.climb_from import frames_of, plot_of, scene_of, strip_of
from rubrail.sheets.drawing.climb_plot import Panel, Track, climb_plot
from rubrail.sheets.drawing.climb_strip import climb_strip, climb_view
from rubrail.sheets.drawing.figure import Disc, points_of
from rubrail.sheets.drawing.view import View
from rubrail.things.folder import load_yard, resolve
from sheets.drawing.reading import NS, Drawing

FOUND = load_yard(YARD)
CASES = (
    ("03-landscaper-track-loader", "SH-133", Day()), ("13-scissor-lifts", "SH-152", Day()),
    ("07-tractor-on-duals", "SH-203", Day(stands=False)), ("02-midi-excavator-for-hire", "SH-201", Day(hitched=False)),
)  # fmt: skip


@pytest.fixture(scope="module", params=CASES, ids=lambda c: f"{c[0]} {c[1]}")
def climbed(request):
    haul_id, unit, day = request.param
    haul, trailer = resolve(FOUND.hauls[haul_id], FOUND), FOUND.trailers[unit]
    a = climb_on(haul=haul, trailer=trailer, day=day, remedies=False)
    return a, a.machines[0], haul, trailer


def scene(climbed):
    a, m, haul, trailer = climbed
    return scene_of(a, m, haul=haul, trailer=trailer)


def lowest(p):
    """Corners of a shape; of a wheel the place it stands on."""
    return [(p.x, p.z - p.radius)] if isinstance(p, Disc) else points_of(p)


def test_the_machine_stands_on_the_way_at_every_step(climbed):
    s = scene(climbed)
    c = s.course
    x = np.array(c.way_x_in[::-1])
    z = np.array(c.way_z_in[::-1])
    for step in range(0, len(c.s_in), 12):
        if s.tilts and s.level_at(step):
            continue
        low = min(q[1] - np.interp(q[0], x, z, right=0.0) for p in s.machine_at(step) for q in lowest(p))
        # Lugs and rounded corners of a silhouette reach a little below the line it stands on.
        assert -5.0 < low < 2.5


def test_the_transform_says_what_the_figure_does(climbed):
    s = scene(climbed)
    view = View(1.7)
    for step in (0, len(s.course.s_in) // 2, len(s.course.s_in) - 1):
        a, b, c, d, e, f = (float(v) for v in re.findall(r"-?[\d.]+", s.transform(step, view)))
        for own, placed in zip(s.own_machine, s.machine_at(step), strict=True):
            for (u, v), (x, z) in zip(points_of(own)[:2], points_of(placed)[:2], strict=True):
                if len(points_of(own)) == 2 and hasattr(own, "radius"):
                    continue
                px, py = view.x(u), view.y(v)
                assert a * px + c * py + e == pytest.approx(view.x(x), abs=0.05)
                assert b * px + d * py + f == pytest.approx(view.y(z), abs=0.05)


@pytest.mark.parametrize("width", [344.0, 960.0])
def test_a_strip_has_a_frame_for_each_moment(climbed, width):
    a, m, haul, trailer = climbed
    d = Drawing(strip_of(a, m, haul=haul, trailer=trailer, width_px=width))
    frames = [e for e in d.root.iter(f"{NS}svg") if e.get("data-frame")]
    assert [e.get("data-step") for e in frames] == [str(x.step) for x in m.moments]
    assert len(d.parts("climber")) == len(m.moments)
    texts = d.texts()
    assert [str(n) for n in range(1, len(frames) + 1)] == [t for t in texts if t.isdigit()]
    for e in frames:
        assert float(e.get("x")) + float(e.get("width")) <= width + 0.1
    for letters in d.letters():
        assert letters.box.within(d.frame), letters.text
    boxes = [t.box for t in d.letters()]
    assert not any(p.overlaps(q) for i, p in enumerate(boxes) for q in boxes[i + 1 :])


def test_the_view_carries_what_a_page_scrubs_by(climbed):
    s = scene(climbed)
    d = Drawing(climb_view(s, step=5))
    n = len(s.course.s_in)
    for name in ("data-s", "data-x", "data-z", "data-pitch"):
        assert len(d.root.get(name).split()) == n
    assert d.root.get("data-step") == "5"
    (climber,) = d.parts("climber")
    assert climber.get("transform") == s.transform(5, View(d.scale)) or climber.get("transform").startswith("matrix(")
    decks = {e.get("data-deck"): e.get("visibility") for e in d.root.iter() if e.get("data-deck")}
    assert decks == ({"tilted": None, "level": "hidden"} if s.tilts else {})
    assert bool(d.parts("truck")) == (s.truck is not None)


@pytest.mark.parametrize("metric", [False, True])
@pytest.mark.parametrize("width", [344.0, 960.0])
def test_plots_carry_their_numbers_and_keep_their_letters_inside(climbed, width, metric):
    _, m, _, _ = climbed
    d = Drawing(plot_of(m, width_px=width, metric=metric))
    curves = {e.get("data-curve"): e for e in d.root.iter() if e.get("data-curve")}
    n = len(m.course.s_in)
    assert "coupler load" in curves
    assert len(curves["coupler load"].get("data-values").split(" ")) == n
    assert len(d.root.get("data-s").split()) == n
    assert {e.get("data-part") for e in d.root.iter()} >= {"cursor"}
    for letters in d.letters():
        assert letters.box.within(d.frame), letters.text
    if metric:
        assert not any(re.search(r"\b(lb|in|ft)\b", t) for t in d.texts() if t[:1].isdigit())


def test_a_curve_breaks_where_it_is_not_known():
    panel = Panel("room", "in", (Track("belly", (1.0, math.nan, 2.0, 3.0)),))
    d = Drawing(climb_plot((0.0, 10.0, 20.0, 30.0), [panel]))
    (curve,) = [e for e in d.root.iter() if e.get("data-curve")]
    assert curve.get("d").count("M") == 2
    assert curve.get("data-values").split(" ")[1] == ""


def test_frames_say_the_figure_and_its_verdict(climbed):
    _, m, _, _ = climbed
    frames = frames_of(m)
    words = {x.verdict for x in m.lines} | {""}
    assert {f.verdict for f in frames} <= words
    assert all(f.says for f in frames)


def test_a_strip_of_one_frame_is_one_column(climbed):
    s = scene(climbed)
    _, m, _, _ = climbed
    d = Drawing(climb_strip(s, frames_of(m)[:1], width_px=300.0))
    assert d.width == pytest.approx(302.0)
