"""The stylesheet of the public pages: the desk's palette by name, then the pages' own rules."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

from rubrail.sheets.drawing.tokens import COLORS, DARK


@cache
def stylesheet() -> bytes:
    """The whole stylesheet."""
    colors = "".join(f"  --{n}: light-dark({c}, {DARK[n]});\n" for n, c in COLORS.items())
    rules = files("rubrail.sheets.site").joinpath("site.css").read_text("utf-8")
    return f":root {{\n  color-scheme: light dark;\n{colors}}}\n\n{rules}".encode()


CSS_PATH = f"look-{hashlib.sha256(stylesheet()).hexdigest()[:10]}.css"
"""Its file: another look has another name, so that no browser keeps an old one."""
