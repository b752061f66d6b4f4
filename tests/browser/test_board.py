"""The match board and the comparison in a real browser: sift, tick, compare; by keyboard, by phone, without script."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from browser.going import follow
from browser.looks import LOOKS, check_axe, check_fits, check_targets
from desk.server import Running, start

BOARD = "haul/3/board/"
CARRY = ["SH-133", "SH-137", "SH-162"]
SIX = ["SH-133", "SH-137", "SH-152", "SH-162", "SH-161", "SH-122"]
"""The third haul of the invented yard, a track loader; what carries it and depends on something; six side by side."""


def numbers(page: Page) -> list[str]:
    return page.locator(".yard__number").all_inner_texts()


def side_by_side(*units: str) -> str:
    return "haul/3/compare/?" + "&".join(f"unit={n}" for n in units)


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_sifting_changes_the_list_alone(desk: Running, as_role: Callable[..., Page], size: str):
    page = as_role("viewer", size=size)
    page.goto(desk.url + BOARD)
    expect(page.get_by_text("Clear: 1 of 43 units carries")).to_be_visible()
    page.evaluate("window.stays = true")
    page.get_by_role("link", name="depends 3").click()
    expect(page.locator("#said")).to_have_text("3 units")
    assert numbers(page) == CARRY
    if size == "phone":
        page.get_by_text("Narrow or order the list").click()
    page.get_by_label("Price at most").fill("9,800")
    expect(page.locator("#said")).to_have_text("2 units")
    assert numbers(page) == CARRY[:2], "the verdict asked for before still counts"
    page.get_by_label("Price at most").fill("13,000")
    expect(page.locator("#said")).to_have_text("3 units")
    page.get_by_label("Order").select_option(label="most to spare")
    expect(page.locator(".yard__number").first).to_have_text("SH-162")
    assert page.evaluate("window.stays"), "the page was not loaded again"
    page.reload()
    assert numbers(page)[0] == "SH-162"
    expect(page.get_by_label("Price at most")).to_have_value("13,000")


def test_ticks_stay_while_the_list_changes_and_six_are_the_most(desk: Running, as_role: Callable[..., Page]):
    page = as_role("sales")
    page.goto(desk.url + BOARD)
    go = page.get_by_role("button", name="Compare")
    expect(go).to_be_disabled()
    page.get_by_label("Compare SH-133").check()
    expect(page.get_by_text("1 unit chosen: SH-133.")).to_have_count(2)  # seen, and said aloud
    expect(go).to_be_disabled()
    page.get_by_role("link", name="over 39").click()
    expect(page.get_by_label("Compare SH-133")).to_have_count(0)
    for number in ("SH-131", "SH-132", "SH-135", "SH-136", "SH-153"):
        page.get_by_label(f"Compare {number}").check()
    expect(page.locator(".tray")).to_contain_text("6 units chosen: SH-133, SH-131")
    expect(page.get_by_label("Compare SH-151")).to_be_disabled()
    page.get_by_label("Compare SH-153").uncheck()
    expect(page.get_by_label("Compare SH-151")).to_be_enabled()
    go.click()
    expect(page.get_by_role("heading", name="Side by side")).to_be_visible()
    assert sorted(numbers(page)) == ["SH-131", "SH-132", "SH-133", "SH-135", "SH-136"]
    page.go_back()
    expect(page.locator(".tray")).to_contain_text("5 units chosen")
    page.get_by_role("button", name="Untick all").click()
    expect(page.locator(".tray")).to_contain_text("Tick two to 6 units")
    expect(page.get_by_label("Compare SH-131")).not_to_be_checked()


def test_by_keyboard_from_board_to_comparison(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + BOARD)
    for number in ("SH-137", "SH-152"):
        page.get_by_label(f"Compare {number}").press("Space")
    page.get_by_role("button", name="Compare").press("Enter")
    region = page.get_by_role("region", name="Units side by side")
    region.focus()
    expect(region).to_be_focused()
    assert numbers(page) == ["SH-152", "SH-137"], "best first"


def test_without_script_it_works_all_the_same(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", java_script_enabled=False)
    page.goto(desk.url + BOARD)
    page.get_by_label("Coupling").select_option("gooseneck")
    follow(page.get_by_role("button", name="Show"))
    assert numbers(page)
    assert not set(numbers(page)) & set(CARRY)
    page.goto(desk.url + BOARD)
    follow(page.get_by_role("link", name="depends 3"))
    assert numbers(page) == CARRY
    for number in CARRY[:2]:
        page.get_by_label(f"Compare {number}").check()
    follow(page.get_by_role("button", name="Compare"))
    assert numbers(page) == CARRY[:2]


def test_a_unit_is_left_out_of_a_comparison(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + side_by_side(*SIX))
    page.get_by_role("link", name="Leave out SH-137").click()
    expect(page.locator(".yard__number")).to_have_text([n for n in SIX if n != "SH-137"])
    page.get_by_text("The same for all").click()
    expect(page.locator(".side__same")).to_be_visible()


def test_drawings_stand_to_one_scale_as_shown(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer")
    page.goto(desk.url + side_by_side(*SIX))
    shown = page.locator(".side__drawing svg").evaluate_all(
        "all => all.map(e => e.dataset.scale * e.getBoundingClientRect().width / e.viewBox.baseVal.width)"
    )
    assert len(shown) == 6
    assert max(shown) - min(shown) < 0.001 * max(shown)
    page.goto(desk.url + BOARD)
    scales = page.locator(".board__drawing svg").evaluate_all("all => all.map(e => e.dataset.scale)")
    assert len(set(scales)) == 1


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_looks(desk: Running, as_role: Callable[..., Page], size: str, scheme: str):
    page = as_role("owner", size=size, scheme=scheme)
    boards = (BOARD, f"{BOARD}?verdict=clear&most=1", f"{BOARD}?most=cheap")
    for path in (*boards, side_by_side(*SIX), side_by_side("A-1")):
        assert page.goto(desk.url + path).status == 200
        check_fits(page)
        check_axe(page)
        check_targets(page)
        assert page.locator("h1").count() == 1


def test_on_a_phone_the_words_of_a_row_stay_in_sight(desk: Running, as_role: Callable[..., Page]):
    page = as_role("viewer", size="phone")
    page.goto(desk.url + side_by_side(*SIX))
    region = page.get_by_role("region", name="Units side by side")
    region.evaluate("e => { e.scrollLeft = 9999; }")
    assert region.evaluate("e => e.scrollLeft") > 300
    row = page.get_by_role("rowheader", name="Empty weight")
    assert row.evaluate("e => e.getBoundingClientRect().left") >= 0
    last = page.get_by_role("row", name="Empty weight").locator("td").last
    assert last.evaluate("e => e.getBoundingClientRect().right <= innerWidth + 1")


def test_comparison_on_paper(desk: Running, as_role: Callable[..., Page]):
    page = as_role("owner", scheme="dark")
    page.goto(desk.url + side_by_side(*SIX))
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 960, "height": 720})  # Letter landscape within half-inch margins
    check_fits(page)
    assert page.locator(".side").first.evaluate("e => e.getBoundingClientRect().right <= innerWidth + 1")
    expect(page.get_by_role("link", name="Leave out SH-137")).to_be_hidden()
    expect(page.get_by_role("heading", name="Each in a sentence")).to_be_visible()


IN_GOES = (
    "import rubrail.desk.serve as s; p = s.prepare;"
    " b = lambda: __import__('rubrail.desk.board', fromlist=['board']);"
    " s.prepare = lambda **k: (p(**k), setattr(b(), 'AT_ONCE', 10), setattr(b(), 'PATIENCE_S', 0.0))[0];"
    " demo(port=0, open_browser=False, say=say)"
)
"""Starts a desk with the invented yard that manages ten units a request."""


def test_a_big_yard_is_weighed_in_goes_and_then_shows_itself(tmp_path: Path, open_page: Callable[..., Page]):
    desk = start(tmp_path / "yard", call=IN_GOES)
    try:
        page = open_page()
        page.goto(f"{desk.url}sign-in/")
        page.locator("button[value=viewer]").click()
        told: list[str] = []
        page.on("response", lambda answer: told.append(answer.text()) if BOARD in answer.url else None)
        page.goto(desk.url + BOARD + "?verdict=depends")
        expect(page.get_by_text("Clear: 1 of 46 units carries")).to_be_visible()
        # This yard has the units it ordered, too.
        assert numbers(page) == ["SH-301", "SH-302", *CARRY]
        far = [int(n) for text in told for n in re.findall(r"(\d+) of 46 units weighed", text)]
        assert far == [10, 20, 30, 40]
        assert len(told) == 5
        page.get_by_label(f"Compare {CARRY[0]}").check()
        expect(page.locator(".tray")).to_contain_text("1 unit chosen")
    finally:
        desk.process.terminate()
        desk.process.wait(30)
        desk.process.stdout.close()
