"""A checklist on a phone in the yard's far corner: nothing lost, nothing twice."""

from __future__ import annotations

import io
import re
import sqlite3
from collections.abc import Callable
from contextlib import closing

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Locator, Page, Route, expect

from browser.conftest import PASSWORD, ROLES
from browser.looks import LOOKS, check_axe, check_fits, check_targets
from desk.server import Running

OFFLINE = re.compile(r"Failed to load resource: net::ERR_(INTERNET_DISCONNECTED|FAILED|ABORTED)")


def photo() -> dict:
    out = io.BytesIO()
    Image.effect_noise((2600, 1900), 90).convert("RGB").save(out, "JPEG", quality=95)
    assert out.tell() > 1_200_000, "large enough to be made smaller on the phone"
    return {"name": "crack.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def begin(page: Page, desk: Running, unit: str) -> str:
    page.goto(f"{desk.url}checks/?unit={unit}")
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_role("heading", name="Pre-delivery inspection")).to_be_visible()
    return page.url


def reach(page: Page, line: str) -> Locator:
    """A line, its station opened by its head where it is folded, and the line by its own."""
    row = page.locator(f"#line-{line}")
    station = page.locator(".station", has=row)
    if not station.locator(".station__lines").is_visible():
        station.locator(".station__head").click()
    if not row.locator(".line__body").is_visible():
        row.locator(".line__head").click()
    return row


def enter(page: Page, line: str, *numbers: str, press: str = "In order", note: str = "") -> None:
    row = reach(page, line)
    for number, field in zip(numbers, row.locator("[data-line-form] input[inputmode]").all(), strict=True):
        field.fill(number)
    if note:
        row.locator(".line__note summary").click()
        row.locator("textarea").fill(note)
    row.get_by_role("button", name="Enter" if numbers else press, exact=True).click()


def stored(desk: Running, url: str) -> tuple[list[tuple], list[tuple]]:
    """Entries and photos of a list as the database has them."""
    pk = int(re.search(r"/check/(\d+)/", url)[1])
    with closing(sqlite3.connect(desk.home / "desk.sqlite3")) as db:
        entries = db.execute("select line, turn from desk_checkentry where checklist_id = ? order by id", [pk])
        photos = db.execute("select json_extract(spot, '$.line'), width from desk_photo where about_kind = 'check'"
                            " and about = ? order by id", [pk])  # fmt: skip
        return entries.fetchall(), photos.fetchall()


def online(page: Page, context: BrowserContext) -> None:
    context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")


@pytest.fixture
def quiet(faults: list[str]):
    """What a lost connection makes the browser say is what these tests do to it."""
    yield
    faults[:] = [fault for fault in faults if not OFFLINE.search(fault)]


def lose_first_answer(context: BrowserContext) -> list[str]:
    """Let the desk get the first entry, and let its answer get lost; what was sent, by key, in order."""
    keys: list[str] = []

    def act(route: Route) -> None:
        keys.append(route.request.headers["x-once-key"])
        if len(keys) == 1:
            route.fetch()
            route.abort()
        else:
            route.continue_()

    context.route("**/line/", act)
    return keys


def test_entries_without_a_connection_survive_and_are_sent_once(
    desk: Running, as_role: Callable[..., Page], open_page: Callable[..., Page], quiet
):
    page = as_role("hand", size="phone")
    context, url = page.context, begin(page, desk, "SH-111")
    context.set_offline(True)
    enter(page, "chains")
    enter(page, "chain-hooks", press="Not in order", note="one latch is gone")
    # The page is closed before the phone is done making the photo smaller.
    page.evaluate("() => { window.createImageBitmap = () => new Promise(() => {}); }")
    page.locator("#floor-photo").set_input_files(photo())
    expect(page.locator("#outbox")).to_contain_text("3 entries wait")
    expect(page.locator("#outbox")).to_contain_text("Nothing is lost")
    expect(page.locator("#line-chains [data-kept]")).to_contain_text("not yet at the desk: in order")
    expect(page.locator("#line-chains .line__state")).to_have_text("not looked at")
    expect(page.locator("#line-chains .line__body")).to_be_hidden()
    expect(page.locator("#check-bar")).to_contain_text("3 not sent yet")
    check_fits(page)
    page.close()
    assert stored(desk, url) == ([], [])

    keys = lose_first_answer(context)
    context.set_offline(False)
    again = context.new_page()
    again.goto(url)
    expect(again.locator("#outbox")).to_contain_text("All sent.")
    expect(again.locator("#line-chains .line__state")).to_have_text("in order")
    expect(again.locator("#line-chain-hooks .line__said")).to_contain_text("not in order; one latch is gone Hank Ito")
    expect(again.locator("#line-floor img")).to_have_count(1)
    assert keys[0] == keys[1], "the first was sent twice, for its answer was lost"
    assert len(set(keys)) == 3
    entries, photos = stored(desk, url)
    assert entries == [("chains", 1), ("chain-hooks", 1)]
    assert photos == [("floor", 2000)], "made smaller before it was sent"
    again.reload()
    expect(again.locator("#outbox")).to_be_hidden()
    assert stored(desk, url)[0] == entries


