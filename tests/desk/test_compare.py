"""Units side by side: the rows the engine compares, what is folded away, who sees money, and what is refused."""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from rubrail.answers.compare import compare
from rubrail.answers.compare_limits import limit_rows, told_rows
from rubrail.desk.compare_rows import Shown, shown
from rubrail.desk.hauls import thing_of
from rubrail.desk.models import Haul, Unit
from rubrail.desk.stock import trailer_of
from rubrail.sheets.sentences import weighing_sentence
from rubrail.sheets.sentences_words import SAFETY
from rubrail.sheets.sentences_yard import comparison_sentence

from .invented import haul_of, save, stand

FOUR = ("SH-133", "SH-137", "SH-152", "SH-162")


@pytest.fixture
def haul(db: None) -> Haul:
    return haul_of()


def address(haul: Haul, *numbers: str) -> str:
    return f"{reverse('compare', args=[haul.pk])}?{urlencode([('unit', n) for n in numbers])}"


def text_of(client: Client, url: str) -> str:
    answer = client.get(url)
    assert answer.status_code == 200
    return html.unescape(answer.content.decode())


class Table(HTMLParser):
    """Rows of the first table: the words of each cell."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self._cell: list[str] | None = None
        self.feed(text.split("<table")[1].split("</table")[0].join(("<table", "</table>")))

    def handle_starttag(self, tag: str, attributes) -> None:
        if tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th"):
            self._cell = []

    def handle_data(self, data: str) -> None:
        if self._cell is not None:
            self._cell.append(data)

    def handle_endtag(self, tag: str) -> None:
        if tag in ("td", "th") and self._cell is not None:
            self.rows[-1].append(" ".join("".join(self._cell).split()))
            self._cell = None


def rows(text: str) -> dict[str, list[str]]:
    return {row[0]: row[1:] for row in Table(text).rows if len(row) > 1}


def engine(haul: Haul, *numbers: str):
    units = [Unit.objects.get(stock_number=n) for n in numbers]
    return units, compare(haul=thing_of(haul), trailers=[trailer_of(u) for u in units])


def test_page_shows_what_the_engine_compares(haul, as_role):
    stand(*FOUR)
    _, said = engine(haul, *FOUR)
    text = text_of(as_role("viewer"), address(haul, *FOUR))
    assert comparison_sentence(said) in text
    for w in said.weighings:
        assert weighing_sentence(w, tried=False) in text
    assert SAFETY in text
    table = rows(text)
    assert table["Verdict"] == ["clear", "clear", "clear", "depends"]
    # Label less empty weight, from the files: 15,400 - 3,550 and 16,000 - 4,020, 4,560, 4,980.
    assert table["Payload by label"] == ["11,850 lb", "11,980 lb ▸ best", "11,440 lb", "11,020 lb"]
    assert table["Price before tax"] == ["$9,150 ▸ best", "$9,750", "$12,750", "$12,900"]
    assert table["Label GVWR"] == ["15,400 lb", "16,000 lb", "16,000 lb", "16,000 lb"]
    assert table["The limit that governs"][0] == "Trailer gross weight against its label 850 lb to spare"


def test_order_is_that_of_the_address_and_case_does_not_matter(haul, as_role):
    stand(*FOUR)
    text = text_of(as_role("viewer"), address(haul, "sh-162", "SH-133", "SH-162"))
    assert re.findall(r'class="yard__number"[^>]*>([^<]+)<', text) == ["SH-162", "SH-133"]


def test_drawings_share_one_scale(haul, as_role):
    stand(*FOUR)
    text = text_of(as_role("viewer"), address(haul, *FOUR))
    scales = re.findall(r'data-scale="([^"]+)"', text)
    assert len(scales) == 4
    assert len(set(scales)) == 1


def test_greatest_weight_where_the_cargo_is_never_beats_the_best_place(haul):
    stand()
    numbers = ("SH-122", "SH-133", "SH-137", "SH-152", "SH-161", "SH-162")
    _, said = engine(haul, *numbers)
    by_key = {r.key: r.values for r in said.rows}
    for here, best in zip(by_key["payload-here"], by_key["payload-truck"], strict=True):
        assert here <= best + 1e-6
    # Where the label alone stops it, place does not matter: 16,000 - 4,020 on SH-137.
    assert by_key["payload-here"][2] == pytest.approx(11_980)


def test_what_is_the_same_for_all_is_folded_away(haul):
    stand(*FOUR)
    units, said = engine(haul, "SH-133", "SH-137")
    it: Shown = shown(said, units, metric=False, money=False)
    differ = {r.title for s in it.sections[1:] for r in s.rows}
    same = {r.title for r in it.same}
    # Both decks are 82 in wide; their label ratings are 15,400 and 16,000 lb.
    assert "Deck width" in same - differ
    assert "Label GVWR" in differ - same
    assert all(not r.same for s in it.sections[1:] for r in s.rows)
    assert it.sections[0].title == "What decides", "what decides is shown even where it is the same"


def test_no_limit_that_is_close_is_put_with_those_of_plenty(haul):
    stand()
    units, said = engine(haul, "SH-133", "SH-162", "SH-203")
    it = shown(said, units, metric=False, money=False)
    ample = {r.title.lower() for r in it.ample}
    close = {x.title.lower() for w in said.weighings for x in w.lines if x.verdict != "clear" or x.share < 0.15}
    kinds = {r.title.lower() for r in limit_rows(said.weighings)}
    assert ample
    assert not ample & close
    assert ample | (close & kinds) == kinds


def test_best_of_a_limit_is_most_to_spare_and_only_of_ratings_and_law(haul):
    stand()
    _, said = engine(haul, "SH-133", "SH-137")
    by_check = {r.check: r for r in limit_rows(said.weighings)}
    # 850 lb and 980 lb are left of the label.
    assert by_check["trailer-gross"].best == (1,)
    assert all(r.best == () for r in by_check.values() if r.kind in ("fit", "guidance"))
    assert all(r.best == () for r in told_rows(said.weighings))


def test_margin_in_money_only_for_those_who_may(haul, as_role):
    stand("SH-133", "SH-137")
    save(Unit.objects.get(stock_number="SH-133"), price_usd="9000", cost_usd="7600")
    for role in ("owner", "sales", "hand", "viewer"):
        text = text_of(as_role(role), address(haul, "SH-133", "SH-137"))
        assert "$9,000" in text
        for amount in ("$7,600", "$1,400"):
            assert (amount in text) == (role in ("owner", "sales")), role


@pytest.mark.parametrize(
    ("numbers", "says"),
    [
        ((), "Tick at least 2 units on the board, then compare them."),
        (("SH-133",), "Tick at least 2 units on the board, then compare them."),
        (("SH-133", "sh-133"), "Tick at least 2 different units on the board."),
        (tuple(f"X-{n}" for n in range(7)), "At most 6 units stand side by side, and 7 were chosen"),
        (("SH-133", "NOPE-1"), "No such unit is in the yard: NOPE-1."),
        (("NOPE-1", "<b>", "SH-133"), "No such units are in the yard: NOPE-1 and <b>."),
    ],
)
def test_what_cannot_be_compared_is_said_in_one_sentence(haul, as_role, numbers, says):
    stand("SH-133", "SH-137")
    answer = as_role("viewer").get(address(haul, *numbers))
    assert answer.status_code == 200
    assert says in html.unescape(answer.content.decode())
    assert "<b>" not in answer.content.decode()
    assert "<table" not in answer.content.decode()
    assert reverse("board", args=[haul.pk]) in answer.content.decode()


def test_a_unit_that_no_longer_reads_is_named(haul, as_role):
    stand("SH-133", "SH-137")
    Unit.objects.filter(stock_number="SH-137").update(spec={"deck": 7})
    text = text_of(as_role("viewer"), address(haul, "SH-133", "SH-137"))
    assert "What is stored of SH-137 no longer reads" in text


def test_an_unknown_is_said_so_and_never_best(haul, as_role):
    stand()
    text = text_of(as_role("viewer"), address(haul, "SH-133", "SH-164"))
    table = rows(text)
    unknown = [title for title, cells in table.items() if "not known" in cells[1]]
    assert unknown, "SH-164 is the unit of which little is known"
    assert not any("best" in table[title][1] for title in unknown)


@pytest.mark.parametrize("count", [2, 6])
def test_queries_do_not_grow_with_units(count, haul, as_role, django_assert_num_queries):
    numbers = ("SH-133", "SH-137", "SH-152", "SH-162", "SH-161", "SH-122")[:count]
    stand(*numbers)
    client = as_role("owner")
    # Session, person, haul, units, and the makers a title may not claim.
    with django_assert_num_queries(5):
        client.get(address(haul, *numbers))
