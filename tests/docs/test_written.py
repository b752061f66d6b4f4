"""Documents that are written from the code are what the code writes, and say what they must."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

import pytest

import rubrail.checks.all  # noqa: F401 - fills the registry
from rubrail.checks.registry import CHECKS, KINDS, QUANTITIES
from rubrail.checks.verdict import WORDS
from rubrail.quantity.basis import BASES
from rubrail.rules.sources import VERIFIED, source

ROOT = Path(__file__).resolve().parents[2]


def documents() -> dict[str, str]:
    """What scripts/make_docs.py writes."""
    spec = importlib.util.spec_from_file_location("make_docs", ROOT / "scripts" / "make_docs.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.documents()


WRITTEN = documents()
LIMITS = WRITTEN["docs/limits.md"]


@pytest.mark.parametrize("path", WRITTEN)
def test_written_documents_have_not_drifted(path):
    assert (ROOT / path).read_text("utf-8") == WRITTEN[path], "run scripts/make_docs.py"


def test_no_other_answer_schema_lies_about():
    there = {p.relative_to(ROOT).as_posix() for p in (ROOT / "docs" / "schemas" / "answers").iterdir()}
    assert there == {p for p in WRITTEN if "/answers/" in p}


def section(check: str) -> str:
    """The page's section on one check."""
    return LIMITS.split(f"\n### {check}\n", 1)[1].split("\n### ", 1)[0].split("\n## ", 1)[0]


@pytest.mark.parametrize("check", CHECKS)
def test_every_limit_has_a_section_that_says_it_all(check):
    c, text = CHECKS[check], section(check)
    assert c.says in text
    assert all(f"`{n}`" in text for n in c.inputs)
    if c.demand and c.limit:
        assert f"`{c.demand}`" in text
        assert f"`{c.limit}`" in text
    for key in c.sources:
        assert key in text
        assert VERIFIED[source(key).verified] in text
    assert {"guidance": "Guidance, not law"}.get(c.kind, c.kind.capitalize()) in text


def test_every_name_in_a_formula_is_explained():
    from rubrail.things.names import COLUMNS

    explained = set(re.findall(r"^\| `(\w+)` \|", LIMITS, re.M))
    assert explained >= {n for c in CHECKS.values() for n in c.inputs}
    assert explained == set(QUANTITIES) | set(COLUMNS)


@pytest.mark.parametrize("word", [*WORDS[:4], *KINDS, *BASES])
def test_the_glossary_knows_our_own_words(word):
    text = (ROOT / "docs" / "glossary.md").read_text("utf-8")
    assert re.search(rf"\b{word}\b", text)
    assert word in BASES or re.search(rf"^\| (\w+, )*{word}(, \w+)* \|", text, re.M)


def test_the_architecture_gives_a_reason_for_each_dependency():
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    text = (ROOT / "docs" / "architecture.md").read_text("utf-8")
    wanted = [*project["dependencies"], *(d for group in project["optional-dependencies"].values() for d in group)]
    names = {re.match(r"[\w-]+", d)[0] for d in wanted}
    plug_ins = {f"pytest-{p}" for p in ("django", "playwright", "xdist")}
    hidden = {"cytriangle"}  # a part of sectionproperties, pinned for its wheels
    assert {n for n in names - plug_ins - hidden if not re.search(rf"\b{re.escape(n)}\b", text)} == set()


def test_the_architecture_names_every_room():
    text = (ROOT / "docs" / "architecture.md").read_text("utf-8")
    rooms = {p.name for p in (ROOT / "src" / "rubrail").iterdir() if (p / "__init__.py").exists()}
    assert {r for r in rooms if f"`{r}/`" not in text} == set()
