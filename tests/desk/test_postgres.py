"""The desk on PostgreSQL, as several yards on one stock would run it."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.server import run, running
from desk.test_serve import PEOPLE, Browser

pytest.importorskip("psycopg")


@pytest.fixture
def database(postgres_url: str) -> str:
    """An empty database of its own on the server."""
    import psycopg

    with psycopg.connect(postgres_url, autocommit=True) as connection:
        connection.execute("DROP DATABASE IF EXISTS desk_of_a_test WITH (FORCE)")
        connection.execute("CREATE DATABASE desk_of_a_test")
    return (
        postgres_url.rsplit("/", 1)[0]
        + "/desk_of_a_test"
        + postgres_url.partition("?")[1]
        + postgres_url.partition("?")[2]
    )


def test_the_invented_yard_on_postgres(tmp_path: Path, database: str):
    options = {"RUBRAIL_DATABASE_URL": database}
    home = tmp_path / "yard"
    load = (
        "from importlib.resources import files\n"
        "from rubrail.desk.demo_yard import load_folder\n"
        "load_folder(files('rubrail.demo') / 'yard', by=User.objects.get())\n"
    )
    run(home, PEOPLE + load, **options)
    assert not (home / "desk.sqlite3").exists()
    with running(home, **options) as desk:
        browser = Browser(desk)
        browser.sign_in()
        page = browser.get("yard/?words=GOOSENECK&sort=-price")
        assert "SH-203" in page
        assert "SH-101" not in page
        # The order of what is not known must be that of SQLite: last, both ways.
        for sort in ("height", "-height"):
            page = browser.get(f"yard/?sort={sort}")
            assert page.rindex("SH-164") > page.rindex("SH-101")
        for _ in range(2):  # judged, and then as it was kept
            assert "Clear: 1 of 43 units carries" in browser.get("haul/3/board/")
        page = browser.get("unit/sh-191/edit/")
        from desk.pages import form_in

        form = form_in(page) | {"color": "red"}
        form.pop("csrfmiddlewaretoken", None)
        page = browser.post("unit/SH-191/edit/", form)
        assert "Ruth Calder changed the color of unit SH-191" in page
        page = browser.post("people/new/", {"name": "Nell", "username": "RUTH", "role": "hand"})
        assert "has this sign-in name already" in page or "already exists" in page


def test_of_many_saves_at_once_one_wins(tmp_path: Path, database: str):
    code = (
        PEOPLE
        + """
import threading
from django.db import connection
from rubrail.desk.editing import StaleError, save_changes
unit = Unit.objects.create(stock_number="T-1", coupling_kind="ball")
won = []
def save(number):
    mine = Unit.objects.get(pk=unit.pk)
    barrier.wait()
    try:
        save_changes(mine, values={"color": str(number)}, deltas=[], by=None, seen_version=1)
        won.append(number)
    except StaleError:
        pass
    finally:
        connection.close()
barrier = threading.Barrier(6)
threads = [threading.Thread(target=save, args=(n,)) for n in range(6)]
[t.start() for t in threads]
[t.join() for t in threads]
unit.refresh_from_db()
print(len(won), unit.version, unit.color == str(won[0]))
"""
    )
    assert run(tmp_path / "yard", code, RUBRAIL_DATABASE_URL=database).split() == ["1", "2", "True"]


def test_tries_and_first_owners_take_turns(tmp_path: Path, database: str):
    code = """
import threading
from django.db import connection
from rubrail.desk.models import User
from rubrail.desk.people import set_up_owner
from rubrail.desk.tries import TooManyTriesError, begin
made, tried = [], []
def both(number):
    barrier.wait()
    made.append(set_up_owner(username=f"n{number}", name=f"N {number}", password="x") is not None)
    try:
        begin(name="sales", address="192.0.2.7")
        tried.append(number)
    except TooManyTriesError:
        pass
    finally:
        connection.close()
barrier = threading.Barrier(10)
threads = [threading.Thread(target=both, args=(n,)) for n in range(10)]
[t.start() for t in threads]
[t.join() for t in threads]
print(sum(made), User.objects.count(), len(tried))
"""
    assert run(tmp_path / "yard", code, RUBRAIL_DATABASE_URL=database).split() == ["1", "1", "5"]


def test_a_server_that_is_not_there_is_a_sentence(tmp_path: Path):
    from desk.test_serve import refusal

    said = refusal(tmp_path / "yard", RUBRAIL_DATABASE_URL="postgresql://nobody@127.0.0.1:1/none")
    assert said.startswith("refused: The database cannot be used: ")
