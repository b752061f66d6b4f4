"""The palettes keep their contrast, day and night; the pages use the tokens and nothing else."""

from __future__ import annotations

import re
from importlib.resources import files
from itertools import product

import pytest

STATIC = files("rubrail.desk") / "static" / "desk"
TEMPLATES = files("rubrail.desk") / "templates" / "desk"
TOKENS = (STATIC / "tokens.css").read_text("utf-8")
PAIR = re.compile(r"--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);")
COLORS = {name: (light, dark) for name, light, dark in PAIR.findall(TOKENS)}

GROUNDS = ("paper", "sheet", "wash")
WORDS = ("ink", "steel", "accent", "accent-deep", "clear", "depends", "over", "unknown")
SHEETS = sorted(f.name for f in STATIC.iterdir() if f.name.endswith(".css") and f.name != "tokens.css")
EDGES = ("edge", "clear", "depends", "over", "unknown", "accent")


def luminance(color: str) -> float:
    """Relative luminance as WCAG 2 defines it."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(a: str, b: str) -> float:
    low, high = sorted((luminance(a), luminance(b)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_known_pairs():
    # black on white is 21 to 1 by definition; the gray at 4.48 is the well-known nearest miss
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("look", [0, 1], ids=["day", "night"])
@pytest.mark.parametrize(("word", "ground"), list(product(WORDS, GROUNDS)))
def test_words_can_be_read(word: str, ground: str, look: int):
    assert contrast(COLORS[word][look], COLORS[ground][look]) >= 4.5


@pytest.mark.parametrize("look", [0, 1], ids=["day", "night"])
@pytest.mark.parametrize(("edge", "ground"), list(product(EDGES, GROUNDS)))
def test_controls_and_marks_can_be_seen(edge: str, ground: str, look: int):
    assert contrast(COLORS[edge][look], COLORS[ground][look]) >= 3


@pytest.mark.parametrize("look", [0, 1], ids=["day", "night"])
@pytest.mark.parametrize("button", ["accent", "accent-deep"])
def test_main_button_can_be_read(button: str, look: int):
    assert contrast(COLORS["on-accent"][look], COLORS[button][look]) >= 4.5


def test_night_is_no_inversion():
    for light, dark in COLORS.values():
        inverted = "#" + "".join(f"{255 - int(light[i : i + 2], 16):02x}" for i in (1, 3, 5))
        assert dark != inverted


@pytest.mark.parametrize("name", SHEETS)
def test_colors_and_tokens_are_declared_in_one_place(name: str):
    text = (STATIC / name).read_text("utf-8")
    assert not re.findall(r"#[0-9a-fA-F]{3,8}\b|\brgba?\(|\bhsla?\(", text)
    declared = set(re.findall(r"^\s*(--[a-z0-9-]+):", TOKENS, re.M))
    assert set(re.findall(r"var\((--[a-z0-9-]+)", text)) <= declared


def templates() -> list:
    found, todo = [], [TEMPLATES]
    while todo:
        for entry in todo.pop().iterdir():
            todo.append(entry) if entry.is_dir() else found.append(entry)
    return found


def test_every_class_a_page_uses_is_styled():
    styled = set()
    for name in SHEETS:
        styled |= set(re.findall(r"\.([a-zA-Z][\w-]*)", (STATIC / name).read_text("utf-8")))
    used = set()
    for template in templates():
        for value in re.findall(r'class="([^"]*)"', template.read_text("utf-8")):
            plain = re.sub(r"{%.*?%}|{{.*?}}", " ", value)
            used |= {c for c in plain.split() if not c.endswith(("--", "-"))}
    # Hooks for grouping that need no style of their own.
    bare = {"margin", "top", "foot", "sheet", "table--hover", "yard"}
    assert used - styled - bare == set()


def test_no_template_leaves_the_machine_or_styles_inline():
    for template in templates():
        text = template.read_text("utf-8")
        assert not re.search(r"https?://(?!www\.w3\.org)", text), template
        assert not re.search(r"\sstyle=|<style|\|safe\b|autoescape off", text), template
        assert not re.search(r"<script(?![^>]*src=)", text), template
