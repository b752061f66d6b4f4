"""Places kept by people: with a trail, never over each other, and the haul's own list only where that is said."""

from __future__ import annotations

import pytest
from django.urls import reverse

from desk.rig_pages import carried, standing, store_haul, store_machine, store_unit
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Change, Haul, Place


@pytest.fixture
def rig(people):
    """Three machines on a trailer that carries them: haul, unit, address of the page, address of keeping."""
    haul, unit = store_haul(4), store_unit("SH-213")
    args = [haul.pk, unit.stock_number]
    return haul, unit, reverse("rig", args=args), reverse("rig-place", args=args)


def kept_form(client, url: str, **changes) -> dict:
    page = client.get(url)
    haul_version = Haul.objects.get().version
    place = Place.objects.first()
    return {**standing(page), "seen": place.version if place else 0, "seen_haul": haul_version, **changes}


def shifted(form: dict, by: float) -> dict:
    return {**form, "x": [f"{float(x) + by:.3f}" for x in form["x"]]}


def test_keeping_a_place_and_finding_it_again(rig, as_role):
    haul, _, url, keep = rig
    client = as_role("sales")
    form = shifted(kept_form(client, url), -4)
    assert client.post(keep, form).headers["Location"] == url
    page = client.get(url)
    assert standing(page)["x"] == form["x"]
    assert "Sal Brandt kept a place on SH-213" in page.content.decode()
    said = Change.objects.get(kind="haul").sentence
    assert said.startswith(f"Sal Brandt changed the place on SH-213 of haul {haul} from the best place to ")
    assert "front first at " in said
    best = client.get(url, {**form, "do": "best"}, follow=True)
    assert standing(best)["x"] != form["x"]
    assert standing(client.get(url, {**standing(best), "do": "kept"}, follow=True))["x"] == form["x"]


def test_the_trail_says_from_where_to_where(rig, as_role):
    *_, url, keep = rig
    client = as_role("sales")
    page = client.get(url)
    origin, form = carried(page)["origin_in"], kept_form(client, url)
    for inches in (12, 30):
        places = [origin + inches, origin + inches + 140, origin + inches + 240]
        client.post(keep, {**kept_form(client, url), "p": form["p"], "x": places, "w": form["w"]})
    latest = Change.objects.order_by("-pk").first()
    assert latest.old.startswith("skid steer loader, mid size, with bucket front first at 1 ft;")
    assert latest.new.startswith("skid steer loader, mid size, with bucket front first at 2 ft 6 in;")


def test_the_second_of_two_is_told_and_nothing_is_lost(rig, as_role):
    *_, url, keep = rig
    first, second = as_role("owner"), as_role("sales")
    mine, theirs = shifted(kept_form(second, url), -3), shifted(kept_form(first, url), 2)
    assert first.post(keep, theirs).status_code == 302
    answer = second.post(keep, mine)
    assert answer.status_code == 409
    assert "Somebody kept another place" in answer.content.decode()
    assert standing(answer)["x"] == mine["x"], "the machines stand where this person put them"
    assert standing(first.get(url))["x"] == theirs["x"]
    again = {**mine, "seen": Place.objects.get().version}
    assert second.post(keep, again).status_code == 302
    assert standing(first.get(url))["x"] == mine["x"]


def test_forgetting_the_kept_place(rig, as_role):
    *_, url, keep = rig
    client = as_role("sales")
    best = standing(client.get(url))
    client.post(keep, shifted(kept_form(client, url), -4))
    stale = client.post(keep, kept_form(client, url, keep="best", seen=7))
    assert stale.status_code == 409
    assert client.post(keep, kept_form(client, url, keep="best")).status_code == 302
    assert not Place.objects.exists()
    assert standing(client.get(url)) == best
    assert Change.objects.order_by("-pk").first().new == "the best place"


def test_other_cargo_changes_the_haul_only_where_that_is_said(rig, as_role):
    haul, _, url, keep = rig
    machine = store_machine("scissor-lift-19")
    client = as_role("sales")
    page = client.get(url, {**standing(client.get(url)), "do": "add", "add": f"m{machine.pk}"}, follow=True)
    form = {**standing(page), "seen": 0, "seen_haul": haul.version}
    refused = client.post(keep, form)
    assert refused.status_code == 409
    assert "not what the haul holds" in refused.content.decode()
    assert not Place.objects.exists()
    assert client.post(keep, {**form, "whole": "yes"}).status_code == 302
    there = Haul.objects.get()
    assert [load.piece.id for load in thing_of(there).cargo][-1] == "scissor-lift-19"
    assert there.version == haul.version + 1
    again = standing(client.get(url))
    assert again == {"p": ["h0", "h1", "h2", "h3"], "x": form["x"], "w": form["w"]}
    assert {c.field for c in Change.objects.filter(kind="haul")} == {"cargo", "place.SH-213"}


def test_a_haul_changed_meanwhile_is_not_overwritten(rig, as_role):
    haul, _, url, keep = rig
    client = as_role("sales")
    form = {**standing(client.get(url)), "seen": 0, "seen_haul": haul.version, "whole": "yes"}
    form = {n: v[:2] if isinstance(v, list) else v for n, v in form.items()}
    Haul.objects.filter(pk=haul.pk).update(version=haul.version + 1)
    assert client.post(keep, form).status_code == 409
    assert len(thing_of(Haul.objects.get()).cargo) == 3
    assert not Place.objects.exists()


def test_a_kept_place_outlives_a_change_of_the_haul(rig, as_role):
    haul, _, url, keep = rig
    client = as_role("sales")
    form = shifted(kept_form(client, url), -4)
    client.post(keep, form)
    spec = {**haul.spec, "cargo": [haul.spec["cargo"][2], haul.spec["cargo"][0]]}
    Haul.objects.filter(pk=haul.pk).update(spec=spec)
    assert standing(client.get(url))["x"] == [form["x"][2], form["x"][0]]


@pytest.mark.parametrize("role", ["hand", "viewer"])
def test_who_may_not_change_hauls_sees_no_button_and_is_refused(rig, as_role, role: str):
    *_, url, keep = rig
    client = as_role(role)
    page = client.get(url)
    assert page.status_code == 200
    assert "Keep this place" not in page.content.decode()
    assert client.post(keep, standing(page)).status_code == 403
    assert not Place.objects.exists()
