"""The owner's page of people: adding, roles, closing, first passwords, and the last owner."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.urls import reverse

from rubrail.desk import people as accounts
from rubrail.desk.forms import seen
from rubrail.desk.forms.people import texts_of
from rubrail.desk.models import Change, User


def edit(client: Client, who: User, *, saw: str | None = None, **changes: str):
    token = saw or seen.pack(version=who.version, values=texts_of(who))
    form = {**texts_of(who), **changes, "seen": token}
    return client.post(reverse("person", args=[who.pk]), form)


def test_adding_somebody_shows_a_password_once_that_works_once(people, as_role):
    form = {"name": "Nell Arden", "username": "nell", "role": "hand"}
    answer = as_role("owner").post(reverse("person-new"), form)
    password = re.search(r"data-secret>([^<]+)<", answer.content.decode())[1]
    assert re.fullmatch(r"(?:[a-z]{6}-){2}[a-z]{6}", password)
    nell = Client()
    answer = nell.post(reverse("sign-in"), {"username": "nell", "password": password})
    assert nell.get(reverse("yard")).headers["Location"] == reverse("password")
    own = {"old": password, "password": "her very own words", "again": "her very own words"}
    assert nell.post(reverse("password"), own).headers["Location"] == reverse("today")
    assert nell.get(reverse("yard")).status_code == 200
    said = [c.sentence for c in Change.objects.order_by("pk")]
    assert said == ["Ruth Calder added person Nell Arden.", "Nell Arden chose a new password."]


def test_a_password_is_nowhere_in_the_trail(people):
    who, password = accounts.add_person(username="nell", name="Nell Arden", role="sales", by=people["owner"])
    again = accounts.give_first_password(who, by=people["owner"])
    assert again != password
    for change in Change.objects.all():
        assert password not in str(vars(change))
        assert again not in str(vars(change))
        assert who.password not in str(vars(change))


@pytest.mark.parametrize("name", ["SALES", "sales"])
def test_a_sign_in_name_belongs_to_one_person_however_capitalized(people, as_role, name: str):
    answer = as_role("owner").post(reverse("person-new"), {"name": "X", "username": name, "role": "hand"})
    assert "Somebody has this sign-in name already" in answer.content.decode() or (
        "already exists" in answer.content.decode()
    )
    assert User.objects.count() == len(people)


def test_role_and_name_changes_are_told(people, as_role):
    answer = edit(as_role("owner"), people["hand"], role="sales", name="Hank Itoh")
    assert answer.headers["Location"] == reverse("people")
    assert [c.sentence for c in Change.objects.order_by("pk")] == [
        "Ruth Calder changed the name of Hank Itoh from Hank Ito to Hank Itoh.",
        "Ruth Calder changed the role of Hank Itoh from yard hand to sales.",
    ]


def test_nothing_changed_tells_nothing(people, as_role):
    edit(as_role("owner"), people["hand"])
    assert not Change.objects.exists()


def test_the_last_owner_stays(people, as_role):
    answer = edit(as_role("owner"), people["owner"], role="sales")
    assert "the only owner with an open account" in answer.content.decode()
    client = as_role("owner")
    client.post(reverse("person-open", args=[people["owner"].pk]), {"open": "no"})
    people["owner"].refresh_from_db()
    assert (people["owner"].role, people["owner"].is_active) == ("owner", True)


def test_one_of_two_owners_may_go(people, as_role):
    User.objects.filter(pk=people["sales"].pk).update(role="owner")
    as_role("owner").post(reverse("person-open", args=[people["sales"].pk]), {"open": "no"})
    assert not User.objects.get(pk=people["sales"].pk).is_active


def test_closing_and_opening_an_account(people, as_role):
    url = reverse("person-open", args=[people["hand"].pk])
    for is_open in ("no", "no", "yes"):
        as_role("owner").post(url, {"open": is_open})
    assert [c.sentence for c in Change.objects.order_by("pk")] == [
        "Ruth Calder closed the account of Hank Ito.",
        "Ruth Calder opened the account of Hank Ito again.",
    ]


def test_a_new_first_password_ends_the_sessions(people, as_role):
    hand = as_role("hand")
    assert hand.get(reverse("yard")).status_code == 200
    as_role("owner").post(reverse("person-password", args=[people["hand"].pk]))
    assert hand.get(reverse("yard")).headers["Location"].startswith(reverse("sign-in"))


def test_second_editor_of_a_person_is_told_and_loses_nothing(people, as_role):
    hand = people["hand"]
    saw = seen.pack(version=hand.version, values=texts_of(hand))
    edit(as_role("owner"), hand, name="Hank Itoh")
    answer = edit(as_role("owner"), hand, saw=saw, name="Henry Ito", role="sales")
    text = answer.content.decode()
    assert answer.status_code == 409
    assert "Somebody saved this while you had it open" in text
    for words in ("Hank Ito", "Hank Itoh", 'value="Henry Ito"'):
        assert words in text
    hand.refresh_from_db()
    assert (hand.name, hand.role) == ("Hank Itoh", "hand"), "nothing of the second is written before they have seen"
    again = re.search(r'name="seen" value="([^"]+)"', text)[1]
    assert edit(as_role("owner"), hand, saw=again, name="Henry Ito", role="sales").status_code == 302
    hand.refresh_from_db()
    assert (hand.name, hand.role) == ("Henry Ito", "sales")


def test_own_look_and_measures_are_kept_and_not_told(people, as_role):
    client = as_role("viewer")
    client.post(reverse("account"), {"name": "Vi Moreau", "look": "dark", "measures": "metric"})
    page = client.get(reverse("yard")).content.decode()
    assert '<html lang="en" data-look="dark">' in page
    assert not Change.objects.exists()


def test_nobody_makes_themselves_owner(people, as_role):
    as_role("viewer").post(
        reverse("account"), {"name": "Vi", "look": "dark", "measures": "us", "role": "owner", "is_active": "on"}
    )
    assert User.objects.get(pk=people["viewer"].pk).role == "viewer"
