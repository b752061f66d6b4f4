"""A build in a real browser: options by keyboard, the cheapest for a haul, ordered, expected in the yard."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser.going import follow
from browser.looks import LOOKS, check_axe, check_fits, check_targets

PAGES = (
    "build/",
    "build/?haul=3",
    "build/tarnbeck-2027/LE-20/",
    "build/tarnbeck-2027/LE-20/?o=axles-8k",
    "build/tarnbeck-2027/LE-20/?o=label-15400&o=coupler-20k&haul=3",
    "build/tarnbeck-2027/LE-20/cheapest/?haul=3",
    "build/quarrant-2027/GN-2005/cheapest/?haul=8",
    "orders/",
    "orders/?words=nothing-like-this",
)


def an_order(desk, page) -> str:
    """Order something on the page; the path of the order."""
    page.goto(f"{desk.url}build/pellamy-2027/DO-22/?o=black")
    if page.get_by_role("alert").count():
        page.get_by_role("alert").get_by_role("link").first.click()
        page.wait_for_load_state()
    page.get_by_text("Order it", exact=True).click()
    page.get_by_role("button", name="Order this build").click()
    page.wait_for_url("**/order/**")
    return page.url.removeprefix(desk.url)


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_pages(desk, as_role, size, scheme):
    page = as_role("sales", size=size, scheme=scheme)
    order = an_order(desk, page)
    for path in (*PAGES, order):
        assert page.goto(desk.url + path).status == 200, path
        check_fits(page)
        check_axe(page)
        check_targets(page)
        assert page.locator("h1").count() == 1, path


def test_options_by_keyboard(desk, as_role):
    page = as_role("sales")
    page.goto(f"{desk.url}build/tarnbeck-2027/LE-20/?haul=3")
    figures = page.locator("#build .figures")
    assert "$7,990" in figures.inner_text()
    # The 8,000 lb axles want a stronger coupler: the rule is told, and nothing can be ordered.
    page.locator("[name=g-axles][value='']").focus()
    page.keyboard.press("ArrowDown")
    page.get_by_role("alert").filter(has_text="cannot be built together").wait_for()
    assert page.locator("[name=g-axles][value=axles-8k]").evaluate("e => e === document.activeElement")
    assert page.get_by_text("Order it", exact=True).count() == 0
    page.locator("[name=g-coupler][value='']").focus()
    page.keyboard.press("ArrowDown")
    figures.filter(has_text="16,000 lb").wait_for()
    # 7,990 + 1,390 + 190, by hand from the book
    assert "$9,570" in figures.inner_text()
    assert page.url.endswith("?o=axles-8k&o=coupler-20k&haul=3")
    page.locator("[type=checkbox][value=spare]").focus()
    page.keyboard.press("Space")
    figures.filter(has_text="$9,830").wait_for()
    page.reload()
    assert page.locator("[type=checkbox][value=spare]").is_checked()
    assert page.locator("[name=g-axles][value=axles-8k]").is_checked()
    page.go_back()
    figures.filter(has_text="$9,570").wait_for()


def test_a_way_out_of_a_broken_rule(desk, as_role):
    page = as_role("sales")
    page.goto(f"{desk.url}build/tarnbeck-2027/LE-20/?o=axles-8k")
    page.get_by_role("link", name="Take “adjustable").click()
    page.wait_for_url("**coupler-20k**")
    expect(page.locator("[name=g-coupler][value=coupler-20k]")).to_be_checked()
    expect(page.get_by_role("alert")).to_have_count(0)


def test_from_a_haul_to_an_expected_unit(desk, as_role):
    page = as_role("sales")
    page.goto(f"{desk.url}haul/3/")
    page.get_by_role("link", name="Order one that fits").click()
    follow(page.get_by_role("link", name="LE-20"))
    assert page.locator("#haul option:checked").inner_text() == "Track loader with bucket and forks"
    page.get_by_role("button", name="Cheapest build that clears it").click()
    page.wait_for_url("**/cheapest/**")
    said = page.locator("#build").inner_text()
    assert "Clear: the cheapest build of LE-20" in said
    assert "that is proven" in said
    page.get_by_text("Order it", exact=True).click()
    page.get_by_label("Stock number").fill("SH-950")
    page.get_by_label("Note to the maker").fill("Ramp pins in the toolbox")
    page.get_by_role("button", name="Order this build").click()
    page.wait_for_url("**/order/**")
    price = page.locator("tr.strong td").nth(2).inner_text()
    assert page.request.get(page.url + "sheet.pdf").body()[:5] == b"%PDF-"
    page.get_by_role("button", name="Sent to the maker").click()
    page.get_by_role("button", name="Confirmed by the maker").wait_for()
    order = page.url
    page.goto(f"{desk.url}unit/SH-950/")
    assert "Expected" in page.locator(".head__lead").inner_text()
    assert price in page.locator(".figures").inner_text()
    page.goto(f"{desk.url}yard/?words=SH-950")
    assert page.get_by_role("link", name="SH-950").count() > 0
    page.goto(order)
    page.get_by_role("button", name="It came").click()
    page.get_by_text("stands in the yard").first.wait_for()
    page.goto(f"{desk.url}unit/SH-950/")
    assert "In the yard" in page.locator(".head__lead").inner_text()


def test_without_scripts(desk, as_role):
    page = as_role("sales", java_script_enabled=False)
    page.goto(f"{desk.url}build/tarnbeck-2027/LE-20/")
    page.locator("[name=g-coupler][value=coupler-20k]").check()
    page.locator("[type=checkbox][value=spare]").check()
    follow(page.get_by_role("button", name="Show this build"))
    # 7,990 + 190 + 260, by hand from the book
    assert "$8,440" in page.locator(".figures").inner_text()
    assert page.locator("[type=checkbox][value=spare]").is_checked()
