"""Facts of the trade about advertised numbers, common practice without a source, through the answer a buyer gets."""

from __future__ import annotations

import pytest

from rubrail.answers.decode import figures

from .reading import case_files, cases_of, columns_of

CASES = [case for path in case_files() if path.stem == "COMMON-PRACTICE" for case in cases_of(path)]
RIG = next(case.settings["rig"] for case in CASES if case.settings["rig"])


@pytest.mark.parametrize(("each_axle_lb", "counted"), [(16_000, "8,000"), (15_000, "10,000")])
def test_an_advertised_40_000_is_taken_apart(each_axle_lb, counted):
    """Two 16,000 lb axles leave 8,000 for the coupler's share, two 15,000 lb axles 10,000."""
    rig = {**RIG, "trailer_advertised_lb": 40_000, "axle_gawr_lb": [each_axle_lb] * 2}
    advertised = next(f for f in figures(columns_of(rig), with_truck=False) if f.name == "advertised")
    assert f"{counted} lb counted for the coupler's share" in advertised.how


def test_payload_by_label_is_21_000():
    rig = {**RIG, "trailer_advertised_lb": 40_000}
    found = next(f for f in figures(columns_of(rig), with_truck=False) if f.name == "payload-label")
    assert found.value_lb == 21_000
    assert found.governs
