"""The stylesheet, the palettes, and drawings where no stylesheet is."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from rubrail.sheets.drawing import LoadMark, Placed, Rig, rig_side, side_view, stylesheet, tokens, verdict_mark
from sheets.drawing.made import gooseneck, loader, truck, unknown


def test_the_file_is_what_the_tokens_say():
    assert (files("rubrail.sheets.drawing") / "drawing.css").read_text() == stylesheet()


def test_every_class_of_a_drawing_has_a_rule_and_every_color_a_fallback():
    rig = Rig(
        trailer=gooseneck(), truck=truck(), cargo=[Placed(loader(), 200)], loads=[LoadMark("axles", 1, 2, "over")]
    )
    css = stylesheet()
    for svg in (rig_side(rig), side_view(unknown()), verdict_mark("depends")):
        for name in {c for found in re.findall(r'class="([^"]*)"', svg) for c in found.split()}:
            if name.startswith(("rd-s-", "rd-f-")):
                assert f".{name} {{" in css
        for tag in re.findall(r"<(?:path|line|circle|rect|text)\b[^>]*>", svg):
            assert ("rd-s-" not in tag) or (" stroke=" in tag), tag
            assert ("rd-f-" not in tag) or (" fill=" in tag), tag


def _luminance(color: str) -> float:
    channels = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """Contrast ratio of two colors, by the formula of the W3C's accessibility guidelines (from memory)."""
    light, dark = sorted((_luminance(a), _luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("palette", [tokens.COLORS, tokens.DARK, tokens.ON_PAPER])
@pytest.mark.parametrize("color", ["ink", "steel", "accent", "clear", "depends", "over", "unknown"])
def test_lettering_stands_out_from_the_ground(palette, color):
    assert contrast(palette[color], palette["paper"]) >= 4.5
    assert contrast(palette[color], palette["sheet"]) >= 4.5


def test_both_palettes_name_the_same_colors():
    assert list(tokens.COLORS) == list(tokens.DARK)


def test_paper_takes_the_drawings():
    typst = pytest.importorskip("typst")
    rig = Rig(
        trailer=gooseneck(), truck=truck(), cargo=[Placed(loader(), 200)], loads=[LoadMark("axles", 1, 2, "over")]
    )
    source = b"#image(bytes(sys.inputs.drawing), width: 100%)"
    pdf = typst.compile(source, sys_inputs={"drawing": rig_side(rig, width_px=720)})
    assert pdf.startswith(b"%PDF")
