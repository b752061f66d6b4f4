"""Read the desk's pages the way a browser does."""

from __future__ import annotations

from html.parser import HTMLParser

from django.http import FileResponse
from django.test import Client


class GuardedForm(HTMLParser):
    """What a browser would send from the one form marked ``data-guard``."""

    def __init__(self) -> None:
        super().__init__()
        self.sent: dict[str, str] = {}
        self._inside = False
        self._select = ""
        self._area = ""

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in attributes}
        if tag == "form" and "data-guard" in has:
            self._inside = True
        if not self._inside:
            return
        name = has.get("name", "")
        if tag == "select":
            self._select = name
        elif tag == "option" and (self._select not in self.sent or "selected" in has):
            self.sent[self._select] = has.get("value", "")
        elif tag == "textarea":
            self._area = name
            self.sent[name] = ""
        elif (
            tag == "input"
            and name
            and (has.get("type") not in ("checkbox", "radio", "submit", "file") or "checked" in has)
        ):
            self.sent[name] = has.get("value", "on" if has.get("type") in ("checkbox", "radio") else "")

    def handle_startendtag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attributes)

    def handle_data(self, data: str) -> None:
        if self._area:
            self.sent[self._area] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self.sent[self._area] = self.sent[self._area].removeprefix("\r\n").removeprefix("\n")
            self._area = ""
        elif tag == "form":
            self._inside = False


def form_in(text: str) -> dict[str, str]:
    """Fields and values of the guarded form in a page's text."""
    parser = GuardedForm()
    parser.feed(text)
    parser.close()
    assert parser.sent, "the page has no guarded form"
    return parser.sent


def page_form(client: Client, url: str) -> dict[str, str]:
    """Fields and values of the guarded form of a page."""
    return form_in(client.get(url).content.decode())


def content_of(answer: FileResponse) -> bytes:
    """What a streamed file holds; closes the file, and leaves the test's database open, unlike ``close``."""
    content = b"".join(answer.streaming_content)
    for close in answer._resource_closers:
        close()
    return content
