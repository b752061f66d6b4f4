"""The yard and its units in a real browser: finding, correcting, two people at once, photos."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from browser.going import follow
from browser.looks import check_axe, check_fits
from desk.server import Running


def numbers(page: Page) -> list[str]:
    return page.locator(".yard__number").all_inner_texts()


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_finding_by_words_changes_the_list_alone(desk: Running, as_role: Callable[..., Page], size: str):
    page = as_role("viewer", size=size)
    page.goto(desk.url + "yard/")
    everything = len(numbers(page))
    assert everything > 40
    page.evaluate("window.stays = true")
    page.get_by_label("Words").press_sequentially("tilt")
    expect(page.locator("#said")).to_have_text("3 units")
    assert all("SH-15" in number for number in numbers(page))
    assert page.evaluate("window.stays"), "the page was not loaded again"
    assert page.url.endswith("yard/?words=tilt")
    page.reload()
    assert len(numbers(page)) == 3, "the address brings back the same list"
    page.get_by_label("Words").fill("")
    expect(page.locator(".yard__number")).to_have_count(everything)


def test_without_script_it_works_all_the_same(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", java_script_enabled=False)
    page.goto(desk.url + "yard/")
    page.get_by_label("Words").fill("tilt")
    follow(page.get_by_role("button", name="Find"))
    assert len(numbers(page)) == 3
    follow(page.get_by_role("link", name="Price"))
    assert page.locator("[aria-sort=ascending]").inner_text().startswith("Price")


def test_slash_goes_to_the_search(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/")
    page.keyboard.press("/")
    expect(page.get_by_label("Words")).to_be_focused()
    page.keyboard.type("a/b")
    expect(page.get_by_label("Words")).to_have_value("a/b")


def test_sorting_by_keyboard(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/")
    page.get_by_role("link", name="Label GVWR").press("Enter")
    expect(page.locator("[aria-sort=ascending]")).to_have_text("Label GVWR")
    page.get_by_role("link", name="Label GVWR").press("Enter")
    expect(page.locator("[aria-sort=descending]")).to_have_text("Label GVWR")
    # A unit that another test received has no label yet.
    texts = [re.sub(r"\D", "", t) for t in page.locator("[data-label='Label GVWR']").all_inner_texts()]
    shown = [int(t) for t in texts if t]
    assert len(shown) > 40
    assert shown == sorted(shown, reverse=True)


def test_every_row_shows_its_drawing_to_one_scale(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + "yard/")
    scales = page.locator(".yard__drawing svg").evaluate_all("all => all.map(e => e.dataset.scale)")
    assert len(scales) == len(numbers(page))
    assert len(set(scales)) == 1


def test_a_lost_connection_is_said(desk: Running, as_role: Callable[..., Page], faults: list[str]):
    page = as_role("viewer", size="phone")
    page.goto(desk.url + "yard/")
    page.context.set_offline(True)
    page.get_by_label("Words").press_sequentially("tilt")
    expect(page.get_by_role("alert")).to_contain_text("The desk did not answer.")
    page.context.set_offline(False)
    page.get_by_label("Words").press_sequentially(" deck")
    expect(page.get_by_role("alert")).to_be_hidden()
    faults.clear()


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_correcting_a_unit_with_a_slip_on_the_way(desk: Running, as_role: Callable[..., Page], size: str):
    page = as_role("hand", size=size)
    unit = {"desk": "SH-101", "phone": "SH-102"}[size]
    page.goto(f"{desk.url}unit/{unit}/edit/")
    height = page.get_by_label("Deck height", exact=True)
    height.fill("about knee high")
    height.press("Enter")
    expect(height).to_be_focused()
    expect(page.get_by_text('not "about knee high"')).to_be_visible()
    check_axe(page)
    check_fits(page)
    height.fill("1 ft 7 in")
    page.get_by_label("Basis of the deck height").select_option("measured")
    page.get_by_role("button", name="Save").last.click()
    expect(page.get_by_text(f"Unit {unit} is saved.")).to_be_visible()
    expect(page.get_by_text(re.compile(r"Hank Ito changed the deck height .* to 19 in \(measured"))).to_be_visible()


def test_leaving_a_changed_form_asks_first(desk: Running, as_role: Callable[..., Page]):
    page = as_role("hand")
    page.goto(f"{desk.url}unit/SH-103/edit/")
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    page.get_by_label("Color").fill("red")
    page.get_by_role("link", name="Leave it").click()
    page.wait_for_timeout(300)
    assert asked == ["beforeunload"]
    assert page.url.endswith("/edit/")


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_two_people_at_one_unit(desk: Running, as_role: Callable[..., Page], faults: list[str], size: str):
    unit = {"desk": "SH-111", "phone": "SH-112"}[size]
    first, second = as_role("owner"), as_role("sales", size=size, scheme="dark")
    for page in (first, second):
        page.goto(f"{desk.url}unit/{unit}/edit/")
    first.get_by_role("textbox", name="Label GVWR").fill("6,900")
    first.get_by_label("Color").fill("green")
    first.get_by_role("button", name="Save").last.click()
    expect(first.get_by_text(f"Unit {unit} is saved.")).to_be_visible()

    second.get_by_role("textbox", name="Label GVWR").fill("6,800")
    second.get_by_label("Place on the lot").fill("row Z, 9")
    second.get_by_role("button", name="Save").last.click()
    told = second.get_by_role("region", name="Somebody saved this")
    expect(told).to_contain_text("Ruth Calder saved at")
    expect(told.get_by_role("row", name="label GVWR")).to_contain_text("6,900 lb")
    expect(told.get_by_role("row", name="label GVWR")).to_contain_text("6,800 lb, yours")
    expect(second.get_by_role("textbox", name="Label GVWR")).to_have_value("6,800")
    expect(second.get_by_label("Color")).to_have_value("green")
    check_axe(second)
    check_fits(second)
    told.get_by_role("button", name="Take theirs").click()
    expect(second.get_by_role("textbox", name="Label GVWR")).to_have_value("6,900")
    second.get_by_role("button", name="Save").last.click()
    expect(second.get_by_text(f"Unit {unit} is saved.")).to_be_visible()
    expect(second.get_by_text("row Z, 9")).to_have_count(2)  # the unit's own sentence, and the trail's
    assert "6,800" not in second.content()
    # The browser notes the answer's status, which says that the save was in conflict.
    assert faults == ["Failed to load resource: the server responded with a status of 409 (Conflict)"]
    faults.clear()


def test_adding_a_unit_by_keyboard(desk: Running, as_role: Callable[..., Page]):
    page = as_role("sales")
    page.goto(desk.url + "yard/")
    page.get_by_role("link", name="Add a unit").press("Enter")
    page.get_by_label("Stock number").fill("KB-1")
    page.get_by_label("Kind").first.select_option("gooseneck")
    page.get_by_role("textbox", name="Label GVWR").fill("23,900 lb")
    page.get_by_role("textbox", name="Label GVWR").press("Enter")
    expect(page.get_by_role("heading", name="KB-1")).to_be_visible()
    expect(page.get_by_text("not known").first).to_be_visible()
    expect(page.get_by_role("img", name="KB-1: side view to scale").first).to_be_visible()


def test_photos_from_a_phone(desk: Running, as_role: Callable[..., Page]):
    out = io.BytesIO()
    Image.new("RGB", (1200, 900), "steelblue").save(out, "JPEG")
    page = as_role("hand", size="phone")
    page.goto(desk.url + "unit/SH-121/")
    files = [
        {"name": "front.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()},
        {"name": "notes.txt", "mimeType": "text/plain", "buffer": b"no picture"},
    ]
    page.get_by_label("Photos to add").set_input_files(files)
    page.get_by_role("button", name="Add photos").tap()
    expect(page.get_by_text("1 photo is added.")).to_be_visible()
    expect(page.get_by_text("'notes.txt' is not a JPEG, PNG or WebP picture")).to_be_visible()
    image = page.get_by_role("img", name="SH-121, photo 1")
    image.scroll_into_view_if_needed()
    expect(image).to_have_js_property("complete", True)
    assert image.evaluate("e => e.naturalWidth") == 480
    check_axe(page)
    page.get_by_role("button", name="Remove").tap()
    expect(image).to_have_count(0)


def test_trail_is_filtered_without_loading_the_page(desk: Running, as_role: Callable[..., Page]):
    page = as_role("owner")
    page.goto(desk.url + "changes/")
    page.evaluate("window.stays = true")
    page.get_by_label("Name or stock number holds").fill("SH-213")
    expect(page.locator("#said")).to_have_text("1 change")
    expect(page.locator(".trail li")).to_have_text([re.compile("loaded unit SH-213 from a file.")])
    page.get_by_label("By").select_option(label="Vi Moreau")
    expect(page.get_by_text("Nothing that you may read was changed like that.")).to_be_visible()
    assert page.evaluate("window.stays")
