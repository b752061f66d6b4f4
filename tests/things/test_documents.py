"""The document's examples read, its tables and the schemas are what the models say."""

import json
import tomllib

import jsonschema
import pytest

from rubrail.things.door import KINDS, read_file, read_thing
from rubrail.things.fields import fields_of
from rubrail.things.names import COLUMNS, UNITS, unit_of
from rubrail.things.publish import FILES, schema_of, schema_text, with_tables
from things.samples import DOCS, EXAMPLES


@pytest.mark.parametrize(("text", "kind"), EXAMPLES, ids=[f"{k} {n}" for n, (_, k) in enumerate(EXAMPLES)])
def test_examples_read_and_fit_the_schema(text, kind, tmp_path):
    table = tomllib.loads(text)
    read_thing(FILES[kind], table)
    plain = json.loads(json.dumps(table, default=str))
    jsonschema.validate(plain, schema_of(kind), cls=jsonschema.Draft202012Validator)
    if kind in KINDS:
        path = tmp_path / "it.json"
        path.write_text(json.dumps(plain), "utf-8")
        assert [type(t) for _, t in read_file(path)] == [KINDS[kind]]


def test_every_kind_of_file_has_an_example():
    assert {kind for _, kind in EXAMPLES} == set(FILES)


@pytest.mark.parametrize("kind", FILES)
def test_published_schemas_have_not_drifted(kind):
    assert (DOCS / "schemas" / f"{kind}-1.json").read_text("utf-8") == schema_text(kind)
    jsonschema.Draft202012Validator.check_schema(schema_of(kind))


def test_tables_of_the_document_have_not_drifted():
    text = (DOCS / "files.md").read_text("utf-8")
    assert with_tables(text) == text
    assert text.count("<!-- end -->") == 2 + len(FILES)


@pytest.mark.parametrize("kind", FILES)
def test_the_schema_refuses_an_unknown_key(kind):
    text = next(t for t, k in EXAMPLES if k == kind)
    plain = json.loads(json.dumps({**tomllib.loads(text), "no_such_key": 1}, default=str))
    with pytest.raises(jsonschema.ValidationError, match="no_such_key"):
        jsonschema.validate(plain, schema_of(kind), cls=jsonschema.Draft202012Validator)


MEASURED = [(k, f) for k, m in FILES.items() for f in fields_of(m) if f.measure]


@pytest.mark.parametrize(("kind", "field"), MEASURED, ids=[f"{k} {f.path}" for k, f in MEASURED])
def test_a_measured_field_ends_in_its_unit(kind, field):
    file_only = {
        "_ft_lb": "ft lb",
        "_deg": "deg",
        "_percent": "%",
        "_months": "months",
        "_lb_per_ft": "lb/ft",
        "_restoration": "",
    }
    endings = {**file_only, **UNITS}
    unit = next(u for suffix, u in endings.items() if field.path.removesuffix("[]").endswith(suffix))
    assert unit == field.unit
    assert field.says
    assert field.measure.low < field.measure.high


NO_FIELD = {"placement", "plan", "climb"}
"""Paths of columns that no file states."""


@pytest.mark.parametrize("column", COLUMNS.values(), ids=lambda column: column.name)
def test_the_path_of_a_column_is_a_field_of_a_file(column):
    kind, _, path = column.path.partition(".")
    known = {f.path.replace("[]", "") for f in fields_of(FILES[kind])} if kind in FILES else NO_FIELD
    assert (path or kind) in known
    if path and column.per != "item" and kind != "limits":
        unit = next((f.unit for f in fields_of(FILES[kind]) if f.path.replace("[]", "") == path), "")
        assert unit in ("", unit_of(column.name))
