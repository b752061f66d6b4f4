"""A number, its basis and its tolerance. Estimated figures: common practice, no source (as the trade carries them)."""

import pytest

from rubrail.quantity.basis import BASES, TOLERANCES, default_tolerance
from rubrail.quantity.value import Value


@pytest.mark.parametrize(
    ("kind", "number", "tolerance"),
    [("machine weight", 10_000, 500), ("center of gravity", 82, 4), ("empty weight", 7_420, 150), ("place", 296, 2)],
)
def test_estimates_carry_what_the_trade_carries(kind, number, tolerance):
    assert default_tolerance(kind=kind, basis="estimated", number=number) == tolerance


@pytest.mark.parametrize("kind", TOLERANCES)
def test_a_label_has_no_tolerance(kind):
    assert default_tolerance(kind=kind, basis="label", number=10_000) == 0


@pytest.mark.parametrize("basis", BASES)
def test_chosen_figures_have_none_on_any_basis(basis):
    assert default_tolerance(kind="nominal", basis=basis, number=10_000) == 0


@pytest.mark.parametrize("basis", BASES)
def test_a_rating_is_sure_only_where_somebody_read_it(basis):
    tolerance = default_tolerance(kind="rating", basis=basis, number=10_000)
    assert tolerance == {"estimated": 500, "typical": 1_000}.get(basis, 0)


@pytest.mark.parametrize("kind", [k for k in TOLERANCES if k not in ("rating", "nominal")])
def test_a_weaker_basis_is_never_the_surer(kind):
    found = [default_tolerance(kind=kind, basis=b, number=5_000) for b in ("measured", "estimated", "typical")]
    assert found == sorted(found)
    assert found[-1] > 0


def test_the_larger_of_amount_and_share_counts():
    assert default_tolerance(kind="machine weight", basis="weighed", number=2_000) == 40
    assert default_tolerance(kind="machine weight", basis="weighed", number=20_000) == 100


def test_unknown_words_are_refused():
    with pytest.raises(KeyError):
        default_tolerance(kind="machine weight", basis="guessed", number=1)
    with pytest.raises(KeyError):
        default_tolerance(kind="color", basis="label", number=1)


def test_a_value_has_ends():
    value = Value(7_420, "weighed", 40)
    assert (value.low, value.high, float(value)) == (7_380, 7_460, 7_420)


def test_a_value_refuses_what_is_no_basis_or_tolerance():
    with pytest.raises(ValueError, match=r"basis must be one of label, .*, got 'guess'"):
        Value(1, "guess")
    with pytest.raises(ValueError, match="plus_minus must be 0 or more, got -1"):
        Value(1, "measured", -1)
    with pytest.raises(ValueError, match="plus_minus must be 0 or more, got nan"):
        Value(1, "measured", float("nan"))
