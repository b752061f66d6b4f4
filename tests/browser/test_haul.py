"""Hauls in a real browser: a whole haul by keyboard alone, by finger, without script, and faults that lose nothing."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from browser.going import follow
from browser.looks import check_axe, check_fits, check_targets
from desk.server import Running

AsRole = Callable[..., Page]


class Keys:
    """A person at the keyboard; counts what they do: a move to another field, a word written, a choice made."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.steps = 0

    def to(self, label: str, *, within: int = 12) -> None:
        """Tab on until the field of that label has the focus."""
        for _ in range(within):
            self.page.keyboard.press("Tab")
            self.steps += 1
            named = self.page.evaluate(
                """() => { const e = document.activeElement;
                  return e.labels && e.labels[0] ? e.labels[0].innerText.trim() : e.innerText.trim(); }"""
            )
            if named.startswith(label):
                return
        raise AssertionError(f"no {label!r} within {within} steps of the keyboard")

    def write(self, words: str) -> None:
        """Write into the field, or choose by writing where it is a choice."""
        self.page.keyboard.type(words)
        self.steps += 1


def settled(page: Page, name: str, key: str) -> None:
    """The page is made for this choice."""
    expect(page.locator(f'input[name="{name}:shown"]')).to_have_value(key)


def test_a_whole_haul_by_keyboard_in_few_steps(desk: Running, as_role: AsRole):
    page = as_role("sales")
    page.goto(desk.url + "hauls/new/")
    keys = Keys(page)
    keys.write("Perrin Ashdown")
    keys.to("What for")
    keys.write("Excavator to a new site")
    keys.to("Begin from")
    keys.write("one-ton pickup, dual")
    settled(page, "truck", "class:one-ton-dual")
    keys.to("GVWR")
    keys.write("14,000")
    keys.to("Rear GAWR")
    keys.write("9,750")
    keys.to("Trailer brake controller")
    keys.write("yes")
    keys.to("Ball on the receiver, 2-5/16 in")
    keys.to("Begin from", within=30)
    keys.write("mini excavator, 3.5")
    settled(page, "piece.0", "class:mini-excavator-3t5")
    keys.to("Weight")
    keys.write("8,200")
    keys.to("Use", within=12)
    keys.write("own")
    keys.to("Crosses a state line")
    keys.write("no")
    page.keyboard.press("ArrowDown")  # "no" finds "not known" first
    keys.to("The driver's license")
    keys.write("commercial, group A")
    keys.to("Enter the haul", within=20)
    page.keyboard.press("Enter")
    keys.steps += 1
    expect(page.locator("h1")).to_have_text("Perrin Ashdown")
    expect(page.get_by_text("Mini excavator, 3.5 t, blade ahead, boom folded, behind one-ton pickup")).to_be_visible()
    row = page.locator(".facts__row", has_text="Label GVWR").first
    expect(row).to_contain_text("14,000 lb")
    expect(row).to_contain_text("label")
    expect(page.locator(".facts__row", has_text="Front GAWR").first).to_contain_text("typical")
    page.get_by_role("link", name="Match the yard").focus()
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"/haul/\d+/board/$"))
    assert keys.steps <= 60, "a step every two seconds is two minutes"
    expect(page.locator("h1")).to_be_visible()


def test_a_whole_haul_by_finger(desk: Running, as_role: AsRole):
    page = as_role("sales", size="phone", scheme="dark")
    page.goto(desk.url + "hauls/")
    page.get_by_role("link", name="Enter a haul").tap()
    page.get_by_label("Buyer").fill("Wilmot Teague")
    page.locator('[name="truck:from"]').select_option("class:half-ton")
    settled(page, "truck", "class:half-ton")
    page.locator('[name="piece.0:from"]').select_option("class:zero-turn-mower")
    settled(page, "piece.0", "class:zero-turn-mower")
    page.get_by_role("button", name="One more piece").tap()
    expect(page.locator('[name="piece:count"]')).to_have_value("2")
    page.locator('[name="piece.1:from"]').select_option("class:attachments-crate")
    settled(page, "piece.1", "class:attachments-crate")
    check_fits(page)
    check_axe(page)
    check_targets(page)
    page.get_by_role("button", name="Enter the haul").tap()
    expect(page.locator("h1")).to_have_text("Wilmot Teague")
    expect(page.get_by_role("heading", name="Still unknown")).to_be_visible()
    expect(page.locator(".narrow svg")).to_be_visible()
    check_fits(page)
    check_axe(page)


def test_what_is_written_while_the_page_answers_is_kept(desk: Running, as_role: AsRole):
    page = as_role("sales")
    page.goto(desk.url + "hauls/new/")
    page.route("**/hauls/new/", lambda route: (page.wait_for_timeout(600), route.continue_()))
    page.locator('[name="truck:from"]').select_option("class:half-ton")
    page.wait_for_timeout(900)  # the choice has settled and is on its way
    page.get_by_label("Buyer").fill("Late Writer")
    page.get_by_label("GVWR", exact=True).fill("7,050")
    settled(page, "truck", "class:half-ton")
    expect(page.get_by_label("Buyer")).to_have_value("Late Writer")
    expect(page.get_by_label("GVWR", exact=True)).to_have_value("7,050")
    expect(page.get_by_label("GVWR", exact=True)).to_be_focused()
    page.evaluate("window.onbeforeunload = null")


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_basis_stands_beside_what_was_written_only(desk: Running, as_role: AsRole, size: str):
    page = as_role("sales", size=size)
    page.goto(desk.url + "hauls/new/?truck=class:one-ton-dual")
    basis = page.get_by_label("Basis of the label GVWR")
    expect(basis).not_to_be_visible()
    expect(page.locator(".stands-in").first).to_contain_text("14,000 lb typical")
    page.get_by_label("GVWR", exact=True).fill("13,900")
    expect(basis).to_be_visible()
    expect(basis).to_have_value("label")
    check_fits(page)


