"""The match board's page: what it says, to whom, with how many questions to the database."""

from __future__ import annotations

import html
import re

import pytest
from django.test import Client
from django.urls import reverse

from rubrail.answers.board import match
from rubrail.answers.match_joined import joined_match
from rubrail.desk import board, board_rows
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul, Unit
from rubrail.desk.stock import trailer_of
from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.sentences_yard import candidate_reason, match_sentence

from .invented import haul_of, save, stand


@pytest.fixture
def haul(db: None) -> Haul:
    return haul_of()


def address(haul: Haul) -> str:
    return reverse("board", args=[haul.pk])


def text_of(client: Client, url: str, **headers: str) -> str:
    answer = client.get(url, headers=headers)
    assert answer.status_code == 200
    return html.unescape(answer.content.decode())


def numbers(text: str) -> list[str]:
    return re.findall(r'class="yard__number"[^>]*>([^<]+)<', text)


def test_page_says_what_the_match_says(haul, as_role):
    stand()
    thing, trailers = thing_of(haul), [trailer_of(u) for u in Unit.objects.order_by("pk")]
    said = joined_match(match(haul=thing, trailers=trailers), haul=thing, trailers=trailers, kit=None)
    text = text_of(as_role("viewer"), address(haul))
    assert match_sentence(said) in text
    assert numbers(text) == [c.trailer for c in said.candidates[:25]]
    for c in said.candidates[:25]:
        reason = candidate_reason(c)
        assert reason[:1].upper() + reason[1:] in text, c.trailer
    rest = text_of(as_role("viewer"), address(haul) + "?page=2")
    assert numbers(rest) == [c.trailer for c in said.candidates[25:]]
    assert match_sentence(said) in rest, "the sentence is of the whole yard, whatever page is looked at"
    assert SAFETY in text


def test_filters_and_counts(haul, as_role):
    stand()
    client = as_role("viewer")
    text = text_of(client, address(haul) + "?verdict=clear")
    # SH-133 and SH-137 carry the loader, but it pulls their hitch up on the way.
    assert numbers(text) == ["SH-152"]
    tidy = re.sub(r"<[^>]+>|\s+", " ", text)
    assert re.search(r"All\s+43\s+clear\s+1\s+depends\s+3\s+not known\s+0\s+over\s+39", tidy)
    assert numbers(text_of(client, address(haul) + "?verdict=depends&most=9,500")) == ["SH-133"]
    nothing = text_of(client, address(haul) + "?verdict=clear&most=10")
    assert "No unit is left with all of this asked for." in nothing
    assert "got 'cheap'" in text_of(client, address(haul) + "?most=cheap")


def test_unbeaten_alone_shows_those_marked_so(haul, as_role):
    stand()
    text = text_of(as_role("viewer"), address(haul) + "?unbeaten=1")
    assert numbers(text)
    assert text.count(">nothing beats it<") == len(numbers(text))


def test_margin_in_money_only_for_those_who_may(haul, as_role):
    stand("SH-133")
    save(Unit.objects.get(), price_usd="9000", cost_usd="7600")
    for role in ("owner", "sales", "hand", "viewer"):
        text = text_of(as_role(role), address(haul))
        assert "$9,000" in text
        assert ("$1,400" in text) == (role in ("owner", "sales")), role
        assert "7,600" not in text


def test_a_unit_is_told_with_what_the_lot_says_of_it(haul, as_role):
    stand("SH-133")
    text = text_of(as_role("viewer"), address(haul))
    assert "held for a buyer" in text
    assert f'href="{reverse("rig", args=[haul.pk, "SH-133"])}"' in text
    assert 'data-view="rig-small"' in text
    save(Unit.objects.get(), status="sold")
    assert "There is no trailer to choose from." in text_of(as_role("viewer"), address(haul))


def test_a_first_unit_that_cannot_be_sold_now_is_told_with_the_first_that_can(haul, as_role):
    stand("SH-133", "SH-137", "SH-131")
    text = text_of(as_role("viewer"), address(haul))
    assert "SH-133 is held for a buyer; the first that is free in the yard: SH-137, $9,750." in text
    save(Unit.objects.get(stock_number="SH-137"), status="on-order")
    text = text_of(as_role("viewer"), address(haul))
    assert "SH-133 is held for a buyer, and nothing else that carries it is free in the yard." in text
    save(Unit.objects.get(stock_number="SH-133"), status="in-stock")
    assert "free in the yard" not in text_of(as_role("viewer"), address(haul))


def test_an_unknown_is_never_worded_as_a_pass(haul, as_role):
    stand("SH-164")
    text = text_of(as_role("viewer"), address(haul))
    Unit.objects.update(spec={"deck": 7}, derived_by="old", version=9)
    text = text_of(as_role("viewer"), address(haul))
    assert "What is stored of it no longer reads" in text
    assert "verdict--clear" not in text.split("<tbody")[1]
    assert text.split('id="board"')[1].count("Not known whether any of 1 unit carries") == 1


def test_parts_for_htmx(haul, as_role):
    stand("SH-133", "SH-137")
    client = as_role("viewer")
    rows = text_of(client, address(haul), **{"HX-Request": "true", "HX-Target": "rows"})
    assert numbers(rows) == ["SH-133", "SH-137"]
    assert "<h1" not in rows
    whole = text_of(client, address(haul), **{"HX-Request": "true", "HX-Target": "board"})
    assert whole.count("<h1") == 1
    assert "<html" not in whole


def test_a_big_yard_says_how_far_it_is_and_then_shows(haul, as_role, monkeypatch):
    stand("SH-133", "SH-137", "SH-152")
    monkeypatch.setattr(board, "AT_ONCE", 2)
    monkeypatch.setattr(board, "PATIENCE_S", 0.0)
    client = as_role("viewer")
    first = text_of(client, address(haul) + "?verdict=clear")
    assert "2 of 3 units weighed" in first
    assert '<progress id="judged" class="board__progress" max="3" value="2">' in first
    assert 'hx-trigger="load' in first
    assert "Go on weighing" in first
    assert not numbers(first)
    done = text_of(client, address(haul) + "?verdict=clear", **{"HX-Request": "true", "HX-Target": "board"})
    assert numbers(done) == ["SH-152"]


def test_a_haul_that_no_longer_reads_says_so(haul, as_role):
    stand("SH-133")
    Haul.objects.filter(pk=haul.pk).update(spec={"truck": 5})
    text = text_of(as_role("viewer"), address(haul))
    assert "What is stored of this haul no longer reads" in text
    assert as_role("viewer").get(reverse("board", args=[haul.pk + 1])).status_code == 404


def copies(count: int) -> None:
    """As many units like one that carries the haul."""
    from rubrail.desk.stock import add_units

    from .invented import yard

    like = yard().trailers["SH-133"]
    add_units([like.model_copy(update={"id": f"C-{n:03}"}) for n in range(count)], by=None)


@pytest.mark.parametrize("count", [1, 100])
def test_queries_do_not_grow_with_units(count, haul, as_role, django_assert_num_queries):
    copies(count)
    client = as_role("owner")
    # Another test's unit of the same number may have been looked at; here nobody has looked yet.
    board_rows._looks.clear()
    # Judging: three to take turns and look, the units, what is kept and its writing; the kit, and units to load.
    with django_assert_num_queries(19):
        client.get(address(haul))
    # Session, person, haul, kit, units' versions, the kept match, the units shown.
    with django_assert_num_queries(7):
        client.get(address(haul))
