"""What the documents name exists: commands, options, files, links, scripts."""

from __future__ import annotations

import re
import subprocess
from functools import lru_cache
from pathlib import Path

import pytest
import typer

from rubrail.cli.main import COMMANDS, app

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", ROOT / "CHANGELOG.md", *sorted((ROOT / "docs").rglob("*.md"))]
IDS = [p.relative_to(ROOT).as_posix() for p in PAGES]


@lru_cache(maxsize=1)
def options() -> dict[str, set[str]]:
    """Options of every command, as its own help knows them."""
    group = typer.main.get_command(app)
    found = {"": {o for p in group.params for o in (*p.opts, *p.secondary_opts)} | {"--help", "-h"}}
    for name, command in group.commands.items():
        found[name] = {o for p in command.params for o in (*p.opts, *p.secondary_opts)} | {"--help", "-h"}
    return found


def spans(text: str) -> list[str]:
    """Code of a page: inline, and line by line in blocks that are no other language."""
    blocks = re.findall(r"^```(?:sh|text|)\n(.*?)^```", text, re.M | re.S)
    rest = re.sub(r"^```.*?^```", "", text, flags=re.M | re.S)
    return [line for b in blocks for line in b.splitlines()] + re.findall(r"`([^`\n]+)`", rest)


@pytest.mark.parametrize("page", PAGES, ids=IDS)
def test_commands_and_options_exist(page):
    for span in spans(page.read_text("utf-8")):
        named = re.search(r"(?:^|\$ )rubrail (.*)|go\.py run -- (.*)", span)
        if not named:
            continue
        words = (named[1] or named[2]).split()
        command = words[0] if not words[0].startswith("-") else ""
        assert command in options(), span
        for word in words:
            if word.startswith("--"):
                assert word.rstrip(",.") in options()[command], span


@pytest.mark.parametrize("page", PAGES, ids=IDS)
def test_options_told_alone_exist_somewhere(page):
    every = set().union(*options().values())
    ours = [s for s in spans(page.read_text("utf-8")) if re.fullmatch(r"--[a-z-]+", s)]
    assert [s for s in ours if s not in every] == []


def test_every_command_is_told_in_the_readme_or_the_docs():
    text = "\n".join(p.read_text("utf-8") for p in PAGES)
    assert [c for c in COMMANDS if not re.search(rf"rubrail {c}\b|go\.py {c}\b", text)] == []


def slugs(text: str) -> set[str]:
    """Anchors of a page's headings."""
    heads = re.findall(r"^#+ (.*)$", text, re.M)
    return {re.sub(r"[^\w\- ]", "", h.lower()).replace(" ", "-") for h in heads}


@pytest.mark.parametrize("page", PAGES, ids=IDS)
def test_relative_links_resolve(page):
    text = page.read_text("utf-8")
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        if re.match(r"[a-z]+:", target):
            continue
        path, _, anchor = target.partition("#")
        there = page if not path else page.parent / path
        assert there.exists(), target
        if anchor:
            assert anchor in slugs(there.read_text("utf-8")), target


@pytest.mark.parametrize("page", PAGES, ids=IDS)
def test_paths_named_in_code_exist(page):
    for span in spans(page.read_text("utf-8")):
        named = re.fullmatch(r"((?:docs|tests|scripts|src|rules|answers|checks|sheets|quantity)/[\w/.*-]+)", span)
        if named:
            base = ROOT if named[1].split("/")[0] in ("docs", "tests", "scripts", "src") else ROOT / "src" / "rubrail"
            assert list(base.glob(named[1].rstrip("/"))), span


def test_go_commands_in_the_readme_exist():
    readme, script = (ROOT / "README.md").read_text("utf-8"), (ROOT / "go.py").read_text("utf-8")
    named = set(re.findall(r"python go\.py (\w+)", readme))
    assert {"demo", "test"} <= named
    assert named <= set(re.findall(r"python go\.py (\w+)", script))


def test_the_readme_shows_what_is_printed():
    from cli.terminal import run

    readme = (ROOT / "README.md").read_text("utf-8")
    shown = re.search(r"\$ rubrail (.*?)\n(.*?)\n```", readme, re.S)
    printed = " ".join(run(*shown[1].split()).out.split())
    assert printed.startswith(" ".join(shown[2].split()).removesuffix("..."))


def test_the_readme_program_runs():
    import sys

    from cli.terminal import YARD

    readme = (ROOT / "README.md").read_text("utf-8")
    code = re.search(r"```python\n(.*?)```", readme, re.S)[1]
    code = code.replace('"my-yard"', repr(str(YARD))).replace('"H-07"', '"03-landscaper-track-loader"')
    ended = subprocess.run(
        [sys.executable, "-c", code], env={"PYTHONPATH": str(ROOT / "src")}, capture_output=True, text=True,
        timeout=60, check=False,
    )  # fmt: skip
    assert ended.stderr == ""
    assert re.fullmatch(r"\S+ (clear|depends|not known|over)\n", ended.stdout)


def test_the_exit_codes_of_the_readme_are_the_ones():
    from rubrail.cli.ends import BAD_INPUT, OF_VERDICT

    readme = " ".join((ROOT / "README.md").read_text("utf-8").split())
    for word in ("clear", "over", "depends", "not known"):
        assert f"{OF_VERDICT[word]} for {word}" in readme
    assert f"{BAD_INPUT} for bad input" in readme


def test_the_changelog_has_the_headings_it_promises():
    text = (ROOT / "CHANGELOG.md").read_text("utf-8")
    assert re.search(r"^## \[(Unreleased|\d+\.\d+\.\d+)\]", text, re.M)
    heads = re.findall(r"^### (.*)$", text, re.M)
    assert set(heads) <= {"Added", "Changed", "Deprecated", "Removed", "Fixed", "Security"}
