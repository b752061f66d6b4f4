"""What holds for every page: it fits its width, and the accessibility checker finds nothing serious."""

from __future__ import annotations

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

GRAVE = ("serious", "critical")


def check_fits(page: Page) -> None:
    """Nothing is wider than the window, and no text is cut."""
    wide = page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    assert wide[0] <= wide[1], f"{page.url} is {wide[0]} px wide in a window of {wide[1]}"


def check_axe(page: Page) -> None:
    """No serious or critical violation."""
    found = Axe().run(page).response["violations"]
    grave = [f"{v['id']}: {v['nodes'][0]['html'][:160]}" for v in found if v["impact"] in GRAVE]
    assert not grave, f"{page.url}\n" + "\n".join(grave)


def check_targets(page: Page) -> None:
    """What a finger presses is at least 24 px high, or a link within a line of text (WCAG 2.2, 2.5.8)."""
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, input:not([type=hidden]), select, summary, nav a')]
          .filter(e => e.checkVisibility() && !e.closest('.hush') && !e.classList.contains('hush'))
          .filter(e => { const b = e.getBoundingClientRect(); const l = e.closest('label')?.getBoundingClientRect();
            return Math.max(b.height, l ? l.height : 0) < 24; })
          .map(e => e.outerHTML.slice(0, 120))"""
    )
    assert small == [], f"{page.url}\n" + "\n".join(small)
