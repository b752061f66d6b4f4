"""Every public page is valid, stands by itself, links to what is there, and says what the engine says."""

from __future__ import annotations

import dataclasses
import re
from datetime import date
from posixpath import dirname, join, normpath

import pytest

from rubrail.quantity.money import show_money
from rubrail.sheets.listing_price import price_shown
from rubrail.sheets.sentences_amounts import amount
from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.site.frame import PageHead, page
from rubrail.sheets.site.lists import A_PAGE, ORDERS, list_html, list_pages
from rubrail.sheets.site.look import CSS_PATH, stylesheet
from rubrail.sheets.site.made import priced
from rubrail.sheets.site.markup import Markup, data_block, el, together
from rubrail.sheets.site.shown import SitePhoto, SiteUnit, file_name, stock_number_of
from rubrail.sheets.site.unit import size_of
from rubrail.sheets.site.whole import type_of
from rubrail.sheets.site.words import missing_html
from sheets.site.sites import (
    DAY,
    MAKERS,
    YARD,
    detail_of,
    elements,
    files_of,
    parsed,
    photo_of,
    text_of,
    trailers,
    units,
    whole,
)

MOST_BYTES = 60_000
PAGES = [p for p in whole() if p.endswith(".html")]
LANDMARKS = ("header", "nav", "main", "footer")
PHOTOS = (SitePhoto("a1", 2000, 1500, 'The "neck" & <ramp>'), SitePhoto("b2", 700, 900), SitePhoto("c3", 300, 200))


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_valid_small_and_needs_no_script(path):
    html = whole()[path]
    tree = parsed(html)
    assert len(html) < MOST_BYTES
    assert len(list(elements(tree, "h1"))) == 1
    for tag in LANDMARKS:
        assert list(elements(tree, tag)), tag
    assert len(list(elements(tree, "main"))) == 1
    kinds = {s.get("type") for s in elements(tree, "script")}
    assert kinds <= {"application/ld+json"}
    assert not list(elements(tree, "style"))
    ids = [e.get("id") for e in tree.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    for image in elements(tree, "img"):
        assert image.get("alt")
        assert int(image.get("width")) > 0
        assert int(image.get("height")) > 0
    assert SAFETY in text_of(tree)
    assert not re.search(r"\bnan\b|\binf\b", text_of(tree))
    assert all(not name.startswith("on") and name != "style" for e in tree.iter() for name in e.attrib)


@pytest.mark.parametrize("path", PAGES)
def test_everything_a_page_names_is_there(path):
    tree = parsed(whole()[path])
    named = [e.get(name) for e in tree.iter() for name in ("href", "src") if e.get(name)]
    named += [part.split()[0] for e in tree.iter() for part in (e.get("srcset") or "").split(",") if part.strip()]
    assert named
    for target in named:
        if target.startswith("#"):
            assert target[1:] in {e.get("id") for e in tree.iter()}
        elif target.startswith(YARD.address):
            assert (target.removeprefix(YARD.address) or "index.html") in whole()
        else:
            assert not re.match(r"[a-z]+:|/", target), target
            assert normpath(join(dirname(path), target)) in whole(), target


def test_every_unit_is_found_from_the_first_page_by_links_alone():
    seen, todo = set(), ["index.html"]
    while todo:
        path = todo.pop()
        if path in seen or not path.endswith(".html"):
            continue
        seen.add(path)
        links = [a.get("href") for a in elements(parsed(whole()[path]), "a")]
        todo += [normpath(join(dirname(path), t)) for t in links if not t.startswith(("#", "https:"))]
    assert {u.path for u in units()} <= seen
    assert {p for p in PAGES if p != "404.html"} == seen


def test_a_units_page_says_what_the_engine_says():
    for stock in ("SH-191", "SH-141", "SH-212", "SH-101"):
        trailer = trailers()[stock]
        text = text_of(parsed(whole()[f"trailer/{stock}.html"]))
        assert amount(float(trailer.ratings.gvwr_lb), "lb") in text
        (u,) = units(stock)
        assert ("not known" if u.payload_lb is None else amount(u.payload_lb, "lb")) in text
        assert show_money(trailer.price_usd) in text
        assert detail_of(stock).says in text


def test_what_is_not_for_anybody_is_nowhere():
    everything = b"\n".join(whole().values()).decode("utf-8", "replace")
    assert any(t.cost_usd for t in trailers().values())
    for trailer in trailers().values():
        if trailer.cost_usd is not None:
            assert show_money(trailer.cost_usd) not in whole()[f"trailer/{trailer.id}.html"].decode()
        if trailer.vin:
            assert trailer.vin not in everything, "the whole VIN goes out only where the yard says so"
        if trailer.location:
            assert trailer.location not in everything


@pytest.mark.parametrize("order", ORDERS, ids=lambda o: o.name)
def test_orders_put_what_is_not_known_last(order):
    rows = [u for it in list_pages(units()) if it.way.order is order and not it.way.facet for u in it.units]
    assert sorted(u.stock_number for u in rows) == sorted(u.stock_number for u in units())
    known = [order.by(u) for u in rows if order.by(u) is not None]
    assert known == sorted(known, reverse=order.most_first)
    assert all(order.by(u) is not None for u in rows[: len(known)])


def test_none_is_called_newest_where_no_day_is_told():
    dated, undated = (
        units("SH-191", "SH-141"),
        [dataclasses.replace(u, arrived=None) for u in units("SH-191", "SH-141")],
    )
    for shown, says in ((dated, "newest first"), (undated, "by stock number, those to come last")):
        (index,) = (p for p in list_pages(shown) if p.path == "index.html")
        text = text_of(parsed(list_html(index, units=shown, yard=YARD)))
        assert f"2 trailers, {says}." in text
    assert [u.stock_number for u in index.units] == ["SH-141", "SH-191"]


def test_long_lists_are_told_a_page_at_a_time():
    many = tuple(dataclasses.replace(units()[0], stock_number=f"N-{n:03d}") for n in range(2 * A_PAGE + 1))
    pages = [it for it in list_pages(many) if it.way.stem == "index"]
    assert [len(it.units) for it in pages] == [A_PAGE, A_PAGE, 1]
    assert [it.path for it in pages] == ["index.html", "index-page-2.html", "index-page-3.html"]
    made = files_of(many)["index-page-3.html"].make()
    assert len(made) < MOST_BYTES
    assert "49 trailers" in text_of(parsed(made))


def test_an_older_price_stands_with_its_day_in_the_list_too():
    u = units("SH-191")[0]
    old = price_shown(price_usd=u.price_usd, checked=date(2026, 10, 1), today=DAY)
    asked = price_shown(price_usd=u.price_usd, checked=None, today=DAY)
    for price, says in ((old, "$20,900 as of October 1, 2026"), (asked, "Price ask")):
        some = (dataclasses.replace(u, **priced(price)),)
        assert says in text_of(parsed(files_of(some)["index.html"].make()))


def test_a_yard_without_units_still_has_its_pages():
    files = files_of(())
    assert "None is here now" in text_of(parsed(files["index.html"].make()))
    for path in ("numbers.html", "404.html", "by-price.html"):
        parsed(files[path].make())


def hostile() -> SiteUnit:
    nasty = "</script><script>alert(1)</script> \"&'<b>\u2028\x00\x1b"
    return dataclasses.replace(
        units("SH-191")[0], title=nasty, maker=nasty, model=nasty, color=nasty, photos=PHOTOS, stock_number="CON"
    )


def test_text_that_would_break_out_stays_text():
    u = hostile()
    makers = dataclasses.replace(MAKERS, detail=lambda u: dataclasses.replace(detail_of("SH-191"), headline=u.title))
    for path, file in files_of((u,), makers=makers).items():
        if not path.endswith(".html"):
            continue
        html = file.make()
        tree = parsed(html)
        assert b"<b>" not in html
        assert all(s.get("type") == "application/ld+json" for s in elements(tree, "script"))
        if path.startswith("trailer/"):
            assert text_of(tree.find(".//{http://www.w3.org/1999/xhtml}h1")).startswith("</script><script>alert(1)")


def test_photos_come_in_sizes_with_their_measures():
    u = dataclasses.replace(units("SH-191")[0], photos=PHOTOS)
    files = files_of((u,))
    tree = parsed(files[u.path].make())
    images = [i for i in elements(tree, "img") if "photo/" in i.get("src")]
    assert [i.get("alt") for i in images] == ['The "neck" & <ramp>', f"{u.title}, photo 2", f"{u.title}, photo 3"]
    assert images[0].get("srcset") == "../photo/a1-480.jpg 480w, ../photo/a1-960.jpg 960w, ../photo/a1-2000.jpg 2000w"
    assert (images[0].get("width"), images[0].get("height")) == ("960", "720")
    assert images[0].get("loading") is None
    assert [i.get("loading") for i in images[1:]] == ["lazy", "lazy"]
    assert [w for w, _ in PHOTOS[1].sizes()] == [480, 700]
    assert [w for w, _ in PHOTOS[2].sizes()] == [300]
    for photo in PHOTOS:
        for width, _ in photo.sizes():
            assert files[photo.path(width)].make() == photo_of(photo, width)
    shared = {m.get("property"): m.get("content") for m in elements(tree, "meta") if m.get("property")}
    assert shared["og:image"] == f"{YARD.address}photo/a1-960.jpg"
    assert shared["og:image:width"] == "960"


def test_messengers_and_searches_are_told_what_a_page_is():
    for path in ("index.html", "trailer/SH-191.html", "numbers.html", "gooseneck-by-price.html"):
        tree = parsed(whole()[path])
        shared = {m.get("property"): m.get("content") for m in elements(tree, "meta") if m.get("property")}
        canonical = next(x.get("href") for x in elements(tree, "link") if x.get("rel") == "canonical")
        assert shared["og:url"] == canonical == YARD.address + ("" if path == "index.html" else path)
        # og:title, og:type and og:url are among the four the protocol asks for; the fourth is a photo, where one is.
        assert {"og:title", "og:type", "og:url", "og:description"} <= set(shared)
        says = next(m.get("content") for m in elements(tree, "meta") if m.get("name") == "description")
        assert says == shared["og:description"]
    hidden = [m.get("content") for m in elements(parsed(whole()["404.html"]), "meta") if m.get("name") == "robots"]
    assert hidden == ["noindex"]


@pytest.mark.parametrize("path", ["x", "trailer/x", "a/b/c/d"])
def test_a_page_that_is_not_there_leads_back(path):
    tree = parsed(missing_html(yard=YARD, path=path))
    links = {a.get("href") for a in elements(tree, "a")}
    assert "../" * path.count("/") + "index.html" in links


def test_the_page_for_what_is_gone_says_so():
    assert "SH-1 is no longer for sale" in text_of(parsed(missing_html(yard=YARD, path="trailer/x", gone="SH-1")))


@pytest.mark.parametrize(
    ("stock", "name"),
    [
        ("SH-191", "SH-191"),
        ("CON", "CON_"),
        ("con_", "con__"),
        ("nul.x", "nul_.x"),
        ("COM1", "COM1_"),
        ("COM10", "COM10"),
        ("CONE", "CONE"),
        ("a..b", "a..b"),
    ],
)
def test_file_names_stand_on_every_system(stock, name):
    # CON, NUL, COM1 and the like name devices on one widespread system, whatever follows a dot; remembered.
    assert file_name(stock) == name
    assert stock_number_of(name) == stock


def test_drawings_are_files_that_stand_by_themselves():
    for name in ("small", "side", "side-narrow", "plan", "plan-narrow", "carries", "carries-narrow"):
        svg = whole()[f"drawing/SH-191-{name}.svg"].decode()
        assert svg.startswith("<svg ")
        assert 'xmlns="http://www.w3.org/2000/svg"' in svg
        assert "<style" not in svg
        assert min(size_of(svg)) > 20
    tree = parsed(whole()["trailer/SH-191.html"])
    sources = list(elements(tree, "source"))
    assert len(sources) == 3
    for source in sources:
        svg = whole()[normpath(join("trailer", source.get("srcset")))].decode()
        assert size_of(svg) == (int(source.get("width")), int(source.get("height")))


def test_the_stylesheet_has_both_palettes_and_a_name_of_its_own():
    assert whole()[CSS_PATH] == stylesheet()
    text = stylesheet().decode()
    assert text.count("light-dark(") > 15
    assert "@import" not in text
    assert "url(" not in text
    used = set(re.findall(r"var\((--[a-z-]+)", text))
    assert used <= set(re.findall(r"^\s*(--[a-z-]+):", text, re.M))


def test_every_class_a_page_uses_is_styled():
    styled = set(re.findall(r"\.([a-z][\w-]*)", stylesheet().decode()))
    used = {c for p in PAGES for e in parsed(whole()[p]).iter() for c in (e.get("class") or "").split()}
    assert used - styled == {"units"}


@pytest.mark.parametrize("tag", ["script", "style", "iframe", "form"])
def test_markup_writes_nothing_that_runs(tag):
    with pytest.raises(ValueError, match=f"no <{tag}> element"):
        el(tag)
    with pytest.raises(ValueError, match="no onclick attribute"):
        el("p", onclick="x")
    with pytest.raises(ValueError, match="no style attribute"):
        el("p", style="x")


def test_markup_escapes_text_and_keeps_what_is_html():
    assert el("p", "a < b & \"c\" 'd'", Markup("<b>x</b>"), None, ["e", el("br")]) == (
        "<p>a &lt; b &amp; &quot;c&quot; &#x27;d&#x27;<b>x</b>e<br></p>"
    )
    assert Markup("<b>") + "<i>" == "<b>&lt;i&gt;"
    assert together("a\x00\x0bb￾") == "ab"
    with pytest.raises(ValueError, match="without <"):
        data_block("application/ld+json", '{"a": "</script>"}')
    with pytest.raises(ValueError, match="holds JSON"):
        data_block("text/javascript", "1")


def test_a_page_without_a_yards_name():
    bare = dataclasses.replace(YARD, name="", contact=())
    tree = parsed(page(PageHead("index.html", "Trailers", "All."), el("h1", "Trailers"), yard=bare))
    assert next(elements(tree, "title")).text == "Trailers"
    assert "Reach the yard" not in text_of(tree)


def test_kinds_of_files():
    assert type_of("trailer/a.html") == "text/html; charset=utf-8"
    assert type_of("units.csv") == "text/csv; charset=utf-8"
    assert type_of("x") == "application/octet-stream"
