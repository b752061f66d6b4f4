"""The JSON of every answer: documented shape, not-known and no-limit numbers, the same sentence as on screen."""

from __future__ import annotations

import json
from decimal import Decimal
from math import inf, nan

import jsonschema
import pytest

from cli.terminal import HAUL, ROOT, answer, by_verdict, carriers, run
from cli.test_commands import commands
from rubrail.cli.shapes import ANSWERS, answer_schema
from rubrail.cli.told import VERSION, plain

ANSWERING = [n for n in commands() if n.split()[0] in ANSWERS]


@pytest.mark.parametrize("name", ANSWERING)
def test_json_has_the_published_shape_and_ends_and_speaks_as_the_screen_does(name):
    printed, ended = run(*commands()[name]), run(*commands()[name], "--json")
    told = answer(ended.out)
    kind = name.split()[0]
    published = json.loads((ROOT / "docs" / "schemas" / "answers" / f"{kind}-{VERSION}.json").read_text("utf-8"))
    jsonschema.validate(told, published, cls=jsonschema.Draft202012Validator)
    assert told["format"] == f"rubrail/answer/{kind}/{VERSION}"
    assert ended.err == ""
    assert ended.code == printed.code
    assert told["sentence"] in " ".join(printed.out.split())


@pytest.mark.parametrize("kind", ANSWERS)
def test_schemas_are_schemas_and_strict(kind):
    schema = answer_schema(kind)
    jsonschema.Draft202012Validator.check_schema(schema)
    told = answer(run(*next(c for n, c in commands().items() if n.split()[0] == kind), "--json").out)
    with pytest.raises(jsonschema.ValidationError, match="surprise"):
        jsonschema.validate({**told, "surprise": 1}, schema, cls=jsonschema.Draft202012Validator)
    assert answer(run("schema", f"answer/{kind}").out) == schema


def test_metric_changes_the_sentence_and_no_number():
    us, metric = (answer(run(*commands()["weigh"], "--json", *m).out) for m in ((), ("--metric",)))
    assert us["answer"] == metric["answer"]
    assert us["sentence"] != metric["sentence"]


def test_a_number_nobody_knows_is_null():
    haul, trailer = by_verdict()["not known"]
    told = answer(run("weigh", haul, trailer, "--yard", "demo", "--json").out)["answer"]
    unknown = [x for x in told["lines"] if x["verdict"] == "not known"]
    assert unknown
    assert all(x["margin"] is None and "margin_is" not in x for x in unknown)
    assert all(x["missing"] or x["ask"] for x in unknown)


def test_a_number_without_limit_has_its_word_beside_it():
    assert plain({"a": inf, "b": -inf, "c": nan, "d": (1.0, inf)}) == {
        "a": None, "a_is": "no limit", "b": None, "b_is": "no limit below", "c": None,
        "d": [1.0, None], "d_is": [None, "no limit"],
    }  # fmt: skip


def test_money_is_text():
    assert plain(Decimal("9400.10")) == "9400.10"
    told = answer(run(*commands()["match"], "--json").out)["answer"]
    assert all(isinstance(c["price_usd"], str) for c in told["candidates"] if c["price_usd"] is not None)


def test_what_has_no_shape_is_refused():
    with pytest.raises(TypeError, match="object has no shape in JSON"):
        plain(object())


def test_rules_and_check_as_json(tmp_path):
    rules = answer(run("rules", "--json").out)
    assert {r["id"] for r in rules["answer"]} >= {"axle", "trailer-gross"}
    assert all(r["sources"] for r in rules["answer"])
    (tmp_path / "bad.toml").write_text("schema = 3", "utf-8")
    ended = run("check", str(tmp_path / "bad.toml"), "--json")
    assert ended.code == 2
    assert answer(ended.out)["answer"]["faults"][0]["sentence"] == ended.err.strip()


def test_every_unit_of_the_yard_is_in_the_match():
    told = answer(run("match", HAUL, "--road", "--yard", "demo", "--json").out)["answer"]
    assert [c["trailer"] for c in told["candidates"]] == list(carriers())
