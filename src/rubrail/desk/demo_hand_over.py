"""A unit of the invented yard whose buyer comes today: quote signed, inspected and released, hand-over begun."""

from __future__ import annotations

from datetime import timedelta
from io import BytesIO
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from rubrail.answers.checklist_parts import Line
from rubrail.desk import clock
from rubrail.desk.checking import lists
from rubrail.desk.checking.entries import keep_entry, keep_line_photos, line_in
from rubrail.desk.handing.steps import begin
from rubrail.desk.models import Checklist, Haul, QuoteVersion, Unit, User
from rubrail.desk.sales import quotes
from rubrail.desk.signatures import Signature
from rubrail.desk.stock import trailer_of

UNIT, HAUL, CONTACT = "SH-153", "10-weight-distribution", "555 0155, evenings"
ENTERED = (
    ("this-truck", {"answer": "ok", "text": "plate KJ4 2190"}),
    ("door-label", {"answer": "ok", "numbers": [7_850.0, 4_050.0, 4_650.0]}),
    ("controller", {"answer": "ok"}),
    ("gain", {"answer": "ok", "text": "5.5, set on a slow stop"}),
    ("ball", {"answer": "ok", "numbers": [2.3125, 2.3125]}),
    ("coupled", {"answer": "ok"}),
    ("chains-on", {"answer": "ok"}),
    ("pressure-1", {"answer": "ok", "numbers": [80.0, 78.0]}),
)
"""Lines entered so far."""
SEEN = {"battery": 12.7, "pressure": 80.0, "magnets": 3.0, "marking": 156.0, "torque": 120.0}
"""What the inspection measured, by the line's sort."""


def demo_hand_over(*, seller: User, hand: User) -> None:
    """Sign the quote of one unit, inspect it, and begin its hand-over."""
    unit, haul = Unit.objects.get(stock_number=UNIT), Haul.objects.get(spec__id=HAUL)
    quote = quotes.begin(unit=unit, haul=haul, buyer=haul.buyer, contact=CONTACT, by=seller)
    version = quotes.offer(quote, by=seller, seen_version=quote.version)
    quotes.accept(version, name=haul.buyer, at="the yard", by=seller)
    QuoteVersion.objects.filter(pk=version.pk).update(signed_at=timezone.now() - timedelta(days=2))
    released(unit, hand=hand)
    it = begin(unit, by=hand)
    for key, value in ENTERED:
        keep_entry(it, line_in(it, key), value, seen=0, by=hand)


def released(unit: Unit, *, hand: User) -> Checklist:
    """Its pre-delivery inspection: every line looked at and in order, signed."""
    it = lists.begin(unit, sort="inspection", by=hand)
    for line in lists.lines_of(it):
        if line.entry == "photo":
            keep_line_photos(it, line, [_label(unit)], by=hand)
        else:
            keep_entry(it, line, _seen(line, unit), seen=0, by=hand)
    return lists.finish(it, signature=Signature(hand.name), by=hand)


def _seen(line: Line, unit: Unit) -> dict[str, Any]:
    value: dict[str, Any] = {"answer": "ok"}
    if line.sort == "vin":
        value["text"] = unit.vin
    elif line.sort == "ratings":
        value["numbers"] = list(line.exact)
    elif line.sort == "date code":
        made = clock.today() - timedelta(weeks=26)
        value["numbers"] = [float(f"{min(made.isocalendar().week, 52)}{made.isocalendar().year % 100:02d}")] * 2
    elif line.places:
        value["numbers"] = [SEEN.get(line.sort, line.least)] * len(line.places)
    return value


def _label(unit: Unit) -> SimpleUploadedFile:
    """A picture of the certification label, drawn: the yard is invented, and so is its label."""
    from PIL import Image, ImageDraw

    trailer = trailer_of(unit)
    ratings = [f"GVWR {trailer.ratings.gvwr_lb.number:,.0f} LB"]
    ratings += [f"GAWR AXLE {n} {axle.gawr_lb.number:,.0f} LB" for n, axle in enumerate(trailer.axle, 1)]
    picture = Image.new("RGB", (960, 480), "#e9e7e0")
    pen = ImageDraw.Draw(picture)
    pen.rectangle((24, 24, 936, 456), outline="#222222", width=4)
    for row, text in enumerate((unit.vin, *ratings, "DRAWN FOR AN INVENTED YARD")):
        pen.text((60, 56 + 78 * row), text, fill="#222222", font_size=46)
    sent = BytesIO()
    picture.save(sent, "JPEG", quality=80)
    return SimpleUploadedFile("label.jpg", sent.getvalue(), content_type="image/jpeg")