def test_without_script_a_class_is_chosen_and_a_piece_added(desk: Running, as_role: AsRole):
    page = as_role("sales", java_script_enabled=False)
    page.goto(desk.url + "hauls/new/")
    page.get_by_label("Buyer").fill("No Script")
    page.locator('[name="truck:from"]').select_option("class:class-5-flatbed")
    page.get_by_role("button", name="Begin from this").first.click()
    expect(page.get_by_label("Buyer")).to_have_value("No Script")
    expect(page.get_by_text("Pintle hook", exact=True)).to_be_visible()
    follow(page.get_by_role("button", name="One more piece"))
    assert page.locator('[name="piece.1:from"]').count() == 1
    follow(page.get_by_role("button", name="Take this one away").first)
    assert page.locator('[name="piece.1:from"]').count() == 0
    page.locator('[name="piece.0:from"]').select_option("class:roller-3t")
    page.get_by_role("button", name="Enter the haul").click()
    expect(page.locator("h1")).to_have_text("No Script")
    expect(page.get_by_text("Tandem roller, 3 t, behind chassis cab with flatbed, class 5.")).to_be_visible()


def test_faults_stand_beside_their_fields_and_one_is_at_the_first(desk: Running, as_role: AsRole):
    page = as_role("sales", size="phone")
    page.goto(desk.url + "hauls/new/?truck=class:one-ton-dual&piece=class:skid-steer-mid")
    page.get_by_label("GVWR", exact=True).fill("a lot")
    page.get_by_label("Weight", exact=True).fill("heavy")
    page.get_by_role("button", name="Enter the haul").click()
    expect(page.get_by_label("GVWR", exact=True)).to_be_focused()
    expect(page.locator(".field__fault")).to_have_count(2)
    expect(page.get_by_label("Weight", exact=True)).to_have_value("heavy")
    check_fits(page)
    check_axe(page)


def test_a_truck_kept_from_a_haul_is_offered_next_time_until_put_aside(desk: Running, as_role: AsRole):
    page = as_role("sales")
    page.goto(desk.url + "hauls/new/?truck=class:heavy-pickup&piece=class:dozer-small")
    page.get_by_text("More of the truck").click()
    page.locator('[name="truck.title"]').fill("Perrin's heavy pickup")
    page.get_by_role("button", name="Enter the haul").click()
    page.get_by_role("button", name="Keep this truck for next time").click()
    expect(page.get_by_text("Perrin's heavy pickup is kept for next time.")).to_be_visible()
    page.goto(desk.url + "hauls/new/")
    page.locator('[name="truck:from"]').select_option(label="Perrin's heavy pickup")
    expect(page.locator(".stands-in").first).to_contain_text("14,000 lb")
    page.evaluate("window.onbeforeunload = null")
    page.goto(desk.url + "trucks/?words=Perrin")
    page.get_by_role("link", name="Perrin's heavy pickup").click()
    page.get_by_role("button", name="Put it aside").click()
    expect(page.get_by_text("it is no longer offered")).to_be_visible()
    page.goto(desk.url + "hauls/new/")
    assert "Perrin's heavy pickup" not in page.locator('[name="truck:from"]').inner_text()


def test_two_people_change_one_haul(desk: Running, as_role: AsRole, faults: list[str]):
    first, second = as_role("sales"), as_role("owner")
    for page in (first, second):
        page.goto(desk.url + "haul/6/edit/")
    first.get_by_label("GVWR", exact=True).fill("11,200")
    first.get_by_role("button", name="Save", exact=True).last.click()
    expect(first.get_by_text("The haul is saved.")).to_be_visible()
    second.get_by_label("Notes").fill("Asks again in spring.")
    second.get_by_role("button", name="Save", exact=True).last.click()
    expect(second.get_by_text("Somebody saved this while you had it open")).to_be_visible()
    expect(second.get_by_label("GVWR", exact=True)).to_have_value("11,200")
    expect(second.get_by_label("Notes")).to_have_value("Asks again in spring.")
    check_axe(second)
    second.get_by_role("button", name="Save", exact=True).last.click()
    expect(second.get_by_text("The haul is saved.")).to_be_visible()
    assert all("409" in fault for fault in faults)
    faults.clear()


def test_viewer_looks_and_changes_nothing(desk: Running, as_role: AsRole):
    page = as_role("viewer")
    page.goto(desk.url + "haul/4/")
    for name in ("Change it", "Change any field of it"):
        assert page.get_by_role("link", name=name).count() == 0
    assert page.locator("main form").count() == 0
    expect(page.get_by_role("link", name="Match the yard")).to_be_visible()


def test_a_haul_on_paper(desk: Running, as_role: AsRole):
    page = as_role("owner", scheme="dark")
    page.goto(desk.url + "haul/4/")
    page.emulate_media(media="print", color_scheme="dark")
    assert page.locator(".on-paper svg").first.is_visible()
    assert not page.get_by_role("link", name="Change it").is_visible()
    assert not page.get_by_role("button", name="Keep this truck for next time").is_visible()
    assert page.get_by_role("heading", name="Still unknown").is_visible()
