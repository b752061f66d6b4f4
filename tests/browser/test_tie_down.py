"""A plan of tie-downs changed by hand: an end dragged by mouse or finger, chosen in its field, taken off, added."""

from __future__ import annotations

import pytest

from browser.going import follow
from browser.looks import LOOKS, check_axe, check_fits, check_targets

PAGE = "haul/3/on/SH-137/tie-down/"
PAGES = (PAGE, "haul/4/on/SH-213/tie-down/", "haul/5/on/SH-212/tie-down/?method=en&friction=0.4", f"{PAGE}?t=none")


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_pages_fit_and_are_quiet(desk, as_role, size, scheme):
    page = as_role("sales", size=size, scheme=scheme)
    for path in PAGES:
        assert page.goto(desk.url + path).status == 200
        check_fits(page)
        check_axe(page)
        check_targets(page)
        assert page.locator("h1").count() == 1


def middle(page, where):
    """Where something drawn is, scrolled to; ``where`` is below the view from above that is shown."""
    found = page.locator(f"[data-size]:visible svg[data-view=tie-plan] {where}").first
    page.locator("[data-size]:visible svg[data-view=tie-plan]").scroll_into_view_if_needed()
    box = found.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def state(page):
    """What the page says of the plan: its sentence, the third tie-down's row, what is held."""
    row = page.locator("[data-row='3']")
    held = page.locator("[data-held] tbody").inner_text()
    return {"from": row.locator("select[data-end=anchor]").input_value(), "row": row.inner_text(), "held": held}


def judged(page):
    """Waits for the part that has just been judged, and for what comes after it."""
    return page.expect_response(lambda r: "/tie-down/" in r.url and "part=rest" not in r.url)


def test_an_end_is_dragged_by_mouse(desk, as_role):
    page = as_role("sales")
    page.goto(desk.url + PAGE)
    before = state(page)
    assert before["from"] == "5L"
    start, goal = middle(page, "circle[data-end=anchor][data-tie='3']"), middle(page, "[data-key='4L'] circle")
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(start[0] - 20, start[1] - 10, steps=4)
    assert page.locator("line.tie__pull").count() == 1
    page.mouse.move(goal[0] + 4, goal[1] + 3, steps=4)
    with judged(page) as told:
        page.mouse.up()
    assert "size=wide" in told.value.url
    page.locator("[data-part=tie][data-tie='3'][data-anchor='4L']").first.wait_for(state="attached")
    after = state(page)
    assert after["from"] == "4L"
    assert after["held"] != before["held"]
    assert "t=0,4L,2L,chain-3-8,ratchet-3-8" in page.url
    page.locator("#tie-rest").wait_for(state="detached")
    assert page.locator("[data-size]").count() == 3
    page.reload()
    assert state(page) == after
    page.get_by_role("link", name="Propose again").click()
    page.locator("[data-part=tie][data-tie='3'][data-anchor='5L']").first.wait_for(state="attached")
    assert state(page) == before
    assert page.locator("#tie-rest").count() == 0 or page.locator("#tie-rest").wait_for(state="detached") is None


def test_a_drag_to_nowhere_or_escaped_changes_nothing(desk, as_role):
    page = as_role("sales")
    page.goto(desk.url + PAGE)
    before, asked = state(page), []
    page.on("request", lambda r: asked.append(r.url) if "tie-down" in r.url else None)
    start, goal = middle(page, "circle[data-end=anchor][data-tie='3']"), middle(page, "[data-key='4L'] circle")
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(start[0] - 100, start[1] - 90, steps=4)
    page.mouse.up()
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(*goal, steps=4)
    page.keyboard.press("Escape")
    page.mouse.up()
    assert page.locator("line.tie__pull").count() == 0
    assert state(page) == before
    assert asked == []
    page.mouse.click(*start)
    assert page.evaluate("document.activeElement.id") == "a2"


def test_an_end_is_dragged_by_finger(desk, as_role):
    page = as_role("sales", size="phone")
    page.goto(desk.url + PAGE)
    before = state(page)
    start, goal = middle(page, "circle[data-end=anchor][data-tie='3']"), middle(page, "[data-key='4L'] circle")
    finger = page.context.new_cdp_session(page)

    def touch(kind, at=None):
        points = [] if at is None else [{"x": at[0], "y": at[1]}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", start)
    for share in (0.3, 0.6, 1.0):
        touch("touchMove", tuple(a + share * (b - a) for a, b in zip(start, goal, strict=True)))
    with judged(page) as told:
        touch("touchEnd")
    assert "size=narrow" in told.value.url
    page.locator("[data-part=tie][data-tie='3'][data-anchor='4L']").first.wait_for(state="attached")
    after = state(page)
    assert after["from"] == "4L"
    assert after["held"] != before["held"]
    page.locator("#tie-rest").wait_for(state="detached")
    check_fits(page)


def test_by_keyboard_alone(desk, as_role):
    page = as_role("sales")
    page.goto(desk.url + PAGE)
    before = state(page)
    choice = page.get_by_label("Tie-down 3, from")
    choice.focus()
    with judged(page):
        page.keyboard.press("ArrowUp")
    page.locator("[data-part=tie][data-tie='3']:not([data-anchor='5L'])").first.wait_for(state="attached")
    assert state(page)["held"] != before["held"]
    assert page.evaluate("document.activeElement.id") == "a2"
    page.locator("#tie-rest").wait_for(state="detached")


def test_one_off_makes_it_over_and_the_change_offered_mends_it(desk, as_role):
    page = as_role("sales")
    page.goto(desk.url + PAGE)
    assert page.locator("[data-sentence]").inner_text().startswith("Clear")
    with judged(page):
        page.get_by_role("button", name="Take off tie-down 4").click()
    page.locator("[data-row='5']").wait_for(state="detached")
    assert page.locator("[data-sentence]").inner_text().startswith("Over")
    assert page.locator("#said").inner_text() == page.locator("[data-sentence]").inner_text()
    page.locator("[data-changes]").wait_for()
    with judged(page):
        page.locator("[data-changes] li", has_text="clear").get_by_role("link", name="Do it").first.click()
    page.locator("[data-row='5']").wait_for()
    assert page.locator("[data-sentence]").inner_text().startswith("Clear")
    page.locator("#tie-rest").wait_for(state="detached")
    with judged(page):
        page.get_by_role("button", name="Add a tie-down").click()
    page.locator("[data-row='6']").wait_for()
    page.locator("#tie-rest").wait_for(state="detached")


def test_without_a_script(desk, as_role):
    page = as_role("viewer", java_script_enabled=False)
    page.goto(desk.url + PAGE)
    page.get_by_label("Tie-down 3, from").select_option("4L")
    follow(page.get_by_role("button", name="Judge it"))
    assert "t=0,4L,2L,chain-3-8,ratchet-3-8" in page.url
    assert page.get_by_label("Tie-down 3, from").input_value() == "4L"
    follow(page.get_by_role("button", name="Take off tie-down 5"))
    assert page.locator("[data-row]").count() == 4


def test_paper_has_words_for_fields(desk, as_role):
    page = as_role("viewer")
    page.goto(desk.url + PAGE)
    page.emulate_media(media="print")
    assert page.locator(".on-paper svg").first.is_visible()
    assert not page.locator(".wide svg").first.is_visible()
    assert not page.locator("select").first.is_visible()
    assert page.locator("[data-row='3']").get_by_text("D-ring 5, left", exact=True).last.is_visible()
