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
ICON_PATH = "icon.svg"


def icon() -> bytes:
    """The mark in a browser's tab: a trailer from its side."""
    ink, deck = COLORS["ink"], COLORS["accent"]
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32" width="32" height="32">'
        f'<rect width="32" height="32" rx="3" fill="{COLORS["paper"]}"/>'
        f'<path d="M3 12v5h26" fill="none" stroke="{deck}" stroke-width="3"/>'
        f'<circle cx="17" cy="22" r="3" fill="{ink}"/><circle cx="24" cy="22" r="3" fill="{ink}"/></svg>\n'
    ).encode()
