"""Pictures at the door: read, checked, written anew; nothing of the file as it came is kept."""

from __future__ import annotations

import io
import zlib
from pathlib import Path

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from desk.pages import content_of
from rubrail.desk import uploads
from rubrail.desk.models import Photo
from rubrail.desk.uploads import UploadError, read_picture

ORIENTATION = 0x0112
MAKE = 0x010F


def picture(
    *,
    size: tuple[int, int] = (60, 40),
    kind: str = "JPEG",
    mode: str = "RGB",
    orientation: int = 1,
    color=(200, 60, 40),
) -> bytes:
    image = Image.new(mode, size, color)
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    exif[MAKE] = "somewhere secret"
    out = io.BytesIO()
    image.save(out, kind, exif=exif) if kind != "GIF" else image.save(out, kind)
    return out.getvalue()


def read(data: bytes, name: str = "front.jpg"):
    return read_picture(io.BytesIO(data), name=name, size=len(data))


def opened(content) -> Image.Image:
    content.seek(0)
    return Image.open(io.BytesIO(content.read()))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_accepted_kinds_become_plain_jpeg(kind: str):
    data = picture(kind=kind)
    assert b"somewhere secret" in data, "the sample carries what must go"
    it = read(data)
    for content in (it.full, it.small):
        image = opened(content)
        assert image.format == "JPEG"
        assert not image.getexif()
        assert b"somewhere secret" not in content.file.getvalue()
    assert it.size == (60, 40)


@pytest.mark.parametrize(("orientation", "upright"), [(1, (60, 40)), (3, (60, 40)), (6, (40, 60)), (8, (40, 60))])
def test_orientation_is_applied_then_dropped(orientation: int, upright: tuple[int, int]):
    assert read(picture(orientation=orientation)).size == upright


def test_a_picture_on_its_side_is_turned_the_right_way():
    image = Image.new("RGB", (60, 40), "white")
    image.paste("black", (0, 0, 60, 10))  # dark along the top as stored
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # "rotate 90 degrees clockwise to view": the stored top becomes the right side
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif, quality=95)
    shown = opened(read(out.getvalue()).full).convert("L")
    assert shown.size == (40, 60)
    assert shown.getpixel((37, 30)) < 60
    assert shown.getpixel((5, 30)) > 200


def test_sizes():
    it = read(picture(size=(4000, 3000)))
    assert it.size == (2000, 1500)
    assert opened(it.small).size == (480, 360)
    assert read(picture(size=(30, 20))).size == (30, 20), "small ones are not blown up"


def test_transparency_becomes_white():
    image = Image.new("RGBA", (20, 20), (0, 0, 0, 0))
    out = io.BytesIO()
    image.save(out, "PNG")
    assert opened(read(out.getvalue()).full).convert("RGB").getpixel((10, 10)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is not a JPEG, PNG or WebP picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is not a JPEG, PNG or WebP picture"),
        (b"%PDF-1.7", "is not a JPEG, PNG or WebP picture"),
        (picture(kind="GIF", mode="P", color=3), "is not a JPEG, PNG or WebP picture"),
        (picture()[:400], "cannot be read as a picture; it may be damaged"),
        (picture(kind="PNG")[:60], "it may be damaged"),
    ],
)
def test_refused(data: bytes, says: str):
    with pytest.raises(UploadError) as told:
        read(data)
    assert says in str(told.value)
    assert str(told.value).startswith("'front.jpg' ")


def test_too_large_by_bytes_and_by_pixels(monkeypatch):
    monkeypatch.setattr(uploads, "MAX_BYTES", 1000)
    with pytest.raises(UploadError, match="at most"):
        read(picture(size=(400, 400), kind="PNG") + b"0" * 2000)
    with pytest.raises(UploadError, match="at most"):
        # What it claims to have does not help it.
        read_picture(io.BytesIO(b"\xff\xd8" + b"0" * 5000), name="a", size=10)
    monkeypatch.undo()
    monkeypatch.setattr(uploads, "MAX_PIXELS", 100)
    with pytest.raises(UploadError, match="too many pixels"):
        read(picture())


def test_a_bomb_is_refused_before_it_is_unpacked():
    def chunk(tag: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4, "big") + tag + body + zlib.crc32(tag + body).to_bytes(4, "big")

    header = (60_000).to_bytes(4, "big") * 2 + bytes([8, 2, 0, 0, 0])
    bomb = (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + chunk(b"IEND", b"")
    )
    with pytest.raises(UploadError, match="too many pixels"):
        read(bomb)


def refusal(data: bytes) -> str:
    """Why a file is not taken; "taken." where it is."""
    try:
        read(data)
    except UploadError as told:
        return str(told)
    return "taken."


