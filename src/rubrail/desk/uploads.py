"""Pictures people upload: nothing of the file as it came is kept; it is read, checked and written anew."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import BinaryIO

from django.core.files.base import ContentFile
from PIL import Image, ImageOps, UnidentifiedImageError

MAX_BYTES = 25 * 1024 * 1024
MAX_PIXELS = 60_000_000
ACCEPTED = ("JPEG", "PNG", "WEBP")
FULL_PX = 2000
SMALL_PX = 480
JPEG_QUALITY = 84


class UploadError(ValueError):
    """The file is not taken; the message is a sentence for the person who sent it."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in the two sizes we keep, both JPEG without any metadata."""

    full: ContentFile
    small: ContentFile
    size: tuple[int, int]


def read_picture(file: BinaryIO, *, name: str, size: int) -> Picture:
    """Check a picture and write it anew in our sizes, upright, without metadata.

    Parameters
    ----------
    file : binary file
        What was sent, at its start.
    name : str
        What it was called, for the sentence only.
    size : int
        Bytes.

    Raises
    ------
    UploadError
        If it is too large, not one of the accepted kinds, or broken.
    """
    shown = f"{name[:60]!r}"
    if size > MAX_BYTES:
        raise UploadError(f"{shown} has {size / 1e6:.0f} MB; at most {MAX_BYTES / 1e6:.0f} MB is taken.")
    data = file.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise UploadError(f"{shown} has over {MAX_BYTES / 1e6:.0f} MB; at most that is taken.")
    with warnings.catch_warnings():
        # A picture that unpacks to far more than its file is refused, not merely warned of.
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            _verify(data, shown)
            with Image.open(io.BytesIO(data), formats=ACCEPTED) as image:
                upright = ImageOps.exif_transpose(image)
                plain = _flatten(upright)
        except UploadError:
            raise
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise _too_large(shown) from None
        except Exception:  # decoders raise many kinds on broken files; all mean the same to the person
            raise UploadError(f"{shown} cannot be read as a picture; it may be damaged. Take it again.") from None
    full = _fit(plain, FULL_PX)
    return Picture(_jpeg(full), _jpeg(_fit(plain, SMALL_PX)), full.size)


def _verify(data: bytes, shown: str) -> None:
    try:
        with Image.open(io.BytesIO(data), formats=ACCEPTED) as image:
            if image.width * image.height > MAX_PIXELS:
                raise _too_large(shown)
            image.verify()
    except UnidentifiedImageError:
        kinds = "JPEG, PNG or WebP"
        raise UploadError(f"{shown} is not a {kinds} picture; set the phone's camera to one of these.") from None


def _too_large(shown: str) -> UploadError:
    return UploadError(f"{shown} has too many pixels; at most {MAX_PIXELS / 1e6:.0f} million are taken.")


def _flatten(image: Image.Image) -> Image.Image:
    if image.mode in ("RGBA", "LA", "P", "PA"):
        rgba = image.convert("RGBA")
        ground = Image.new("RGB", rgba.size, "white")
        ground.paste(rgba, mask=rgba.getchannel("A"))
        return ground
    return image.convert("RGB")


def _fit(image: Image.Image, longest: int) -> Image.Image:
    copy = image.copy()
    copy.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    return copy


def _jpeg(image: Image.Image) -> ContentFile:
    out = io.BytesIO()
    # A copy made from the pixels alone cannot carry a profile, a comment or a place on the map.
    clean = Image.frombytes(image.mode, image.size, image.tobytes())
    clean.save(out, "JPEG", quality=JPEG_QUALITY, optimize=True, progressive=True)
    return ContentFile(out.getvalue())
