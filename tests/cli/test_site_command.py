"""``rubrail site`` from a terminal: what it writes, what it leaves, and one sentence for each thing it cannot use."""

from __future__ import annotations

import json
import shutil

import pytest

from cli.terminal import YARD, run, spawn

AT = ("--address", "https://yard.example/trailers")


def test_a_yards_files_become_pages_and_a_second_run_writes_nothing(tmp_path):
    site = tmp_path / "site"
    first = run("site", str(site), *AT, "--yard", "demo", "--contact", "The office, 8 to 5", "--contact", "Row A")
    assert first.code == 0
    assert "files written, 0 as before, 0 taken away" in first.out
    page = (site / "trailer" / "SH-191.html").read_text("utf-8")
    assert 'href="https://yard.example/trailers/trailer/SH-191.html"' in page
    assert "The office, 8 to 5" in page
    assert "Sedge Hollow Trailer Yard" in page
    assert json.loads((site / "units.json").read_text("utf-8"))["schema"] == "rubrail/units/1"
    again = run("site", str(site), *AT, "--yard", "demo", "--contact", "The office, 8 to 5", "--contact", "Row A")
    assert f"{site}: 0 files written" in again.out


def test_a_unit_that_is_sold_drops_out(tmp_path):
    yard, site = tmp_path / "yard", tmp_path / "site"
    shutil.copytree(YARD, yard)
    assert run("site", str(site), *AT, "--yard", str(yard)).code == 0
    assert (site / "trailer" / "SH-191.html").exists()
    file = next(p for p in (yard / "trailers").iterdir() if 'id = "SH-191"' in p.read_text("utf-8"))
    text = file.read_text("utf-8")
    assert "status =" not in text, "in the yard where nothing is said"
    file.write_text(text.replace('id = "SH-191"', 'id = "SH-191"\nstatus = "sold"'), "utf-8")
    ended = run("site", str(site), *AT, "--yard", str(yard))
    assert ended.code == 0
    assert not (site / "trailer" / "SH-191.html").exists()
    assert "SH-191" not in (site / "units.csv").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((*AT, "--yard", "no/such/yard"), "the folder is not there"),
        (
            ("--address", "yard.example", "--yard", "demo"),
            "--address must be an address such as https://yard.example/",
        ),
        (("--yard", "demo"), "--address must say where buyers will find the pages"),
        ((*AT, "--contact", "x"), "--contact goes with --yard"),
    ],
)
def test_what_cannot_be_used_is_said_in_a_sentence(tmp_path, words, says):
    ended = run("site", str(tmp_path / "site"), *words)
    assert ended.code == 2
    assert says in ended.err
    assert "Traceback" not in ended.err
    assert not (tmp_path / "site").exists()


def test_a_folder_of_somebodys_is_refused(tmp_path):
    (tmp_path / "letter.txt").write_text("mine")
    ended = run("site", str(tmp_path), *AT, "--yard", "demo")
    assert ended.code == 2
    assert "that rubrail did not write (letter.txt)" in ended.err
    assert [p.name for p in tmp_path.iterdir()] == ["letter.txt"]


def test_the_desks_own_stock(tmp_path):
    env = {"RUBRAIL_HOME": str(tmp_path / "home"), "DJANGO_SETTINGS_MODULE": "rubrail.desk.settings"}
    ended = spawn("site", str(tmp_path / "site"), *AT, env=env, text=True)
    assert ended.returncode == 0, ended.stderr
    assert "None is here now" in (tmp_path / "site" / "index.html").read_text("utf-8")
    nowhere = spawn("site", str(tmp_path / "other"), env=env, text=True)
    assert nowhere.returncode == 2
    assert "RUBRAIL_PUBLIC_ADDRESS must" in nowhere.stderr
    named = {**env, "RUBRAIL_PUBLIC_ADDRESS": "https://elsewhere.example"}
    assert spawn("site", str(tmp_path / "other"), env=named, text=True).returncode == 0
    assert "https://elsewhere.example/sitemap.xml" in (tmp_path / "other" / "robots.txt").read_text("utf-8")


def test_labels_need_a_whole_address(tmp_path):
    ended = run("paper", "labels", "SH-191", "--yard", "demo", "--link", "nowhere", "--out", str(tmp_path / "x.pdf"))
    assert ended.code == 2
    assert "--link must be an address" in ended.err
