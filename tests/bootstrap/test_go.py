"""The bootstrap, run for real on small projects whose one pinned package is made here: no network is used."""

from __future__ import annotations

import ast
import hashlib
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
# One process for the file: the environment is made once and copied for each test.
pytestmark = pytest.mark.xdist_group("go")

PYPROJECT = """
[project]
name = "rubrail"
version = "9.8.7"
"""
SAY_ARGUMENTS = """
import importlib.metadata, json, sys, pinned

def run():
    told = {"arguments": sys.argv, "pinned": pinned.VALUE, "version": importlib.metadata.version("rubrail")}
    print(json.dumps(told))
    return 5
"""


def make_wheel(folder: Path, *, version: str) -> str:
    """A wheel of one module, `pinned`; its hash."""
    path = folder / f"pinned-{version}-py3-none-any.whl"
    info = f"pinned-{version}.dist-info"
    files = {
        "pinned.py": f"VALUE = {version!r}\n",
        f"{info}/METADATA": f"Metadata-Version: 2.1\nName: pinned\nVersion: {version}\n",
        f"{info}/WHEEL": "Wheel-Version: 1.0\nGenerator: test\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    files[f"{info}/RECORD"] = "".join(f"{name},,\n" for name in [*files, f"{info}/RECORD"])
    with zipfile.ZipFile(path, "w") as wheel:
        for name, text in files.items():
            wheel.writestr(name, text)
    return hashlib.sha256(path.read_bytes()).hexdigest()


def lock(project: Path, *, version: str, content_hash: str, name: str = "requirements.lock") -> None:
    (project / name).write_text(f"pinned=={version} \\\n    --hash=sha256:{content_hash}\n", "utf-8")


def start(project: Path, *arguments: str, **extra: str) -> subprocess.Popen[str]:
    wheels = str(project.parent / "wheels")
    env = {name: value for name, value in os.environ.items() if not name.startswith("PIP_")}
    env |= {"PIP_NO_INDEX": "1", "PIP_FIND_LINKS": wheels, "PIP_CONFIG_FILE": os.devnull, **extra}
    command = [sys.executable, str(project / "go.py"), *arguments]
    return subprocess.Popen(
        command, cwd=project, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8"
    )


def go(project: Path, *arguments: str, **extra: str) -> tuple[int, str, str]:
    """Exit code and what was printed on the two streams."""
    with start(project, *arguments, **extra) as running:
        out, err = running.communicate(timeout=300)
    assert "Traceback" not in err
    return running.returncode, out, err


def fresh_project(folder: Path) -> Path:
    wheels = folder / "wheels"
    wheels.mkdir()
    content_hash = make_wheel(wheels, version="1.0")
    project = folder / "a yard's désk"
    package = project / "src" / "rubrail" / "cli"
    package.mkdir(parents=True)
    (package.parent / "__init__.py").touch()
    (package / "__init__.py").touch()
    (package / "main.py").write_text(SAY_ARGUMENTS, "utf-8")
    (project / "pyproject.toml").write_text(PYPROJECT, "utf-8")
    shutil.copy(ROOT / "go.py", project)
    lock(project, version="1.0", content_hash=content_hash)
    lock(project, version="1.0", content_hash=content_hash, name="requirements-test.lock")
    return project


@pytest.fixture(scope="module")
def first_start(tmp_path_factory):
    """A project whose first start was asked for twice at once, and what the two starts printed."""
    project = fresh_project(tmp_path_factory.mktemp("go"))
    pair = [start(project, "run", "--", "weigh", f"--from={number}") for number in range(2)]
    return project, [(*running.communicate(timeout=300), running.returncode) for running in pair]


@pytest.fixture
def project(first_start, tmp_path):
    """A copy of that project, set up, for one test to spoil. That a copy works at all is part of the promise."""
    source = first_start[0]
    shutil.copytree(source.parent, tmp_path / "copy", symlinks=True)
    return tmp_path / "copy" / source.name


@pytest.fixture(scope="module")
def module() -> ModuleType:
    spec = importlib.util.spec_from_file_location("go_script", ROOT / "go.py")
    loaded = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(loaded)
    return loaded


def test_two_first_starts_at_once_set_up_once_and_both_run(first_start):
    _, ends = first_start

    for number, (out, err, code) in enumerate(ends):
        told = json.loads(out)
        assert told["arguments"] == ["rubrail", "weigh", f"--from={number}"]
        assert told["pinned"] == "1.0"
        assert told["version"] == "9.8.7"
        assert code == 5
        assert "Traceback" not in err
    assert sum("Setting up" in err for _, err, _ in ends) == 1


def test_later_start_sets_nothing_up_and_says_nothing(project):
    code, out, err = go(project, "run", "--", "two words", "--json", "a\"b'c")

    assert (code, err) == (5, "")
    assert json.loads(out)["arguments"] == ["rubrail", "two words", "--json", "a\"b'c"]


def test_demo_calls_the_demo_command(project):
    assert json.loads(go(project, "demo", "--no-browser")[1])["arguments"] == ["rubrail", "demo", "--no-browser"]


def test_moved_project_still_runs(project):
    moved = project.rename(project.parent / "elsewhere")
    code, out, err = go(moved, "run")

    assert (code, err) == (5, "")
    assert json.loads(out)["version"] == "9.8.7"


@pytest.mark.skipif(os.name == "nt", reason="the launcher there is a .cmd file")
def test_launcher_beside_the_interpreter_runs(project):
    done = subprocess.run([project / ".venv/bin/rubrail", "match", "x y"], capture_output=True, text=True)

    assert json.loads(done.stdout)["arguments"] == ["rubrail", "match", "x y"]
    assert done.returncode == 5


def test_changed_lock_is_installed_at_the_next_start(project):
    lock(project, version="2.0", content_hash=make_wheel(project.parent / "wheels", version="2.0"))
    code, out, err = go(project, "run")

    assert json.loads(out)["pinned"] == "2.0"
    assert "Setting up" in err
    assert go(project, "run") == (code, out, "")


def test_package_that_is_not_the_pinned_one_is_refused_until_the_lock_is_right(project):
    right = make_wheel(project.parent / "wheels", version="3.0")
    lock(project, version="3.0", content_hash="0" * 64)
    code, out, err = go(project, "run")

    assert (code, out) == (1, "")
    assert "not the pinned one" in err.splitlines()[-1]

    lock(project, version="3.0", content_hash=right)
    assert json.loads(go(project, "run")[1])["pinned"] == "3.0"


def test_no_network_is_one_sentence_and_the_next_try_goes_on(project):
    lock(project, version="4.0", content_hash="0" * 64)
    dead = {"PIP_NO_INDEX": "", "PIP_INDEX_URL": "http://127.0.0.1:9/simple", "PIP_RETRIES": "1"}
    code, out, err = go(project, "run", **dead)

    assert (code, out) == (1, "")
    assert "cannot be reached" in err.splitlines()[-1]

    lock(project, version="4.0", content_hash=make_wheel(project.parent / "wheels", version="4.0"))
    assert json.loads(go(project, "run")[1])["pinned"] == "4.0"


def test_set_up_that_was_cut_short_is_made_anew(project):
    stamp = project / ".venv" / "rubrail-setup.json"
    stamp.write_text(json.dumps({"busy": True, "ours": True}), "utf-8")
    next((project / ".venv").rglob("pinned.py")).write_text("half of it (", "utf-8")
    code, out, err = go(project, "run")

    assert "cut short" in err
    assert (code, json.loads(out)["pinned"]) == (5, "1.0")


def test_environment_whose_python_is_gone_is_made_anew(project):
    for path in (project / ".venv").glob("[bS]*/python*"):
        path.unlink()
    code, out, _ = go(project, "run")

    assert (code, json.loads(out)["pinned"]) == (5, "1.0")


def test_folder_of_someone_else_is_left_alone(project):
    shutil.rmtree(project / ".venv")
    (project / ".venv").mkdir()
    (project / ".venv" / "notes.txt").write_text("keep", "utf-8")
    code, out, err = go(project, "run")

    assert (code, out) == (1, "")
    assert "in the way" in err
    assert [path.name for path in (project / ".venv").iterdir()] == ["notes.txt"]


def test_environment_someone_made_by_hand_is_filled_not_remade(project):
    (project / ".venv" / "rubrail-setup.json").unlink()
    (project / ".venv" / "notes.txt").write_text("keep", "utf-8")
    code, _, err = go(project, "run")

    assert code == 5
    assert "Setting up" in err
    assert (project / ".venv" / "notes.txt").read_text("utf-8") == "keep"


def test_unknown_command_and_missing_file_are_one_sentence(project):
    code, _, err = go(project, "wiegh")
    assert (code, err.count("\n")) == (1, 1)
    assert "demo, test, run or lint" in err

    (project / "requirements.lock").unlink()
    code, _, err = go(project, "run")
    assert (code, err.count("\n")) == (1, 1)
    assert "requirements.lock is missing" in err


def test_help_lists_every_command(project):
    code, out, _ = go(project, "--help")

    assert code == 0
    for command in ("demo", "test", "run --", "lint"):
        assert f"go.py {command}" in out


@pytest.mark.parametrize("version", [(2, 7), (3, 6), (3, 10)])
def test_old_python_gets_a_sentence(module, monkeypatch, version):
    monkeypatch.setattr(sys, "version_info", version)

    with pytest.raises(module.SetupError, match=r"needs Python 3\.11 or newer and this is {}\.{};".format(*version)):
        module.main(["demo"])


def test_old_python_can_read_the_script():
    """Nothing in it that a Python since 2.7 cannot parse, or that sentence would never be reached."""
    tree = ast.parse((ROOT / "go.py").read_bytes())
    modern = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.AsyncFunctionDef, ast.Match)

    def is_too_new(node: ast.AST) -> bool:
        if isinstance(node, ast.FunctionDef):
            every = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
            annotated = node.returns or any(argument.annotation for argument in every)
            return bool(annotated or node.args.kwonlyargs or node.args.posonlyargs)
        if isinstance(node, ast.Raise):
            return node.cause is not None
        return isinstance(node, modern)

    assert [node.lineno for node in ast.walk(tree) if is_too_new(node)] == []
    assert (ROOT / "go.py").read_bytes().isascii()


