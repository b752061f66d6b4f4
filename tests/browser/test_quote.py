"""From the rig to a signed quote in a real browser: written, offered, sent as a link, signed on a phone, unit held."""

from __future__ import annotations

import pytest

from browser.going import follow
from browser.looks import LOOKS, check_axe, check_fits, check_targets


@pytest.fixture
def rig(desk, as_role):
    """A salesperson's page of a rig."""
    page = as_role("sales")
    page.goto(f"{desk.url}haul/4/on/SH-212/")
    return page


def test_from_rig_to_signature(desk, rig, open_page):
    page = rig
    page.get_by_role("button", name="Quote it").click()
    page.wait_for_url("**/quote/**")
    page.get_by_label("Allowance for the trade-in").fill("4,000")
    lines = page.locator("[name=line-title]")
    last = lines.count() - 2
    page.locator("[name=line-kind]").nth(last).select_option("dealer-fitted")
    lines.nth(last).fill("Winch, fitted")
    page.locator("[name=line-price]").nth(last).fill("$1,680")
    follow(page.get_by_role("button", name="Keep it"))
    total = page.locator(".sums .strong", has_text="In all").locator("dd").inner_text()
    follow(page.get_by_role("button", name="Offer it as version"))
    follow(page.get_by_role("button", name="Give the buyer a link"))
    link = page.locator(".quote__secret a").get_attribute("href")
    assert "/q/" in link

    phone = open_page(size="phone")
    assert phone.goto(link).status == 200
    check_fits(phone)
    check_axe(phone)
    check_targets(phone)
    said = phone.locator("main").inner_text()
    assert total in said
    assert "Winch, fitted" in said
    assert "margin" not in said.lower()
    assert phone.locator("nav.places").count() == 0
    follow(phone.get_by_role("button", name="Sign and accept"))
    assert "Type your full name" in phone.locator("#sign").inner_text()
    phone.get_by_label("I have read this quote").check()
    phone.get_by_label("Your full name").fill("Pat Larkhill")
    follow(phone.get_by_role("button", name="Sign and accept"))
    assert "Signed by Pat Larkhill" in phone.locator("main").inner_text()
    assert phone.get_by_role("button", name="Sign and accept").count() == 0

    page.reload()
    assert "was signed by Pat Larkhill" in page.locator("main").inner_text()
    page.goto(f"{desk.url}unit/SH-212/")
    assert "Held for a buyer" in page.locator(".head__lead").inner_text()
    answer = page.request.get(link + "paper.pdf")
    assert answer.body()[:5] == b"%PDF-"


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_quotes_pages(desk, as_role, size, scheme):
    page = as_role("sales", size=size, scheme=scheme)
    for path in ("quotes/", "quotes/?status=all&words=nobody"):
        assert page.goto(desk.url + path).status == 200
        check_fits(page)
        check_axe(page)
        check_targets(page)
    page.goto(f"{desk.url}unit/SH-122/")
    page.get_by_role("button", name="Quote it").click()
    page.wait_for_url("**/quote/**")
    check_fits(page)
    check_axe(page)
    check_targets(page)


def test_faults_of_a_quote_lose_nothing(desk, as_role):
    page = as_role("sales")
    page.goto(f"{desk.url}unit/SH-121/")
    page.get_by_role("button", name="Quote it").click()
    page.locator("[name=line-title]").nth(3).fill("Something")
    page.locator("[name=line-price]").nth(3).fill("a lot")
    page.get_by_label("Deposit paid").fill("minus five")
    follow(page.get_by_role("button", name="Keep it"))
    said = page.locator("main").inner_text()
    assert 'not "a lot"' in said
    assert "Choose what kind of line it is." in said
    assert 'not "minus five"' in said
    assert page.locator("[name=line-title]").nth(3).input_value() == "Something"
