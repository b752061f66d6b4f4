"""A packed row gives back exactly the columns it was made from, and refuses to be misread."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from rubrail.answers.height import built_columns
from rubrail.things.columns import Columns
from rubrail.things.folder import load_yard
from rubrail.things.names import AXLE, TRAILER
from rubrail.things.pack import MOST_AXLES, PackError, pack_rows, unpack_rows
from rubrail.things.trailer import Trailer


@pytest.fixture(scope="module")
def trailers() -> tuple[Trailer, ...]:
    return tuple(load_yard(Path(str(files("rubrail.demo"))) / "yard").trailers.values())


def assert_same(a: Columns, b: Columns) -> None:
    for part in ("values", "plus_minus", "basis"):
        mine, theirs = getattr(a, part), getattr(b, part)
        assert mine.keys() == theirs.keys()
        for name in mine:
            assert mine[name].shape == theirs[name].shape, name
            if part == "basis":
                assert mine[name].tolist() == theirs[name].tolist(), name
            else:
                # equal to the bit, not-a-numbers and all
                assert mine[name].astype("<f8").tobytes() == theirs[name].astype("<f8").tobytes(), name


def test_a_yard_comes_back_exactly(trailers):
    columns = built_columns(trailers)
    assert_same(unpack_rows(pack_rows(columns)), columns)


def test_each_unit_alone_is_the_row_it_has_in_a_yard(trailers):
    together = pack_rows(built_columns(trailers))
    assert together == [row for t in trailers for row in pack_rows(built_columns((t,)))]


def test_a_part_of_a_yard_is_as_wide_as_its_own_axles(trailers):
    few = [t for t in trailers if len(t.axle) < max(len(u.axle) for u in trailers)]
    rows = pack_rows(built_columns(trailers))
    picked = [row for row, t in zip(rows, trailers, strict=True) if t in few]
    assert_same(unpack_rows(picked), built_columns(few))


def test_most_axles_are_those_a_file_may_list():
    assert next(m.max_length for m in Trailer.model_fields["axle"].metadata if hasattr(m, "max_length")) == MOST_AXLES


def test_no_rows_are_no_units():
    columns = unpack_rows([])
    assert columns["trailer_gvwr_lb"].shape == (0, 1, 1)
    assert set(columns.values) == {*TRAILER, *AXLE}


@pytest.mark.parametrize("spoil", [lambda r: r[:-1], lambda r: b"\0\0\0\0" + r[4:], lambda r: b""])
def test_another_layout_is_refused(trailers, spoil):
    row = pack_rows(built_columns(trailers[:1]))[0]
    with pytest.raises(PackError):
        unpack_rows([row, spoil(row)])


def test_what_does_not_fit_is_refused(trailers):
    columns = built_columns(trailers)
    with pytest.raises(PackError, match="trailer_gvwr_lb"):
        pack_rows(Columns({n: a for n, a in columns.values.items() if n != "trailer_gvwr_lb"}))
    wide = {n: np.concatenate([columns[n]] * 3) for n in AXLE}
    with pytest.raises(PackError, match="9"):
        pack_rows(columns.with_values(wide))
