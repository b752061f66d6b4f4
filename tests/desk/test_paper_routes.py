"""Sheets from the desk: the engine's numbers, the placement of the address, both papers, and nobody's cost."""

import pytest
from django.urls import reverse
from django.utils.html import escape

from answers.yard import yard
from desk.rig_pages import store_haul, store_unit
from rubrail.answers.rig import Placement
from rubrail.answers.weigh import weigh
from rubrail.desk.as_printed import title_printed
from rubrail.desk.books import keep_book
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import User
from rubrail.desk.stock import change_unit, trailer_of
from rubrail.quantity.money import show_money
from rubrail.sheets.sentences_amounts import amount
from sheets.papers import needs_poppler, told, words

pytestmark = [needs_poppler, pytest.mark.django_db]
UNIT_SHEETS = ("unit-window", "unit-spec")
RIG_SHEETS = ("rig-plan", "rig-card", "rig-thresholds")


def pdf_of(page) -> bytes:
    assert page.status_code == 200
    assert page["Content-Type"] == "application/pdf"
    assert page["Content-Disposition"].startswith("inline; filename=")
    return page.content


@pytest.mark.parametrize("name", UNIT_SHEETS)
def test_unit_sheets_on_both_papers(name, people, as_role):
    unit = store_unit("SH-212")
    url = reverse(name, args=[unit.stock_number])
    letter, a4 = (pdf_of(as_role("viewer").get(url, {"on": on})) for on in ("letter", "a4"))
    assert words(letter)[0][0] == pytest.approx((612, 792), abs=1)
    assert words(a4)[0][0] == pytest.approx((595.28, 841.89), abs=1)
    assert amount(unit.gvwr_lb, "lb") in told(letter)
    assert words(pdf_of(as_role("viewer").get(url, {"on": "papyrus"})))[0][0][0] == pytest.approx(612, abs=1)


def test_measures_follow_the_person(people, as_role):
    unit = store_unit("SH-212")
    User.objects.filter(role="viewer").update(measures="metric")
    text = told(pdf_of(as_role("viewer").get(reverse("unit-window", args=[unit.stock_number]))))
    assert amount(unit.gvwr_lb, "lb", metric=True) in text
    assert amount(unit.gvwr_lb, "lb") not in text


@pytest.mark.parametrize("name", RIG_SHEETS)
def test_rig_sheets_place_the_cargo_as_the_address_does(name, people, as_role):
    haul, unit = store_haul(3), store_unit("SH-133")
    url = reverse(name, args=[haul.pk, unit.stock_number])
    best = told(pdf_of(as_role("viewer").get(url)))
    page = as_role("viewer").get(reverse("rig", args=[haul.pk, unit.stock_number]))
    keys = page.context["address"]
    it, trailer = thing_of(haul), trailer_of(unit)
    facing = keys.split("w=")[1].split("&")[0]
    front = float(trailer.deck.front_from_coupler_in)
    moved = keys.replace(keys.split("x=")[1].split("&")[0], f"{front + 12:.3f}")
    there = told(pdf_of(as_role("viewer").get(f"{url}?{moved}")))
    found = weigh(haul=it, trailer=trailer, placement=Placement((front + 12.0,), (facing,)), remedies=False)
    if name != "rig-thresholds":
        coupler = next(x.value for x in found.loads if x.name == "coupler_load_lb")
        assert amount(coupler, "lb") in there
        assert amount(coupler, "lb") not in best


def test_a_plan_is_tied_down_with_the_yards_kit(people, as_role):
    haul, unit = store_haul(3), store_unit("SH-133")
    url = reverse("rig-plan", args=[haul.pk, unit.stock_number])
    assert "weakest link" not in told(pdf_of(as_role("viewer").get(url)))
    keep_book(yard().kit, by=None)
    assert "weakest link" in told(pdf_of(as_role("viewer").get(url)))


def test_the_tax_worksheet_needs_rates_and_the_right_to_quote(people, as_role):
    haul, unit = store_haul(4), store_unit("SH-212")
    for url in (reverse("unit-tax", args=[unit.stock_number]), reverse("rig-tax", args=[haul.pk, unit.stock_number])):
        assert as_role("viewer").get(url).status_code == 403
        assert as_role("sales").get(url).status_code == 302
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    text = told(pdf_of(as_role("sales").get(reverse("unit-tax", args=[unit.stock_number]))))
    assert show_money(unit.price_usd) in text
    assert "26,000 lb" in text


def test_the_comparison_sheet_takes_two_to_four(people, as_role):
    haul = store_haul(4)
    units = [store_unit(s).stock_number for s in ("SH-194", "SH-191", "SH-212", "SH-203", "SH-202")]
    url = reverse("haul-compare", args=[haul.pk])
    text = told(pdf_of(as_role("viewer").get(url, {"unit": units[:4]})))
    assert all(u in text for u in units[:4])
    for wrong in (units[:1], units, ["SH-194", "nothing"]):
        assert as_role("viewer").get(url, {"unit": wrong}).status_code == 302


