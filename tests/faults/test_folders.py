"""Yard folders: what they hold, ids used twice, ids that name nothing, folders that cannot be read."""

import os
from pathlib import Path

import pytest

from rubrail.things.door import load
from rubrail.things.faults import Faults
from rubrail.things.folder import federal_limits, load_haul, load_yard, resolve
from rubrail.things.yard import Yard
from things.samples import texts

CRATE = 'schema = "rubrail/cargo/1"\nid = "block-pallet"\nkind = "crate"\n'


@pytest.fixture
def yard(tmp_path) -> Path:
    """A small sound yard."""
    files = {
        "yard.toml": texts("yard")[0],
        "trailers/gn.toml": texts("trailer")[0],
        "trucks/one.toml": texts("truck")[0],
        "machines/loader.toml": texts("cargo")[0],
        "machines/pallet.toml": CRATE,
        "hauls/h07.toml": texts("haul")[0],
        "limits/mine.toml": texts("limits")[0],
    }
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    return tmp_path


def told(folder: Path) -> list[str]:
    with pytest.raises(Faults) as faults:
        load_yard(folder)
    return [f.sentence for f in faults.value.faults]


def test_a_sound_yard(yard):
    read = load_yard(yard)
    assert read.title == "North yard"
    assert list(read.trailers) == ["GN-2410"]
    assert list(read.trucks) == ["one-ton-dual"]
    assert sorted(read.cargo) == ["block-pallet", "track-loader-11k"]
    assert sorted(read.limits) == ["federal", "my-state"]
    whole = resolve(read.hauls["H-07"], read)
    assert whole.truck.id == "one-ton-dual"
    assert [x.piece.id for x in whole.cargo] == ["track-loader-11k", "block-pallet"]
    assert whole.limits is federal_limits()


def test_files_without_folders_are_read_by_their_schema(tmp_path):
    (tmp_path / "a.toml").write_text(texts("trailer")[0], "utf-8")
    (tmp_path / "notes.txt").write_text("not ours", "utf-8")
    (tmp_path / ".hidden.toml").write_text("= broken", "utf-8")
    assert list(load_yard(tmp_path).trailers) == ["GN-2410"]


def test_the_yards_own_limits_hold_where_a_haul_names_none(yard):
    (yard / "yard.toml").write_text('limits = "my-state"', "utf-8")
    haul = (yard / "hauls/h07.toml").read_text("utf-8")
    (yard / "hauls/h07.toml").write_text(haul.replace('limits = "federal"', ""), "utf-8")
    read = load_yard(yard)
    assert resolve(read.hauls["H-07"], read).limits.id == "my-state"


def test_faults_of_every_file_are_told_at_once(yard):
    (yard / "trailers/gn.toml").write_text("= broken", "utf-8")
    (yard / "trucks/one.toml").write_text('id = "a"\nplug = 3\n', "utf-8")
    (yard / "yard.toml").write_text("title = 3\n", "utf-8")
    sentences = told(yard)
    assert sentences == [
        "yard.toml line 1: title must be text, got 3.",
        next(s for s in sentences if s.startswith("trailers/gn.toml line 1: the file must be well-formed TOML (")),
        "trucks/one.toml line 2 (a): plug must be one of 4-way, 6-way, 7-way, air and 7-pin, got 3.",
    ]


def test_an_id_used_twice_names_both_places(yard):
    (yard / "trailers/zz.toml").write_text(texts("trailer")[0], "utf-8")
    assert told(yard) == [
        "trailers/zz.toml line 2 (GN-2410): id must be used once, and trailers/gn.toml line 2 (GN-2410) has it too, "
        'got "GN-2410".'
    ]


def test_a_trailer_and_a_truck_may_share_an_id(yard):
    text = texts("truck")[0].replace("one-ton-dual", "GN-2410")
    (yard / "trucks/other.toml").write_text(text, "utf-8")
    assert "GN-2410" in load_yard(yard).trucks


def test_ids_that_name_nothing(yard):
    text = texts("haul")[0].replace('"one-ton-dual"', '"one-ton-duel"').replace('"block-pallet"', '"zzz"')
    (yard / "hauls/h07.toml").write_text(text.replace('limits = "federal"', 'limits = "ohio"'), "utf-8")
    first, second, third = told(yard)
    assert first.startswith("hauls/h07.toml line 4 (H-07): truck must be the id of a truck of the yard")
    assert first.endswith('got "one-ton-duel" (did you mean one-ton-dual?).')
    assert 'limits must be the id of a limits file of the yard, got "ohio"' in second
    assert third.endswith('cargo[2].piece must be the id of cargo of the yard, got "zzz".')


