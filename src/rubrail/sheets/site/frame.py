"""The frame of every public page: head with what search engines and messengers read, whose yard, how to reach it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.site.contact import contact_markup
from rubrail.sheets.site.look import CSS_PATH, ICON_PATH
from rubrail.sheets.site.markup import Markup, el, together
from rubrail.sheets.site.shown import SiteYard

MENU = (("index.html", "All trailers"), ("numbers.html", "About the numbers"))
FEEDS = (("units.csv", "CSV"), ("units.json", "JSON"), ("arrivals.atom", "New arrivals (Atom)"))


@dataclass(frozen=True, slots=True)
class PageHead:
    """What a page says of itself: its file within the site, its name, and a sentence to go with its address.

    image : path of a picture within the site, with its width and height; hidden : whether it is kept out of searches
    anywhere : whether it is shown at any depth of the site, so that its links must be whole; data : a data block
    for machines
    """

    path: str
    title: str
    says: str
    image: tuple[str, int, int, str] | None = None
    hidden: bool = False
    anywhere: bool = False
    data: Markup | None = None


def page(head: PageHead, *body: Markup, yard: SiteYard) -> bytes:
    """A whole page.

    Parameters
    ----------
    head : PageHead
    body : Markup
        What stands in its main part, its one ``h1`` included.
    yard : SiteYard
    """
    up = yard.address if head.anywhere else "../" * head.path.count("/")
    text = together(
        [
            Markup("<!doctype html>\n"),
            el(
                "html",
                Markup("\n"),
                el("head", together(_head(head, yard, up), joint="\n"), Markup("\n")),
                Markup("\n"),
                el("body", *_frame(head, body, yard, up)),
                Markup("\n"),
                lang="en",
            ),
            Markup("\n"),
        ]
    )
    return text.encode("utf-8")


def _head(head: PageHead, yard: SiteYard, up: str) -> Iterable[Markup]:
    url = address_of(yard, head.path)
    title = f"{head.title} – {yard.name}" if yard.name and head.title != yard.name else head.title
    yield Markup("\n") + el("meta", charset="utf-8")
    yield el("meta", name="viewport", content="width=device-width, initial-scale=1")
    yield el("meta", name="color-scheme", content="light dark")
    yield el("title", title)
    yield el("meta", name="description", content=head.says)
    if head.hidden:
        yield el("meta", name="robots", content="noindex")
    else:
        yield el("link", rel="canonical", href=url)
        yield from _open_graph(head, yard, url)
    yield el("link", rel="alternate", type="application/atom+xml", title="New arrivals", href=f"{up}arrivals.atom")
    yield el("link", rel="icon", type="image/svg+xml", href=up + ICON_PATH)
    yield el("link", rel="stylesheet", href=up + CSS_PATH)
    if head.data is not None:
        yield head.data


def _open_graph(head: PageHead, yard: SiteYard, url: str) -> Iterable[Markup]:
    # The protocol has no type of its own for goods; a page of none counts as a website (read at ogp.me, in a copy).
    said = {"og:title": head.title, "og:type": "website", "og:url": url, "og:description": head.says}
    said |= {"og:site_name": yard.name} if yard.name else {}
    if head.image is not None:
        path, width, height, says = head.image
        said |= {"og:image": address_of(yard, path), "og:image:width": str(width), "og:image:height": str(height)}
        said |= {"og:image:alt": says} if says else {}
    for name, content in said.items():
        yield el("meta", property=name, content=content)


def _frame(head: PageHead, body: Iterable[Markup], yard: SiteYard, up: str) -> Iterable[Markup]:
    menu = [el("a", word, href=up + path, aria_current="page" if path == head.path else None) for path, word in MENU]
    yield Markup("\n") + el("a", "To the page", class_="skip", href="#main")
    yield el(
        "header",
        el("div", el("a", yard.name or "The yard", class_="name", href=f"{up}index.html"),
           el("nav", *menu, aria_label="Pages"), class_="wrap top"),
    )  # fmt: skip
    yield Markup("\n") + el("main", el("div", *body, class_="wrap"), id="main") + Markup("\n")
    contact = [el("p", contact_markup(line)) for line in yard.contact]
    feeds = together([el("a", word, href=up + path) for path, word in FEEDS], joint=", ")
    yield el(
        "footer",
        el(
            "div",
            el("section", el("h2", "Reach the yard"), *contact, aria_label="Reach the yard") if contact else None,
            el("p", SAFETY),
            el("p", "The list as data: ", feeds, "."),
            class_="wrap",
        ),
    ) + Markup("\n")


def address_of(yard: SiteYard, path: str) -> str:
    """Where a file of the site is found; the first page is found without its file's name."""
    return yard.address + ("" if path == "index.html" else path)
