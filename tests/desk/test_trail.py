"""The trail: what it says, who may read what of it, and that nobody rewrites it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from desk.pages import page_form
from rubrail.desk.audit import ACTIONS, KINDS, Delta, UnknownActionError, record, record_changes, sentence
from rubrail.desk.models import Change
from rubrail.desk.models.change import TrailError
from rubrail.desk.permissions import UnknownPermissionError, permission

UNIT = next(k for k in KINDS.values() if k.name == "unit")
PERSON = next(k for k in KINDS.values() if k.name == "person")


@pytest.mark.parametrize(
    ("kind", "old", "new", "said"),
    [
        (UNIT, "34 in", "33 in", "Ruth Calder changed the deck height of unit R-1 from 34 in to 33 in."),
        (UNIT, "", "33 in", "Ruth Calder set the deck height of unit R-1 to 33 in; it was not known."),
        (UNIT, "34 in", "", "Ruth Calder took away the deck height of unit R-1; it was 34 in."),
        (PERSON, "34 in", "33 in", "Ruth Calder changed the deck height of R-1 from 34 in to 33 in."),
    ],
)
def test_sentences(kind, old: str, new: str, said: str):
    delta = Delta("deck.height_in", "deck height", old, new, "yard.see")
    assert sentence(who="Ruth Calder", delta=delta, kind=kind, name="R-1") == said


def test_every_kind_names_a_declared_permission():
    for kind in KINDS.values():
        permission(kind.permission)


def test_undeclared_action_or_permission_is_an_error(unit):
    with pytest.raises(UnknownActionError, match="'burned' is no action of the trail; it has added"):
        record(by=None, action="burned", thing=unit)
    with pytest.raises(UnknownPermissionError):
        record_changes(by=None, thing=unit, deltas=[Delta("x", "x", "1", "2", "no.such")])


def test_every_action_has_its_sentence(unit, people):
    for action in ACTIONS:
        if action != "changed":
            said = record(by=people["owner"], action=action, thing=unit).sentence
            assert said.startswith("Ruth Calder ")
            assert said.endswith(".")
            assert "{" not in said


def test_one_save_is_one_batch(unit, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=["T-1"])
    client.post(url, page_form(client, url) | {"color": "red", "location": "row A"})
    assert len(set(Change.objects.filter(action="changed").values_list("batch", flat=True))) == 1


def test_nobody_rewrites_it(unit):
    change = Change.objects.first()
    with pytest.raises(TrailError):
        change.save()
    with pytest.raises(TrailError):
        change.delete()
    with pytest.raises(TrailError):
        Change.objects.update(sentence="")
    with pytest.raises(TrailError):
        Change.objects.filter(pk=change.pk).delete()


def test_names_stay_as_they_were(unit, people):
    record(by=people["sales"], action="added", thing=unit)
    people["sales"].name = "Sally Brandt"
    people["sales"].save()
    assert Change.objects.first().who_name == "Sal Brandt"


def read(client, query: str = "") -> str:
    return client.get(reverse("changes") + query).content.decode()


def test_each_reads_only_what_they_may(unit, people, as_role):
    client, url = as_role("owner"), reverse("unit-edit", args=["T-1"])
    client.post(url, page_form(client, url) | {"cost_usd": "7,123", "color": "green"})
    client.post(reverse("person-open", args=[people["viewer"].pk]), {"open": "no"})
    client.post(reverse("person-open", args=[people["viewer"].pk]), {"open": "yes"})
    cost = "changed the cost of unit T-1 from $7,800 to $7,123."
    for role in people:
        text = read(as_role(role))
        assert "changed the color of unit T-1 from black to green." in text
        assert (cost in text) == (role in ("owner", "sales")), role
        assert ("closed the account of Vi Moreau" in text) == (role == "owner"), role
        page = as_role(role).get(reverse("unit", args=["T-1"])).content.decode()
        assert (cost in page) == (role in ("owner", "sales")), role


def test_filters(make_unit, people, as_role):
    make_unit("A-1", by=people["owner"])
    make_unit("B-2", by=people["sales"])
    client = as_role("owner")
    client.post(reverse("person-open", args=[people["viewer"].pk]), {"open": "no"})
    both = read(client)
    assert all(said in both for said in ("added unit A-1.", "added unit B-2.", "closed the account"))
    assert "added unit B-2." not in read(client, "?thing=a-1")
    assert "closed" not in read(client, "?kind=unit")
    mine = read(client, f"?who={people['sales'].pk}")
    assert "added unit B-2." in mine
    assert "added unit A-1." not in mine
    for odd in ("?who=x", "?who=999999", "?kind=nothing"):
        assert "Nothing that you may read was changed like that." in read(client, odd)


def test_newest_first_by_days_in_pages(unit, as_role):
    now = timezone.now()
    rows = [
        Change(
            at=now - timedelta(days=n // 60, seconds=n),
            who_name="Ruth Calder",
            action="changed",
            kind="unit",
            thing=unit.pk,
            thing_name="T-1",
            sentence=f"Change number {n}.",
            permission="yard.see",
            batch="00000000-0000-0000-0000-000000000000",
        )
        for n in range(150)
    ]
    Change.objects.bulk_create(rows)
    client = as_role("viewer")
    first, second = read(client), read(client, "?page=2")
    assert "Change number 0." in first
    assert "Change number 149." not in first
    assert "Change number 149." in second
    assert first.index("Change number 0.") < first.index("Change number 1.")
    assert first.count("<h2>") >= 2
    last = read(client, "?page=9999")
    assert "Change number 149." in last
    assert "Change number 0." not in last


def test_what_people_wrote_is_shown_as_text(make_unit, people, as_role):
    make_unit("X-1", title="<script>alert(1)</script>", location="<b>row</b>")
    client, url = as_role("owner"), reverse("unit-edit", args=["X-1"])
    client.post(url, page_form(client, url) | {"location": "<img src=x onerror=alert(1)>"})
    for page in (reverse("changes"), reverse("yard"), reverse("unit", args=["X-1"]), url):
        text = as_role("owner").get(page).content.decode()
        assert "<script>alert" not in text
        assert "<img src=x" not in text
