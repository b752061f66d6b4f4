"""The first page as the day begins: sign in, take up a row, do it, and it is gone; put another off."""

from __future__ import annotations

from datetime import date

import pytest

from browser.conftest import WIDTHS, sign_in
from browser.going import follow
from browser.looks import check_axe, check_fits, check_targets


@pytest.mark.parametrize(("size", "scheme", "unit"), [("phone", "dark", "SH-101"), ("desk", "light", "SH-102")])
def test_from_sign_in_to_a_row_done(desk, open_page, size: str, scheme: str, unit: str):
    assert size in WIDTHS
    page = open_page(size=size, scheme=scheme)
    sign_in(page, desk, "sales")
    page.wait_for_url("**/today/")
    assert page.locator(".places [aria-current=page]").inner_text() == "Today"

    page.goto(f"{desk.url}unit/{unit}/")
    follow(page.get_by_label("The rounds of this unit").get_by_role("link", name="Follow-up"))
    page.get_by_label("What it is").fill("Ask how the ramp springs hold")
    page.get_by_label("Due").fill(date.today().isoformat())
    check_fits(page)
    check_axe(page)
    page.get_by_role("button", name="Plan it").click()
    page.wait_for_url("**/follow-ups/**")
    assert page.locator(".follow .press--today").count() == 1
    check_fits(page)
    check_axe(page)
    check_targets(page)

    follow(page.get_by_label("The desk").get_by_role("link", name="Today"))
    row = page.locator(".todo", has_text=f"Call the buyer about {unit}")
    assert "ask how the ramp springs hold" in row.inner_text()
    check_fits(page)
    check_axe(page)
    check_targets(page)
    follow(row.get_by_role("link", name="What to say"))
    page.get_by_label("What came of it").fill("They hold")
    check_fits(page)
    check_axe(page)
    check_targets(page)
    page.get_by_role("button", name="Done").click()
    page.wait_for_url("**/today/")
    assert page.locator(".todo", has_text=f"Call the buyer about {unit}").count() == 0
    assert "Ask how the ramp springs hold" in page.locator(".message--success").inner_text()


def test_a_row_put_off_and_brought_back(desk, as_role):
    page = as_role("hand", size="phone")
    page.goto(f"{desk.url}today/")
    row = page.locator(".todo", has_text="have no photo of the label")
    # What can wait is folded on a phone, and counted; what is late is not.
    more = page.locator(".todos__more", has=row)
    assert not row.is_visible()
    assert more.locator("summary").inner_text().startswith(f"{more.locator('.todo').count()} more")
    assert page.locator(".todos__more .press--late").count() == 0
    more.locator("summary").click()
    check_targets(page)
    follow(row.get_by_role("button", name="Not today"))
    page.wait_for_url("**/today/")
    away = page.locator("details", has_text="put off until tomorrow")
    assert not row.is_visible()
    away.locator("summary").click()
    follow(away.get_by_role("button", name="Bring it back"))
    page.wait_for_url("**/today/")
    assert row.count() == 1
    assert "$" not in page.locator("main").inner_text()


def test_what_is_unknown_comes_after_the_page(desk, as_role):
    page = as_role("sales")
    page.goto(f"{desk.url}today/")
    page.locator("#unknowns .todo").first.wait_for()
    page.locator("#unknowns:not([hx-get])").wait_for(timeout=60_000)
    check_fits(page)
    check_axe(page)
    assert "settles" in page.locator("#unknowns").inner_text()
