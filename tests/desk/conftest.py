"""People of every role, signed-in clients, and units to work on."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

import pytest
from django.db import transaction
from django.test import Client

from rubrail.desk.hauls import stored
from rubrail.desk.models import Haul, Unit, User
from rubrail.desk.permissions import ROLES
from rubrail.desk.stock import add_unit
from rubrail.things.door import read_thing
from rubrail.things.haul import Haul as HaulThing
from rubrail.things.trailer import Trailer

PASSWORD = "correct horse on a trailer"
NAMES = {"owner": "Ruth Calder", "sales": "Sal Brandt", "hand": "Hank Ito", "viewer": "Vi Moreau"}

TABLE: dict[str, Any] = {
    "title": "Low equipment, 20 ft",
    "maker": "Invented Works",
    "coupling": {"kind": "ball", "ball_size_in": {"value": 2.3125, "basis": "maker"}, "gross_rating_lb": 15_000},
    "ratings": {"gvwr_lb": 14_000},
    "weights": {"empty_lb": {"value": 3_350, "basis": "weighed"}},
    "axle": [
        {"gawr_lb": 7_000, "from_coupler_in": 190, "brakes": "electric", "tires": {"count": 2}},
        {"gawr_lb": 7_000, "from_coupler_in": 224, "brakes": "electric", "tires": {"count": 2}},
    ],
    "deck": {
        "kind": "between-fenders",
        "flat_length_in": 240,
        "tail_kind": "none",
        "width_in": 82,
        "height_in": {"value": 24.25, "basis": "measured", "plus_minus": 0.75},
    },
    "price_usd": "9450",
    "cost_usd": "7800",
    "color": "black",
    "location": "row C, 2",
    "arrived": "2026-03-02",
}


@pytest.fixture(scope="module")
def kept_db(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    """A database for what one module makes once: each test's own changes are undone, these go with the module."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture
def people(db: None) -> dict[str, User]:
    """One person of each role."""
    return make_people()


def make_people() -> dict[str, User]:
    """One person of each role, stored."""
    return {
        role: User.objects.create_user(username=role, name=NAMES[role], role=role, password=PASSWORD) for role in ROLES
    }


@pytest.fixture
def as_role(people: dict[str, User]) -> Callable[[str], Client]:
    """A client signed in as the person of a role; ``"nobody"`` is signed out."""
    return partial(signed_in, people)


def signed_in(people: dict[str, User], role: str) -> Client:
    """A client signed in as the person of a role; ``"nobody"`` is signed out."""
    client = Client()
    if role != "nobody":
        client.force_login(people[role])
    return client


@pytest.fixture
def make_unit(db: None) -> Callable[..., Unit]:
    """A stored unit like ``TABLE``; keywords replace top-level fields."""
    return store_unit


def store_unit(stock_number: str = "T-1", *, by: User | None = None, **changes: Any) -> Unit:
    """Store a unit like ``TABLE``; keywords replace top-level fields."""
    table = {**TABLE, "id": stock_number, **changes}
    return add_unit(read_thing(Trailer, {k: v for k, v in table.items() if v is not None}), by=by)


@pytest.fixture
def unit(make_unit: Callable[..., Unit]) -> Unit:
    """One stored unit."""
    return make_unit()


HAUL: dict[str, Any] = {
    "id": "h-1",
    "truck": {
        "id": "dually",
        "title": "One-ton, dual rear wheels",
        "ratings": {"gvwr_lb": 14_000, "gcwr_lb": 37_000, "front_gawr_lb": 6_000, "rear_gawr_lb": 9_750},
        "weights": {"front_axle_lb": 4_800, "rear_axle_lb": 3_600, "basis": "weighed"},
    },
    "cargo": [
        {
            "piece": {
                "id": "loader",
                "title": "Track loader",
                "weight_lb": {"value": 10_200, "basis": "maker"},
                "length_in": 146,
                "contact": {"kind": "tracks", "start_from_front_in": 60, "length_in": 66},
            }
        }
    ],
    "use": "own-business",
    "interstate": False,
    "limits": {"id": "home", "title": "Home state", "width_in": 102},
}


@pytest.fixture
def make_haul(db: None) -> Callable[..., Haul]:
    """A stored haul like ``HAUL``; keywords replace top-level fields of its file."""
    return store_haul


def store_haul(buyer: str = "Dale Prewitt", title: str = "Loader to the next job", **changes: Any) -> Haul:
    """Store a haul like ``HAUL``; keywords replace top-level fields of its file."""
    table = {k: v for k, v in {**HAUL, "title": title, **changes}.items() if v is not None}
    return Haul.objects.create(buyer=buyer, title=title, spec=stored(read_thing(HaulThing, table)))


@pytest.fixture
def haul(make_haul: Callable[..., Haul]) -> Haul:
    """One stored haul."""
    return make_haul()