def test_a_phone_that_keeps_nothing_says_so_and_what_the_desk_fails_at_is_parked(
    desk: Running, as_role: Callable[..., Page], faults: list[str], quiet
):
    page = as_role("hand", size="phone")
    context = page.context
    page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    url = begin(page, desk, "SH-121")
    context.set_offline(True)
    enter(page, "papers")
    reach(page, "floor")
    page.locator("#floor-photo").set_input_files(photo())
    box = page.locator("#outbox")
    expect(box).to_contain_text("2 entries wait to be sent. The desk does not answer. This device does not keep them")
    expect(page.locator("#line-floor canvas")).to_be_visible()
    check_fits(page)
    context.route("**/line/", lambda route: route.fulfill(status=500, body="a fault"))
    context.set_offline(False)
    for _ in range(5):
        with page.expect_response("**/line/"):
            page.evaluate("window.dispatchEvent(new Event('online'))")
    parked = page.locator(".outbox__parked")
    expect(parked).to_contain_text("Papers: The desk failed at it 5 times.")
    context.unroute("**/line/")
    parked.get_by_role("button", name="Send it again").click()
    expect(box).to_contain_text("All sent.")
    assert stored(desk, url) == ([("papers", 1)], [("floor", 2000)])
    faults[:] = [fault for fault in faults if "status of 500" not in fault]


def test_pressure_is_told_by_the_desk_and_a_signature_ends_it(desk: Running, as_role: Callable[..., Page], quiet):
    page = as_role("hand", size="phone", scheme="dark")
    url = begin(page, desk, "SH-131")
    check_axe(page)
    check_targets(page)
    enter(page, "pressure-1", "65", "80")
    # 3,520 lb at 80 psi; 65/80 of it is 2,860, and 3,500 is the tire's share of 7,000: by hand
    expect(page.locator("#line-pressure-1 .line__why")).to_contain_text("carries 2,860 lb, 640 lb less")
    expect(page.locator("#check-head")).to_contain_text("1 not in order")
    enter(page, "pressure-1", "80", "80")
    expect(page.locator("#line-pressure-1 .line__state")).to_have_text("in order")
    pad = page.locator("[data-pad]")
    pad.scroll_into_view_if_needed()
    box = pad.bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + 90, box["y"] + 60, steps=6)
    page.mouse.up()
    assert page.locator("[data-strokes]").input_value().startswith("[[")
    page.context.route("**/finish/", lambda route: route.abort())
    page.get_by_role("button", name="Sign and finish").click()
    expect(page.locator("#outbox")).to_contain_text("1 entry waits")
    page.goto(f"{desk.url}checks/")
    page.context.unroute("**/finish/")
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#outbox")).to_contain_text("All sent.")
    assert page.url.endswith("/checks/"), "nobody is taken away from another page by what was sent late"
    page.goto(url)
    expect(page.locator("#check-head")).to_contain_text("Hold: ")
    expect(page.locator(".signed svg")).to_be_visible()
    expect(page.get_by_role("button", name="Sign and finish")).to_have_count(0)
    check_fits(page)
    check_axe(page)


