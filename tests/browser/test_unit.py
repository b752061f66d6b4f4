"""A unit's page in a real browser: the envelope read by pointer, finger and keys, and what stands without a script."""

from __future__ import annotations

import itertools
import random
import re
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from playwright.sync_api import Locator, Page, expect

from browser.looks import LOOKS, check_axe, check_fits, check_targets
from desk.server import Running
from rubrail.answers.envelope import Envelope, envelope, fan_of, greatest_at
from rubrail.answers.height import built_columns
from rubrail.demo import YARD
from rubrail.desk.unit_envelope import reading_at
from rubrail.things.folder import load_yard
from rubrail.things.trailer import Trailer

UNITS = ("SH-191", "SH-132", "SH-141")


@cache
def trailer(number: str) -> Trailer:
    return load_yard(YARD).trailers[number]


def engine_lb(number: str, x_in: float) -> float:
    """Greatest weight at a place, from the checks themselves."""
    fan = fan_of(built_columns([trailer(number)]), trailer_only=True)
    return float(greatest_at(fan, np.array([[x_in]]))[0][0, 0])


def words_at(told: Envelope, x_in: float, *, metric: bool = False) -> str:
    read = reading_at(told, x_in, metric=metric)
    return f"{read.most}, {read.place}. Governs: {read.governs}."


def reading(page: Page) -> tuple[float, float, str]:
    """Place and weight as the script holds them, and the words it shows."""
    box = page.locator("[data-envelope]")
    at = box.evaluate("e => [Number(e.dataset.xIn), Number(e.dataset.weightLb)]")
    return *at, page.locator("[data-reading]").inner_text()


def slider(page: Page) -> Locator:
    return page.get_by_role("slider", name="Where the load balances along the deck")


def field(page: Page) -> dict[str, float]:
    """Where the plot that is shown can be pointed at."""
    plot = slider(page).locator("svg:visible [data-part=hover]")
    plot.scroll_into_view_if_needed()
    return plot.bounding_box()


def check_reading(page: Page, number: str, told: Envelope) -> float:
    """What is read is what the engine says of the very place that is named."""
    x, weight, words = reading(page)
    assert weight == pytest.approx(engine_lb(number, x), rel=1e-9)
    assert words == words_at(told, x)
    expect(slider(page)).to_have_attribute("aria-valuetext", words)
    dot = slider(page).locator("svg:visible [data-part=cursor] circle").bounding_box()
    place = field(page)
    share = (dot["x"] + dot["width"] / 2 - place["x"]) / place["width"]
    assert share == pytest.approx((x - told.deck_front_x_in) / (told.deck_rear_x_in - told.deck_front_x_in), abs=0.01)
    return x


@pytest.mark.parametrize("number", UNITS)
def test_pointing_reads_what_the_engine_says(desk: Running, as_role: Callable[..., Page], number: str):
    page = as_role("viewer")
    page.goto(f"{desk.url}unit/{number}/")
    told = envelope(trailer=trailer(number))
    x, _, words = reading(page)
    assert x == told.best_x_in
    assert words == words_at(told, x)
    place, chance = field(page), random.Random(number)
    for _ in range(12):
        share = chance.random()
        page.mouse.move(place["x"] + share * place["width"], place["y"] + chance.random() * place["height"])
        x = check_reading(page, number, told)
        assert x - told.deck_front_x_in == pytest.approx(round(x - told.deck_front_x_in), abs=1e-9), "whole inches"
        aimed = told.deck_front_x_in + share * (told.deck_rear_x_in - told.deck_front_x_in)
        assert abs(x - aimed) <= 1.0


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_reading_by_keyboard(desk: Running, as_role: Callable[..., Page], size: str):
    page = as_role("viewer", size=size)
    page.goto(f"{desk.url}unit/SH-191/")
    told = envelope(trailer=trailer("SH-191"))
    page.locator("summary", has_text="excise tax").focus()
    page.keyboard.press("Tab")
    expect(slider(page)).to_be_focused()
    assert slider(page).evaluate("e => getComputedStyle(e).outlineStyle") == "solid"
    page.keyboard.press("Home")
    assert check_reading(page, "SH-191", told) == told.deck_front_x_in
    expect(slider(page)).to_have_attribute("aria-valuenow", "0")
    places = [told.deck_front_x_in]
    for key in ("ArrowRight", "ArrowUp", "PageUp", "ArrowLeft", "PageUp", "PageDown", "ArrowDown"):
        page.keyboard.press(key)
        places.append(check_reading(page, "SH-191", told))
    assert [b - a for a, b in itertools.pairwise(places)] == [1, 1, 12, -1, 12, -12, -1]
    page.keyboard.press("End")
    assert check_reading(page, "SH-191", told) == told.deck_rear_x_in
    page.keyboard.press("ArrowRight")
    assert check_reading(page, "SH-191", told) == told.deck_rear_x_in, "the deck ends there"
    expect(slider(page)).to_have_attribute("aria-valuenow", "240")


