"""The public pages in a real browser: found from the list without any script, by day and by night, on a phone."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from browser.going import follow
from browser.looks import LOOKS, check_axe, check_fits, check_targets
from desk.server import Running

SHOWN = ("SH-201", "SH-152")


@pytest.fixture(scope="module")
def shown(desk: Running, browser, cookies) -> tuple[str, ...]:
    """Units that a salesperson put on the public pages."""
    context = browser.new_context(storage_state=cookies["sales"])
    page = context.new_page()
    for stock in SHOWN:
        page.goto(f"{desk.url}unit/{stock}/listing/")
        page.get_by_role("button", name="Show it on the public pages").click()
        expect(page.get_by_role("button", name="Take it off the public pages")).to_be_visible()
    context.close()
    return SHOWN


def test_a_buyer_finds_a_trailer_on_a_phone_without_script(desk: Running, shown, open_page: Callable[..., Page]):
    page = open_page(size="phone", java_script_enabled=False)
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{desk.url}public/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Trailers")
    page.get_by_role("link", name="Gooseneck", exact=True).click()
    page.get_by_role("link", name="lowest price first").click()
    follow(page.get_by_role("link", name="Gooseneck, 30 ft, lowering tail"))
    assert page.url == f"{desk.url}public/trailer/SH-201.html"
    expect(page.get_by_text("Carries, at its best place")).to_be_visible()
    expect(page.get_by_text("19,220 lb").first).to_be_visible()
    page.get_by_text("Every figure by itself").click()
    expect(page.get_by_text("Axle ratings added up")).to_be_visible()
    page.get_by_role("link", name="About the numbers").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("About the numbers")
    assert asked
    assert all(url.startswith(f"{desk.url}public/") for url in asked), "nothing comes from elsewhere"
    assert not any(url.endswith(".js") for url in asked)
    assert page.context.cookies() == []


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_public_pages_fit_and_pass_the_checker(desk: Running, shown, open_page: Callable[..., Page], size, scheme):
    page = open_page(size=size, scheme=scheme)
    for path in ("", "by-carries.html", f"trailer/{shown[0]}.html", "numbers.html"):
        answer = page.goto(f"{desk.url}public/{path}")
        assert answer.status == 200
        page.wait_for_load_state("networkidle")
        check_fits(page)
        check_axe(page)
        check_targets(page)
    # The data block is read by machines and run by none; the page's policy has nothing to say against it.
    page.goto(f"{desk.url}public/trailer/{shown[0]}.html")
    assert '"sku": "SH-201"' in page.locator('script[type="application/ld+json"]').text_content()
    ratio = page.evaluate("[...document.images].filter(i => i.complete && !i.naturalWidth).map(i => i.src)")
    assert ratio == [], "every picture that was asked for is one"


def test_the_yards_own_pages_for_it(desk: Running, shown, as_role: Callable[..., Page]):
    page = as_role("sales", size="phone")
    for path in ("public-pages/", "labels/?unit=SH-201"):
        page.goto(desk.url + path)
        check_fits(page)
        check_axe(page)
        check_targets(page)
    page.goto(f"{desk.url}public-pages/")
    page.get_by_role("button", name="Write them into the folder").click()
    expect(page.get_by_text("files are written")).to_be_visible()
    assert (desk.home / "public-pages" / "trailer" / "SH-201.html").is_file()
