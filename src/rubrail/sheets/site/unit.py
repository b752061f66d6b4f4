"""The page of one unit: photos and drawings, what it carries, what it costs, every fact with its unit, its address."""

from __future__ import annotations

from rubrail.sheets.listing import Said
from rubrail.sheets.sentences_amounts import feet, listed
from rubrail.sheets.sentences_words import begin
from rubrail.sheets.site.frame import PageHead, address_of, page
from rubrail.sheets.site.jsonld import vehicle
from rubrail.sheets.site.lists import pounds, who_made
from rubrail.sheets.site.markup import Markup, el
from rubrail.sheets.site.shown import STANDING_WORDS, SiteDetail, SitePhoto, SiteUnit, SiteYard

GOVERNS = "The ratings on the certification label govern; look at it before you load."
DRAWINGS = {
    "side": ("from its side, to scale", "Drawn to scale from its own measures."),
    "plan": ("from above, to scale", "From above, to the same scale."),
    "carries": (
        "what it carries by where the load balances",
        "The most it carries, by where the load balances along the deck. Your truck may carry less.",
    ),
}
"""Drawings of the page in order: what each shows, and what is said below it."""
NARROW = "(max-width: 40rem)"
SHOWN_AT = "(max-width: 40rem) 92vw, (max-width: 80rem) 60vw, 48rem"
"""About how wide a photo is shown, by the width of the window."""


def unit_html(u: SiteUnit, detail: SiteDetail, *, yard: SiteYard) -> bytes:
    """The page of one unit.

    Parameters
    ----------
    u : SiteUnit
    detail : SiteDetail
    yard : SiteYard
    """
    photo = u.photos[0] if u.photos else None
    head = PageHead(
        path=u.path,
        title=f"{u.title}, {u.stock_number}",
        says=detail.headline or detail.says,
        image=_shared(photo, u) if photo else None,
        data=vehicle(u, detail, yard=yard),
    )
    line = ", ".join(filter(None, (u.stock_number, who_made(u), u.condition, STANDING_WORDS[u.standing])))
    return page(
        head,
        el(
            "article",
            el("div", el("p", begin(line), class_="quiet small"), el("h1", u.title),
               el("p", detail.says, class_="lead"), _big(u)),
            _photos(u),
            *(_drawing(u, name, detail) for name in DRAWINGS),
            _text(detail),
            _facts(detail),
            _unknown(detail),
            _permalink(u, yard),
            class_="unit",
        ),
        yard=yard,
    )  # fmt: skip


def _shared(photo: SitePhoto, u: SiteUnit) -> tuple[str, int, int, str]:
    """The picture a messenger shows with the address: the middle one of its sizes."""
    sizes = photo.sizes()
    width, height = sizes[min(1, len(sizes) - 1)]
    return photo.path(width), width, height, photo.says or u.title


def _big(u: SiteUnit) -> Markup:
    rows = [
        ("Carries, at its best place", pounds(u.payload_lb)),
        ("Label GVWR", pounds(u.gvwr_lb)),
        ("Empty", pounds(u.empty_lb)),
        ("Deck", feet(u.deck_length_in) if u.deck_length_in is not None else "not known"),
    ]
    price, _, more = u.price_says.partition(" before tax")
    shown = u.price_usd is not None
    cells = [el("div", el("dt", name), el("dd", value)) for name, value in rows]
    cells.append(
        el("div", el("dt", "Price before tax" if shown else "Price"),
           el("dd", begin(price), el("span", more.removeprefix(", "), class_="small") if more else None))
    )  # fmt: skip
    return el("dl", *cells, class_="big")


def _photos(u: SiteUnit) -> Markup | None:
    if not u.photos:
        return None
    return el(
        "section",
        el("h2", "Photos"),
        el("div", *(_photo(p, u, n) for n, p in enumerate(u.photos)), class_="photos"),
        class_="section",
    )


