"""Take the pictures of the desk that the documents show, from the invented yard.

    python scripts/screenshots.py [FOLDER] [--all]

Without ``--all`` only the pictures the documents use are taken; with it, every page at desk width and on a phone, by
day and by night, to be looked at one by one. Needs the packages of the tests and a Chromium.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from playwright.sync_api import Browser, Page, sync_playwright  # noqa: E402

from desk.server import Running, running  # noqa: E402
from support.programs import CHROMIUM_ARGUMENTS, find_chromium  # noqa: E402

SIZES = {"desk": (1280, 860), "phone": (360, 740)}
DEMO = "demo(port=0, open_browser=False, say=say)"


@dataclass(frozen=True)
class Shot:
    """One picture: its file's name, the address, who looks, and whether the documents use it."""

    name: str
    path: str
    role: str = "owner"
    size: str = ""
    scheme: str = ""
    whole: bool = False


SHOTS = (
    Shot("today", "today/", role="sales", size="desk", scheme="light"),
    Shot("yard", "yard/", size="desk", scheme="light"),
    Shot("unit", "unit/SH-191/", size="desk", scheme="light"),
    Shot("board", "haul/3/board/", role="sales", size="desk", scheme="light"),
    Shot("bench", "haul/3/on/SH-152/", role="sales", size="desk", scheme="light"),
    Shot("climb-phone", "haul/3/on/SH-152/climb/", role="sales", size="phone", scheme="dark"),
    Shot("walk-phone", "unit/SH-133/walk/?haul=3#ramps", role="sales", size="phone", scheme="light"),
    Shot("public", "public/trailer/SH-151.html", role="", size="desk", scheme="light"),
    Shot("ticket", "ticket/2/", role="hand", size="desk", scheme="light"),
    Shot("check-phone", "check/1/#line-pressure-1", role="hand", size="phone", scheme="light"),
)
EVERY = (
    Shot("today", "today/"),
    Shot("today-hand", "today/", role="hand"),
    Shot("follow-ups", "follow-ups/", role="sales"),
    Shot("sign-in", "sign-in/", role=""),
    Shot("yard", "yard/"),
    Shot("yard-found", "yard/?words=gooseneck&sort=-price"),
    Shot("yard-nothing", "yard/?words=nothing-like-this"),
    Shot("unit", "unit/SH-191/"),
    Shot("unit-unknown", "unit/SH-164/"),
    Shot("unit-hand", "unit/SH-191/", role="hand"),
    Shot("edit", "unit/SH-191/edit/"),
    Shot("new", "yard/new/"),
    Shot("board", "haul/3/board/"),
    Shot("board-nothing", "haul/3/board/?verdict=clear&most=1"),
    Shot("compare", "haul/3/compare/?unit=SH-133&unit=SH-152&unit=SH-162&unit=SH-203"),
    Shot("haul", "haul/4/"),
    Shot("haul-new", "hauls/new/"),
    Shot("board", "haul/4/board/"),
    Shot("compare", "haul/4/compare/?unit=SH-201&unit=SH-212&unit=SH-213"),
    Shot("bench", "haul/4/on/SH-201/"),
    Shot("climb", "haul/4/on/SH-201/climb/"),
    Shot("turn", "haul/4/on/SH-201/turn/"),
    Shot("quotes", "quotes/?status=all", role="sales"),
    Shot("checks", "checks/", role="hand"),
    Shot("check", "check/1/", role="hand"),
    Shot("changes", "changes/"),
    Shot("people", "people/"),
    Shot("person", "people/2/"),
    Shot("person-new", "people/new/"),
    Shot("account", "account/"),
    Shot("password", "account/password/"),
    Shot("refused", "people/", role="viewer"),
    Shot("missing", "no/such/page/"),
)


def pages(browser: Browser, desk: Running, shots: tuple[Shot, ...]) -> Iterator[tuple[Shot, str, Page]]:
    """Each shot's page, loaded, with a name for its file."""
    for shot in shots:
        for size in (shot.size,) if shot.size else SIZES:
            for scheme in (shot.scheme,) if shot.scheme else ("light", "dark"):
                width, height = SIZES[size]
                context = browser.new_context(
                    viewport={"width": width, "height": height},
                    color_scheme=scheme,
                    device_scale_factor=2 if size == "phone" else 1,
                )
                page = context.new_page()
                if shot.role:
                    page.goto(f"{desk.url}sign-in/")
                    page.locator(f"button[value={shot.role}]").click()
                page.goto(desk.url + shot.path)
                page.wait_for_load_state("networkidle")
                page.evaluate("document.fonts.ready")
                yield shot, shot.name if shot.size else f"{shot.name}-{size}-{scheme}", page
                context.close()


def main() -> None:
    """Take them."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", nargs="?", type=Path, default=ROOT / "docs" / "screenshots")
    asked.add_argument("--all", action="store_true", help="every page, both sizes, day and night")
    given = asked.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    chromium = find_chromium()
    if chromium is None:
        sys.exit("No Chromium was found; name one in TESTS_CHROMIUM.")
    with (
        tempfile.TemporaryDirectory() as home,
        running(Path(home) / "yard", call=DEMO) as desk,
        sync_playwright() as play,
    ):
        browser = play.chromium.launch(executable_path=chromium, args=list(CHROMIUM_ARGUMENTS))
        for shot, name, page in pages(browser, desk, EVERY if given.all else SHOTS):
            page.screenshot(path=given.folder / f"{name}.png", full_page=given.all or shot.whole)
            print(name)
        browser.close()


if __name__ == "__main__":
    main()
