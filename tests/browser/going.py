"""Going from page to page without racing a slow machine."""

from __future__ import annotations

from playwright.sync_api import Locator


def follow(what: Locator) -> None:
    """Click a link or a button and wait for the page it leads to; reading at once might read the page before it."""
    with what.page.expect_navigation():
        what.click()