def test_full_disk_and_bare_python_are_told_beforehand(module, monkeypatch, tmp_path):
    monkeypatch.setattr(module.shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(10**12, 10**12, 5 * 10**6))
    with pytest.raises(module.SetupError, match="5 MB are free"):
        module.check_room("run")

    monkeypatch.setitem(sys.modules, "ensurepip", None)
    monkeypatch.setattr(module, "VENV", str(tmp_path / "venv"))
    with pytest.raises(module.SetupError, match="python3-venv"):
        module.make_venv(None)
    assert not (tmp_path / "venv").exists()


@pytest.mark.parametrize(
    ("printed", "sentence"),
    [
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("[WinError 112] There is not enough space on the disk", "disk is full"),
        ("Failed to establish a new connection: [Errno -3] Temporary failure in name resolution", "be reached"),
        ("ReadTimeoutError\nERROR: No matching distribution found for numpy==2", "be reached"),
        ("SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]", "proxy or certificates"),
        ("(from versions: none)\nERROR: No matching distribution", "cannot be reached or has nothing"),
        ("ERROR: No matching distribution found for numpy==2", "64-bit Python 3.11 to 3.14"),
        ("PermissionError: [WinError 5] Access is denied: 'x.pyd'", "cannot be written"),
        ("noise\nERROR: something else\nmore", "ERROR: something else"),
        ("", "no word why"),
    ],
)
def test_failures_are_told_in_one_sentence(module, printed, sentence):
    told = module.explain(printed, "installing the packages")

    assert sentence in told
    assert "\n" not in told


