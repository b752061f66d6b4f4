"""Where the data is kept, and the key that signs sessions."""

from __future__ import annotations

import stat
import sys
import threading
from pathlib import Path

import pytest

from rubrail.desk.folders import data_folder, make_private, secret_key


def test_named_folder_wins(tmp_path: Path):
    assert data_folder(environ={"RUBRAIL_HOME": str(tmp_path / "yard")}, platform="linux") == tmp_path / "yard"


def test_home_sign(monkeypatch, tmp_path: Path):
    monkeypatch.setenv("HOME", str(tmp_path))
    assert data_folder(environ={"RUBRAIL_HOME": "~/yard"}, platform="linux") == tmp_path / "yard"


@pytest.mark.parametrize(
    ("platform", "environ", "tail"),
    [
        ("linux", {}, ".local/share/rubrail"),
        ("linux", {"XDG_DATA_HOME": "/data"}, "/data/rubrail"),
        ("linux", {"XDG_DATA_HOME": "relative"}, ".local/share/rubrail"),
        ("darwin", {}, "Library/Application Support/rubrail"),
        ("win32", {}, "AppData/Local/rubrail"),
        ("win32", {"LOCALAPPDATA": "/appdata"}, "/appdata/rubrail"),
        ("linux", {"RUBRAIL_HOME": "  "}, ".local/share/rubrail"),
    ],
)
def test_platforms(platform: str, environ: dict[str, str], tail: str):
    assert data_folder(environ=environ, platform=platform).as_posix().endswith(tail)


@pytest.mark.skipif(sys.platform == "win32", reason="modes are a Unix thing")
def test_only_the_owner_may_look(tmp_path: Path):
    folder = make_private(tmp_path / "a" / "b")
    secret_key(folder)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / "secret-key").stat().st_mode) == 0o600


def test_key_is_kept_and_long(tmp_path: Path):
    key = secret_key(tmp_path)
    assert len(key) >= 50
    assert secret_key(tmp_path) == key
    assert [p.name for p in tmp_path.iterdir()] == ["secret-key"], "nothing is left lying about"


def test_two_folders_have_two_keys(tmp_path: Path):
    assert secret_key(tmp_path / "a") != secret_key(tmp_path / "b")


def test_an_empty_key_file_is_filled(tmp_path: Path):
    (tmp_path / "secret-key").write_text("")
    key = secret_key(tmp_path)
    assert len(key) >= 50
    assert secret_key(tmp_path) == key


def test_many_at_once_agree_on_one_key(tmp_path: Path):
    keys: list[str] = []
    barrier = threading.Barrier(8)

    def get() -> None:
        barrier.wait()
        keys.append(secret_key(tmp_path))

    threads = [threading.Thread(target=get) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(keys) == 8
    assert len(set(keys)) == 1
