"""Starting and stopping: what it says, what it refuses, what survives a power cut."""

from __future__ import annotations

import http.cookiejar
import re
import shutil
import socket
import sqlite3
import stat
import subprocess
import sys
import threading
import urllib.error
import urllib.parse
import urllib.request
from contextlib import closing
from http.client import HTTPException
from pathlib import Path

import pytest

from desk.server import START, Running, environment, run, running, start

PEOPLE = """
from rubrail.desk.models import User, Unit, Change
User.objects.create_user(username="ruth", name="Ruth Calder", role="owner", password="correct horse on a trailer")
"""


class Browser:
    """The least of a browser: cookies, forms, no redirects unasked."""

    def __init__(self, desk: Running) -> None:
        self.base = desk.url
        self.jar = http.cookiejar.CookieJar()
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.jar))

    def get(self, path: str) -> str:
        with self.opener.open(self.base + path, timeout=30) as answer:
            return answer.read().decode()

    def post(self, path: str, form: dict[str, str]) -> str:
        token = next(c.value for c in self.jar if c.name == "rubrail_csrf")
        data = urllib.parse.urlencode({**form, "csrfmiddlewaretoken": token}).encode()
        request = urllib.request.Request(self.base + path, data, {"Referer": self.base})
        with self.opener.open(request, timeout=30) as answer:
            return answer.read().decode()

    def sign_in(self) -> None:
        self.get("sign-in/")
        self.post("sign-in/", {"username": "ruth", "password": "correct horse on a trailer"})


def test_first_start_and_second(tmp_path: Path):
    home = tmp_path / "yard"
    with running(home) as desk:
        assert desk.url.startswith("http://127.0.0.1:")
        page = Browser(desk).get("")
        assert "Set up this desk" in page
        sheets = re.findall(r'href="(/static/desk/tokens\.[0-9a-f]{12}\.css)"', page)
        assert sheets, "static files carry the mark of their content"
        with urllib.request.urlopen(desk.url + sheets[0], timeout=30) as answer:
            assert "immutable" in answer.headers["Cache-Control"]
            assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
    assert {"desk.sqlite3", "secret-key", "static"} <= {p.name for p in home.iterdir()}
    if sys.platform != "win32":
        for path in (p for p in home.rglob("*") if "static" not in p.parts):
            assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path
    before = (home / "static" / ".stamp").stat().st_mtime_ns
    with running(home):
        pass
    assert (home / "static" / ".stamp").stat().st_mtime_ns == before, "the same files are not collected again"
    assert not (home / "copies").exists(), "nothing to bring up to date, nothing to copy"


def test_a_copy_is_made_before_the_database_is_changed(tmp_path: Path):
    home = tmp_path / "yard"
    run(home, PEOPLE)
    with closing(sqlite3.connect(home / "desk.sqlite3")) as base, base:
        base.execute("DELETE FROM django_migrations WHERE app = 'sessions'")
        base.execute("DROP TABLE django_session")
    with running(home) as desk:
        told = [line for line in desk.said if "a copy of it as it was is in" in line]
        assert len(told) == 1
    copies = list((home / "copies").glob("desk-*.sqlite3"))
    assert len(copies) == 1
    with closing(sqlite3.connect(copies[0])) as copy:
        assert copy.execute("SELECT name FROM desk_user").fetchall() == [("Ruth Calder",)]
        tables = {name for (name,) in copy.execute("SELECT name FROM sqlite_master")}
    assert "django_session" not in tables, "it is the database as it was"