def test_tests_spread_over_the_cores_unless_told_otherwise(module):
    spread = module.test_arguments(["tests/things", "-k", "weight"])

    assert spread[0] == "-n"
    assert int(spread[1]) >= 2
    assert spread[2:] == ["--dist", "loadgroup", "tests/things", "-k", "weight"]
    for own in (["-n0"], ["-n", "3"], ["--pdb"], ["-s"], ["--collect-only"], ["-p", "no:xdist"]):
        assert module.test_arguments(own) == own


def test_entry_is_the_one_the_package_declares(module):
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["scripts"]

    assert declared == {"rubrail": module.ENTRY}


def test_windows_gets_a_command_file(module, monkeypatch, tmp_path):
    site, scripts = tmp_path / "Lib" / "site-packages", tmp_path / "Scripts"
    site.mkdir(parents=True)
    scripts.mkdir()
    monkeypatch.setattr(module, "WINDOWS", True)
    monkeypatch.setattr(module, "BIN", str(scripts))
    monkeypatch.setattr(module, "answer", lambda code: str(site))
    module.link_project()

    assert (scripts / "rubrail.cmd").read_bytes().startswith(b'@"%~dp0python.exe" -c "import sys;')
    assert (site / (site / "rubrail.pth").read_text("utf-8").strip()).resolve() == (ROOT / "src").resolve()


def test_papers_and_ci_name_commands_that_exist():
    """The README gives the two commands, CI calls the same one, and no page names a command go.py lacks."""
    pages = [ROOT / "README.md", ROOT / ".ci" / "run", *(ROOT / "docs").rglob("*.md")]
    named = {page: set(re.findall(r"\bgo\.py (\w+)", page.read_text("utf-8"))) for page in pages}

    assert set().union(*named.values()) <= {"demo", "test", "run", "lint"}
    assert {"demo", "test"} <= named[ROOT / "README.md"]
    assert "test" in named[ROOT / ".ci" / "run"]
