"""Silhouettes: as long, as high and standing where their numbers say, whatever the numbers are."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rubrail.sheets.drawing.cargo_outline import CargoOutline, cargo_outline, silhouette
from rubrail.sheets.drawing.cargo_plan import cargo_plan
from rubrail.sheets.drawing.figure import Disc, extent
from rubrail.sheets.drawing.machines import SILHOUETTES, cargo_side
from rubrail.things.cargo import Cargo
from sheets.drawing.made import loader

MACHINES = sorted(set(SILHOUETTES) - {"crate", "blocks", "bales", "round-bales"})
WHEELED = sorted(
    {
        "tractor",
        "backhoe",
        "wheel-loader",
        "telehandler",
        "forklift",
        "scissor",
        "boom-lift",
        "vehicle",
        "mower",
        "wheeled",
    }
)


@st.composite
def sizes(draw):
    long = draw(st.floats(70, 300))
    start = draw(st.floats(0.06, 0.45)) * long
    span = draw(st.floats(0.3, 0.5)) * long
    return long, draw(st.floats(45, 140)), start, min(start + span, long - 4)


def outline(form, long, high, start, stop, stands_on="wheels", title="x"):
    return CargoOutline(
        title=title,
        form=form,
        length_in=long,
        width_in=70,
        height_in=high,
        stands_on=stands_on,
        contacts_in=(start, stop),
        contact_width_in=66,
        each_width_in=12,
        cg_in=long / 2,
        cg_height_in=high * 0.4,
        weight_lb=8000,
    )


@pytest.mark.parametrize("form", MACHINES)
@given(sizes())
def test_a_silhouette_stands_on_the_ground_within_its_box(form, size):
    long, high, *_ = size
    figure = cargo_side(outline(form, *size))
    x1, z1, x2, z2 = extent(figure)
    assert z1 >= -0.6
    assert z2 <= high * 1.02 + 1
    # Wheels as high as the machine needs may reach a little past an end that is very close to its axle.
    assert x1 >= -0.12 * long
    assert x2 <= long * 1.12


@pytest.mark.parametrize("form", WHEELED)
@given(sizes())
def test_wheels_stand_at_the_axles(form, size):
    _, _, start, stop = size
    wheels = [p for p in cargo_side(outline(form, *size)) if isinstance(p, Disc) and p.role == "cargo-wheel"]
    assert [w.x for w in wheels] == pytest.approx([start, stop])
    assert all(w.z == pytest.approx(w.radius) for w in wheels)


@pytest.mark.parametrize("form", [*MACHINES, "crate"])
def test_the_plan_is_no_wider_and_no_longer_than_the_piece(form):
    x1, y1, x2, y2 = extent(cargo_plan(outline(form, 160, 90, 50, 110)))
    assert x1 >= -1
    assert x2 <= 161
    assert (y1, y2) >= (-36, -36)
    assert max(-y1, y2) <= 36


@pytest.mark.parametrize(
    ("title", "kind", "stands_on", "form"),
    [
        ("mini-excavator, 3.5 t", "machine", "tracks", "excavator"),
        ("backhoe-loader, four wheel drive", "machine", "wheels", "backhoe"),
        ("compact tractor, 40 hp, with loader", "machine", "wheels", "tractor"),
        ("sub-compact tractor with loader and mower", "machine", "wheels", "tractor"),
        ("compact track loader", "machine", "tracks", "skid-steer"),
        ("stand-on mower, 52 in deck", "machine", "wheels", "mower"),
        ("compact wheel loader", "machine", "wheels", "wheel-loader"),
        ("slab scissor lift", "machine", "wheels", "scissor"),
        ("tandem roller", "machine", "drums", "roller"),
        ("something", "machine", "drums", "roller"),
        ("something", "machine", "tracks", "tracked"),
        ("something", "machine", "wheels", "wheeled"),
        ("round bales", "bulk", None, "round-bales"),
        ("pavers", "bulk", None, "blocks"),
        ("tractor parts", "crate", None, "crate"),
    ],
)
def test_the_silhouette_follows_the_words_then_the_contact(title, kind, stands_on, form):
    assert silhouette(title, kind=kind, stands_on=stands_on) == form


def test_an_excavator_folds_its_boom_over_the_longer_overhang():
    ahead = cargo_side(outline("excavator", 200, 96, 100, 160, "tracks"))
    behind = cargo_side(outline("excavator", 200, 96, 40, 100, "tracks"))
    at = {
        name: next(p for p in figure if getattr(p, "role", "") == "bucket").points[0][0]
        for name, figure in (("ahead", ahead), ("behind", behind))
    }
    assert at["ahead"] < 100 < at["behind"]


def test_bales_are_counted_out_in_rows_and_on_top():
    bales = Cargo.model_validate(
        {
            "id": "B",
            "kind": "bulk",
            "title": "round bales",
            "height_in": 112,
            "pieces": {
                "count": 18, "abreast": 2, "layers": 1, "on_top": 6, "weight_lb": 900, "length_in": 60, "width_in": 48,
                "height_in": 60,
            },
        }
    )  # fmt: skip
    o = cargo_outline(bales)
    assert (o.length_in, o.width_in, o.height_in, o.weight_lb) == (360, 96, 112, 16_200)
    # 12 at 30 in and 6 at 112 - 30 = 82 in: (360 + 492) / 18 = 47.3 in, by hand.
    assert o.cg_height_in == pytest.approx(47.333, abs=0.001)
    pieces = [p for p in cargo_side(o) if p.role == "piece"]
    assert len(pieces) == 9  # six rows below and three on top, seen from the side
    assert not o.assumed


def test_a_missing_size_is_assumed_and_dashed():
    o = cargo_outline(loader(height_in=None))
    assert o.rests_on("height_in")
    assert all(p.dashed for p in cargo_side(o))