def test_reading_by_finger(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", size="phone")
    page.goto(f"{desk.url}unit/SH-132/")
    told = envelope(trailer=trailer("SH-132"))
    place = field(page)
    page.touchscreen.tap(place["x"] + 0.25 * place["width"], place["y"] + 40)
    tapped = check_reading(page, "SH-132", told)
    assert tapped - told.deck_front_x_in == pytest.approx(0.25 * 216, abs=2)
    touch = page.context.new_cdp_session(page)

    def send(kind: str, share: float | None = None, up: float = 0.0) -> None:
        points = [] if share is None else [{"x": place["x"] + share * place["width"], "y": place["y"] + 60 - up}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    send("touchStart", 0.3)
    drawn = []
    for share in (0.4, 0.5, 0.6, 0.7, 0.8):
        send("touchMove", share)
        page.wait_for_timeout(30)
        drawn.append(check_reading(page, "SH-132", told))
    send("touchEnd")
    assert drawn == sorted(drawn)
    assert drawn[-1] - told.deck_front_x_in == pytest.approx(0.8 * 216, abs=2)
    before = page.evaluate("scrollY")
    assert before > 0
    send("touchStart", 0.5)
    for up in range(20, 120, 20):
        send("touchMove", 0.5, up)
    send("touchEnd")
    page.wait_for_function(f"scrollY > {before}")


def test_reading_in_metric_says_the_words_of_the_server(desk: Running, as_role: Callable[..., Page]):
    page = as_role("sales")
    page.goto(desk.url + "account/")
    page.get_by_label("Kilograms and meters").check()
    page.get_by_role("button", name="Save").click()
    try:
        told = envelope(trailer=trailer("SH-191"))
        page.goto(f"{desk.url}unit/SH-191/")
        slider(page).focus()
        page.keyboard.press("Home")
        for key in ("ArrowRight", "ArrowRight", "PageUp", "PageUp", "ArrowRight", "PageUp", "PageUp", "End"):
            page.keyboard.press(key)
            x, weight, words = reading(page)
            assert weight == pytest.approx(engine_lb("SH-191", x), rel=1e-9)
            assert words == words_at(told, x, metric=True)
        assert "kg at most" in words
    finally:
        page.goto(desk.url + "account/")
        page.get_by_label("Pounds, feet and inches").check()
        page.get_by_role("button", name="Save").click()
        page.wait_for_load_state()


def test_without_a_script_the_plot_the_words_and_the_table_say_it(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", java_script_enabled=False)
    page.goto(f"{desk.url}unit/SH-191/")
    told = envelope(trailer=trailer("SH-191"))
    assert page.get_by_role("slider").count() == 0
    assert page.locator("[data-reading]").inner_text() == words_at(told, told.best_x_in)
    assert not page.get_by_text("Point at the plot").is_visible()
    table = page.locator("table", has=page.get_by_text("Behind the coupling")).locator("tbody tr")
    rows = [re.sub(r"\s+", " ", text) for text in table.all_inner_texts()]
    assert len(rows) == len(told.alone) == 3
    # By hand: the deck begins 92 in behind the coupling and is 20 ft long; 22,500 - 7,120 = 15,380.
    assert rows[0].startswith("0 in to 6 ft 8 in 7 ft 8 in to 14 ft 4 in 9,169 lb, rising to 15,380 lb")
    assert " 15,380 lb Trailer gross weight" in rows[1]
    assert rows[2].startswith("14 ft 6 in to 20 ft ")
    assert page.locator("[data-part=cursor]").first.get_attribute("visibility") == "hidden"
    page.get_by_text("Each with where it comes from").click()
    assert page.get_by_text("Empty coupler load").is_visible()


@pytest.mark.parametrize("number", ["SH-191", "SH-113"])
def test_drawn_for_a_phone_at_its_width(desk: Running, as_role: Callable[..., Page], number: str):
    page = as_role("hand", size="phone")
    page.goto(f"{desk.url}unit/{number}/")
    shown = page.locator(".drawn svg:visible")
    assert shown.count() == 3
    for n in range(3):
        box = shown.nth(n).bounding_box()
        assert (box["x"], box["width"]) == (12, 336)
    scales = shown.evaluate_all("all => all.slice(0, 2).map(e => e.dataset.scale)")
    assert scales[0] == scales[1], "side and plan are to one scale"
    letters = page.evaluate(
        "[...document.querySelectorAll('.narrow text')].filter(e => e.checkVisibility())"
        ".map(e => e.getBoundingClientRect()).every(b => b.left >= 0 && b.right <= innerWidth)"
    )
    assert letters, "no letter is cut"


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_everything_unfolded_fits_and_passes_the_checker(
    desk: Running, as_role: Callable[..., Page], size: str, scheme: str
):
    page = as_role("owner", size=size, scheme=scheme)
    for number in ("SH-191", "SH-113"):
        page.goto(f"{desk.url}unit/{number}/")
        for fold in page.locator("details summary").all():
            fold.click()
        check_fits(page)
        check_axe(page)
        check_targets(page)


def test_what_is_missing_leads_to_why_and_to_the_form(desk: Running, as_role: Callable[..., Page]):
    page = as_role("hand", size="phone")
    page.goto(f"{desk.url}unit/SH-113/")
    page.get_by_text("Each with where it comes from").tap()
    page.get_by_role("link", name="why it matters").first.tap()
    expect(page.get_by_role("heading", name="Still to find out")).to_be_in_viewport()
    page.get_by_role("link", name="Write it down").tap()
    expect(page.get_by_role("textbox", name="Empty coupler load")).to_have_value("")


def test_paper_shows_every_value_and_no_button(desk: Running, as_role: Callable[..., Page]):
    page = as_role("owner")
    page.goto(f"{desk.url}unit/SH-113/")
    page.emulate_media(media="print")
    assert page.get_by_text("Empty coupler load").is_visible()
    for words in ("Write it down", "Point at the plot", "Each with where it comes from"):
        assert not page.get_by_text(words).is_visible(), words
    assert page.locator(".on-paper svg:visible").count() == 3