def refusal(home: Path, *, call: str = "serve(port=0, say=say)", **options: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", START.format(call=call)],
        env=environment(home, **options),
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 1
    assert "Traceback" not in done.stderr, done.stderr
    return done.stderr.strip()


def test_taken_port(tmp_path: Path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        said = refusal(tmp_path / "yard", call=f"serve(port={port}, say=say)")
    assert said == (
        f"refused: Port {port} is taken, perhaps by a desk that already runs. Stop that one, or give another --port."
    )


def test_misspelled_option_and_bad_url(tmp_path: Path):
    assert "did you mean RUBRAIL_HTTPS?" in refusal(tmp_path / "a", RUBRAIL_HTPS="yes")
    assert "begins with 'mysql'" in refusal(tmp_path / "b", RUBRAIL_DATABASE_URL="mysql://x/y")


def test_a_database_from_a_newer_version_is_left_alone(tmp_path: Path):
    home = tmp_path / "yard"
    run(home, PEOPLE)
    with closing(sqlite3.connect(home / "desk.sqlite3")) as base, base:
        base.execute("INSERT INTO django_migrations (app, name, applied) VALUES ('desk', '9999_later', '2030-01-01')")
    assert "written by a newer rubrail" in refusal(home)


def test_a_broken_database_is_a_sentence(tmp_path: Path):
    home = tmp_path / "yard"
    home.mkdir()
    (home / "desk.sqlite3").write_bytes(b"this is no database, only words" * 100)
    assert refusal(home).startswith("refused: The database cannot be used: ")


@pytest.mark.skipif(sys.platform == "win32", reason="modes are a Unix thing")
def test_a_folder_that_cannot_be_made_is_a_sentence(tmp_path: Path):
    (tmp_path / "file").write_text("")
    said = refusal(tmp_path / "file" / "yard")
    assert "cannot be made" in said
    assert "Name another one in RUBRAIL_HOME" in said


def test_lan_says_how_to_do_it_safely_and_answers_only_its_own_names(tmp_path: Path):
    with running(tmp_path / "yard", call="serve(port=0, lan=True, say=say)") as desk:
        thread = threading.Thread(target=lambda: desk.said.extend(iter(desk.process.stdout.readline, "")))
        thread.start()
        Browser(desk).get("")
        request = urllib.request.Request(desk.url + "sign-in/", headers={"Host": "elsewhere.example"})
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(request, timeout=30)
        assert refused.value.code == 400
        refused.value.close()
        desk.process.terminate()
        thread.join(30)
    text = "".join(desk.said)
    assert "To do it safely" in text
    assert "Never forward a port" in text


def test_without_lan_it_listens_on_the_loopback_alone(tmp_path: Path):
    from rubrail.desk.serve import lan_addresses

    with running(tmp_path / "yard") as desk:
        port = int(desk.url.rsplit(":", 1)[1].strip("/"))
        for address in lan_addresses():
            if ":" not in address:
                with pytest.raises(OSError):  # noqa: PT011 - refused or unreachable, by platform
                    socket.create_connection((address, port), timeout=2).close()


def test_demo_is_a_yard_of_its_own(tmp_path: Path):
    home = tmp_path / "yard"
    with running(home, call="demo(port=0, open_browser=False, say=say)", RUBRAIL_DATABASE_URL="") as desk:
        browser = Browser(desk)
        assert "Come into the invented yard as" in browser.get("sign-in/")
        page = browser.post("sign-in/demo/", {"role": "sales"})
        assert "things are late" in page, "the invented yard has something to do"
        assert "all of it is made up" in page
        assert "units stand in the yard" in browser.get("yard/")
    assert (home / "demo" / "desk.sqlite3").exists()
    assert not (home / "desk.sqlite3").exists(), "a real yard's data is not touched"
    again = "demo(port=0, open_browser=False, say=say)"
    with running(home, call=again) as desk:
        assert not any("The invented yard has" in line for line in desk.said), "what was there is kept"
    with running(home, call=again.replace("say=", "fresh=True, say=")) as desk:
        assert any("The invented yard has" in line for line in desk.said)
    assert sorted(p.name for p in home.iterdir()) == ["demo"]


def test_killed_in_the_middle_of_writing_nothing_acknowledged_is_lost(tmp_path: Path):
    home = tmp_path / "yard"
    run(home, PEOPLE)
    acknowledged: list[str] = []
    desk = start(home)
    try:
        browsers = [Browser(desk) for _ in range(4)]
        for browser in browsers:
            browser.sign_in()

        def write(browser: Browser, lane: int) -> None:
            for number in range(10_000):
                name = f"p{lane}-{number}"
                try:
                    page = browser.post("people/new/", {"name": name, "username": name, "role": "viewer"})
                except (OSError, HTTPException):
                    return
                if "First password of" in page:
                    acknowledged.append(name)

        threads = [threading.Thread(target=write, args=(b, n)) for n, b in enumerate(browsers)]
        for thread in threads:
            thread.start()
        enough = threading.Event()
        while len(acknowledged) < 25 and any(t.is_alive() for t in threads):
            enough.wait(0.01)
        desk.kill()
        for thread in threads:
            thread.join(60)
    finally:
        desk.process.stdout.close()
    assert len(acknowledged) >= 25
    stored = run(
        home,
        "from rubrail.desk.models import User, Change\n"
        "print('\\n'.join(User.objects.values_list('username', flat=True)))\n"
        "print('--')\n"
        "print('\\n'.join(Change.objects.filter(action='added').values_list('thing_name', flat=True)))\n",
    )
    users, told = (set(part.split()) for part in stored.split("--"))
    assert set(acknowledged) <= users
    assert {u for u in users if u.startswith("p")} == told, "a person and the trail's word of them come together"
    with closing(sqlite3.connect(home / "desk.sqlite3")) as base:
        assert base.execute("PRAGMA integrity_check").fetchone() == ("ok",)


@pytest.mark.skipif(shutil.which("true") is None, reason="Unix")
def test_management_commands_run_on_the_desks_settings(tmp_path: Path):
    done = subprocess.run(
        [sys.executable, "-m", "rubrail.desk", "makemigrations", "--check", "--dry-run"],
        env=environment(tmp_path / "yard"),
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No changes detected" in done.stdout