def test_no_sheet_shows_a_cost_even_to_the_owner(people, as_role):
    haul, unit = store_haul(4), store_unit("SH-212")
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    keep_book(yard().kit, by=None)
    assert unit.cost_usd is not None
    urls = [reverse(n, args=[unit.stock_number]) for n in (*UNIT_SHEETS, "unit-tax")]
    urls += [reverse(n, args=[haul.pk, unit.stock_number]) for n in (*RIG_SHEETS, "rig-tax")]
    for url in urls:
        text = told(pdf_of(as_role("owner").get(url)))
        assert show_money(unit.cost_usd) not in text
        assert show_money(unit.price_usd - unit.cost_usd) not in text


def test_pages_link_to_their_sheets_on_both_papers(people, as_role):
    haul, unit = store_haul(4), store_unit("SH-212")
    store_unit("SH-194")
    page = as_role("viewer").get(reverse("unit", args=[unit.stock_number])).content.decode()
    for name in UNIT_SHEETS:
        assert f'href="{reverse(name, args=[unit.stock_number])}"' in page
        assert f'href="{reverse(name, args=[unit.stock_number])}?on=a4"' in page
    assert reverse("unit-tax", args=[unit.stock_number]) not in page
    assert (
        reverse("unit-tax", args=[unit.stock_number]) in as_role("sales").get(unit.get_absolute_url()).content.decode()
    )
    rig = as_role("viewer").get(reverse("rig", args=[haul.pk, unit.stock_number]))
    for name in RIG_SHEETS:
        url = reverse(name, args=[haul.pk, unit.stock_number])
        assert escape(f"{url}?{rig.context['address']}&on=a4") in rig.content.decode()
    side = as_role("viewer").get(reverse("compare", args=[haul.pk]), {"unit": ["SH-194", "SH-212"]}).content.decode()
    assert f"{reverse('haul-compare', args=[haul.pk])}?unit=SH-194&amp;unit=SH-212" in side


def test_what_is_not_there_is_not_found(people, as_role):
    haul = store_haul(4)
    for url in (reverse("unit-window", args=["SH-999"]), reverse("rig-plan", args=[haul.pk, "SH-999"]),
                reverse("haul-compare", args=[haul.pk + 1])):  # fmt: skip
        assert as_role("viewer").get(url).status_code == 404


def test_words_that_claim_too_much_are_printed_nowhere_and_whoever_prints_is_told(people, as_role):
    """The same rule as on the public pages: a title made of facts, and why on the page the paper is asked for."""
    haul, unit, other = store_haul(3), store_unit("SH-133"), store_unit("SH-132")
    changed = trailer_of(unit).model_copy(update={"title": "Hauls anything", "color": "red, no CDL needed"})
    change_unit(unit, changed, by=None, seen_version=unit.version)
    seller, rig, one = as_role("sales"), [haul.pk, "SH-133"], ["SH-133"]
    compared = f"?unit=SH-133&unit={other.stock_number}"
    made = title_printed(unit)
    assert made.startswith("Bumper-pull")
    sheets = [
        (reverse("unit-window", args=one), ""), (reverse("walk-paper", args=one), ""),
        (reverse("rig-card", args=rig), ""), (reverse("haul-compare", args=[haul.pk]), compared),
        (reverse("check-blank", args=["SH-133", "inspection"]), ""), (reverse("labels-paper"), "?unit=SH-133"),
        (reverse("hand-over-blank", args=one), ""),
    ]  # fmt: skip
    for url, asks in sheets:
        text = told(pdf_of(seller.get(url + asks)))
        assert "anything" not in text.lower(), url
        assert "CDL needed" not in text, url
        # A comparison names units by their stock numbers alone.
        assert ("compare" in url) or made.split(",")[0] in text, url
    pages = [
        reverse("unit", args=one), reverse("walk", args=one), reverse("walk-cue", args=one), reverse("rig", args=rig),
        reverse("compare", args=[haul.pk]) + compared, reverse("labels") + "?unit=SH-133",
    ]  # fmt: skip
    for url in pages:
        page = seller.get(url).content.decode()
        assert "Papers of SH-133 leave out the unit&#x27;s title and the unit&#x27;s color" in page, url
        assert f"“{made}”" in page, url
    captions = seller.get(reverse("walk-captions", args=one)).content.decode()
    assert "anything" not in captions.lower()
    assert "leave out" not in as_role("viewer").get(reverse("unit", args=[other.stock_number])).content.decode()
