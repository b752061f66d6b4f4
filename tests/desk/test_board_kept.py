"""A match that is kept says what the engine says anew, and only what changed is judged again."""

from __future__ import annotations

import threading

import numpy as np
import pytest
from django.db import connection

from rubrail.answers.board import match
from rubrail.answers.match_joined import joined_match
from rubrail.checks.verdict import WORDS
from rubrail.desk import board
from rubrail.desk.board import ENTRY, Standing, mark_of, standing
from rubrail.desk.books import keep_book
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Board, Haul, Unit
from rubrail.desk.stock import trailer_of

from .invented import haul_of, save, stand, yard


@pytest.fixture
def judged(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Numbers of the units judged, in order, from here on."""
    seen: list[int] = []
    real = board._judged

    def spy(thing, numbers, kit):
        seen.extend(int(n) for n in numbers)
        return real(thing, numbers, kit)

    monkeypatch.setattr(board, "_judged", spy)
    return seen


@pytest.fixture(autouse=True)
def on_the_road(request, monkeypatch) -> None:
    """How a match is kept has nothing to do with what loading and securing add; one test alone asks for them."""
    if "every_haul" not in request.node.name:
        monkeypatch.setattr(board, "_join", lambda *given: None)


@pytest.fixture
def haul(db: None) -> Haul:
    """A track loader behind a three-quarter-ton truck."""
    return haul_of()


@pytest.fixture
def units(db: None) -> list[Unit]:
    """Three units that carry it clear."""
    return stand("SH-133", "SH-137", "SH-152")


def numbers(now: Standing) -> list[int]:
    return [int(n) for n in now.entries["unit"]]


@pytest.mark.parametrize("with_kit", [False, True])
def test_every_haul_of_the_invented_yard_matches_as_the_engine_says(db, with_kit):
    stand()
    kit = yard().kit if with_kit else None
    if kit is not None:
        keep_book(kit, by=None)
    trailers = [trailer_of(u) for u in Unit.objects.order_by("pk")]
    names = dict(Unit.objects.values_list("pk", "stock_number"))
    for name in yard().hauls:
        haul = haul_of(name)
        thing = thing_of(haul)
        on_road = match(haul=thing, trailers=trailers)
        said = joined_match(on_road, haul=thing, trailers=trailers, kit=kit).candidates
        for now in (standing(haul, patience_s=60), standing(haul)):
            assert now.missing == 0
            assert [WORDS[v] for v in now.entries["verdict"]] == [c.verdict for c in said], name
            told = {c.trailer: c for c in said}
            assert set(told) == {names[n] for n in numbers(now)}
            for entry in now.entries:
                c = told[names[int(entry["unit"])]]
                assert WORDS[entry["verdict"]] == c.verdict, (name, c.trailer)
                assert entry["unbeaten"] == c.unbeaten, (name, c.trailer)
                assert entry["share"] == pytest.approx(c.share, nan_ok=True), (name, c.trailer)


def test_nothing_is_judged_twice(haul, units, judged):
    first = standing(haul)
    assert sorted(judged) == [u.pk for u in units]
    judged.clear()
    again = standing(haul)
    assert judged == []
    assert again.entries.tobytes() == first.entries.tobytes()


def unbeaten(now: Standing) -> set[int]:
    return {int(e["unit"]) for e in now.entries if e["unbeaten"]}


def test_a_price_changes_that_unit_alone_its_rank_and_what_nothing_beats(haul, units, judged):
    # $9,150 and most to spare but one; $9,750 and most to spare; $12,750, and less to spare, heavier, no lower.
    before = standing(haul)
    assert numbers(before) == [u.pk for u in units]
    assert unbeaten(before) == {units[0].pk, units[1].pk}
    judged.clear()
    save(units[2], price_usd="8000")
    now = standing(haul)
    assert judged == [units[2].pk]
    assert numbers(now) == [units[2].pk, units[0].pk, units[1].pk]
    assert unbeaten(now) == {u.pk for u in units}
    assert now.entries["price_usd"][0] == 8000


def test_a_changed_spec_is_judged_anew(haul, units, judged):
    before = standing(haul).entries[1]
    judged.clear()
    ratings = {**units[1].spec["ratings"], "gvwr_lb": {"value": 14_000, "basis": "label"}}
    save(units[1], ratings=ratings)
    now = standing(haul)
    assert judged == [units[1].pk]
    entry = now.entries[numbers(now).index(units[1].pk)]
    assert WORDS[entry["verdict"]] == "over"
    # The label said 16,000 lb before, and 980 lb were to spare.
    assert before["margin"] == pytest.approx(980)
    assert entry["margin"] == pytest.approx(980 - 2_000)


def test_a_new_unit_is_judged_alone_and_a_sold_one_is_gone(haul, units, judged):
    standing(haul)
    judged.clear()
    (added,) = stand("SH-162")
    assert added.pk in numbers(standing(haul))
    assert judged == [added.pk]
    judged.clear()
    save(units[0], status="sold")
    assert units[0].pk not in numbers(standing(haul))
    assert units[0].pk not in np.frombuffer(bytes(Board.objects.get().content), ENTRY)["unit"]
    Unit.objects.filter(pk=added.pk).delete()
    assert sorted(numbers(standing(haul))) == [u.pk for u in units[1:]]
    assert judged == []


def test_another_haul_judges_everything_anew(haul, units, judged):
    standing(haul)
    judged.clear()
    spec = haul.spec | {"use": "for-hire"}
    Haul.objects.filter(pk=haul.pk).update(spec=spec, version=haul.version + 1)
    standing(Haul.objects.get(pk=haul.pk))
    assert sorted(judged) == [u.pk for u in units]


def test_another_engine_judges_everything_anew(haul, units, judged, monkeypatch):
    standing(haul)
    judged.clear()
    monkeypatch.setattr(board.derived, "mark", lambda: "another")
    now = standing(haul)
    assert sorted(judged) == [u.pk for u in units]
    assert now.missing == 0


@pytest.mark.parametrize("content", [b"", b"x", b"\0" * (ENTRY.itemsize + 1)])
def test_a_spoiled_board_is_made_again(haul, units, content):
    want = standing(haul)
    Board.objects.update(content=content)
    assert standing(haul).entries.tobytes() == want.entries.tobytes()


def test_a_big_yard_takes_several_goes_and_says_how_far_it_is(haul, make_unit, monkeypatch, judged):
    made = [make_unit(f"B-{n:02}") for n in range(7)]
    monkeypatch.setattr(board, "AT_ONCE", 3)
    far = [standing(haul, patience_s=0.0) for _ in range(3)]
    assert [(s.done, s.missing, s.units) for s in far] == [(3, 4, 7), (6, 1, 7), (7, 0, 7)]
    assert judged == [u.pk for u in made]
    monkeypatch.setattr(board, "AT_ONCE", 250)
    Board.objects.all().delete()
    assert standing(haul).entries.tobytes() == far[-1].entries.tobytes()


def test_of_two_at_once_neither_loses_what_the_other_judged(haul, make_unit, monkeypatch):
    """The second looks at the yard while the first is still judging, and finds a unit that the first has not seen."""
    early = [make_unit(f"E-{n}") for n in range(3)]
    real, inside = board._judged, []

    def judge(thing, wanted, kit):
        found = real(thing, wanted, kit)
        if not inside:
            inside.append(True)
            save(early[0], price_usd="5555")
            late = make_unit("L-1")
            assert sorted(numbers(standing(haul))) == sorted([*(u.pk for u in early), late.pk])
        return found

    monkeypatch.setattr(board, "_judged", judge)
    first = standing(haul)
    assert len(numbers(first)) == len(set(numbers(first))) == 4
    kept = np.frombuffer(bytes(Board.objects.get().content), ENTRY)
    assert kept["price_usd"][list(kept["unit"]).index(early[0].pk)] == 5555
    monkeypatch.setattr(board, "_judged", None)  # nothing is left to judge
    assert standing(haul).missing == 0


def test_a_haul_changed_meanwhile_keeps_nothing_of_the_old_one(haul, units, monkeypatch):
    real = board._judged

    def judge(thing, wanted, kit):
        Haul.objects.filter(pk=haul.pk).update(version=haul.version + 1)
        return real(thing, wanted, kit)

    monkeypatch.setattr(board, "_judged", judge)
    assert len(standing(haul).entries) == 3
    assert not Board.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_many_at_once_keep_one_whole_match(haul, make_unit, monkeypatch):
    made = [make_unit(f"B-{n:02}") for n in range(12)]
    monkeypatch.setattr(board, "AT_ONCE", 4)
    faults: list[BaseException] = []

    def look() -> None:
        try:
            barrier.wait()
            while standing(haul, patience_s=0.0).missing:
                pass
        except BaseException as fault:
            faults.append(fault)
        finally:
            connection.close()

    barrier = threading.Barrier(4)
    threads = [threading.Thread(target=look) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    kept = np.frombuffer(bytes(Board.objects.get().content), ENTRY)
    assert sorted(kept["unit"]) == [u.pk for u in made]
    Board.objects.all().delete()
    assert standing(haul, patience_s=60).entries.tobytes() == kept.tobytes()


def test_a_unit_that_no_longer_reads_is_not_known(haul, units):
    Unit.objects.filter(pk=units[0].pk).update(spec={"deck": 7}, derived_by="old", version=2)
    now = standing(haul)
    entry = now.entries[numbers(now).index(units[0].pk)]
    assert WORDS[entry["verdict"]] == "not known"
    assert not entry["unbeaten"]


def test_mark_is_of_what_a_match_rests_on(haul):
    before = mark_of(haul, None)
    haul.buyer = "Somebody else"
    assert mark_of(haul, None) == before
    haul.spec = haul.spec | {"interstate": True}
    assert mark_of(haul, None) != before
    assert len(mark_of(haul, None)) <= Board._meta.get_field("mark").max_length
