"""What every answer carries, and what the desk's pages may not contain."""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from desk.pages import content_of
from desk.test_access import TABLE, names, where  # noqa: F401

PUBLIC = {"public", "public-file"}
"""Pages of another kind, for anyone to keep and pass on: ``test_public`` looks at them."""
PAGES = sorted(name for name, row in TABLE.items() if not row.post and name != "photo" and name not in PUBLIC)


def directives(text: str) -> dict[str, str]:
    return dict(part.strip().split(" ", 1) for part in text.split(";"))


def check_headers(answer) -> None:
    policy = directives(answer.headers["Content-Security-Policy"])
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert policy["form-action"] == "'self'"
    assert "unsafe" not in answer.headers["Content-Security-Policy"]
    assert answer.headers["X-Frame-Options"] == "DENY"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Referrer-Policy"] == "same-origin"
    assert "no-store" in answer.headers["Cache-Control"]


@pytest.mark.parametrize("name", PAGES)
def test_every_page(name: str, where, as_role):  # noqa: F811
    answer = as_role("owner").get(where(name))
    check_headers(answer)
    if answer.headers.get("Content-Type") in ("application/pdf", "application/zip"):
        return
    text = answer.content.decode()
    assert not re.search(r"<script(?![^>]*\bsrc=)", text), "a script stands in the page"
    assert not re.search(r"<style\b|\sstyle=", text), "a style stands in the page"
    assert not re.search(r"\son[a-z]+=", text), "an event handler stands in the page"
    assert not re.search(r"(?:src|href)=\"(?:https?:)?//", text), "something comes from elsewhere"


def test_every_address_is_looked_at():
    assert {*PAGES, *PUBLIC, "photo", *(n for n, row in TABLE.items() if row.post)} == names()


def test_refusals_and_errors_carry_them_too(as_role, client: Client):
    check_headers(as_role("viewer").get(reverse("people")))
    check_headers(client.get("/no/such/page/"))
    check_headers(client.post(reverse("sign-in"), headers={"host": "elsewhere.example"}))


def test_unknown_host_is_refused(client: Client):
    answer = client.get(reverse("sign-in"), headers={"host": "elsewhere.example"})
    assert answer.status_code == 400
    assert "That request cannot be read" in answer.content.decode()


def test_failure_page_needs_no_database(client: Client, monkeypatch):
    from rubrail.desk.models import User

    def broken(*args, **kwargs):
        raise RuntimeError("planted")

    monkeypatch.setattr(User.objects, "exists", broken)
    client.raise_request_exception = False
    answer = client.get(reverse("sign-in"))
    assert answer.status_code == 500
    assert "The desk failed on this page" in answer.content.decode()
    assert "planted" not in answer.content.decode()


def test_forms_from_elsewhere_are_refused(people):
    client = Client(enforce_csrf_checks=True)
    answer = client.post(reverse("sign-in"), {"username": "owner", "password": "x"})
    assert answer.status_code == 403
    assert "Nothing was saved" in answer.content.decode()


def test_cookies(people, client: Client):
    from desk.conftest import PASSWORD

    client.get(reverse("sign-in"))
    client.post(reverse("sign-in"), {"username": "owner", "password": PASSWORD})
    for name in (settings.SESSION_COOKIE_NAME, settings.CSRF_COOKIE_NAME):
        cookie = client.cookies[name]
        assert cookie["httponly"]
        assert cookie["samesite"] == "Lax"
        assert not cookie["secure"], "over plain http a secure cookie never comes back"


@pytest.mark.parametrize("header", ["Content-Security-Policy", "X-Content-Type-Options"])
def test_static_files_too(header: str, db: None, client: Client):
    answer = client.get("/static/desk/tokens.css")
    assert answer.status_code == 200
    assert header in answer.headers
    assert b"light-dark" in content_of(answer)


def test_type_comes_from_its_package(db: None, client: Client):
    answer = client.get("/static/desk/type/source-sans-3.ttf")
    assert answer.status_code == 200
    assert content_of(answer)[:4] == b"\x00\x01\x00\x00", "a TrueType file begins so"
