"""A yard hand at the scale: a ticket entered on a phone, sent when the connection is back, looked at, taken over."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser.conftest import WIDTHS
from browser.going import follow
from browser.looks import check_axe, check_fits, check_targets

UNIT = "SH-122"


def look(page) -> None:
    check_fits(page)
    check_axe(page)
    check_targets(page)


def test_weighed_on_a_phone(desk, as_role, faults):
    page = as_role("hand", size="phone")
    page.goto(f"{desk.url}unit/{UNIT}/")
    page.get_by_role("link", name="Weigh", exact=True).click()
    follow(page.get_by_role("link", name="Enter a ticket"))
    look(page)
    page.get_by_label("Truck", exact=True).select_option(label="three-quarter-ton crew cab, gasoline")
    alone = page.locator("fieldset", has_text="Truck alone")
    for words, shown in (("The truck's front axle", "4,120"), ("The truck's rear axle", "2,860")):
        alone.get_by_label(words).fill(shown)
    hitched = page.locator("fieldset", has_text="Hitched, empty")
    read = (
        ("The truck's front axle", "3,980"),
        ("The truck's rear axle", "3,400"),
        ("All the trailer's axles", "2,000"),  # a wheel off the plate: the whole rig asks for 2,400
        ("The whole rig", "9,780"),
    )
    for words, shown in read:
        hitched.get_by_label(words, exact=True).fill(shown)
    hitched.get_by_label("The truck's rear axle and all the trailer's axles").fill("5,800")
    page.evaluate("() => new Promise(r => window.rubrailOutbox ? r() : document.addEventListener('outbox:ready', r))")
    page.context.set_offline(True)
    page.get_by_role("button", name="Work it out").click()
    expect(page.get_by_text("wait", exact=False).first).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_role("heading", name="The reading that stands out")).to_be_visible(timeout=30_000)
    faults[:] = [f for f in faults if "ERR_INTERNET_DISCONNECTED" not in f]
    look(page)
    expect(page.locator(".off")).to_contain_text("All the trailer's axles")
    page.get_by_label("It does not count, because").fill("a wheel hung over the edge")
    page.get_by_role("button", name="Set it aside").click()
    expect(page.locator(".answer")).to_contain_text("The trailer weighs 2,8")
    look(page)
    follow(page.get_by_role("link", name="Take the unit's weights over"))
    look(page)
    page.get_by_role("button", name="Take them over").click()
    expect(page.locator(".takes")).to_contain_text("taken over by Hank Ito")
    page.goto(f"{desk.url}unit/{UNIT}/")
    expect(page.get_by_text("from 2,640 lb (maker, ± 150 lb) to 2,800 lb (weighed, ±")).to_be_visible()


@pytest.mark.parametrize("size", sorted(WIDTHS))
def test_the_pages_of_a_ticket(desk, as_role, size):
    page = as_role("owner", size=size, scheme="dark")
    paths = ("tickets/", "tickets/new/", "ticket/2/", "ticket/2/edit/", "ticket/1/take-over/truck/")
    for path in paths:
        assert page.goto(desk.url + path).ok
        look(page)
