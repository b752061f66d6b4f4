"""From a sheet to a PDF: the sheet's content goes into the one design as data, and nothing else does."""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from rubrail.sheets.paper.blocks import Paper

if TYPE_CHECKING:
    import typst

FORMATS = ("letter", "a4")
Format = Literal["letter", "a4"]
HERE = Path(__file__).resolve().parent


class PressError(RuntimeError):
    """A sheet that cannot be set, or a program without its type."""


@lru_cache(maxsize=1)
def _compiler() -> typst.Compiler:
    """The compiler with the design and its type read once; pages after the first take milliseconds."""
    import typst

    return typst.Compiler(str(HERE / "house.typ"), root=str(HERE), font_paths=[str(fonts())], ignore_system_fonts=True)


def fonts() -> Path:
    """Folder of the type: static cuts, for letters inside drawings come out too light from a variable font.

    Raises
    ------
    PressError
        If the type's package is not installed.
    """
    spec = find_spec("font_source_sans_pro")
    if spec is None or not spec.submodule_search_locations:
        raise PressError("The type for paper (font-source-sans-pro) is not installed.")
    return Path(next(iter(spec.submodule_search_locations))) / "files"


def press(paper: Paper, *, on: Format = "letter") -> bytes:
    """Set a sheet.

    Parameters
    ----------
    paper : Paper
    on : str
        ``letter`` or ``a4``.

    Returns
    -------
    bytes
        A PDF.

    Raises
    ------
    PressError
        If the design cannot set it; the message says where.
    """
    if on not in FORMATS:
        raise PressError(f"paper must be one of {', '.join(FORMATS)}, got {on!r}.")
    data = asdict(paper) | {"on": on, "qr": qr(paper.link) if paper.link else ""}
    try:
        return _compiler().compile(format="pdf", sys_inputs={"sheet": json.dumps(data, ensure_ascii=False)})
    except RuntimeError as error:
        raise PressError(f"{paper.sort} cannot be set: {error}") from error


def qr(address: str) -> str:
    """An address as a QR code, SVG."""
    import io

    import segno

    out = io.BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", border=0, xmldecl=False, svgns=True, scale=4)
    return out.getvalue().decode()
