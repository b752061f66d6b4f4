"""A site written to a folder: only what changed, nothing of anybody's touched, known again after a run cut short."""

from __future__ import annotations

import dataclasses
import json
import os
import shutil
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from rubrail.sheets.site.folder import LIST, SiteFolderError, write_site
from rubrail.sheets.site.whole import SiteFile
from sheets.site.sites import MAKERS, files_of, units, whole

SOME = units("SH-191", "SH-141", "SH-101")


def there(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file() and p.name != LIST
    }


def write(folder: Path, some=SOME, **more):
    return write_site(files_of(some, **more).values(), folder)


def test_the_folder_holds_every_file_and_no_other(tmp_path):
    done = write(tmp_path / "site", units())
    assert there(tmp_path / "site") == whole()
    assert done.written == len(whole())
    assert done.size_bytes == sum(map(len, whole().values()))


def test_a_second_run_makes_and_writes_nothing(tmp_path):
    write(tmp_path)

    def never(*_):
        raise AssertionError("nothing has changed, so nothing may be made")

    before = {p: p.stat().st_mtime_ns for p in tmp_path.rglob("*") if p.name != LIST and p.is_file()}
    done = write(tmp_path, makers=dataclasses.replace(MAKERS, detail=never, small=never, photo=never))
    assert (done.written, done.removed) == (0, 0)
    assert {p: p.stat().st_mtime_ns for p in before} == before


def test_only_what_changed_is_written(tmp_path):
    write(tmp_path)
    before = there(tmp_path)
    changed = (dataclasses.replace(SOME[0], color="red", rests_on="another"), *SOME[1:])
    done = write(tmp_path, changed)
    after = there(tmp_path)
    differ = {p for p in after if after[p] != before[p]}
    assert done.written == len(differ)
    assert differ == {SOME[0].path}, "the color stands on the unit's page alone"


def test_a_sold_unit_drops_out_by_itself(tmp_path):
    write(tmp_path)
    before = set(there(tmp_path))
    done = write(tmp_path, SOME[1:])
    gone = SOME[0]
    assert done.removed == len(before - set(there(tmp_path))) >= 9, "its page, seven drawings and its code at least"
    for path, data in there(tmp_path).items():
        assert gone.stock_number not in path
        assert gone.stock_number.encode() not in data, path
    assert there(tmp_path) == {p: f.make() for p, f in files_of(SOME[1:]).items() if f.make() is not None}


def test_a_damaged_or_missing_file_is_mended(tmp_path):
    write(tmp_path)
    before = there(tmp_path)
    (tmp_path / "index.html").write_text("by hand")
    (tmp_path / "units.csv").unlink()
    assert write(tmp_path).written == 2
    assert there(tmp_path) == before


def test_a_folder_that_was_copied_is_known_again(tmp_path):
    write(tmp_path / "one")
    shutil.copytree(tmp_path / "one", tmp_path / "two", copy_function=shutil.copyfile)
    assert write(tmp_path / "two").written == 0


@pytest.mark.parametrize("name", ["letter.txt", "trailer/letter.html", ".hidden"])
def test_a_folder_with_a_file_of_anybodys_is_refused(tmp_path, name):
    (tmp_path / name).parent.mkdir(exist_ok=True)
    (tmp_path / name).write_text("mine")
    with pytest.raises(SiteFolderError, match="a file that rubrail did not write"):
        write(tmp_path)
    assert there(tmp_path) == {name: b"mine"}


def test_so_is_one_written_before_that_got_such_a_file(tmp_path):
    write(tmp_path)
    (tmp_path / "mine.html").write_text("mine")
    before = there(tmp_path)
    with pytest.raises(SiteFolderError, match=r"mine\.html"):
        write(tmp_path, SOME[1:])
    assert there(tmp_path) == before


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right there")
def test_links_lead_nowhere(tmp_path):
    outside, folder = tmp_path / "outside", tmp_path / "site"
    outside.mkdir()
    folder.mkdir()
    (folder / "trailer").symlink_to(outside)
    with pytest.raises(SiteFolderError, match="a link"):
        write(folder)
    assert list(outside.iterdir()) == []
    (folder / "trailer").unlink()
    write(folder)
    (folder / "index.html").unlink()
    (outside / "x").write_text("mine")
    (folder / "index.html").symlink_to(outside / "x")
    with pytest.raises(SiteFolderError, match="a link"):
        write(folder)
    assert (outside / "x").read_text() == "mine"


