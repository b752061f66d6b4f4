"""Bad input: sentences on standard error, code 2, nothing on standard output, never a traceback."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from cli.terminal import HAUL, ROOT, YARD, carriers, run, spawn
from rubrail.cli import ends
from rubrail.cli.ends import BAD_INPUT, INTERRUPTED, OWN_FAULT, PIPE_CLOSED

DEMO = ("--yard", "demo")


def refused(*args: str) -> list[str]:
    """Sentences of a command that refuses its input."""
    ended = run(*args)
    assert ended.code == BAD_INPUT
    assert ended.out == ""
    assert "Traceback" not in ended.err
    sentences = ended.err.splitlines()
    assert sentences
    assert all(s.endswith((".", "?")) and s[:1] != " " for s in sentences), sentences
    return sentences


BAD = {
    "no such haul": (("match", "03-landscaper-track-loadr", *DEMO), "did you mean 03-landscaper-track-loader?"),
    "no such unit": (("weigh", HAUL, "SH-13", *DEMO), "TRAILER must be a trailer file or the id of a unit"),
    "walk: no such station": (
        ("walk", "SH-133", "--leave", "engine", *DEMO),
        "--leave must be one of coupling, chains",
    ),
    "walk: a pace": (("walk", "SH-133", "--pace", "20", *DEMO), "--pace: the pace must be 60 to 240 words a minute"),
    "walk: a place without a haul": (("walk", "SH-133", "--at", "60", *DEMO), "no haul is named: add --haul"),
    "walk: captions nowhere": (("walk", "SH-133", "--vtt", "no/such/folder/x.vtt", *DEMO), "cannot be written"),
    "hand-over: a bare reading": (("hand-over", HAUL, "SH-133", "--set", "ball", *DEMO), "--set must be NAME=VALUE"),
    "hand-over: no such reading": (
        ("hand-over", HAUL, "SH-133", "--set", "axle=3", *DEMO),
        "'axle' is nothing that is measured here",
    ),
    "hand-over: a slip": (
        ("hand-over", HAUL, "SH-133", "--set", "hitch_height_in=200", *DEMO),
        "must be 8 to 80 in, got '200'",
    ),
    "hand-over: no such file": (("hand-over", HAUL, "SH-133", "--measured", "no/such.toml", *DEMO), "no/such.toml"),
    "no yard": (("weigh", HAUL, "SH-133"), "no yard is named"),
    "no yard to match": (("match", str(YARD / "nothing.toml")), "there is no such file"),
    "no such folder": (("match", HAUL, "--yard", "no/such/folder"), "folder"),
    "a haul for a trailer": (("decode", str(YARD / "yard.toml")), "yard.toml"),
    "a folder for a haul": (("weigh", str(YARD / "hauls"), "SH-133"), "hauls"),
    "one unit": (("compare", HAUL, "SH-133", *DEMO), "must name 2 to 6 different trailers, got 1"),
    "one unit twice": (("compare", HAUL, "SH-133", "SH-133", *DEMO), "got 1"),
    "seven units": (("compare", HAUL, *carriers()[:7], *DEMO), "got 7"),
    "no such check": (("why", "axel", HAUL, "SH-133", *DEMO), "did you mean axle?"),
    "a check of driving up": (("why", "belly-clearance", HAUL, "SH-133", *DEMO), "rubrail climb tells it"),
    "no such kind": (("rules", "--kind", "wish"), "--kind must be one of rating, law"),
    "no such rule": (("rules", "zzz"), "CHECK must be the id of a check"),
    "no such schema": (("schema", "wheelbarrow"), "NAME must be one of trailer"),
    "too many places": (("weigh", HAUL, "SH-133", "--at", "1", "--at", "2", *DEMO), "got 2"),
    "unreadable place": (("weigh", HAUL, "SH-133", "--at", "yonder", *DEMO), "got 'yonder'"),
    "place in pounds": (("weigh", HAUL, "SH-133", "--at", "60 lb", *DEMO), "is a weight, and a length is wanted"),
    "no such kit": (("tie-down", HAUL, "SH-133", "--kit", "rope", *DEMO), "(it has yard-gear)"),
    "a kit that is none": (("tie-down", HAUL, "SH-133", "--kit", str(YARD / "yard.toml"), *DEMO), "yard.toml"),
    "no such anchor": (("tie-down", HAUL, "SH-133", "--move", "1=99L", *DEMO), "there is no anchor '99L'"),
    "no such tie-down": (("tie-down", HAUL, "SH-133", "--move", "9=1L", *DEMO), "the plan has 1, 2, 3, 4, 5"),
    "no move at all": (("tie-down", HAUL, "SH-133", "--move", "1", *DEMO), "--move must be a tie-down of the plan"),
    "a drawing in no folder": (("tie-down", HAUL, "SH-133", "--drawing", "no/such/x.svg", *DEMO), "cannot be written"),
    "a drawing of no name": (("tie-down", HAUL, "SH-133", "--drawing", "", *DEMO), "cannot be written"),
    "no such file": (("check", "missing.toml"), "there is no such file"),
}


@pytest.mark.parametrize("name", BAD)
def test_it_is_said_in_a_sentence(name):
    args, words = BAD[name]
    assert words in "\n".join(refused(*args))


def test_every_unknown_unit_is_named_at_once():
    said = refused("compare", HAUL, "SH-1", "SH-2", *DEMO)
    assert ["'SH-1'" in said[0], "'SH-2'" in said[1]] == [True, True]


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\xff\xfe\x00bad",
        b"schema = [",
        b"[" * 5000,
        b"x" * 3_000_000,
        b'{"schema": 1}',
        b"schema = 'rubrail/moon/1'",
    ],
    ids=["empty", "not text", "cut short", "deep", "huge", "json", "moon"],
)
def test_files_that_are_none(tmp_path, raw):
    path = tmp_path / "unit.toml"
    path.write_bytes(raw)
    for args in (("check", str(path)), ("decode", str(path)), ("match", str(path), str(path))):
        assert "unit.toml" in "\n".join(refused(*args))


def test_every_fault_of_every_file_is_told(tmp_path):
    good = (YARD / "trailers" / "low-equipment-20ft.toml").read_text("utf-8")
    (tmp_path / "a.toml").write_text(good.replace("price_usd = ", "price_usd = -"), "utf-8")
    (tmp_path / "b.toml").write_text(good.replace("gvwr_lb", "gvvr_lb"), "utf-8")
    said = refused("check", str(tmp_path / "a.toml"), str(tmp_path / "b.toml"))
    assert any("a.toml" in s and "price_usd" in s for s in said)
    assert any("b.toml" in s and "did you mean gvwr_lb" in s for s in said)
    assert len(refused("match", str(YARD / "hauls" / f"{HAUL}.toml"), str(tmp_path))) >= 2


def test_good_files_are_told_beside_the_bad(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("schema = 3", "utf-8")
    ended = run("check", str(YARD / "trailers" / "low-equipment-20ft.toml"), str(bad))
    assert ended.code == BAD_INPUT
    assert "low-equipment-20ft.toml: good." in ended.out
    assert "bad.toml" in ended.err


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="everything may be read by this user")
def test_a_file_that_may_not_be_read(tmp_path):
    path = tmp_path / "locked.toml"
    path.write_text("", "utf-8")
    path.chmod(0)
    assert "permission" in "\n".join(refused("check", str(path))).lower()


@pytest.mark.parametrize("args", [("weigh",), ("weigh", "a", "b", "--no-such"), ("no-such-command",), ("why", "axle")])
def test_usage_is_code_2_without_a_traceback(args):
    ended = run(*args)
    assert ended.code == BAD_INPUT
    assert ended.out == ""
    assert "Traceback" not in ended.err
    assert "--help" in ended.err


def raising(error: BaseException):
    def command() -> None:
        raise error

    return command


@pytest.mark.parametrize(
    ("error", "code", "words"),
    [
        (OSError(28, "No space left on device", "out.json"), BAD_INPUT, "out.json cannot be used: no space left"),
        (OSError("odd"), BAD_INPUT, "The system refused something: odd."),
        (KeyboardInterrupt(), INTERRUPTED, "Stopped."),
        (ZeroDivisionError("by zero"), OWN_FAULT, "a fault of rubrail, not of your files: ZeroDivisionError: by zero"),
        (ends.BadInput("One thing.", "Another."), BAD_INPUT, "One thing.\nAnother."),
    ],
)
def test_what_was_not_foreseen_is_a_sentence_too(capsys, error, code, words):
    assert ends._code_of(raising(error), (), {}) == code
    said = capsys.readouterr().err
    assert words in said
    assert "Traceback" not in said


def test_a_fault_of_our_own_shows_where_on_demand(capsys, monkeypatch):
    monkeypatch.setenv("RUBRAIL_DEBUG", "yes")
    assert ends._code_of(raising(ZeroDivisionError("by zero")), (), {}) == OWN_FAULT
    assert "Traceback" in capsys.readouterr().err


@pytest.mark.skipif(os.name == "nt", reason="pipes close otherwise there")
@pytest.mark.parametrize("args", [("rules",), ("rules", "--markdown"), ("match", HAUL, "--json", *DEMO)])
def test_a_reader_that_goes_away_ends_it_quietly(args):
    command = [sys.executable, "-m", "rubrail.cli", *args]
    env = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env) as process:
        process.stdout.close()
        said = process.stderr.read()
    assert process.returncode == PIPE_CLOSED
    assert said == b""


def test_a_real_process_leaves_with_the_code():
    ended = spawn("weigh", "nothing", "SH-133", *DEMO)
    assert ended.returncode == BAD_INPUT
    assert ended.stdout == b""
    assert b"Traceback" not in ended.stderr


def test_serve_says_what_keeps_it_from_starting(monkeypatch):
    from rubrail.desk import serve as desk

    def cannot(**options):
        raise desk.ServeError("Port 1 may not be used by you. Give a --port above 1023.")

    monkeypatch.setattr(desk, "serve", cannot)
    assert refused("serve", "--port", "1") == ["Port 1 may not be used by you. Give a --port above 1023."]


def test_serve_and_demo_pass_their_options_on(monkeypatch):
    from rubrail.desk import serve as desk

    seen = {}
    monkeypatch.setattr(desk, "serve", lambda **o: seen.update(serve=o))
    monkeypatch.setattr(desk, "demo", lambda **o: seen.update(demo=o))
    assert run("serve", "--host", "127.0.0.1", "--port", "0", "--lan", "--open").code == 0
    assert seen["serve"] == {"host": "127.0.0.1", "port": 0, "lan": True, "open_browser": True}
    assert run("demo", "--no-open", "--port", "0", "--fresh").code == 0
    assert seen["demo"] == {"port": 0, "open_browser": False, "fresh": True}
