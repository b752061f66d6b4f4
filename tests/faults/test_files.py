"""Files that cannot be read at all: each refused in one sentence, none with a traceback."""

import os
from pathlib import Path

import pytest

from rubrail.things import read
from rubrail.things.door import load, read_file
from rubrail.things.faults import Faults
from things.samples import table, texts

TRAILER = texts("trailer")[0]


def refused(path: Path, **options) -> str:
    """The one sentence a file is refused with."""
    with pytest.raises(Faults) as told:
        read_file(path, **options)
    assert len(told.value.faults) == 1, str(told.value)
    return str(told.value)


def written(folder: Path, content: str | bytes, name: str = "it.toml") -> Path:
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def test_missing(tmp_path):
    assert refused(tmp_path / "gone.toml") == "gone.toml: the file cannot be read: there is no such file."


def test_a_folder(tmp_path):
    (tmp_path / "it.toml").mkdir()
    assert refused(tmp_path / "it.toml") == "it.toml: the file must be a file, not a folder."


def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "it.toml")
    assert refused(tmp_path / "it.toml") == "it.toml: the file must be a plain file."


def test_a_link_that_leads_to_itself(tmp_path):
    (tmp_path / "it.toml").symlink_to(tmp_path / "it.toml")
    assert refused(tmp_path / "it.toml") == "it.toml: the file cannot be read: too many levels of symbolic links."


def test_a_link_to_nowhere(tmp_path):
    (tmp_path / "it.toml").symlink_to(tmp_path / "gone")
    assert refused(tmp_path / "it.toml") == "it.toml: the file cannot be read: there is no such file."


def test_permission_denied(tmp_path, monkeypatch):
    path = written(tmp_path, TRAILER)

    def deny(self):
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "read_bytes", deny)
    assert refused(path) == "it.toml: the file cannot be read: permission is denied."


def test_a_name_that_is_no_name():
    with pytest.raises(Faults, match="its name is not a file name"):
        read_file("a\0b.toml")


def test_too_large_is_refused_unread(tmp_path, monkeypatch):
    path = written(tmp_path, b"x" * 10_000_000)
    monkeypatch.setattr(Path, "read_bytes", lambda self: pytest.fail("it was read"))
    assert refused(path) == "it.toml: the file must be at most 2,000,000 bytes, and it has 10,000,000."


def test_exactly_the_largest_size_is_read(tmp_path):
    text = TRAILER.encode()
    path = written(tmp_path, text + b"#" * (read.MAX_BYTES - len(text)))
    assert len(read_file(path)) == 1


def test_another_encoding_names_the_line(tmp_path):
    path = written(tmp_path, 'id = "a"\ntitle = "Häcksler"\n'.encode("latin-1"))
    assert refused(path) == "it.toml line 2: the file must be UTF-8 text."
    assert "UTF-8 text" in refused(written(tmp_path, TRAILER.encode("utf-16")))


def test_a_byte_order_mark_does_no_harm(tmp_path):
    assert load(written(tmp_path, b"\xef\xbb\xbf" + TRAILER.encode())).id == "GN-2410"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("id = \n", "it.toml line 1: the file must be well-formed TOML ("),
        ('id = "a"\nid = "b"\n', "it.toml line 2: the file must be well-formed TOML ("),
        ('id = "a"\n[deck\n', "it.toml line 2: the file must be well-formed TOML"),
        ('title = "a', "it.toml line 1: the file must be well-formed TOML ("),
        ("arrived = 2026-02-30", "it.toml line 1: the file must be well-formed TOML ("),
        (f"year = {'9' * 5000}", "it.toml: the file must be well-formed TOML (a number too large to read)."),
        ("\x00", "it.toml line 1: the file must be well-formed TOML"),
        ("a = " + "[" * 5000 + "]" * 5000, "it.toml: the file must be nested less deeply."),
        ("a = " + "[" * 60 + "]" * 60, "it.toml: the file must be nested less deeply."),
    ],
)
def test_malformed_names_the_line(tmp_path, text, sentence):
    assert refused(written(tmp_path, text)).startswith(sentence)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ('{"id": "a",\n "title": }', "it.json line 2: the file must be well-formed JSON (expecting value)."),
        ("[1, 2]", "it.json: the file must be a table at the top."),
        ("[" * 200_000, "it.json: the file must be nested less deeply."),
    ],
)
def test_malformed_json(tmp_path, text, sentence):
    assert refused(written(tmp_path, text, "it.json")) == sentence