@pytest.mark.parametrize(
    "path", ["../x.html", "a/../../x", "/x", "a/b/c", "", ".", "..", "a\\b", "a/", "-x", "a:b", "a\n"]
)
def test_no_path_leads_out(tmp_path, path):
    with pytest.raises(SiteFolderError, match="no path of a site"):
        write_site([SiteFile(path, "1", lambda: b"x")], tmp_path / "site")
    assert not (tmp_path / "x.html").exists()


@pytest.mark.parametrize(
    "text", ["", "{}", "[]", '{"schema": "other/1", "files": {}}', '{"schema": "rubrail/site-folder/1", "files": 3}']
)
def test_a_list_that_does_not_read_is_not_guessed_at(tmp_path, text):
    (tmp_path / LIST).write_text(text)
    with pytest.raises(SiteFolderError, match="does not read"):
        write(tmp_path)


def test_a_list_cannot_name_files_elsewhere(tmp_path):
    site, mine = tmp_path / "site", tmp_path / "mine.txt"
    write(site)
    mine.write_text("mine")
    table = json.loads((site / LIST).read_text())
    table["files"]["../mine.txt"] = ["", "", 4, 0]
    (site / LIST).write_text(json.dumps(table))
    with pytest.raises(SiteFolderError, match="no path of a site"):
        write(site)
    assert mine.read_text() == "mine"


def test_a_run_that_was_cut_short_is_taken_up_again(tmp_path):
    files = list(files_of(SOME).values())

    def broken():
        raise RuntimeError("the power went")

    with pytest.raises(RuntimeError):
        write_site([*files[:20], SiteFile(files[20].path, "x", broken), *files[21:]], tmp_path)
    assert 0 < len(there(tmp_path)) < len(files)
    write(tmp_path)
    assert there(tmp_path) == {f.path: data for f in files if (data := f.make()) is not None}


def test_two_who_write_at_once_leave_one_whole_site(tmp_path):
    with ThreadPoolExecutor(4) as pool:
        done = list(pool.map(lambda _: write(tmp_path), range(4)))
    assert sorted(d.written for d in done)[:3] == [0, 0, 0]
    assert there(tmp_path) == {p: data for p, f in files_of(SOME).items() if (data := f.make()) is not None}


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path):
    (tmp_path / "site").write_text("mine")
    with pytest.raises(SiteFolderError, match="is a file"):
        write(tmp_path / "site")


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="nothing is refused to this user")
def test_a_folder_that_may_not_be_written_is_told(tmp_path):
    (tmp_path / "locked").mkdir(mode=0o500)
    with pytest.raises(SiteFolderError, match="cannot be used"):
        write(tmp_path / "locked" / "site")


def test_what_there_is_no_time_for_is_left_and_the_next_run_goes_on(tmp_path):
    """A run without any time makes one file; what is gone drops out all the same; nothing is lost on the way."""
    brief, whole_run = tmp_path / "brief", tmp_path / "whole"
    some = list(files_of(SOME[:1]).values())
    write(whole_run, SOME[:1])
    count, runs = len(there(whole_run)), 0
    first = write_site(some, brief, for_s=0)
    assert (first.written, first.kept, first.left) == (1, 0, len(some) - 1)
    while write_site(some, brief, for_s=0).left:
        runs += 1
        assert runs < len(some)
    assert there(brief) == there(whole_run)
    gone = write_site(some[:3], brief, for_s=0)
    assert (gone.removed, gone.left) == (count - 3, 0)
    changed = [dataclasses.replace(f, rests_on="another", make=lambda: b"new") for f in some[:3]]
    done = write_site(changed, brief, for_s=0)
    assert (done.written, done.left) == (1, 2)
    assert sorted(data == b"new" for data in there(brief).values()) == [False, False, True], "the others are as before"
