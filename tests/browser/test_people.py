"""Setting up, coming in, looking after people, in a real browser."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, expect

from browser.conftest import PASSWORD, sign_in
from browser.going import follow
from browser.looks import check_axe, check_fits
from desk.server import Running, running


def test_first_run(tmp_path: Path, open_page: Callable[..., Page]):
    with running(tmp_path / "yard") as desk:
        phone, page = open_page(size="phone", scheme="dark"), open_page()
        for one in (phone, page):
            one.goto(desk.url)
            expect(one.get_by_role("heading", name="Set up this desk")).to_be_visible()
            check_axe(one)
            check_fits(one)
            one.get_by_label("Your name").fill("Ruth Calder")
            one.get_by_label("Sign-in name").fill("ruth")
            one.get_by_label("Password", exact=True).fill(PASSWORD)
            again = one.get_by_label("The same password again")
            again.fill(PASSWORD + "!")
            one.get_by_role("button", name="Set up and go in").click()
            expect(again).to_be_focused()
            expect(again).to_have_attribute("aria-invalid", "true")
            expect(one.get_by_text("The two passwords differ")).to_be_visible()
            check_axe(one)
        page.get_by_label("Password", exact=True).fill(PASSWORD)
        again.fill(PASSWORD)
        again.press("Enter")
        expect(page.get_by_role("heading", name="The lot is empty")).to_be_visible()
        # Whoever was as far on another device comes too late.
        phone.get_by_label("Password", exact=True).fill(PASSWORD)
        phone.get_by_label("The same password again").fill(PASSWORD)
        phone.get_by_role("button", name="Set up and go in").click()
        expect(phone.get_by_role("heading", name="Sign in")).to_be_visible()
        sign_in(phone, desk, "ruth")
        expect(phone.get_by_role("heading", name="Today")).to_be_visible()
        phone.goto(desk.url + "yard/")
        expect(phone.get_by_role("heading", name="The lot is empty")).to_be_visible()
        for one in (page, phone):
            check_axe(one)
            check_fits(one)
        page.get_by_role("button", name="Sign out").click()
        expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
        page.goto(desk.url + "first-run/")
        expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def test_sign_in_with_a_wrong_password_then_the_right_one(desk: Running, open_page: Callable[..., Page]):
    page = open_page()
    sign_in(page, desk, "hand", "wrong")
    expect(page.get_by_role("alert")).to_contain_text("do not belong together")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_label("Password").press("Enter")
    expect(page.get_by_role("heading", name="Today")).to_be_visible()
    expect(page.get_by_role("navigation", name="The desk").get_by_role("link")).to_have_text(
        ["Today", "Yard", "Hauls", "Trucks, machines", "Changes"]
    )


def test_after_signing_out_back_shows_nothing(desk: Running, open_page: Callable[..., Page]):
    page = open_page()
    sign_in(page, desk, "hand")
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert "SH-191" not in page.content()


def test_adding_a_person_who_then_comes_in_on_a_phone(desk: Running, as_role, open_page: Callable[..., Page]):
    page = as_role("owner")
    page.goto(desk.url + "people/")
    page.get_by_role("link", name="Add a person").click()
    page.get_by_label("Name", exact=True).fill("Nell Arden")
    page.get_by_label("Sign-in name").fill("nell")
    page.get_by_label("Yard hand").check()
    follow(page.get_by_role("button", name="Add"))
    password = page.locator("[data-secret]").inner_text()
    check_axe(page)
    check_fits(page)

    phone = open_page(size="phone")
    sign_in(phone, desk, "nell", password)
    expect(phone.get_by_role("heading", name="Choose your own password")).to_be_visible()
    phone.goto(desk.url + "yard/")
    expect(phone.get_by_role("heading", name="Choose your own password")).to_be_visible()
    check_axe(phone)
    phone.get_by_label("Password until now").fill(password)
    phone.get_by_label("New password").fill("her very own words")
    phone.get_by_label("The same password again").fill("her very own words")
    phone.get_by_role("button", name="Take this password").tap()
    expect(phone.get_by_role("heading", name="Today")).to_be_visible()

    page.get_by_role("link", name="It is handed over").click()
    page.get_by_role("link", name="Nell Arden").click()
    page.get_by_role("button", name="Close the account").click()
    expect(page.get_by_text("Nell Arden can no longer sign in.")).to_be_visible()
    phone.reload()
    expect(phone.get_by_role("heading", name="Sign in")).to_be_visible()

    page.get_by_role("link", name="Changes").click()
    for said in (
        "Ruth Calder added person Nell Arden.",
        "Nell Arden chose a new password.",
        "Ruth Calder closed the account of Nell Arden.",
    ):
        expect(page.get_by_text(said)).to_be_visible()