def test_an_id_where_the_yard_has_none_of_the_kind(yard):
    (yard / "trucks/one.toml").unlink()
    assert told(yard)[0].endswith('got "one-ton-dual" (the yard has none).')


def test_yard_limits_that_name_nothing(yard):
    (yard / "yard.toml").write_text('limits = "ohio"', "utf-8")
    assert told(yard) == ['yard.toml: limits must be the id of a limits file of the yard, got "ohio".']


def test_facing_is_checked_once_the_piece_is_known(yard):
    loader = texts("cargo")[0].replace("either_way = true", "either_way = false")
    (yard / "machines/loader.toml").write_text(loader, "utf-8")
    text = texts("haul")[0].replace('facing = "either"', 'facing = "rear-first"')
    (yard / "hauls/h07.toml").write_text(text, "utf-8")
    assert "cargo[1].facing must be front-first" in told(yard)[0]


def test_a_haul_file_finds_its_own_yard(yard):
    assert load_haul(yard / "hauls/h07.toml").truck.id == "one-ton-dual"


def test_a_haul_file_alone_tells_what_it_names(tmp_path):
    (tmp_path / "h.toml").write_text(texts("haul")[0], "utf-8")
    with pytest.raises(Faults) as faults:
        load_haul(tmp_path / "h.toml")
    assert {f.field for f in faults.value.faults} == {"truck", "cargo[1].piece", "cargo[2].piece"}


def test_a_haul_file_in_another_yard(yard, tmp_path):
    (tmp_path / "apart").mkdir()
    (tmp_path / "apart" / "h.toml").write_text(texts("haul")[0], "utf-8")
    assert load_haul(tmp_path / "apart" / "h.toml", load_yard(yard)).truck.id == "one-ton-dual"


def test_a_haul_file_of_two(tmp_path):
    text = 'schema = "rubrail/haul/1"\n[[haul]]\nid = "a"\ntruck = "t"\n[[haul]]\nid = "b"\ntruck = "t"\n'
    (tmp_path / "h.toml").write_text(text, "utf-8")
    with pytest.raises(Faults, match=r"h\.toml: the file must hold one haul, and it holds 2\."):
        load_haul(tmp_path / "h.toml")


def test_missing_folder(tmp_path):
    assert told(tmp_path / "gone") == ["gone: the folder is not there."]


def test_a_file_is_no_folder(yard):
    assert told(yard / "yard.toml") == ["yard.toml: it must be a folder, not a file."]


def test_an_empty_folder(tmp_path):
    (tmp_path / "empty").mkdir()
    assert told(tmp_path / "empty") == [
        "empty: a yard folder must hold yard.toml or any of trailers/*.toml, trucks/*.toml, machines/*.toml, "
        "hauls/*.toml, limits/*.toml, catalogs/*.toml, rates/*.toml, kits/*.toml, "
        "tickets/*.toml, listings/*.toml, checks/*.toml."
    ]


def test_a_folder_that_leads_to_itself(tmp_path):
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    assert told(tmp_path / "loop") == ["loop: the folder cannot be read: too many levels of symbolic links."]


def test_folders_within_folders_that_lead_round_are_not_followed(yard):
    (yard / "trailers/again").symlink_to(yard, target_is_directory=True)
    (yard / "trucks/self.toml").symlink_to(yard / "trucks/self.toml")
    assert told(yard) == ["trucks/self.toml: the file cannot be read: too many levels of symbolic links."]


def test_permission_denied(yard, monkeypatch):
    real = Path.iterdir

    def deny(self):
        if self.name == "trucks":
            raise PermissionError(13, os.strerror(13), str(self))
        return real(self)

    monkeypatch.setattr(Path, "iterdir", deny)
    assert told(yard) == [f"{yard.name}: the folder cannot be read: permission denied."]


def test_a_name_that_is_no_name():
    with pytest.raises(Faults, match="its name is not a folder name"):
        load_yard("a\0b")


def test_resolving_a_whole_haul_changes_nothing(yard):
    whole = load_haul(yard / "hauls/h07.toml")
    assert resolve(whole, Yard()) == whole


def test_an_example_alone_loads(yard):
    assert load(yard / "trucks/one.toml").id == "one-ton-dual"
