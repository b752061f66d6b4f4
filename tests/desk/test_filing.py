"""What a finished list says of the unit's file: shown field by field, written by one button, with a trail."""

from __future__ import annotations

import html
import io
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from answers.yard import yard
from rubrail.desk.checking import lists
from rubrail.desk.checking.entries import keep_entry, keep_line_photos, line_in
from rubrail.desk.handing.offers import Offer, offers_of
from rubrail.desk.models import Change, Checklist, Photo, Unit, User
from rubrail.desk.models.stock import Purpose
from rubrail.desk.signatures import Signature
from rubrail.desk.stock import add_unit, change_unit, trailer_of

UNIT = "SH-133"
RATINGS = [14_000.0, 7_000.0, 7_500.0]
"""As the label reads: the file has 7,000 lb for the second axle, and the GVWR only from the maker's sheet."""


@pytest.fixture
def held(people: dict[str, User]) -> Checklist:
    """An inspection signed with three lines looked at and a photo of the label; the others hold the unit."""
    filed = yard().trailers[UNIT]
    soft = filed.ratings.gvwr_lb.__class__(14_000.0, "maker", 0.0)
    ratings = filed.ratings.model_copy(update={"gvwr_lb": soft})
    unit = add_unit(filed.model_copy(update={"ratings": ratings, "breakaway": None, "status": "in-stock"}), by=None)
    it, hand = lists.begin(unit, sort="inspection", by=people["hand"]), people["hand"]
    keep_entry(it, line_in(it, "ratings"), {"answer": "ok", "numbers": RATINGS}, seen=0, by=hand)
    keep_entry(it, line_in(it, "breakaway"), {"answer": "ok"}, seen=0, by=hand)
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "gray").save(out, "JPEG")
    file = SimpleUploadedFile("label.jpg", out.getvalue(), "image/jpeg")
    keep_line_photos(it, line_in(it, "label-photo"), [file], by=hand)
    assert offers_of(it, user=hand) == [], "while it is under way it may still change"
    return lists.finish(it, signature=Signature("Hank Ito"), by=hand)


def offer_of(it: Checklist, user: User) -> Offer:
    return offers_of(Checklist.objects.select_related("unit").get(pk=it.pk), user=user)[0]


def page_of(client: Any, it: Checklist) -> str:
    answer = client.get(it.get_absolute_url())
    assert answer.status_code == 200
    return html.unescape(answer.content.decode())


def test_it_is_shown_as_it_was_and_as_seen_to_those_who_may(held, as_role, people):
    rows = {r.label: (r.was, r.was_basis, r.now, r.now_basis) for r in offer_of(held, people["hand"]).rows}
    assert rows == {
        "label GVWR": ("14,000 lb", "maker", "14,000 lb", "label"),
        "axle 2 GAWR": ("7,000 lb", "label", "7,500 lb", "label"),
        "breakaway brake": ("", "", "yes", ""),
        "photos of the label": ("none", "", "1 more", ""),
    }
    page = page_of(as_role("hand"), held)
    assert f"Into the file of {UNIT}" in page
    assert "Into the file of" not in page_of(as_role("viewer"), held)


def test_one_button_writes_it_all_and_the_trail_keeps_what_stood_there(held, as_role, people):
    hand, mark = as_role("hand"), offer_of(held, people["hand"]).mark
    url = reverse("check-file", args=[held.pk, "unit"])
    sent = {"mark": mark, "once": str(uuid4())}
    for _ in range(2):  # pressed twice
        assert hand.post(url, sent).headers["Location"] == held.get_absolute_url()
    unit = Unit.objects.get()
    trailer = trailer_of(unit)
    assert trailer.breakaway is True
    assert (trailer.ratings.gvwr_lb.basis, trailer.axle[1].gawr_lb.number) == ("label", 7_500)
    assert trailer.axle[0] == yard().trailers[UNIT].axle[0]
    said = list(Change.objects.filter(kind="unit", thing=unit.pk).values_list("sentence", flat=True))
    assert any("axle 2 GAWR" in s and "7,000 lb" in s and "7,500 lb" in s for s in said)
    assert Change.objects.get(action="filed").sentence == (
        f"Hank Ito wrote what checklist {held} says into unit {UNIT}."
    )
    label = unit.photos.get(purpose=Purpose.LABEL)
    label.delete()
    assert Photo.objects.filter(about=held.pk, purpose=Purpose.CHECK).count() == 1, "the list keeps its own"
    assert "breakaway brake" not in page_of(hand, held)


def test_what_was_saved_meanwhile_is_looked_at_again(held, as_role, people):
    hand, mark = as_role("hand"), offer_of(held, people["hand"]).mark
    unit = Unit.objects.get()
    other = trailer_of(unit).model_copy(update={"breakaway": False})
    change_unit(unit, other, by=people["sales"], seen_version=unit.version)
    answer = hand.post(reverse("check-file", args=[held.pk, "unit"]), {"mark": mark}, follow=True)
    assert "nothing was written. Look again." in answer.content.decode()
    assert trailer_of(Unit.objects.get()).breakaway is False
    assert ("no", "yes") in [(r.was, r.now) for r in offer_of(held, people["hand"]).rows]


def test_what_cannot_be_true_of_the_unit_is_told_and_not_written(held, as_role, people):
    unit = Unit.objects.get()
    line = line_in(held, "ratings")
    held.entries.filter(line=line.key).update(value={"answer": "not ok", "numbers": [150.0, None, None]})
    offer = offer_of(held, people["hand"])
    assert "GVWR" in offer.faults[0] or "gvwr" in offer.faults[0]
    assert offer.faults[0].split(": ")[0] in page_of(as_role("hand"), held)
    url = reverse("check-file", args=[held.pk, "unit"])
    assert as_role("hand").post(url, {"mark": offer.mark}).status_code == 302
    assert Unit.objects.get().version == unit.version


def test_there_is_no_other_file(held, as_role):
    assert as_role("owner").post(reverse("check-file", args=[held.pk, "wall"]), {}).status_code == 404
    answer = as_role("owner").post(reverse("check-file", args=[held.pk, "truck"]), {}, follow=True)
    assert "There is nothing to write" in answer.content.decode()
