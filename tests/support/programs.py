"""Finding the programs that some tests drive, and what to do when one is not there."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "msedge", "chrome")
CHROMIUM_PLACES = (
    "/usr/bin/chromium",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
)
# The last list of features wins, so what Playwright keeps from calling out or interfering is named here again. The
# two popups are pages of the address bar, which nobody sees and which every window loaded in processes of their own.
FEATURES_OFF = (
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
    "AimEnabled",
    "AvoidCorsURLLoaderRestartOnRedirect",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsFirstBalancedModeAutoEnable",
    "HttpsUpgrades",
    "LensOverlay",
    "MediaRouter",
    "NetworkTimeServiceQuerying",
    "OptimizationHints",
    "PaintHolding",
    "PreconnectToSearch",
    "TcpPortRandomizationWin",
    "ThirdPartyStoragePartitioning",
)
# No sandbox, because tests may run as root; the rest keeps the browser from calling out by itself.
CHROMIUM_ARGUMENTS = (
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-quic",
    "--disable-gpu",
    f"--disable-features={','.join(FEATURES_OFF)}",
)


def find_chromium() -> str | None:
    """Path of a Chromium to drive: TESTS_CHROMIUM if set, else the first found on PATH or in its usual place."""
    if chosen := os.environ.get("TESTS_CHROMIUM"):
        return chosen if Path(chosen).is_file() else None
    on_path = (shutil.which(name) for name in CHROMIUM_NAMES)
    return next(filter(None, on_path), None) or next((p for p in CHROMIUM_PLACES if Path(p).is_file()), None)


def find_postgres(program: str) -> str | None:
    """Path of a PostgreSQL server program, on PATH or in the newest of Debian's version folders."""
    versions = Path("/usr/lib/postgresql").glob(f"*/bin/{program}")
    newest = sorted(versions, key=lambda path: int(path.parts[-3].split(".")[0]), reverse=True)
    return str(newest[0]) if newest else shutil.which(program)


def go_without(what: str, *, flag: str) -> None:
    """Skip the test, or fail it where the environment says that this must not be skipped."""
    if os.environ.get(flag, "") not in ("", "0"):
        pytest.fail(f"{what}, and {flag} forbids to skip", pytrace=False)
    pytest.skip(what)