@given(
    data=st.binary(max_size=300),
    head=st.sampled_from([b"", b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"RIFF\0\0\0\0WEBP"]),
)
def test_any_bytes_are_a_picture_or_a_sentence(data: bytes, head: bytes):
    assert refusal(head + data).endswith(".")


@given(where=st.integers(20, 600), what=st.integers(0, 255))
def test_damaged_pictures_are_a_picture_or_a_sentence(where: int, what: int):
    data = bytearray(picture())
    data[where % len(data)] = what
    assert refusal(bytes(data)).endswith(".")


# ---- the pages


def send(client, unit, *files: bytes):
    sent = [SimpleUploadedFile(f"../../{n}.php", data, "image/jpeg") for n, data in enumerate(files)]
    return client.post(reverse("photos-add", args=[unit.stock_number]), {"photos": sent}, follow=True)


def test_photos_are_added_ordered_shown_and_removed(unit, as_role):
    client = as_role("hand")
    page = send(client, unit, picture(), b"not a picture", picture(size=(40, 60))).content.decode()
    assert "2 photos are added." in page
    assert "1.php&#x27; is not a JPEG" in page
    first, second = Photo.objects.all()
    assert (second.width, second.height) == (40, 60)
    places = [Path(settings.RUBRAIL_HOME) / "photos" / f.name for p in (first, second) for f in (p.full, p.small)]
    for place in places:
        assert place.is_file()
        assert place.suffix == ".jpg"
        assert place.parent.name == str(unit.pk)
        assert place.stat().st_mode & 0o077 == 0
    client.post(reverse("photo-change", args=[second.pk]), {"do": "first"})
    assert [p.pk for p in unit.photos.all()] == [second.pk, first.pk]
    answer = client.get(reverse("photo", args=[first.pk, "full"]))
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert "private" in answer.headers["Cache-Control"]
    assert content_of(answer)[:2] == b"\xff\xd8"


@pytest.mark.django_db(transaction=True)
def test_removing_a_photo_removes_its_files(unit, as_role):
    client = as_role("hand")
    send(client, unit, picture())
    it = Photo.objects.get()
    places = [Path(it.full.path), Path(it.small.path)]
    client.post(reverse("photo-change", args=[it.pk]), {"do": "remove"})
    assert not Photo.objects.exists()
    assert not any(place.exists() for place in places)


def test_no_more_than_the_limit(unit, as_role, monkeypatch):
    from rubrail.desk import photographs

    monkeypatch.setattr(photographs, "MOST_AT_ONCE", 2)
    page = send(as_role("hand"), unit, picture(), picture(), picture()).content.decode()
    assert Photo.objects.count() == 2
    assert "At most 2 photos at once" in page


def test_nothing_chosen_is_said(unit, as_role):
    assert "No photo was chosen." in send(as_role("hand"), unit).content.decode()


HOSTILE = (
    b"",
    b"<svg xmlns='http://www.w3.org/2000/svg'/>",
    b"%PDF-1.7",
    picture()[:200],
    picture(kind="GIF", mode="P", color=3),
)
"""What is sent in place of a picture: nothing, a script's carrier, paper, half a picture, another kind."""


@pytest.mark.parametrize("step", ["receipt-vin", "receipt-damage", "receipt-damage-change"])
def test_photos_of_a_receipt_are_read_at_the_same_door(step: str, people, as_role):
    from desk.receive_pages import ordered, received
    from rubrail.desk.models.stock import Purpose

    receipt = received(ordered(people["sales"]), people["hand"])
    mark = receipt.damages.create(station="jack", words="bent")
    client = as_role("hand")
    arguments = [receipt.number, mark.pk] if step == "receipt-damage-change" else [receipt.number]
    form = {"seen": seen_in(client, receipt), "do": "photos", "station": "jack", "words": "bent"}
    if step == "receipt-damage":
        del form["do"]
    files = [SimpleUploadedFile(f"../../{n}.php", data, "image/jpeg") for n, data in enumerate((*HOSTILE, picture()))]
    page = client.post(reverse(step, args=arguments), form | {"photos": files}, follow=True)
    assert page.status_code == 200
    kept = Photo.objects.get()
    assert kept.about == receipt.pk
    assert kept.purpose == (Purpose.LABEL if step == "receipt-vin" else Purpose.DAMAGE), "none of them leaves the yard"
    assert page.content.decode().count(".php&#x27; ") == len(HOSTILE), "each that is not kept is told"
    assert Path(kept.full.path).read_bytes()[:2] == b"\xff\xd8"


def seen_in(client, receipt) -> str:
    from desk.pages import page_form

    return page_form(client, reverse("receipt-vin", args=[receipt.number]))["seen"]