def _photo(photo: SitePhoto, u: SiteUnit, n: int) -> Markup:
    sizes = photo.sizes()
    width, height = sizes[min(1, len(sizes) - 1)]
    image = el(
        "img",
        src=f"../{photo.path(width)}",
        srcset=", ".join(f"../{photo.path(w)} {w}w" for w, _ in sizes),
        sizes=SHOWN_AT,
        width=width,
        height=height,
        alt=photo.says or f"{u.title}, photo {n + 1}",
        loading="lazy" if n else None,
        decoding="async",
    )
    whole = el("a", image, href=f"../{photo.path(sizes[-1][0])}")
    caption = el("figcaption", photo.says) if photo.says else None
    return el("figure", whole, caption, class_="first" if n == 0 else None)


def _drawing(u: SiteUnit, name: str, detail: SiteDetail) -> Markup | None:
    if name not in detail.drawings:
        return None
    shows, says = DRAWINGS[name]
    wide, narrow = f"../drawing/{u.file}-{name}.svg", f"../drawing/{u.file}-{name}-narrow.svg"
    width, height = size_of(detail.drawings[name])
    image = el("img", src=wide, alt=f"{u.title} {shows}", width=width, height=height, loading="lazy")
    both = f"{name}-narrow" in detail.drawings
    low, high = size_of(detail.drawings[f"{name}-narrow"]) if both else (width, height)
    source = el("source", media=NARROW, srcset=narrow, width=low, height=high) if both else None
    return el("figure", el("picture", source, image), el("figcaption", says), class_="drawing")


def size_of(svg: str) -> tuple[int, int]:
    """Width and height of a drawing. [px]"""
    head = svg[: svg.index(">")]
    return tuple(round(float(head.split(f' {name}="', 1)[1].split('"', 1)[0])) for name in ("width", "height"))


def _text(detail: SiteDetail) -> Markup | None:
    if not detail.paragraphs and not detail.ending:
        return None
    plain = [line for part in detail.paragraphs if not part.heading for line in _lines(part)]
    headed = [el("section", el("h3", p.heading), *_lines(p)) for p in detail.paragraphs if p.heading]
    return el(
        "section",
        el("h2", detail.headline or "What it is"),
        el("div", *plain, class_="text") if plain else None,
        el("div", *headed, class_="parts") if headed else None,
        el("p", detail.ending, class_="lead") if detail.ending else None,
        class_="section",
    )


def _lines(part: Said) -> list[Markup]:
    if part.listed:
        return [el("ul", *(el("li", line) for line in part.lines))]
    return [el("p", line) for line in part.lines]


def _facts(detail: SiteDetail) -> Markup | None:
    if not detail.groups:
        return None
    groups = [
        el(
            "section",
            el("h3", heading),
            el("dl", *(el("div", el("dt", name), el("dd", begin(text))) for name, text in rows)),
        )
        for heading, rows in detail.groups
    ]
    note = "A word in brackets says where a figure comes from. " + GOVERNS
    return el(
        "details",
        el("summary", "Every figure by itself, and where it comes from"),
        el("div", *groups, class_="facts"),
        el("p", note, class_="small quiet"),
        open=not detail.paragraphs,
    )


def _unknown(detail: SiteDetail) -> Markup | None:
    if not detail.unknown:
        return None
    missing = [w[:1].lower() + w[1:] if w[1:2].islower() else w for w in detail.unknown]
    return el("p", f"Not measured yet: {listed(missing)}. Ask the yard to measure before you decide.")


def _permalink(u: SiteUnit, yard: SiteYard) -> Markup:
    url = address_of(yard, u.path)
    code = el("img", src=f"../code/{u.file}.svg", alt=f"QR code: {url}", width=120, height=120, loading="lazy")
    return el(
        "section",
        code,
        el("p", "The address of this page: ", el("a", url, href=url, class_="permalink")),
        class_="code",
        aria_label="Address of this page",
    )
