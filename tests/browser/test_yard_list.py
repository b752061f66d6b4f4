"""Finding, sorting and selling in a real browser, at a desk and on a phone."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from browser.going import follow
from browser.looks import check_axe, check_fits, check_targets
from desk.server import Running


def column(page: Page, label: str) -> list[int]:
    """Numbers of a column; -1 where it is not known."""
    texts = page.locator(f"[data-label='{label}']").all_inner_texts()
    digits = [re.sub(r"\D", "", text.removeprefix(label)) for text in texts]
    return [int(d) if d else -1 for d in digits]


def rows(page: Page) -> int:
    return page.locator(".yard__number").count()


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_finding_by_what_matters(desk: Running, as_role: Callable[..., Page], size: str):
    page = as_role("viewer", size=size)
    page.goto(desk.url + "yard/")
    everything = rows(page)
    page.evaluate("window.stays = true")
    if size == "phone":
        expect(page.get_by_label("Payload, least")).to_be_hidden()
        page.get_by_text("Filter and sort").tap()
    page.get_by_label("Payload, least").fill("9,000")
    page.get_by_label("Payload, least").press("Enter")
    expect(page.locator(".chips li")).to_have_count(1)
    page.get_by_label("Coupling").select_option("ball")
    expect(page.locator(".chips li")).to_have_count(2)
    if size == "desk":
        expect(page.get_by_label("Deck height, most")).to_be_hidden()
        page.get_by_text("More to find by").click()
    page.get_by_label("License, carrier, tax").select_option("no group A license")
    page.get_by_label("Truck's label GVWR").fill("10000")
    page.get_by_label("Truck's label GVWR").press("Tab")
    expect(page.locator(".chips")).to_contain_text("behind a truck of 10,000 lb: label GVWR at most 16,000 lb")
    found = rows(page)
    assert 0 < found < everything
    assert min(column(page, "Payload")) >= 9_000
    # 26,000 lb less a truck of 10,000 lb
    assert max(column(page, "Label GVWR")) <= 16_000
    expect(page.locator(".found")).to_contain_text(re.compile(rf"^\s*{found} of \d+ units"))
    assert page.evaluate("window.stays"), "the page was not loaded again"
    check_axe(page)
    check_fits(page)
    check_targets(page)

    other = as_role("owner", size=size)
    other.goto(page.url)
    assert rows(other) == found, "the address brings somebody else the same list"
    expect(other.get_by_label("Payload, least")).to_have_value("9,000")
    other.get_by_role("link", name="Not by ball coupling").click()
    expect(other.locator(".chips li")).to_have_count(2)
    expect(other.get_by_label("Coupling")).to_have_value("")
    other.get_by_role("link", name="Show the whole lot").click()
    expect(other.locator(".yard__number")).to_have_count(everything)
    assert other.url.endswith("/yard/")


def test_what_may_fit_is_offered(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/?payload=1")
    known = rows(page)
    expect(page.get_by_text(re.compile(r"\d+ more units? may fit"))).to_be_visible()
    page.get_by_role("link", name=re.compile("Show (it|them) too")).click()
    expect(page.get_by_role("link", name=re.compile("Leave (it|them) out"))).to_be_visible()
    assert rows(page) > known
    assert -1 in column(page, "Payload")


def test_a_slip_is_told_and_the_rest_still_holds(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/?coupling=gooseneck")
    found = rows(page)
    page.get_by_label("Payload, least").fill("heavy")
    page.get_by_label("Payload, least").press("Tab")
    expect(page.get_by_role("alert").filter(has_text="Payload must be")).to_contain_text('not "heavy"')
    assert rows(page) == found
    check_axe(page)


def test_sorting_by_payload_with_the_keyboard_keeps_what_is_found(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/?coupling=ball")
    for direction in ("ascending", "descending"):
        page.get_by_role("link", name="Payload", exact=True).press("Enter")
        expect(page.locator(f"[aria-sort={direction}]")).to_have_text("Payload")
        shown = column(page, "Payload")
        known = [lb for lb in shown if lb >= 0]
        assert known == sorted(known, reverse=direction == "descending")
        assert shown == known + [-1] * (len(shown) - len(known)), "what is not known stands last both ways"
    # The form knows of it: finding something else keeps the order.
    page.get_by_label("Deck", exact=True).select_option("deck-over")
    expect(page.locator(".chips")).to_contain_text("deck over")
    expect(page.locator("[aria-sort=descending]")).to_have_text("Payload")
    assert page.url.endswith("?coupling=ball&deck=deck-over&sort=-payload")
    page.go_back()
    expect(page.locator(".chips li")).to_have_count(1)


def test_a_phone_sorts_without_headings(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", size="phone", scheme="dark")
    page.goto(desk.url + "yard/")
    page.get_by_text("Filter and sort").tap()
    page.get_by_label("Sort by").focus()
    page.get_by_label("Sort by").select_option(label="Price, lowest first")
    expect(page.locator("#said")).to_have_text(re.compile("units"))
    prices = [p for p in column(page, "Price") if p >= 0]
    assert prices == sorted(prices)
    expect(page.get_by_label("Sort by")).to_be_focused()


def test_the_fold_opens_by_keyboard_and_asks_nothing(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.get_by_label("More to find by").press("Space")
    expect(page.get_by_label("Deck width, least")).to_be_visible()
    page.wait_for_timeout(300)
    assert [url for url in asked if "/static/" not in url] == []


def test_finding_without_script(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", java_script_enabled=False)
    page.goto(desk.url + "yard/")
    page.get_by_label("Coupling").select_option("gooseneck")
    page.get_by_label("Deck length, least").fill("25 ft")
    page.get_by_role("button", name="Find").click()
    expect(page.locator(".chips li")).to_have_count(2)
    assert page.url.endswith("/yard/?coupling=gooseneck&length=25+ft"), "empty fields are not in the address"
    assert rows(page) > 0
    page.get_by_text("More to find by").click()
    page.get_by_label("Complete numbers only").check()
    page.get_by_role("button", name="Find").click()
    expect(page.locator(".chips li")).to_have_count(3)


@pytest.mark.parametrize(("size", "unit"), [("desk", "SH-141"), ("phone", "SH-142")])
def test_selling_and_bringing_back(desk: Running, as_role: Callable[..., Page], size: str, unit: str):
    page = as_role("sales", size=size, scheme="dark" if size == "phone" else "light")
    page.goto(f"{desk.url}unit/{unit}/")
    follow(page.get_by_role("link", name="Sell", exact=True))
    check_axe(page)
    check_fits(page)
    check_targets(page)
    page.get_by_label("Sold for").fill("about nine")
    page.get_by_label("Sold for").press("Enter")
    expect(page.get_by_label("Sold for")).to_be_focused()
    expect(page.get_by_text('not "about nine"')).to_be_visible()
    page.get_by_label("Sold for").fill("$9,150")
    page.get_by_label("Note").fill("Picked up at noon")
    page.get_by_role("button", name="Sell").click()
    expect(page.get_by_text(f"Unit {unit} is sold.")).to_be_visible()
    expect(page.get_by_role("region", name="Where it stands")).to_contain_text("$9,150: Picked up at noon")
    expect(page.get_by_text(f"Sal Brandt sold unit {unit}: Picked up at noon.")).to_be_visible()
    viewer = as_role("viewer", size=size)
    viewer.goto(f"{desk.url}yard/?words={unit}")
    assert rows(viewer) == 0, "it is off the lot's list"
    viewer.goto(f"{desk.url}yard/?words={unit}&status=sold")
    assert rows(viewer) == 1
    assert "9,150" not in viewer.content()
    page.get_by_role("link", name="Bring back").click()
    page.get_by_role("button", name="Bring back").click()
    expect(page.get_by_text(f"Unit {unit} is in the yard.")).to_be_visible()
    viewer.goto(f"{desk.url}yard/?words={unit}")
    assert rows(viewer) == 1
