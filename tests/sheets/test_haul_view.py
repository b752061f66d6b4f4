"""A haul's drawing: truck and cargo on one ground, to one scale, each named, whatever is known of them."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from rubrail.sheets.drawing.haul_view import haul_side
from rubrail.things.cargo import Cargo
from rubrail.things.classes import cargo_classes, truck_classes
from rubrail.things.truck import Truck

WIDTHS = (1200.0, 700.0, 328.0)
SVG = "{http://www.w3.org/2000/svg}"


def groups(svg: str, part: str) -> list[ET.Element]:
    return [g for g in ET.fromstring(svg).iter(f"{SVG}g") if g.get("data-part") == part]


def reach(group: ET.Element) -> tuple[float, float]:
    """Least and greatest x of a group's straight paths, px."""
    xs = [
        float(x)
        for path in group.iter(f"{SVG}path")
        for x, _ in re.findall(r"[ML](-?[\d.]+)[ ,](-?[\d.]+)", path.get("d", ""))
    ]
    return min(xs), max(xs)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("truck", truck_classes().values(), ids=lambda t: t.id)
def test_every_class_of_trucks_with_something_to_carry(truck: Truck, width: float):
    piece = cargo_classes()["track-loader-mid"]
    svg = haul_side(truck, [(piece, 2)], width_px=width)
    assert len(groups(svg, "truck")) == len(groups(svg, "cargo")) == 1
    assert "8,900 lb" in svg
    assert "2 ×" in svg
    left, right = reach(groups(svg, "cargo")[0])
    scale = float(re.search(r'data-scale="([\d.]+)"', svg)[1])
    # 142 in long in its file; an arm or a bucket may be drawn with curves that end just inside
    assert (right - left) / scale == pytest.approx(142, rel=0.06)
    assert reach(groups(svg, "truck")[0])[1] < left


def test_many_pieces_on_a_phone_are_numbered_and_named_below():
    names = ("skid-steer-mid", "mini-excavator-1t7", "stand-on-loader", "attachments-crate")
    svg = haul_side(truck_classes()["class-5-flatbed"], [(cargo_classes()[n], 1) for n in names], width_px=328)
    texts = [t.text for t in ET.fromstring(svg).iter(f"{SVG}text")]
    assert {"1", "2", "3", "4"} <= set(texts)
    assert any(t.startswith("4  attachments") for t in texts)


def test_nothing_known_is_drawn_and_said():
    svg = haul_side(Truck(id="t", title="<Truck & trailer>"), [(Cargo(id="c"), 1)], metric=True)
    ET.fromstring(svg)
    assert "weight not known" in svg
    assert "dashed: not known" in svg
    assert "&lt;Truck &amp; trailer&gt;" in svg


def test_a_truck_alone_carries_nothing_yet():
    svg = haul_side(truck_classes()["half-ton"], [])
    assert "nothing yet" in svg
    assert not groups(svg, "cargo")