def test_the_walk_goes_on_under_the_thumb(desk: Running, as_role: Callable[..., Page]):
    page = as_role("hand", size="phone")
    url = begin(page, desk, "SH-141")
    bar, shown = page.locator("#check-bar"), page.locator(".station__lines:visible")
    expect(shown).to_have_count(1)
    count = page.locator(".line").count()
    expect(bar).to_contain_text(f"{count} lines left")
    expect(bar.get_by_role("link")).to_be_in_viewport()
    # What was typed and not entered is there still after folding.
    reach(page, "papers").locator(".line__note summary").click()
    page.locator("#papers-text").fill("title is at the bank")
    station = page.locator(".station", has=page.locator("#line-papers"))
    station.locator(".station__head").click()
    expect(shown).to_have_count(0)
    station.locator(".station__head").click()
    expect(page.locator("#papers-text")).to_have_value("title is at the bank")
    page.get_by_role("button", name="In order", exact=True).locator("visible=true").first.click()
    expect(page.locator("#line-papers .line__reading")).to_have_text("title is at the bank")
    expect(page.locator("#line-papers .line__body")).to_be_hidden()
    expect(bar).to_contain_text(f"{count - 1} lines left")
    expect(station.locator(".station__count")).to_contain_text("1 of ")
    # A link to a line, as the next one, opens its station; one pressed without an answer goes past it.
    following = page.locator("#line-coupling-stamp")
    expect(bar.get_by_role("link")).to_have_text("Next: Coupler: size and rating")
    bar.get_by_role("link").click()
    expect(following).to_be_in_viewport()
    assert following.bounding_box()["y"] < 120, "it, and none behind it, stands under the station's head"
    expect(bar.get_by_role("link")).to_have_text("Next: Coupler: lock and wear")
    page.goto(f"{url}#line-floor")
    expect(page.locator("#line-floor .line__body")).to_be_in_viewport()
    check_targets(page)
    # Searching and printing need every line.
    page.emulate_media(media="print")
    expect(page.locator(".line__body:visible")).to_have_count(count)
    page.emulate_media(media="screen")
    page.get_by_role("link", name="Open every station").click()
    expect(shown).to_have_count(page.locator(".station").count())


def test_signed_out_keeps_what_waits_and_nobody_else_sends_it(
    desk: Running, as_role: Callable[..., Page], cookies, quiet
):
    page = as_role("hand", size="phone")
    context, url = page.context, begin(page, desk, "SH-112")
    context.set_offline(True)
    enter(page, "papers")
    expect(page.locator("#outbox")).to_contain_text("1 entry waits")
    context.clear_cookies()
    online(page, context)
    expect(page.locator("#outbox")).to_contain_text("You are signed out: sign in again and they are sent")
    assert stored(desk, url)[0] == []

    context.add_cookies(cookies["sales"]["cookies"])
    page.goto(url)
    expect(page.locator("#outbox")).to_contain_text("1 entry waits on this device for Hank Ito to sign in here")
    assert stored(desk, url)[0] == []

    context.clear_cookies()
    page.goto(url)
    page.get_by_label("Sign-in name").fill("hand")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator("#outbox")).to_contain_text("All sent.")
    assert stored(desk, url)[0] == [("papers", 1)]


def test_two_at_one_line_see_both_and_choose(desk: Running, as_role: Callable[..., Page], faults: list[str]):
    first, second = as_role("sales"), as_role("hand", size="phone")
    url = begin(first, desk, "SH-113")
    second.goto(url)
    enter(first, "pressure-1", "40", "40")
    expect(first.locator("#line-pressure-1 .line__said")).to_contain_text("left 40 psi")
    enter(second, "pressure-1", "45", "45")
    parked = second.locator(".outbox__parked")
    expect(parked).to_contain_text(f"{ROLES['sales']} entered this line meanwhile.")
    expect(parked.locator("dd").nth(0)).to_have_text(f"left 40 psi, right 40 psi ({ROLES['sales']})")
    expect(parked.locator("dd").nth(1)).to_have_text("left 45 psi, right 45 psi")
    check_fits(second)
    # Nothing is signed over an entry that is not settled.
    second.get_by_role("button", name="Sign and finish").click()
    expect(second.locator("#outbox")).to_contain_text("1 entry waits to be sent.")
    expect(second.locator("#check-head")).to_contain_text("still to be looked at")
    second.get_by_role("button", name="Send mine all the same").click()
    expect(second.locator("#check-head")).to_contain_text("Hold: ")
    expect(second.locator("#line-pressure-1 .line__said")).to_contain_text("left 45 psi, right 45 psi Hank Ito")
    expect(parked).to_have_count(0)
    assert stored(desk, url)[0] == [("pressure-1", 1), ("pressure-1", 2)]
    # The browser tells of the answer 409 by itself.
    faults[:] = [fault for fault in faults if "409" not in fault]


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_the_list_of_lists(desk: Running, as_role: Callable[..., Page], size: str, scheme: str):
    page = as_role("viewer", size=size, scheme=scheme)
    page.goto(f"{desk.url}checks/")
    check_fits(page)
    check_axe(page)
    check_targets(page)
