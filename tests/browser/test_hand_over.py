"""A hand-over on a phone: begun at the truck, a lost connection, a wrong ball found and changed, signed, delivered."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from contextlib import closing

import pytest
from playwright.sync_api import Page, expect

from browser.looks import check_axe, check_fits, check_targets
from browser.test_checks import reach
from desk.server import Running, run

NUMBER = "SH-990"
PROMISE = f"""
from rubrail.desk.models import Checklist, Haul, Unit, User
from rubrail.desk.sales import quotes
from rubrail.desk.stock import add_unit, trailer_of
seller = User.objects.get(username="sales")
like = trailer_of(Unit.objects.get(stock_number="SH-133"))
unit = add_unit(like.model_copy(update={{"id": "{NUMBER}", "status": "in-stock", "vin": None}}), by=seller)
Checklist.objects.create(unit=unit, sort="inspection", state="open")
haul = Haul.objects.get(spec__id="03-landscaper-track-loader")
quote = quotes.begin(unit=unit, haul=haul, buyer="Odell Fennick", by=seller)
quotes.accept(quotes.offer(quote, by=seller, seen_version=quote.version), name="Odell Fennick", at="here", by=seller)
"""
REST = f"""
from django.utils import timezone
from rubrail.desk.checking.entries import keep_entry
from rubrail.desk.checking.lists import lines_of
from rubrail.desk.models import Checklist, User
it = Checklist.objects.get(unit__stock_number="{NUMBER}", sort="handover", state="open")
hand = User.objects.get(username="hand")
Checklist.objects.filter(unit=it.unit, sort="inspection").update(state="release", finished=timezone.now())
READ = {{
    "door-label": [10000.0, 5600.0, 6200.0], "rear-tires": [80.0, 80.0], "rear-sidewall-load": [3640.0],
    "front-tires": [80.0, 80.0], "front-sidewall-load": [3640.0], "front-sidewall-pressure": [80.0],
    "rear-sidewall-pressure": [80.0], "ball-rating": [30000.0], "hitch-rating": [18500.0, 1850.0],
    "pressure-1": [110.0, 110.0], "pressure-2": [110.0, 110.0],
}}
for line in lines_of(it):
    if it.entries.filter(line=line.key).exists():
        continue
    value = {{"answer": "ok"}}
    value |= {{"numbers": READ[line.key]}} if line.places else {{}}
    value |= {{"text": "8FA12001"}} if line.entry == "text" else {{}}
    keep_entry(it, line, value, seen=0, by=hand)
"""
OFFLINE = re.compile(r"Failed to load resource: net::ERR_(INTERNET_DISCONNECTED|FAILED|ABORTED)")


@pytest.fixture
def quiet(faults: list[str]):
    """What a lost connection makes the browser say is what this test does to it."""
    yield
    faults[:] = [fault for fault in faults if not OFFLINE.search(fault)]


def enter(page: Page, line: str, *numbers: str) -> None:
    row = reach(page, line)
    for number, field in zip(numbers, row.locator("[data-line-form] input[inputmode]").all(), strict=True):
        field.fill(number)
    row.get_by_role("button", name="Enter", exact=True).click()


def sign(page: Page) -> str:
    """Draw on the first pad; what its field holds then."""
    pad = page.locator("[data-pad]").first
    pad.scroll_into_view_if_needed()
    box = pad.bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + 90, box["y"] + 60, steps=4)
    page.mouse.up()
    drawn = page.locator("[data-strokes]").first.input_value()
    assert drawn.startswith("[[")
    return drawn


def test_from_begin_to_delivered(
    desk: Running, as_role: Callable[..., Page], open_page: Callable[..., Page], faults: list[str], quiet
):
    run(desk.home, PROMISE)
    page = as_role("hand", size="phone")
    page.goto(f"{desk.url}hand-overs/")
    page.get_by_role("button", name=f"Begin the hand-over of {NUMBER}").click()
    expect(page.get_by_role("heading", name="Hand-over to Odell Fennick")).to_be_visible()
    url = page.url
    check_axe(page)
    check_fits(page)
    check_targets(page)
    weighed = page.locator("#weighed")
    expect(weighed).to_contain_text("Do not hand it over. Its pre-delivery inspection is begun and not finished.")
    expect(weighed.get_by_role("link", name="Finish it")).to_be_visible()

    page.context.set_offline(True)
    enter(page, "ball-height", "20")
    enter(page, "level", "26.5", "26.5")
    expect(page.locator("#outbox")).to_contain_text("2 entries wait")
    page.context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#line-level .line__state")).to_have_text("in order")

    enter(page, "ball", "2 in", "2-5/16 in")
    expect(weighed).to_contain_text("ball size against the coupler")
    expect(weighed).to_contain_text("Put a ball of the coupler's size on")
    enter(page, "ball", "2-5/16 in", "2-5/16 in")
    expect(weighed).not_to_contain_text("ball size against the coupler, which does not hold")
    expect(page.locator("#line-ball .line__said")).to_contain_text("on the truck 2-5/16 in")

    seller = as_role("sales", size="phone", scheme="dark")
    seller.goto(url)
    drawn = sign(seller)
    seller.get_by_role("button", name="Sign and hand over").click()
    parked = seller.locator(".outbox__parked")
    expect(parked).to_contain_text("To hand it over all the same, write why")
    run(desk.home, REST)
    seller.goto(url)
    expect(seller.locator("#weighed")).to_contain_text("Hand it over. Clear: ")
    expect(seller.locator("[data-strokes][name=buyer]")).to_have_value(drawn)
    expect(seller.locator("[data-pad]").first.locator("path")).to_have_count(2)  # the line to sign on, and the stroke
    expect(seller.locator("#weighed")).to_contain_text("As the quote had it")
    check_axe(seller)
    seller.get_by_role("button", name="Sign and hand over").click()
    expect(seller.locator("main")).to_contain_text("Handed over. Clear: ")
    expect(seller.locator(".signed svg")).to_have_count(1)
    expect(parked).to_have_count(0)
    with closing(sqlite3.connect(desk.home / "desk.sqlite3")) as db:
        status = db.execute("select status from desk_unit where stock_number = ?", [NUMBER]).fetchone()
        signed = db.execute("select count(*) from desk_checkentry e join desk_checklist c on c.id = e.checklist_id"
                            " join desk_unit u on u.id = c.unit_id where u.stock_number = ? and e.line = 'level'",
                            [NUMBER]).fetchone()  # fmt: skip
    assert status == ("sold",)
    assert signed == (1,), "sent once, though it waited"
    # The browser tells of the refusal by itself.
    faults[:] = [fault for fault in faults if "422" not in fault]
