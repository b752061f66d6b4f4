"""A running desk to drive: people of every role, a few units, a browser that complains of every fault."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from browser.going import follow
from desk.server import Running, run, running

PASSWORD = "correct horse on a trailer"
ROLES = {"owner": "Ruth Calder", "sales": "Sal Brandt", "hand": "Hank Ito", "viewer": "Vi Moreau"}
WIDTHS = {"desk": (1280, 900), "phone": (360, 740)}

SEED = f"""
from importlib.resources import files
from rubrail.desk.demo_yard import load_folder
from rubrail.desk.models import User
for role, name in {ROLES!r}.items():
    User.objects.create_user(username=role, name=name, role=role, password={PASSWORD!r})
load_folder(files("rubrail.demo") / "yard", by=User.objects.get(username="owner"))
"""
SIGN_IN = """
import json
from django.conf import settings
from django.test import Client
from rubrail.desk.models import User
sessions = {}
for user in User.objects.all():
    client = Client()
    client.force_login(user)
    sessions[user.username] = client.cookies[settings.SESSION_COOKIE_NAME].value
print(json.dumps([settings.SESSION_COOKIE_NAME, sessions]))
"""

# Generous, because two browsers and two desks may share two processors; nothing waits longer than it must.
expect.set_options(timeout=30_000)


@pytest.fixture(scope="session")
def seeded(tmp_path_factory: pytest.TempPathFactory, chromium_path: str) -> tuple[Path, str, dict[str, str]]:
    """Data of a desk that nobody runs yet, the name of its session cookie, and a session of each role."""
    home: Path = tmp_path_factory.mktemp("desk") / "yard"
    name, sessions = json.loads(run(home, SEED + SIGN_IN).splitlines()[-1])
    return home, name, sessions


@pytest.fixture(scope="session")
def desk(seeded: tuple[Path, str, dict[str, str]]) -> Iterator[Running]:
    """One desk for all tests of a run; tests that change something change something of their own."""
    with running(seeded[0]) as it:
        yield it


@pytest.fixture(scope="session")
def debug_desk(tmp_path_factory: pytest.TempPathFactory, chromium_path: str) -> Iterator[Running]:
    """A desk with its design page."""
    with running(tmp_path_factory.mktemp("debug") / "yard", RUBRAIL_DEBUG="yes") as it:
        yield it


@pytest.fixture
def faults() -> list[str]:
    """Console errors and warnings, script errors and failed requests of every page a test opens."""
    return []


@pytest.fixture
def open_page(browser: Browser, faults: list[str]) -> Iterator[Callable[..., Page]]:
    """Open a page in a context of its own; at the end no page may have complained.

    Keywords: ``size`` (``desk`` or ``phone``), ``scheme`` (``light`` or ``dark``), ``saved`` (cookies).
    """
    contexts: list[BrowserContext] = []

    def opened(*, size: str = "desk", scheme: str = "light", **more: Any) -> Page:
        width, height = WIDTHS[size]
        phone = {"has_touch": True, "is_mobile": True, "device_scale_factor": 2} if size == "phone" else {}
        context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, **phone, **more
        )
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda m: faults.append(m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: faults.append(str(error)))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert faults == []


@pytest.fixture(scope="session")
def cookies(desk: Running, seeded: tuple[Path, str, dict[str, str]]) -> dict[str, Any]:
    """Signed-in state of each role. Signing in through the page is tried by tests of its own."""
    _, name, sessions = seeded
    host = urlsplit(desk.url).hostname
    rest = {"domain": host, "path": "/", "expires": -1, "httpOnly": True, "secure": False, "sameSite": "Lax"}
    return {role: {"cookies": [{"name": name, "value": key, **rest}], "origins": []} for role, key in sessions.items()}


@pytest.fixture
def as_role(open_page: Callable[..., Page], cookies: dict[str, Any]) -> Callable[..., Page]:
    """A page of somebody signed in."""

    def opened(role: str, **more: Any) -> Page:
        return open_page(storage_state=cookies[role], **more)

    return opened


def sign_in(page: Page, desk: Running, name: str, password: str = PASSWORD) -> None:
    """Through the page, as a person does it."""
    page.goto(f"{desk.url}sign-in/")
    page.get_by_label("Sign-in name").fill(name)
    page.get_by_label("Password").fill(password)
    follow(page.get_by_role("button", name="Sign in"))
