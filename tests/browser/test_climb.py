"""A machine moved along its way under the thumb: by pointer, by key and by button; the numbers are the engine's."""

from __future__ import annotations

import json

import pytest

from browser.conftest import WIDTHS
from browser.looks import LOOKS, check_axe, check_fits, check_targets

PAGES = ("haul/3/on/SH-152/climb/", "haul/4/on/SH-212/climb/")


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_pages_fit_and_are_quiet(desk, as_role, size, scheme):
    page = as_role("sales", size=size, scheme=scheme)
    for path in PAGES:
        assert page.goto(desk.url + path).status == 200
        check_fits(page)
        check_axe(page)
        check_targets(page)


@pytest.mark.parametrize("size", sorted(WIDTHS))
def test_scrubbing(desk, as_role, size):
    page = as_role("sales", size=size)
    page.goto(desk.url + PAGES[0])
    box = page.locator("[data-climb]")
    told = json.loads(box.get_attribute("data-climb"))
    last = len(told["s"]) - 1
    shown = lambda name: box.locator(f"[data-now] [data-{name}]").inner_text()  # noqa: E731
    machine = box.locator("[data-size]:visible [data-part=climber]")
    scrub = box.locator("[data-scrub]")

    scrub.focus()
    page.keyboard.press("End")
    assert box.get_attribute("data-step") == str(last)
    assert shown("coupler") == f"{told['coupler'][last]:,.0f} lb"
    up = machine.bounding_box()
    page.keyboard.press("Home")
    assert shown("s") == "0.0 in"
    down = machine.bounding_box()
    assert up["x"] < down["x"]
    assert up["y"] < down["y"]

    at = scrub.bounding_box()
    page.mouse.click(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)
    middle = int(box.get_attribute("data-step"))
    assert abs(middle - last / 2) < last * 0.06
    assert shown("pitch") == f"{told['pitch'][middle]:.1f}°"

    button = box.locator("[data-go]").last
    button.click()
    assert box.get_attribute("data-step") == button.get_attribute("data-go")
    line = box.locator("[data-plot]:visible [data-part=cursor]")
    assert line.get_attribute("visibility") == "visible"


def test_another_day_is_driven_without_leaving(desk, as_role):
    page = as_role("sales")
    page.goto(desk.url + PAGES[0])
    before = page.locator("[data-climb]").get_attribute("data-climb")
    page.get_by_label("Ground rises toward the truck").fill("5")
    with page.expect_response(lambda r: "ground=5" in r.url):
        page.get_by_role("button", name="Drive it").click()
    page.wait_for_function("old => document.querySelector('[data-climb]').dataset.climb !== old", arg=before)
    assert page.locator("[data-scrub]").is_visible()
    assert "ground=5" in page.url
