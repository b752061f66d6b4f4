"""Picture two printed sheets for docs/paper.md, from the invented yard: python scripts/make_paper_pictures.py.

Needs pdftoppm.
"""

from __future__ import annotations

import io
import subprocess
from pathlib import Path

from PIL import Image

from rubrail import load_yard, resolve
from rubrail.demo import YARD
from rubrail.sheets.paper import made
from rubrail.sheets.paper.blocks import Paper
from rubrail.sheets.paper.press import press

FOLDER = Path(__file__).parents[1] / "docs" / "images"
DPI, COLORS = 84, 160


def main() -> None:
    """Write each picture over what is there."""
    yard = load_yard(YARD)
    stamp = made.Stamp(yard.title, "Nov 25, 2026", "https://yard.example/unit/SH-191/")
    unit, haul = yard.trailers["SH-191"], resolve(yard.hauls["04-three-machines"], yard)
    four = [yard.trailers[s] for s in ("SH-194", "SH-212", "SH-191")]
    rates = next(iter(yard.rates.values()))
    picture("paper-window.png", made.window(unit, stamp=stamp, rates=rates))
    picture("paper-compare.png", made.comparison(haul, four, stamp=stamp))


def picture(name: str, paper: Paper) -> None:
    """The first page of a sheet."""
    png = subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-png", "-singlefile", "-"], input=press(paper), capture_output=True, check=True
    ).stdout
    Image.open(io.BytesIO(png)).convert("RGB").quantize(COLORS, dither=Image.Dither.NONE).save(
        FOLDER / name, optimize=True
    )


if __name__ == "__main__":
    main()