def test_an_empty_file_says_what_it_needs(tmp_path):
    sentence = refused(written(tmp_path, ""))
    assert sentence.startswith("it.toml: schema must be given: one of rubrail/trailer/1, rubrail/truck/1,")


def test_an_unknown_schema(tmp_path):
    sentence = refused(written(tmp_path, 'schema = "rubrail/boat/1"\nid = "a"'))
    assert sentence.startswith("it.toml line 1: schema must be one of rubrail/trailer/1,")
    assert sentence.endswith('got "rubrail/boat/1".')


def test_a_file_of_another_kind(tmp_path):
    sentence = refused(written(tmp_path, texts("truck")[0]), kind="trailer")
    assert sentence == 'it.toml line 1: schema must be rubrail/trailer/1, got "rubrail/truck/1".'


def test_the_kind_asked_for_stands_in_for_the_schema_line(tmp_path):
    path = written(tmp_path, TRAILER.partition("\n")[2])
    assert load(path, "trailer").id == "GN-2410"


def test_a_fault_names_file_line_and_thing(tmp_path):
    text = TRAILER.replace("from_coupler_in = 338", "from_coupler_in = 33")
    line = text.splitlines().index("from_coupler_in = 33") + 1
    sentence = refused(written(tmp_path, text))
    assert sentence.startswith(f"it.toml line {line} (GN-2410): axle[2].from_coupler_in must be more than")


def test_several_in_a_file(tmp_path):
    text = """schema = "rubrail/trailer/1"
basis = "weighed"
[[trailer]]
id = "a"
coupling.kind = "ball"
weights.empty_lb = 3000
[[trailer.axle]]
[[trailer]]
id = "b"
basis = "typical"
coupling.kind = "ball"
weights.empty_lb = 3000
[[trailer.axle]]
"""
    found = [thing for _, thing in read_file(written(tmp_path, text))]
    assert [t.id for t in found] == ["a", "b"]
    assert [t.weights.empty_lb.basis for t in found] == ["weighed", "typical"]
    with pytest.raises(Faults, match=r"it\.toml: the file must hold one thing, and it holds 2\."):
        load(tmp_path / "it.toml")


def test_faults_in_several_of_a_file_are_all_told(tmp_path):
    text = """schema = "rubrail/truck/1"
color = "red"
[[truck]]
id = "a"
plug = "5-way"
[[truck]]
brake_controller = 3
[[truck]]
id = "c"
"""
    with pytest.raises(Faults) as told:
        read_file(written(tmp_path, text))
    assert [f.sentence for f in told.value.faults] == [
        "it.toml: color is out of place; only schema and basis stand beside [[truck]].",
        'it.toml line 5, truck 1 (a): plug must be one of 4-way, 6-way, 7-way, air and 7-pin, got "5-way".',
        "it.toml line 6, truck 2: id must be given: text (its own name in the yard: letters, digits, dot, hyphen, "
        "underscore).",
        "it.toml line 7, truck 2: brake_controller must be true or false, got 3.",
    ]


def test_pieces_of_cargo_in_one_file_are_no_haul(tmp_path):
    text = 'schema = "rubrail/cargo/1"\n[[cargo]]\nid = "a"\n[[cargo]]\nid = "b"\n'
    assert [thing.id for _, thing in read_file(written(tmp_path, text))] == ["a", "b"]


def test_a_list_entry_that_is_no_table(tmp_path):
    path = written(tmp_path, 'schema = "rubrail/truck/1"\ntruck = [1, {id = "a"}]')
    with pytest.raises(Faults, match=r"it\.toml line 2, truck 1: it must be a table, got 1\."):
        read_file(path)


def test_a_table_that_is_none():
    from rubrail.things.door import KINDS, read_thing

    with pytest.raises(Faults, match=r"form: it must be a table, got a list\."):
        read_thing(KINDS["truck"], [table("truck")], "form")


def test_control_characters_are_not_printed(tmp_path):
    sentence = refused(written(tmp_path, TRAILER.replace('plug = "7-way"', 'plug = "\\u001b[31m"')))
    assert "\x1b" not in sentence
    assert 'got "?[31m".' in sentence


def test_many_faults_in_a_large_file_are_told_soon(tmp_path):
    keys = "\n".join(f"wrong_{n} = {n}" for n in range(5_000))
    path = written(tmp_path, f'schema = "rubrail/truck/1"\nid = "a"\n{keys}\n')
    with pytest.raises(Faults) as told:
        read_file(path)
    assert len(told.value.faults) == 5_000
    assert told.value.faults[-1].where == "it.toml line 5002 (a)"
