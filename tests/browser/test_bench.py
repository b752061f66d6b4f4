"""The placement bench in a real browser: under mouse, finger and keys, and in agreement with the desk to a pound."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, expect

from browser.going import follow
from browser.looks import LOOKS, check_axe, check_fits, check_targets
from desk.server import Running
from rubrail.answers.affine_band import stretches

RIGS = [(4, "SH-213"), (3, "SH-133"), (1, "SH-121"), (13, "SH-133"), (12, "SH-121"), (9, "SH-191")]
ONE_LB = 1.0
WORDS = ["over", "not known", "depends", "clear", "does not apply"]

CHECK = """async (places) => {
  // What this page reckons and what the desk answers for the same places, one after the other.
  const root = document.querySelector('[data-bench]'), it = root.bench, own = globalThis.rubrailBench, out = [];
  const headers = JSON.parse(document.body.getAttribute('hx-headers'));
  for (const front of places) {
    const sent = it.sent();
    sent.delete('x');
    for (const x of front) sent.append('x', x.toFixed(3));
    const answer = await fetch(root.dataset.check, {method: 'POST', body: sent, headers});
    const told = await answer.json(), now = own.read(it.data, front);
    const [sentence, whole] = own.sentence(it.data, now);
    out.push({told, sentence, whole, verdict: own.WORDS[now.verdict],
      rows: it.data.rows.map((row, i) => [row.n, row.id, row.form, row.unit, now.rows[i]]),
      loads: now.loads.map((x) => [x.value, x.spread])});
  }
  return JSON.parse(JSON.stringify(out));
}"""


def opened(page: Page, desk: Running, haul: int, unit: str, query: str = "") -> Page:
    page.goto(f"{desk.url}haul/{haul}/on/{unit}/{query}")
    expect(page.locator("[data-bench]")).to_have_attribute("data-live", "")
    return page


def slider(page: Page, number: int = 0):
    return page.locator("[role=slider]:visible").nth(number)


def word(page: Page) -> str:
    return page.locator("[data-word] .verdict").inner_text().strip()


def sentence(page: Page) -> str:
    return page.locator("[data-sentence]:visible").inner_text()


def confirmed(page: Page) -> None:
    expect(page.locator("[data-state]")).to_have_attribute("data-state", "confirmed")


def fronts(page: Page) -> list[float]:
    # After a page is loaded anew there is nothing to ask until its script has begun.
    expect(page.locator("[data-bench]")).to_have_attribute("data-live", "")
    return page.evaluate("document.querySelector('[data-bench]').bench.fronts")


def middle(box: dict[str, float]) -> tuple[float, float]:
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


# In one step: the desk's answer to the drag before may come between two, and draws the pieces anew.
BOX = """n => {
  const shown = [...document.querySelectorAll('[role=slider]')].filter(e => e.checkVisibility());
  shown[n].scrollIntoView({ block: "center", behavior: "instant" });
  const { x, y, width, height } = shown[n].getBoundingClientRect();
  return { x, y, width, height };
}"""


def drag(page: Page, number: int, by_px: float) -> None:
    x, y = middle(page.evaluate(BOX, number))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + by_px, y + 8, steps=6)
    page.mouse.up()


def near(a: float | None, b: float | None, least: float = ONE_LB) -> bool:
    return a == b if None in (a, b) else abs(a - b) <= least


@pytest.mark.parametrize(("haul", "unit"), RIGS)
def test_page_and_desk_agree_to_a_pound(desk: Running, as_role: Callable[..., Page], haul: int, unit: str):
    page = opened(as_role("viewer"), desk, haul, unit)
    draw, here = random.Random(haul * 31), fronts(page)
    places = [[round(x + draw.uniform(-110, 110), 3) for x in here] for _ in range(14)]
    places += [[round(x + draw.uniform(-12, 12), 3) for x in here] for _ in range(6)]
    seen = set()
    for found in page.evaluate(CHECK, places):
        told = {n: rest for n, *rest in found["told"]["rows"]}
        for n, id, form, unit_of, now in found["rows"]:
            demand, limit, margin, worst, _, code = told[n]
            assert form != "asked"
            assert now["code"] == code, id
            if form == "steady" or code == WORDS.index("does not apply"):
                continue
            # A pound, and of inches and shares as little beside it.
            least = ONE_LB if unit_of == "lb" else 0.01
            for mine, theirs in ((now["demand"], demand), (now["limit"], limit), (now["margin"], margin)):
                assert near(mine, theirs, least), id
            assert near(now["worst"], worst, least), id
        for mine, theirs in zip(found["loads"], found["told"]["loads"], strict=True):
            assert near(mine[0], theirs[0])
            assert near(mine[1], theirs[1])
        assert found["verdict"] == found["told"]["verdict"]
        if found["whole"]:
            assert same_words(found["sentence"], found["told"]["sentence"])
        else:
            assert same_words(found["sentence"], found["told"]["sentence"][: len(found["sentence"])])
        seen.add(found["verdict"])
    assert seen


def same_words(mine: str, theirs: str) -> bool:
    """Equal, but for which of alike axles is named."""
    return re.sub(r"axle \d", "axle", mine) == re.sub(r"axle \d", "axle", theirs)


@pytest.mark.parametrize(
    ("haul", "unit", "size"), [(4, "SH-213", "desk"), (1, "SH-121", "desk"), (13, "SH-133", "phone")]
)
def test_after_each_drag_page_and_desk_agree(
    desk: Running, as_role: Callable[..., Page], haul: int, unit: str, size: str
):
    page = opened(as_role("viewer", size=size), desk, haul, unit)
    draw = random.Random(haul)
    for _ in range(4):
        number = draw.randrange(len(fronts(page)))
        before = fronts(page)[number]
        drag(page, number, draw.choice([-1, 1]) * draw.uniform(12, 90) * (1 if size == "desk" else 0.4))
        assert fronts(page)[number] != before
        confirmed(page)
        state = page.evaluate(
            """() => { const r = document.querySelector('[data-bench]'); return [r.bench.now.loads.map(x => x.value),
            JSON.parse(r.dataset.toldLoads).map(x => x[0]),
            r.bench.now.rows.map((x, i) => [r.bench.data.rows[i].n, x.code]),
            JSON.parse(r.dataset.toldRows).map(x => [x[0], x.at(-1)])] }"""
        )
        mine, theirs, my_codes, their_codes = state
        assert all(near(a, b) for a, b in zip(mine, theirs, strict=True))
        assert dict(my_codes).items() <= dict(their_codes).items()


def test_numbers_move_under_the_hand_before_the_desk_answers(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    held: list[Route] = []
    page.route("**/check/", lambda route: held.append(route))
    assert word(page) == "clear"
    shown = [page.locator(f".wide text[data-load={p}]").text_content() for p in ("coupler", "axles", "truck-rear")]
    tile = page.locator("[data-watched=coupler] [data-value]")
    before, line = tile.inner_text(), page.locator("[data-line] .line__demand").first.inner_text()
    x, y = middle(slider(page).bounding_box())
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 60, y, steps=5)
    expect(page.locator("[data-state]")).to_have_attribute("data-state", "page")
    assert word(page) == "over"
    assert sentence(page).startswith("Over: ")
    assert "in the way: " in sentence(page)
    assert tile.inner_text() != before
    # Rearward of the coupling by so much less, by moments: the page's own figure from weight and axle place.
    now = [page.locator(f".wide text[data-load={p}]").text_content() for p in ("coupler", "axles", "truck-rear")]
    assert all(a != b for a, b in zip(shown, now, strict=True))
    assert not held, "the desk was not asked while the machine moved"
    governing = page.locator("[data-governs] .line__name").inner_text()
    assert governing[1:].split("\n")[0][:12] in sentence(page)
    with page.expect_request("**/check/"):
        page.mouse.up()
    expect(page.locator("[data-state]")).to_have_attribute("data-state", "asking")
    while not held:
        page.wait_for_timeout(10)
    held[0].continue_()
    confirmed(page)
    assert page.locator("#said").inner_text() == sentence(page)
    assert line  # a limit stood in the first line all the while


def test_an_inch_by_hand(desk: Running, as_role: Callable[..., Page]):
    """Moments about the coupling: 10 in forward put weight x 10 / axle place on the coupler."""
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    facts = page.evaluate(
        """() => { const b = document.querySelector('[data-bench]').bench; const load = (n) =>
        b.now.loads[b.data.loads.findIndex(x => x.name === n && x.member === null)].value;
        return [b.data.pieces[0].weight_lb, load('coupler_load_lb'), load('axle_group_load_lb')] }"""
    )
    weight, coupler, axles = facts
    slider(page).focus()
    start = fronts(page)[0]
    for _ in range(10):
        page.keyboard.press("ArrowLeft")
    confirmed(page)
    moved = start - fronts(page)[0]
    told = page.evaluate("JSON.parse(document.querySelector('[data-bench]').dataset.toldLoads).map(x => x[0])")
    # SH-133's file: axles 185 in and 219 in behind the coupler, so their middle is 202 in behind it.
    assert told[0] - coupler == pytest.approx(weight * moved / axle_middle_in("SH-133"), abs=1)
    assert told[1] - axles == pytest.approx(-weight * moved / axle_middle_in("SH-133"), abs=1)


def axle_middle_in(unit: str) -> float:
    from desk.rig_pages import invented

    places = [float(a.from_coupler_in) for a in invented().trailers[unit].axle]
    return sum(places) / len(places)


def test_keys_move_by_one_and_by_twelve(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    handle = slider(page)
    handle.focus()
    at = page.locator("[name=at]")
    page.keyboard.press("ArrowRight")
    first = float(at.input_value())
    assert first == int(first), "whole inches from the front of the deck"
    page.keyboard.press("ArrowRight")
    assert float(at.input_value()) == first + 1
    page.keyboard.press("Shift+ArrowLeft")
    assert float(at.input_value()) == first - 11
    expect(handle).to_have_attribute(
        "aria-valuetext", re.compile(r"\d in behind the front of the deck, (over|depends|clear)")
    )
    expect(handle).to_have_attribute("aria-valuenow", str(int(first - 11)))
    page.keyboard.press("Home")
    assert at.input_value() == "0"
    confirmed(page)
    expect(handle).to_be_focused()
    page.get_by_role("button", name=re.compile("rearward$")).click()
    assert at.input_value() == "1"
    confirmed(page)
    again = page.url
    page.goto(again)
    assert at.input_value() == "1", "the address brings it back"


def swipe(page: Page, x: float, y: float, dx: float, dy: float) -> None:
    session = page.context.new_cdp_session(page)
    send = lambda kind, points: session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})  # noqa: E731
    send("touchStart", [{"x": x, "y": y}])
    for step in range(1, 11):
        send("touchMove", [{"x": x + dx * step / 10, "y": y + dy * step / 10}])
        page.wait_for_timeout(16)
    send("touchEnd", [])
    session.detach()
    page.wait_for_timeout(300)


@pytest.mark.parametrize("view", ["rig-side", "rig-plan"])
def test_a_finger_drags_a_machine_and_the_page_stays_put(desk: Running, as_role: Callable[..., Page], view: str):
    page = opened(as_role("viewer", size="phone"), desk, 3, "SH-133")
    grip = page.locator(f"svg[data-view={view}]:visible [data-grip='0']")
    grip.scroll_into_view_if_needed()
    box = grip.bounding_box()
    assert min(box["width"], box["height"]) >= 43.5, "large enough for a finger"
    scrolled, before = page.evaluate("scrollY"), fronts(page)
    x, y = middle(box)
    swipe(page, x, y, -24, -60)
    assert fronts(page)[0] < before[0] - 5
    assert page.evaluate("scrollY") == scrolled
    confirmed(page)


def test_a_finger_elsewhere_scrolls(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer", size="phone"), desk, 3, "SH-133")
    before = fronts(page)
    truck = page.locator("svg[data-view=rig-side]:visible [data-part=truck]").bounding_box()
    x, y = middle(truck)
    swipe(page, x, y, 0, -180)
    assert page.evaluate("scrollY") > 100
    assert fronts(page) == before
    # The verdict stays in sight.
    assert page.locator(".bench__strip").bounding_box()["y"] >= -1


def test_the_nearest_of_small_machines_is_taken(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer", size="phone"), desk, 13, "SH-133")
    one, two = slider(page, 0).bounding_box(), slider(page, 1).bounding_box()
    before = fronts(page)
    x, y = two["x"] + two["width"] - 4, two["y"] + two["height"] - 6
    swipe(page, x, y, 10, 0)
    after = fronts(page)
    assert after[0] == before[0]
    assert after[1] > before[1]
    assert one["x"] != two["x"]


def test_turn_round_and_back(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    before, start = sentence(page), fronts(page)
    page.evaluate("window.stays = true")
    page.get_by_role("button", name="Turn round").click()
    expect(page.get_by_text("rear first")).to_be_visible()
    expect(page.locator("[data-bench]")).to_have_attribute("data-live", "")
    assert sentence(page) != before
    assert fronts(page) == pytest.approx(start, abs=1e-3)
    assert "w=rear-first" in page.url
    page.get_by_role("button", name="Turn round").click()
    expect(page.get_by_text("front first")).to_be_visible()
    assert sentence(page) == before
    assert page.evaluate("window.stays"), "the page was not loaded again"


def test_one_more_machine_and_off_again(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-213")
    page.get_by_label("One more on the deck").select_option(index=3)
    name = page.get_by_label("One more on the deck").locator("option:checked").inner_text()
    page.get_by_role("button", name="Put it on").click()
    expect(page.locator("[data-stand]")).to_have_count(2)
    expect(page.locator("[data-stand='1']")).to_contain_text(name)
    expect(slider(page, 1)).to_be_visible()
    drag(page, 1, 40)
    confirmed(page)
    ahead = page.locator("[data-stand='1']").get_by_role("button", name="One place ahead")
    ahead.click()
    expect(page.locator("[data-stand='1'] [data-ahead]")).to_be_disabled()
    now = fronts(page)
    assert now[1] < now[0]
    page.locator("[data-stand='1']").get_by_role("button", name="Take off").click()
    expect(page.locator("[data-stand]")).to_have_count(1)
    page.get_by_role("button", name="Take off").click()
    expect(page.get_by_text("Nothing stands on the deck.")).to_be_visible()
    check_axe(page)
    page.get_by_label("One more on the deck").select_option("h0")
    page.get_by_role("button", name="Put it on").click()
    expect(page.locator("[data-stand]")).to_have_count(1)


def test_best_place_brings_it_back(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 4, "SH-213")
    best, before = fronts(page), sentence(page)
    for number in range(3):
        drag(page, number, -30 + 25 * number)
    confirmed(page)
    assert fronts(page) != best
    page.get_by_role("button", name="Best place").click()
    confirmed(page)
    assert fronts(page) == pytest.approx(best, abs=1e-3)
    assert sentence(page) == before
    # Turned round, only the desk can tell what is best.
    page.get_by_role("button", name=re.compile("Turn round")).first.click()
    expect(page.get_by_text("rear first")).to_be_visible()
    page.get_by_role("button", name="Best place").click()
    expect(page.locator("[data-state]")).to_have_attribute("data-state", "desk")
    assert fronts(page) == pytest.approx(best, abs=1e-3)


def test_why_opens_on_a_line_and_follows(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    page.locator("[data-group=coupling] > summary").click()
    line = page.locator("[data-line]", has_text="Coupler against the load on it")
    line.locator("summary").click()
    expect(line).to_contain_text("Sources")
    expect(line).to_contain_text("coupler load lb =")
    first = line.locator(".sides").inner_text()
    demand = line.locator(".line__demand").inner_text()
    assert demand in first
    check_axe(page)
    check_fits(page)
    slider(page).focus()
    page.keyboard.press("Shift+ArrowLeft")
    confirmed(page)
    expect(line.locator(".line__demand")).not_to_have_text(demand)
    expect(line.locator(".sides")).to_contain_text(line.locator(".line__demand").inner_text())


def test_what_one_change_would_clear_is_fetched_where_it_is_over(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    slider(page).focus()
    for _ in range(4):
        page.keyboard.press("Shift+ArrowLeft")
    confirmed(page)
    assert word(page) == "over"
    expect(page.locator("[data-told]")).to_contain_text("Move the load")
    page.get_by_role("button", name="Best place").click()
    confirmed(page)
    expect(page.locator("[data-told]")).to_be_empty()


def test_bands_are_those_of_the_python_twin_and_tell_the_truth(desk: Running, as_role: Callable[..., Page]):
    for haul, unit, picked in ((4, "SH-213", 0), (3, "SH-133", 0), (13, "SH-133", 1)):
        page = opened(as_role("viewer"), desk, haul, unit)
        slider(page, picked).focus()
        data = json.loads(page.locator("[data-bench]").get_attribute("data-bench"))
        low, high = page.evaluate(f"Object.values(document.querySelector('[data-bench]').bench.reach({picked}))")
        mine = page.evaluate("document.querySelector('[data-bench]').bench.found")
        theirs = stretches(data, data["fronts"], picked, low_in=low, high_in=high)
        assert [s["code"] for s in mine] == [s.code for s in theirs]
        for a, b in zip(mine, theirs, strict=True):
            assert (a["low"], a["high"]) == pytest.approx((b.low_in, b.high_in), abs=1e-6)
        painted = page.locator(".wide svg[data-view=rig-side] [data-band=clear]")
        center = data["pieces"][picked]["cg_in"]
        start, end = (float(painted.first.get_attribute(n)) - center for n in ("data-from", "data-to"))
        places = [[*data["fronts"]] for _ in range(4)]
        for place, x in zip(places, (start - 0.02, start + 0.02, end - 0.02, end + 0.02), strict=True):
            place[picked] = round(x, 3)
        words = [found["told"]["verdict"] for found in page.evaluate(CHECK, places)]
        assert words[1:3] == ["clear", "clear"], (haul, unit)
        assert "clear" not in (words[0], words[3]), (haul, unit)


def test_bands_of_one_follow_when_another_moves(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 4, "SH-213")
    found = "JSON.stringify(document.querySelector('[data-bench]').bench.found)"
    slider(page, 0).focus()
    first, band = page.evaluate(found), page.locator(".wide svg[data-view=rig-plan] .bench-bands").first.inner_html()
    slider(page, 2).focus()
    page.keyboard.press("ArrowRight")
    slider(page, 0).focus()
    expect(page.locator("[data-key]")).to_contain_text("skid steer")
    assert page.evaluate(found) != first
    assert page.locator(".wide svg[data-view=rig-plan] .bench-bands").first.inner_html() != band


def test_a_row_that_is_not_straight_is_asked_for(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    page.evaluate(
        """() => { const b = document.querySelector('[data-bench]').bench;
        const i = b.data.rows.findIndex(r => r.id === 'axle-group'), now = b.now.rows[i];
        Object.assign(b.data.rows[i], {form: 'asked', ...now}) }"""
    )
    held: list[Route] = []
    page.route("**/check/", lambda route: held.append(route))
    slider(page).focus()
    page.keyboard.press("ArrowLeft")
    expect(page.locator("[data-sentence]:visible")).to_contain_text("The desk is asked: all trailer axles")
    assert word(page) == "not known"
    while not held:
        page.wait_for_timeout(10)
    held[0].continue_()
    confirmed(page)
    assert sentence(page).startswith(("Clear", "Depends", "Over"))


def test_without_the_desk_the_page_says_whose_numbers_these_are(
    desk: Running, as_role: Callable[..., Page], faults: list[str]
):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    page.context.set_offline(True)
    drag(page, 0, 60)
    expect(page.get_by_text("The desk does not answer: these numbers are this page")).to_be_visible()
    assert word(page) in WORDS
    page.context.set_offline(False)
    drag(page, 0, -40)
    confirmed(page)
    faults.clear()


def test_a_typed_place_moves_it(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("viewer"), desk, 3, "SH-133")
    at, origin = (
        page.locator("[name=at]"),
        page.evaluate("document.querySelector('[data-bench]').bench.data.origin_in"),
    )
    at.fill("40")
    at.press("Enter")
    expect(page.locator("[name=x]").first).to_have_value(f"{origin + 40:.3f}")
    at = page.locator("[name=at]")
    at.fill("2 ft 6 in")
    at.press("Tab")
    expect(page.locator("[name=x]").first).to_have_value(f"{origin + 30:.3f}")
    at.fill("by the axles")
    at.press("Tab")
    expect(page.get_by_text('not "by the axles"')).to_be_visible()
    check_axe(page)


def test_keeping_a_place_and_a_second_person(desk: Running, as_role: Callable[..., Page], faults: list[str]):
    haul, unit = 6, "SH-213"
    first, second = as_role("owner"), as_role("sales", size="phone")
    for page in (first, second):
        opened(page, desk, haul, unit)
    slider(first).focus()
    first.keyboard.press("ArrowRight")
    confirmed(first)
    kept = fronts(first)
    first.get_by_role("button", name="Keep this place").click()
    expect(first.get_by_text(f"Kept: where this haul stands on {unit}.")).to_be_visible()
    assert fronts(first) == kept
    drag(second, 0, -20)
    confirmed(second)
    mine = fronts(second)
    second.get_by_role("button", name="Keep this place").click()
    expect(second.get_by_role("alert").filter(has_text="Somebody kept another place")).to_be_visible()
    assert fronts(second) == mine
    check_axe(second)
    check_fits(second)
    second.set_viewport_size({"width": 1280, "height": 900})
    check_fits(second)
    second.set_viewport_size({"width": 360, "height": 740})
    second.get_by_role("button", name="Keep this place").click()
    expect(second.get_by_text(f"Kept: where this haul stands on {unit}.")).to_be_visible()
    first.reload()
    assert fronts(first) == mine
    first.get_by_role("button", name="Best place").click()
    first.get_by_role("button", name="As kept").click()
    expect(first.locator("[data-state]")).to_have_attribute("data-state", "desk")
    assert fronts(first) == mine
    first.get_by_role("button", name="Forget the kept place").click()
    expect(first.get_by_text("goes to its best place again")).to_be_visible()
    assert faults == ["Failed to load resource: the server responded with a status of 409 (Conflict)"]
    faults.clear()


def test_without_script_the_form_does_it(desk: Running, as_role: Callable[..., Page]):
    page = as_role("sales", java_script_enabled=False)
    page.goto(f"{desk.url}haul/3/on/SH-133/")
    assert page.locator("[data-word]").inner_text().strip() == "clear"
    page.locator("[name=at]").fill("8 ft")
    follow(page.get_by_role("button", name="Reckon these places"))
    assert page.locator("[name=at]").input_value() == "96"
    assert page.locator("[data-word]").inner_text().strip() == "over"
    page.get_by_role("link", name="What one change would clear").click()
    expect(page.get_by_role("heading", name="What would clear it")).to_be_visible()
    page.go_back()
    follow(page.get_by_role("button", name="Turn round"))
    assert "rear first" in page.locator("[data-stand]").inner_text()
    page.locator("[data-governs] summary").click()
    page.get_by_role("link", name="The whole reckoning").first.click()
    expect(page.get_by_role("heading", name="Sources")).to_be_visible()
    page.go_back()
    follow(page.get_by_role("button", name="Best place"))
    assert page.locator("[data-word]").inner_text().strip() == "clear"


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_looks(desk: Running, as_role: Callable[..., Page], size: str, scheme: str):
    page = as_role("owner", size=size, scheme=scheme)
    for haul, unit in ((4, "SH-213"), (11, "SH-133")):
        opened(page, desk, haul, unit)
        for group in page.locator("[data-group] > summary").all():
            group.click()
        check_fits(page)
        check_axe(page)
        check_targets(page)
        assert page.locator("h1").count() == 1
    for path in ("why/tandem/?member=0", "remedies/"):
        page.goto(f"{desk.url}haul/12/on/SH-121/{path}")
        check_fits(page)
        check_axe(page)


def test_paper(desk: Running, as_role: Callable[..., Page]):
    page = opened(as_role("owner", scheme="dark"), desk, 4, "SH-213")
    slider(page, 0).focus()
    page.keyboard.press("Shift+ArrowLeft")
    confirmed(page)
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print", color_scheme="dark")
    assert page.locator(".on-paper svg").first.is_visible()
    assert not page.locator(".wide svg").first.is_visible()
    assert not page.get_by_role("button", name="Best place").is_visible()
    assert page.get_by_text("Coupler against the load on it").is_visible()
    # The desk drew it anew: its dimension says where the machine stands now.
    at = float(page.locator("[name=at]").first.input_value())
    assert page.locator(".on-paper [data-dim=piece-0-front]").text_content() == f"{at:.0f} in"


def test_paper_before_the_desk_answered_has_no_old_dimensions(
    desk: Running, as_role: Callable[..., Page], faults: list[str]
):
    page = opened(as_role("owner"), desk, 3, "SH-133")
    page.route("**/check/", lambda route: route.abort())
    slider(page, 0).focus()
    page.keyboard.press("Shift+ArrowLeft")
    expect(page.locator("[data-state]")).to_have_attribute("data-state", "alone")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    assert not page.locator(".on-paper [data-dim=piece-0-front]").is_visible()
    moved = page.locator(".on-paper svg[data-view=rig-side] [data-part=cargo][data-item='0']")
    assert moved.get_attribute("transform").startswith("translate(-")
    faults.clear()
