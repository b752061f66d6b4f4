"""Every page at desk width and on a phone, by day and by night: it fits, is quiet and passes the checker."""

from __future__ import annotations

import pytest

from browser.looks import LOOKS, check_axe, check_fits, check_targets

SIGNED_IN = (
    # Bench, board, comparison, climb, tie-down, corner, builds and quotes are looked at beside their own tests.
    "today/",
    "follow-ups/",
    "follow-ups/?which=ended&words=nothing-like-this",
    "account/calendar/",
    "yard/",
    "yard/?words=gooseneck&sort=-price",
    "yard/?words=nothing-like-this",
    "yard/?payload=9000&coupling=ball&under=license&truck=10000",
    "yard/?gvwr=heavy&status=all",
    "yard/new/",
    "yard/import/",
    "yard/export/",
    "unit/SH-191/",
    "unit/SH-164/",
    "unit/SH-191/edit/",
    "unit/SH-191/step/sell/",
    "listings/",
    "unit/SH-132/listing/",
    "unit/SH-112/listing/",
    "listings/wording/",
    "hauls/",
    "hauls/?words=nothing-like-this",
    "hauls/new/",
    "hauls/new/?truck=class:one-ton-dual&piece=class:round-bales-4x5",
    "haul/4/",
    "haul/4/edit/",
    "haul/4/truck/",
    "haul/4/piece/1/",
    "trucks/",
    "truck/1/",
    "truck/1/edit/",
    "trucks/new/?from=class:half-ton",
    "machines/",
    "machine/1/",
    "machines/new/",
    "orders/",
    "changes/",
    "changes/?thing=nothing-like-this",
    "people/",
    "people/new/",
    "people/2/",
    "account/",
    "account/password/",
)


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_pages_of_the_owner(desk, as_role, size: str, scheme: str):
    page = as_role("owner", size=size, scheme=scheme)
    for path in SIGNED_IN:
        answer = page.goto(desk.url + path)
        assert answer.status == 200, path
        check_fits(page)
        check_axe(page)
        check_targets(page)
        assert page.locator("h1").count() == 1, path


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_sign_in_page(desk, open_page, size: str, scheme: str):
    page = open_page(size=size, scheme=scheme)
    page.goto(desk.url)
    assert page.url.endswith("/sign-in/")
    check_fits(page)
    check_axe(page)


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_design_page(debug_desk, open_page, size: str, scheme: str):
    page = open_page(size=size, scheme=scheme)
    assert page.goto(debug_desk.url + "design/").status == 200
    check_fits(page)
    check_axe(page)
    for word in ("clear", "depends", "over", "not known"):
        assert page.locator(".verdict", has_text=word).count() > 0, word


def test_refused_and_missing_pages(desk, as_role, faults):
    page = as_role("viewer", size="phone")
    for path, status in (("people/", 403), ("no/such/page/", 404)):
        assert page.goto(desk.url + path).status == status
        check_fits(page)
        check_axe(page)
        assert page.get_by_role("link", name="To the yard").is_visible()
    assert all("Failed to load resource" in fault for fault in faults)
    faults.clear()


def test_own_type_is_loaded(desk, as_role):
    page = as_role("viewer")
    page.goto(desk.url + "yard/")
    assert page.evaluate("document.fonts.ready.then(() => [...document.fonts].map(f => f.status))") == ["loaded"]


def test_person_chooses_the_look_whatever_the_device_says(desk, open_page):
    from browser.conftest import sign_in

    page = open_page(scheme="light")
    sign_in(page, desk, "viewer")
    ground = "getComputedStyle(document.body).backgroundColor"
    day = page.evaluate(ground)
    page.goto(desk.url + "account/")
    page.get_by_label("Dark").check()
    page.get_by_role("button", name="Save").click()
    page.wait_for_load_state()
    night = page.evaluate(ground)
    # tokens.css: --paper by day and by night
    assert (day, night) == ("rgb(246, 244, 239)", "rgb(18, 25, 30)")
    page.get_by_label("As the device is set").check()
    page.get_by_role("button", name="Save").click()
    page.wait_for_load_state()
    assert page.evaluate(ground) == day


def test_paper(desk, as_role):
    page = as_role("owner", scheme="dark")
    page.goto(desk.url + "unit/SH-191/")
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert not page.get_by_role("link", name="Sign out").is_visible()
    assert not page.locator(".top").is_visible()
    assert not page.get_by_text("Add photos").is_visible()
    assert page.get_by_role("heading", name="SH-191").is_visible()
    assert page.locator(".on-paper svg").first.is_visible()
    assert not page.locator(".wide svg").first.is_visible()


def test_keyboard_reaches_the_page_first(desk, as_role):
    page = as_role("owner")
    page.goto(desk.url + "yard/")
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="To the page")
    assert skip.evaluate("e => e === document.activeElement && e.getBoundingClientRect().top >= 0")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid", "one sees where one is"
