"""Whatever a file holds, the door gives a thing or its faults, and nothing else."""

from __future__ import annotations

import json
import tempfile
from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from rubrail.things.door import KINDS, read_file, read_thing
from rubrail.things.faults import Faults
from rubrail.things.part import Thing
from things.samples import EXAMPLES, table

LEAVES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=True, allow_infinity=True),
    st.text(max_size=30),
    st.sampled_from(["12 kg", "8 ft 6 in", "not known", "ball", "1/0 in", "3.5 T", "2026-03-14", "label", "=id"]),
    st.just(date(2026, 3, 14)),
)
KEYS = st.one_of(st.text(max_size=8), st.sampled_from(["value", "basis", "plus_minus", "id", "kind"]))
BITS = st.sampled_from([b"[", b"]]", b"=", b'"', b"\n", b"-", b"9" * 30, b"[[axle]]\n", b"'''"])
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(KEYS, inner, max_size=4)),
    max_leaves=8,
)
KIND = st.sampled_from(sorted(KINDS))


def thing_or_faults(kind: str, value: object) -> Thing | Faults:
    try:
        return read_thing(KINDS[kind], value, "it.toml")
    except Faults as told:
        return told


def read_bytes(raw: bytes, suffix: str) -> list[Thing | Faults]:
    """What the door makes of a file of these bytes."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"it{suffix}"
        path.write_bytes(raw)
        try:
            return [thing for _, thing in read_file(path)]
        except Faults as told:
            return [told]


def sound(result: Thing | Faults) -> bool:
    """Whether a result is what the door may give, every sentence one printable line."""
    if isinstance(result, Thing):
        return True
    lines = [fault.sentence for fault in result.faults]
    return bool(lines) and all(line.isprintable() and line[-1] in ".?" and "pydantic" not in line for line in lines)


def places(value: object, at: tuple = ()) -> list[tuple]:
    """Every place in a table."""
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [p for key, inner in members for p in [(*at, key), *places(inner, (*at, key))]]


@given(KIND, VALUES)
def test_any_value(kind, value):
    assert sound(thing_or_faults(kind, value))


@settings(max_examples=300)
@given(KIND, st.data())
def test_an_example_with_values_changed(kind, data):
    made = table(kind)
    for _ in range(data.draw(st.integers(1, 4))):
        where = data.draw(st.sampled_from(places(made)))
        here = made
        for step in where[:-1]:
            here = here[step]
        change = data.draw(st.sampled_from(["set", "drop", "rename"]))
        if change == "set" or isinstance(here, list):
            here[where[-1]] = data.draw(VALUES)
        else:
            value = here.pop(where[-1])
            if change == "rename":
                here[data.draw(st.text(max_size=12))] = value
    assert sound(thing_or_faults(kind, made))


@settings(max_examples=300)
@given(st.sampled_from([text for text, kind in EXAMPLES if kind in KINDS]), st.data())
def test_an_example_with_its_text_changed(text, data):
    raw = bytearray(text.encode())
    for _ in range(data.draw(st.integers(1, 5))):
        start = data.draw(st.integers(0, len(raw)))
        end = start + data.draw(st.integers(0, 12))
        raw[start:end] = data.draw(st.one_of(st.binary(max_size=6), BITS))
    assert all(sound(result) for result in read_bytes(bytes(raw), ".toml"))


@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)), st.sampled_from([".toml", ".json"]))
def test_any_bytes(raw, suffix):
    assert all(sound(result) for result in read_bytes(raw, suffix))


@given(KIND, VALUES)
def test_what_reads_is_written_back_the_same(kind, value):
    made = {**table(kind), "notes": "x"}
    key = sorted(made)[len(json.dumps(value, default=str)) % len(made)]
    result = thing_or_faults(kind, {**made, key: value})
    if isinstance(result, Thing):
        again = result.model_dump(mode="json", by_alias=True, exclude_unset=True)
        assert read_thing(KINDS[kind], again) == result
