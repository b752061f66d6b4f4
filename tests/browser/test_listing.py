"""Listings in a real browser: refused words marked and mended on a phone, the text copied, the wording seen live."""

from __future__ import annotations

import pytest

from browser.going import follow
from browser.looks import check_axe, check_fits, check_targets


def test_refused_words_are_mended_on_a_phone(desk, as_role):
    page = as_role("sales", size="phone")
    page.goto(f"{desk.url}unit/SH-152/listing/")
    words = page.get_by_label("They stand first in the text")
    words.fill("14K payload, hauls anything.")
    follow(page.get_by_role("button", name="Keep the words"))
    marked = page.locator("mark.claim__words")
    assert marked.all_inner_texts() == ["14K payload", "hauls anything"]
    assert words.input_value() == "14K payload, hauls anything."
    check_fits(page)
    check_axe(page)
    check_targets(page)
    page.goto(f"{desk.url}unit/SH-152/listing/")
    assert words.input_value() == "14K payload, hauls anything.", "kept aside for whoever comes back"
    words.fill("Stood inside all winter.")
    follow(page.get_by_role("button", name="Keep the words"))
    assert "The words for SH-152 are kept." in page.locator(".messages").inner_text()
    assert "Stood inside all winter." in page.locator(".ad").inner_text()


def test_the_text_is_copied_without_https_too(desk, as_role):
    page = as_role("viewer")
    page.goto(f"{desk.url}unit/SH-132/listing/")
    page.evaluate("document.addEventListener('copy', () => { window.copied = String(getSelection()) || 'area'; })")
    button = page.get_by_role("button", name="Copy as plain text")
    button.click()
    page.get_by_role("button", name="Copied").wait_for()
    assert "New 2026 Tarnbeck" in page.locator("#plain").text_content()


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_the_wording_is_looked_at_while_it_is_written(desk, as_role, size):
    page = as_role("sales", size=size)
    page.goto(f"{desk.url}listings/wording/?unit=SH-132")
    headline = page.get_by_label("Headline", exact=True)
    headline.fill("{stock} of {lenght}")
    look = page.locator("#look")
    look.get_by_text("did you mean {length}?").wait_for()
    headline.fill("{stock} of {length}")
    look.get_by_role("heading", name="SH-132 of 20 ft").wait_for()
    page.get_by_label("Unit to look at it on").select_option("SH-161")
    look.get_by_role("heading", name="SH-161 of 20 ft").wait_for()
    check_fits(page)
    check_axe(page)
