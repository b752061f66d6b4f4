"""Every address for every role. An address that is not in the table fails; so does one that is no longer there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from uuid import uuid4

import pytest
from django.core.files.base import ContentFile
from django.test import Client
from django.urls import reverse

from answers.yard import yard
from desk.conftest import make_people, store_haul, store_unit
from desk.pages import content_of
from rubrail.answers.build import build_of
from rubrail.answers.hand_over_lines import hand_over_list
from rubrail.desk import clock
from rubrail.desk.access import ANYONE
from rubrail.desk.books import keep_book
from rubrail.desk.calendar_links import give_address
from rubrail.desk.checking import lists
from rubrail.desk.declared import every_view_says_who_may_open_it, patterns
from rubrail.desk.models import Checklist, FollowUp, Haul, Machine, Photo, Ticket, Truck, Unit, User
from rubrail.desk.receiving.begin import begin
from rubrail.desk.sales import orders
from rubrail.desk.sales import quotes as sales
from rubrail.desk.stock import trailer_of

ALL = frozenset({"owner", "sales", "hand", "viewer"})
EDIT = frozenset({"owner", "sales", "hand"})
SELL = frozenset({"owner", "sales"})
OWNER = frozenset({"owner"})
NOBODY: frozenset[str] = frozenset()
REFUSED = 403


@dataclass(frozen=True)
class Row:
    """Who gets past the door. ``open`` to the signed-out too; ``post`` where only POST is answered."""

    roles: frozenset[str]
    post: bool = False
    open: bool = False


TABLE = {
    "start": Row(ALL),
    "today": Row(ALL),
    "today-unknowns": Row(EDIT),
    "today-put-off": Row(ALL, post=True),
    "follow-ups": Row(ALL),
    "follow-up": Row(ALL),
    "follow-up-new": Row(EDIT),
    "follow-ups-sold": Row(EDIT),
    "follow-up-step": Row(EDIT, post=True),
    "calendar-link": Row(ALL),
    "calendar": Row(ALL, open=True),
    "sign-in": Row(ALL, open=True),
    "enter-demo": Row(NOBODY, post=True, open=True),
    "sign-out": Row(ALL, post=True, open=True),
    "first-run": Row(ALL, open=True),
    "yard": Row(ALL),
    "unit": Row(ALL),
    "unit-window": Row(ALL),
    "unit-spec": Row(ALL),
    "unit-tax": Row(SELL),
    "walk": Row(ALL),
    "walk-cue": Row(ALL),
    "walk-captions": Row(ALL),
    "walk-paper": Row(ALL),
    "unit-new": Row(EDIT),
    "unit-edit": Row(EDIT),
    "unit-step": Row(SELL),
    "listing": Row(ALL),
    "listing-change": Row(SELL, post=True),
    "listings": Row(ALL),
    "listing-wording": Row(SELL),
    "listing-wording-look": Row(SELL, post=True),
    "photos-add": Row(EDIT, post=True),
    "photo": Row(ALL),
    "photo-change": Row(EDIT, post=True),
    "hauls": Row(ALL),
    "haul": Row(ALL),
    "rig": Row(ALL),
    "rig-check": Row(ALL, post=True),
    "rig-place": Row(SELL, post=True),
    "rig-why": Row(ALL),
    "rig-remedies": Row(ALL),
    "rig-turn": Row(ALL),
    "rig-plan": Row(ALL),
    "rig-card": Row(ALL),
    "rig-thresholds": Row(ALL),
    "rig-tax": Row(SELL),
    "haul-compare": Row(ALL),
    "climb": Row(ALL),
    "tie-down": Row(ALL),
    "board": Row(ALL),
    "quotes": Row(SELL),
    "quote-new": Row(SELL, post=True),
    "quote": Row(SELL),
    "quote-step": Row(SELL, post=True),
    "quote-paper": Row(SELL),
    "builds": Row(SELL),
    "build": Row(SELL),
    "build-cheapest": Row(SELL),
    "build-order": Row(SELL, post=True),
    "receive": Row(ALL),
    "receive-new": Row(EDIT),
    "receipt": Row(ALL),
    "receipt-head": Row(EDIT, post=True),
    "receipt-claim": Row(EDIT, post=True),
    "receipt-paper": Row(ALL),
    "receipt-vin": Row(EDIT),
    "receipt-vin-check": Row(EDIT, post=True),
    "receipt-fields": Row(EDIT),
    "receipt-damage": Row(EDIT),
    "receipt-damage-change": Row(EDIT, post=True),
    "receipt-parts": Row(EDIT),
    "receipt-ratings": Row(ALL),
    "receipt-outcome": Row(EDIT),
    "tickets": Row(ALL),
    "ticket": Row(ALL),
    "ticket-new": Row(EDIT),
    "ticket-edit": Row(EDIT),
    "ticket-aside": Row(EDIT, post=True),
    "ticket-photos": Row(EDIT, post=True),
    "ticket-apply": Row(EDIT),
    "orders": Row(SELL),
    "order": Row(SELL),
    "order-step": Row(SELL, post=True),
    "order-paper": Row(SELL),
    "order-csv": Row(SELL),
    "books-csv": Row(SELL),
    "books-json": Row(SELL),
    "buyer": Row(ALL, open=True),
    "buyer-paper": Row(ALL, open=True),
    "public": Row(ALL, open=True),
    "public-file": Row(ALL, open=True),
    "public-pages": Row(SELL),
    "public-pages-write": Row(SELL, post=True),
    "public-pages-zip": Row(SELL),
    "labels": Row(ALL),
    "labels-paper": Row(ALL),
    "compare": Row(ALL),
    "haul-new": Row(SELL),
    "haul-edit": Row(SELL),
    "haul-aside": Row(SELL, post=True),
    "haul-keep": Row(SELL, post=True),
    "haul-truck": Row(SELL),
    "haul-piece": Row(SELL),
    "trucks": Row(ALL),
    "truck": Row(ALL),
    "truck-new": Row(SELL),
    "truck-edit": Row(SELL),
    "truck-aside": Row(SELL, post=True),
    "machines": Row(ALL),
    "machine": Row(ALL),
    "machine-new": Row(SELL),
    "machine-edit": Row(SELL),
    "machine-aside": Row(SELL, post=True),
    "yard-export": Row(ALL),
    "yard-import": Row(EDIT),
    "yard-import-columns": Row(EDIT),
    "yard-import-preview": Row(EDIT),
    "yard-import-drop": Row(EDIT, post=True),
    "changes": Row(ALL),
    "people": Row(OWNER),
    "person": Row(OWNER),
    "person-new": Row(OWNER),
    "person-open": Row(OWNER, post=True),
    "person-password": Row(OWNER, post=True),
    "account": Row(ALL),
    "password": Row(ALL),
    "sending": Row(ALL, open=True),
    "checks": Row(ALL),
    "check-begin": Row(EDIT, post=True),
    "check": Row(ALL),
    "check-line": Row(EDIT, post=True),
    "check-finish": Row(EDIT, post=True),
    "check-step": Row(EDIT, post=True),
    "check-paper": Row(ALL),
    "check-blank": Row(ALL),
    "check-file": Row(EDIT, post=True),
    "hand-overs": Row(ALL),
    "hand-over-begin": Row(EDIT, post=True),
    "hand-over": Row(ALL),
    "hand-over-weighed": Row(ALL),
    "hand-over-finish": Row(SELL, post=True),
    "hand-over-paper": Row(ALL),
    "hand-over-blank": Row(ALL),
    "design": Row(NOBODY, open=True),
}
HIDDEN = {"enter-demo", "design"}
"""Answer 404 to everyone outside the demo and debugging."""


@dataclass(frozen=True)
class World:
    """What the rows of this file are about. ``address`` : of each row."""

    address: Callable[[str], str]
    people: dict[str, User]
    unit: Unit


@pytest.fixture(scope="module")
def world(kept_db: None) -> World:
    """Things that exist, made once for all rows: no test keeps what it changes."""
    unit, people = store_unit(), make_people()
    return World(addresses(unit, store_haul(), people), people, unit)


@pytest.fixture
def address(world: World, db: None) -> Callable[[str], str]:
    """Address of each row."""
    return world.address


@pytest.fixture
def people(world: World, db: None) -> dict[str, User]:
    """One person of each role."""
    return world.people


@pytest.fixture
def unit(world: World, db: None) -> Unit:
    """One stored unit."""
    return world.unit


@pytest.fixture
def where(unit: Unit, haul: Haul, people: dict[str, User]) -> Callable[[str], str]:
    """Address of each row, with things that a test may change: for other files."""
    return addresses(unit, haul, people)


def addresses(unit: Unit, haul: Haul, people: dict[str, User]) -> Callable[[str], str]:
    """Address of each row, with things that exist."""
    photo = Photo(unit=unit, width=8, height=6)
    photo.full.save("a.jpg", ContentFile(_jpeg()), save=False)
    photo.small.save("b.jpg", ContentFile(_jpeg()), save=True)
    truck = Truck.objects.create(name="A truck", spec={"id": "a"})
    machine = Machine.objects.create(name="A machine", spec={"id": "m"})
    keep_book(yard().rates["sedge-hollow-2026"], by=None)
    quote = sales.begin(unit=unit, haul=None, buyer="A buyer", by=people["sales"])
    sales.offer(quote, by=people["sales"], seen_version=quote.version)
    secret = sales.give_link(quote, by=people["sales"])
    book = keep_book(yard().catalogs["tarnbeck-2027"], by=None)
    order = orders.place(book=book, build=build_of(yard().catalogs["tarnbeck-2027"], "LE-20"), by=people["sales"])
    follow_up = FollowUp.objects.create(unit=unit, due=date(2026, 12, 1), planned=date(2026, 12, 1), title="A call")
    receipt = begin(order.unit, day=clock.today(), by=people["hand"])
    mark = receipt.damages.create(station="other", words="scratched")
    ticket = Ticket.objects.create(
        unit=unit, day=clock.today(), spec={"id": "t", "scale": [{"id": "a", "kind": "platform"}]}
    )
    checklist = lists.begin(unit, sort="inspection", by=people["hand"])
    handing = Checklist.objects.create(
        unit=unit, sort="handover", lines=[x.table() for x in hand_over_list(trailer_of(unit))]
    )
    arguments = {
        **{f"hand-over{page}": [handing.pk] for page in ("", "-weighed", "-finish", "-paper")},
        "hand-over-blank": [unit.stock_number],
        **{f"check{page}": [checklist.pk] for page in ("", "-line", "-finish", "-step", "-paper")},
        "check-blank": [unit.stock_number, "round"],
        "check-file": [checklist.pk, "unit"],
        **{f"ticket{page}": [ticket.pk] for page in ("", "-edit", "-aside", "-photos")},
        "ticket-apply": [ticket.pk, "trailer"],
        **{name: [receipt.number] for name in TABLE if name.startswith("receipt")},
        "receipt-vin-check": [receipt.number, "label"],
        "receipt-damage-change": [receipt.number, mark.pk],
        "follow-up": [follow_up.pk],
        "follow-up-step": [follow_up.pk],
        "calendar": [give_address(people["hand"])],
        "build": [book.ident, "LE-20"],
        "build-cheapest": [book.ident, "LE-20"],
        "build-order": [book.ident, "LE-20"],
        "order": [order.number],
        "order-step": [order.number],
        "order-paper": [order.number],
        "order-csv": [order.number],
        "books-csv": ["quotes"],
        "books-json": ["sales"],
        "quote": [quote.number],
        "quote-step": [quote.number],
        "quote-paper": [quote.number, 1],
        "buyer": [secret],
        "buyer-paper": [secret],
        "public-file": ["numbers.html"],
        "unit": [unit.stock_number],
        "unit-edit": [unit.stock_number],
        "unit-step": [unit.stock_number, "sell"],
        "listing": [unit.stock_number],
        "listing-change": [unit.stock_number],
        "photos-add": [unit.stock_number],
        "photo": [photo.pk, "small"],
        "photo-change": [photo.pk],
        "yard-import-columns": [uuid4()],
        "yard-import-preview": [uuid4()],
        "yard-import-drop": [uuid4()],
        "haul": [haul.pk],
        "rig": [haul.pk, unit.stock_number],
        "rig-check": [haul.pk, unit.stock_number],
        "rig-place": [haul.pk, unit.stock_number],
        "rig-why": [haul.pk, unit.stock_number, "axle-group"],
        "rig-remedies": [haul.pk, unit.stock_number],
        "rig-turn": [haul.pk, unit.stock_number],
        "rig-plan": [haul.pk, unit.stock_number],
        "rig-card": [haul.pk, unit.stock_number],
        "rig-thresholds": [haul.pk, unit.stock_number],
        "rig-tax": [haul.pk, unit.stock_number],
        "haul-compare": [haul.pk],
        "unit-window": [unit.stock_number],
        "unit-spec": [unit.stock_number],
        "unit-tax": [unit.stock_number],
        **{name: [unit.stock_number] for name in TABLE if name.startswith("walk")},
        "climb": [haul.pk, unit.stock_number],
        "tie-down": [haul.pk, unit.stock_number],
        "board": [haul.pk],
        "compare": [haul.pk],
        "haul-edit": [haul.pk],
        **{f"haul-{page}": [haul.pk] for page in ("aside", "keep", "truck")},
        "haul-piece": [haul.pk, 1],
        **{f"truck{page}": [truck.pk] for page in ("", "-edit", "-aside")},
        **{f"machine{page}": [machine.pk] for page in ("", "-edit", "-aside")},
        "person": [people["viewer"].pk],
        "person-open": [people["viewer"].pk],
        "person-password": [people["viewer"].pk],
    }
    return lambda name: reverse(name, args=arguments.get(name, []))


def _jpeg() -> bytes:
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (8, 6), "gray").save(out, "JPEG")
    return out.getvalue()


def names() -> set[str]:
    return {pattern.name for _, pattern in patterns()}


def test_table_has_every_address_and_no_other():
    assert set(TABLE) == names()


def test_every_view_declares_its_access():
    assert every_view_says_who_may_open_it(None) == []


def test_a_view_without_access_is_an_error(settings):
    settings.ROOT_URLCONF = "desk.urls_undeclared"
    found = every_view_says_who_may_open_it(None)
    assert [e.id for e in found] == ["desk.E001"]
    assert "/bare/" in found[0].msg


@pytest.mark.parametrize("name", sorted(TABLE))
def test_declared_openness_is_that_of_the_table(name: str):
    access = {p.name: p.callback.access for _, p in patterns()}[name]
    assert (access == ANYONE) == TABLE[name].open


BEGINS = {"image/jpeg": b"\xff\xd8", "application/zip": b"PK"}


def _ask(client: Client, url: str, method: str):
    answer = getattr(client, method)(url)
    if answer.headers.get("Content-Type") == "application/pdf":
        assert answer.content[:5] == b"%PDF-"
    if answer.streaming:
        assert content_of(answer)[:2] == BEGINS[answer.headers["Content-Type"]]
    return answer


@pytest.mark.parametrize("role", [*sorted(ALL), "nobody"])
@pytest.mark.parametrize("name", sorted(TABLE))
def test_access(name: str, role: str, address, as_role):
    row, client, url = TABLE[name], as_role(role), address(name)
    methods = ("post",) if row.post else ("get", "post")
    for method in methods:
        answer = _ask(client, url, method)
        if name in HIDDEN:
            assert answer.status_code in (404, 405), (method, answer.status_code)
        elif role == "nobody" and not row.open:
            assert answer.status_code == 302
            assert answer["Location"].startswith(reverse("sign-in"))
            assert not answer.content
        elif role == "nobody" or role in row.roles:
            assert answer.status_code in (200, 302, 405, 409), (method, answer.status_code)
            # A page that wants POST only says 405 after the door, never before it.
            assert answer.status_code != 405 or method == "post"
        else:
            assert answer.status_code == REFUSED, (method, answer.status_code)
            if method == "get" or row.post:
                assert "Your role" in answer.content.decode()


@pytest.mark.parametrize("name", sorted(n for n, row in TABLE.items() if row.post))
def test_what_changes_things_refuses_to_be_read(name: str, address, as_role):
    assert as_role("owner").get(address(name)).status_code == 405


def test_signed_out_page_says_nothing_of_the_yard(unit: Unit, people, client: Client):
    text = client.get(reverse("sign-in")).content.decode()
    assert unit.stock_number not in text
    for person in people.values():
        assert person.name not in text
    for place in ("yard", "changes", "people", "quotes", "orders"):
        assert reverse(place) not in text


def test_cost_and_margin_only_for_those_who_may(unit: Unit, as_role):
    for role in ALL:
        for name in ("unit", "unit-edit"):
            answer = as_role(role).get(reverse(name, args=[unit.stock_number]))
            shows = "7,800" in answer.content.decode()
            assert shows == (role in ("owner", "sales")), (role, name)


def test_margin_shown_is_price_less_cost(unit: Unit, as_role):
    # 9,450 - 7,800 = 1,650, by hand
    assert "$1,650" in as_role("sales").get(unit.get_absolute_url()).content.decode()
    assert "$1,650" not in as_role("hand").get(unit.get_absolute_url()).content.decode()


def test_closed_account_is_out_at_once(people, as_role):
    client = as_role("sales")
    assert client.get(reverse("yard")).status_code == 200
    User.objects.filter(pk=people["sales"].pk).update(is_active=False)
    assert client.get(reverse("yard")).status_code == 302


def test_first_password_must_be_changed_before_anything_else(people, as_role):
    User.objects.filter(pk=people["sales"].pk).update(must_change_password=True)
    client = as_role("sales")
    for name in ("yard", "changes", "account", "unit-new"):
        assert client.get(reverse(name)).headers["Location"] == reverse("password"), name
    page = client.get(reverse("password"))
    assert page.status_code == 200
    assert reverse("yard") not in page.content.decode()


def test_after_sign_in_one_is_where_one_was_going(people, client: Client):
    asked = client.get(reverse("changes") + "?kind=unit")
    assert asked.headers["Location"] == "/sign-in/?next=%2Fchanges%2F%3Fkind%3Dunit"
    from desk.conftest import PASSWORD

    form = {"username": "sales", "password": PASSWORD, "next": "/changes/?kind=unit"}
    assert client.post(reverse("sign-in"), form).headers["Location"] == "/changes/?kind=unit"


@pytest.mark.parametrize("going", ["https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)"])
def test_sign_in_sends_nobody_to_another_site(going: str, people, client: Client):
    from desk.conftest import PASSWORD

    form = {"username": "sales", "password": PASSWORD, "next": going}
    assert client.post(reverse("sign-in"), form).headers["Location"] == reverse("today")


def test_fragment_request_of_the_signed_out_moves_the_browser(people, client: Client):
    answer = client.get(reverse("yard"), headers={"HX-Request": "true", "HX-Current-URL": "http://testserver/yard/"})
    assert answer.status_code == 204
    assert answer.headers["HX-Redirect"] == "/sign-in/?next=%2Fyard%2F"
