"""What somebody typed and public pages show by itself: held against the unit at the moment it is shown."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, timedelta

import pytest
from django.test import RequestFactory
from django.urls import reverse

from desk.public import HERE, get, show, text_of_page, with_photo
from rubrail.desk import clock
from rubrail.desk.models import Listing, Photo, Unit
from rubrail.desk.public.site import site_on
from rubrail.desk.public.units import shown
from rubrail.desk.stock import change_unit, trailer_of
from rubrail.desk.views.labels import label_facts
from rubrail.things.door import read_thing
from rubrail.things.folder import plain_listing
from rubrail.things.trailer import Trailer
from sheets.site.sites import elements, parsed, text_of

pytestmark = pytest.mark.django_db
SHOUTED = {"title": "14K tilt, hauls anything", "color": "red, no CDL needed", "caption": "It tows anything"}


def test_what_claims_too_much_since_it_was_listed_goes_out_nowhere(as_role):
    """A title, a color and a caption changed after the unit was put on the pages: facts stand in their place."""
    unit, other = show("SH-191", "SH-141")
    photo = with_photo(unit)
    Photo.objects.filter(pk=photo.pk).update(says=SHOUTED["caption"])
    changed = trailer_of(unit).model_copy(update={n: SHOUTED[n] for n in ("title", "color")})
    change_unit(unit, changed, by=None, seen_version=unit.version)
    made = "Gooseneck deck-over trailer, 25 ft"
    paths = ("trailer/SH-191.html", "", "units.csv", "units.json", "arrivals.atom", "drawing/SH-191-small.svg")
    for path in (*paths, *(f"drawing/SH-191-{kind}.svg" for kind in ("side", "plan", "carries"))):
        text = get(path).content.decode()
        for shouted in SHOUTED.values():
            assert shouted not in text, (path, shouted)
        assert made in text, path
    page = parsed(get("trailer/SH-191.html").content)
    assert json.loads(next(elements(page, "script")).text)["name"] == made
    assert "What it carries" in text_of(page), "the text itself makes no claim, and stands"
    seller = as_role("sales")
    listing = text_of_page(seller.get(reverse("listing", args=["SH-191"])))
    assert f"they read {made} in place of the title" in listing
    for where in ("the unit's title", "the unit's color", "what a photo is said to show"):
        assert f"In {where}:" in listing
    assert "color and title refused" in text_of_page(seller.get(reverse("listings"))).lower()
    work = text_of_page(seller.get(reverse("listings") + "?which=work"))
    assert "SH-191" in work
    today = text_of_page(seller.get(reverse("today")))
    assert "Buyers do not read the color and title of SH-191" in today
    assert f"They read “{made}” instead" in today
    (label,) = label_facts(RequestFactory().get("/"), list(shown().filter(pk=unit.pk)), lead="public")
    assert label.title == made
    assert other


def test_a_title_that_comes_true_again_is_shown_again():
    """What a title says is held against the unit as it is: weighed lighter, what it carries is no longer too much."""
    (unit,) = show("SH-191")
    says = f"Low deck, carries {unit.payload_lb + 200:,.0f} lb"
    trailer = trailer_of(unit).model_copy(update={"title": says})
    change_unit(unit, trailer, by=None, seen_version=unit.version)
    assert says not in get("trailer/SH-191.html").content.decode()
    unit.refresh_from_db()
    table = trailer.model_dump(mode="json", by_alias=True, exclude_none=True)
    table["weights"]["empty_lb"] = {"value": unit.empty_weight_lb - 300, "basis": "weighed"}
    table["ratings"]["gvwr_lb"] = unit.gvwr_lb
    change_unit(unit, read_thing(Trailer, table), by=None, seen_version=unit.version)
    unit.refresh_from_db()
    shown_now = unit.payload_lb >= float(says.split()[3].replace(",", ""))
    assert (says in get("trailer/SH-191.html").content.decode()) == shown_now
    assert shown_now


def test_the_sitemap_says_when_what_is_shown_changed(monkeypatch):
    """A photo that came later, and the day on which a price began to be shown with its day, change a page too."""
    day = date(2026, 11, 28)
    (unit,) = show("SH-191", checked=day)
    old = datetime(2026, 11, 1, 12, tzinfo=UTC)
    Unit.objects.filter(pk=unit.pk).update(updated=old)
    Listing.objects.filter(unit=unit).update(updated=old)

    def last() -> datetime:
        return site_on(clock.today(), address=HERE).units()[0].updated

    monkeypatch.setattr(clock, "today", lambda: day)
    assert last() == old
    photo = with_photo(unit)
    Photo.objects.filter(pk=photo.pk).update(added=datetime(2026, 11, 5, 8, tzinfo=UTC))
    assert last() == datetime(2026, 11, 5, 8, tzinfo=UTC)
    stale = plain_listing().stale_days
    monkeypatch.setattr(clock, "today", lambda: day + timedelta(days=stale + 3))
    assert clock.local(last()).date() == day + timedelta(days=stale + 1)
