"""The walk on a phone: swiped, keyed, ticked; the cue sheet scrolling, held, noted, and its captions taken."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from browser.conftest import WIDTHS
from browser.looks import check_axe, check_fits, check_targets
from sheets.webvtt_grammar import parse

WALK, CUE = "unit/SH-133/walk/?haul=3", "unit/SH-133/walk/cue/?haul=3"


@pytest.mark.parametrize("size", sorted(WIDTHS))
def test_pages_fit_and_are_quiet(desk, as_role, size):
    page = as_role("sales", size=size, scheme="dark" if size == "phone" else "light")
    for path in (WALK, CUE):
        assert page.goto(desk.url + path).status == 200
        check_fits(page)
        check_axe(page)
        check_targets(page)


def test_from_station_to_station(desk, as_role):
    page = as_role("hand", size="phone")
    page.goto(desk.url + WALK + "#ramps")
    row, here = page.locator("[data-row]"), page.locator("[data-here][role=status]")
    at = lambda key: expect(page.locator(f"#{key}")).to_be_in_viewport(ratio=0.2)  # noqa: E731
    pin = lambda key: page.locator(f".walk__strip .narrow [data-station={key}][data-here]")  # noqa: E731
    at("ramps")
    expect(here).to_have_text("12 of 13")
    expect(pin("ramps")).to_have_count(1)

    page.get_by_role("button", name="Next").tap()
    at("lights")
    expect(page.get_by_role("button", name="Next")).to_be_disabled()
    page.keyboard.press("Home")
    at("coupling")
    assert page.url.endswith("#coupling")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    at("neck")
    page.keyboard.press("ArrowLeft")
    at("chains")

    swipe(page, row)
    expect(here).to_have_text("3 of 13")
    at("neck")
    expect(pin("neck")).to_have_count(1)
    assert page.url.endswith("?haul=3#neck")
    # Under load the swipe is still coming to rest: a box that moves cannot be ticked.
    expect(row).to_have_js_property("scrollLeft", 2 * row.evaluate("e => e.clientWidth"))
    # What is not on the screen is not in the way of keys or screen readers either.
    assert page.locator("#ramps").evaluate("e => e.inert")

    page.locator("#neck [data-tick]").check()
    page.reload()
    at("neck")
    expect(page.locator("#neck [data-tick]")).to_be_checked()
    expect(page.get_by_text("Checked 1 of 13. Kept on this device only.")).to_be_visible()
    page.get_by_role("button", name="Forget the ticks").tap()
    expect(page.locator("#neck [data-tick]")).not_to_be_checked()


def swipe(page, row) -> None:
    """A finger drawn to the left over the station, as the browser's own touch scrolling sees it."""
    box = row.bounding_box()
    y = min(box["y"] + 120, 600)
    session = page.context.new_cdp_session(page)

    def touch(kind: str, *points: dict[str, float]) -> None:
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": list(points)})

    touch("touchStart", {"x": 300, "y": y})
    for x in range(290, 60, -20):
        touch("touchMove", {"x": x, "y": y})
    touch("touchEnd")


def test_without_the_script_it_is_one_page(desk, as_role):
    page = as_role("viewer", size="phone", java_script_enabled=False)
    page.goto(desk.url + WALK)
    check_fits(page)
    for key in ("coupling", "frame", "lights"):
        expect(page.locator(f"#{key} h2")).to_be_visible()
    page.locator("#coupling").get_by_role("link", name=re.compile("^Next")).click()
    expect(page.locator("#chains h2")).to_be_in_viewport()


def test_a_take(desk, as_role):
    page = as_role("sales", size="phone")
    page.goto(desk.url + CUE)
    # The page's own count of words is the desk's.
    told = page.locator("[data-total]").inner_text()
    page.get_by_label("Pace").fill("200")
    expect(page.locator("[data-total]")).not_to_have_text(told)
    page.get_by_label("Pace").fill("130")
    expect(page.locator("[data-total]")).to_have_text(told)

    page.get_by_label("Lead-in").select_option("0")
    page.get_by_text("1. Coupling", exact=True).last.click()
    page.get_by_label("Words at Coupling").fill("This is the coupler. It is rated well.")
    page.get_by_text("2. Chains, breakaway and plug", exact=True).last.click()
    page.locator('[data-leave="chains"]').check()
    stage = page.locator("[data-stage]")
    expect(stage.get_by_text("It is rated well.")).to_be_attached()

    page.get_by_role("button", name="Begin the take").tap()
    expect(stage).to_have_attribute("data-running", "yes")
    seconds = lambda: float(stage.get_attribute("data-at") or 0)  # noqa: E731
    page.wait_for_function("() => Number(document.querySelector('[data-stage]').dataset.at) > 0.6")
    first = stage.evaluate("e => e.scrollTop")
    page.wait_for_function(f"() => document.querySelector('[data-stage]').scrollTop > {first} + 3")

    stage.tap(position={"x": 180, "y": 120})
    expect(page.get_by_role("button", name="Go on")).to_be_visible()
    held = seconds()
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    assert seconds() == held
    page.keyboard.press(" ")
    page.wait_for_function(f"() => Number(document.querySelector('[data-stage]').dataset.at) > {held}")

    # The second station shown is the tongue: chains are left out of this take.
    page.keyboard.press("ArrowRight")
    expect(page.locator("[data-where]")).to_have_text("3. Tongue")
    page.wait_for_function("() => Number(document.querySelector('[data-stage]').dataset.at) > 6")
    page.get_by_role("button", name="Note the time: 3. Tongue").tap()
    page.keyboard.press("Escape")
    expect(stage).not_to_have_attribute("data-running", "yes")
    expect(page.locator("[data-noted] li")).to_have_count(2)

    with page.expect_download() as taken:
        page.get_by_role("button", name="Captions at the noted times").tap()
    cues, _ = parse(taken.value.path().read_text("utf-8"))
    assert {c.id.rsplit("-", 1)[0] for c in cues} == {"coupling", "neck"}
    assert cues[0].text == "This is the coupler."

    page.reload()
    expect(page.get_by_label("Words at Coupling")).to_have_value("This is the coupler. It is rated well.")


def test_without_motion_pages_turn(desk, as_role):
    page = as_role("sales", size="desk", reduced_motion="reduce")
    page.goto(desk.url + CUE)
    # Enter in the pace begins the take: it asks for no captions. The count comes first, and another pace can be taken.
    page.get_by_label("Pace").press("Enter")
    stage = page.locator("[data-stage]")
    expect(page.locator("[data-count]")).to_have_text("3")
    page.keyboard.press("+")
    expect(page.locator("[data-clock]")).to_contain_text("140 a minute")
    page.wait_for_function("() => Number(document.querySelector('[data-stage]').dataset.at) > 1.5")
    turned = stage.evaluate("e => e.scrollTop / (e.clientHeight * 0.5)")
    assert abs(turned - round(turned)) < 0.01
    expect(page.locator("[data-line]")).to_be_hidden()
    expect(page.locator("[data-count]")).to_be_hidden()
    # What was held is not held when the next take begins.
    page.keyboard.press(" ")
    page.get_by_role("button", name="End", exact=True).click()
    page.get_by_role("button", name="Begin the take").click()
    expect(page.get_by_role("button", name="Hold")).to_be_visible()
    expect(page.get_by_label("Pace")).to_have_value("140")
    page.keyboard.press("Escape")
    expect(stage).not_to_have_attribute("data-running", "yes")
