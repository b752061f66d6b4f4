"""A rig of the invented yard in the database, and what its page carries."""

from __future__ import annotations

import json
import re
from functools import cache
from html import unescape
from typing import Any

from django.http import HttpResponse

from rubrail import load_yard, resolve
from rubrail.demo import YARD
from rubrail.desk.hauls import stored
from rubrail.desk.models import Haul, Machine, Unit
from rubrail.desk.stock import add_unit

DATA = re.compile(r"data-bench='([^']*)'")
SENTENCE = re.compile(r'class="bench__sentence--wide" data-sentence>([^<]*)<')
STANDS = re.compile(r'<input type="hidden" name="(p|x|w)" value="([^"]*)">')


@cache
def invented():
    """The invented yard, read once."""
    return load_yard(YARD)


def store_unit(stock_number: str) -> Unit:
    """One of its units."""
    return add_unit(invented().trailers[stock_number], by=None)


def store_haul(number: int) -> Haul:
    """One of its hauls, counted from 1."""
    thing = resolve(list(invented().hauls.values())[number - 1], invented())
    return Haul.objects.create(title=(thing.title or thing.id)[:120], spec=stored(thing))


def store_machine(id: str) -> Machine:
    """One of its machines, kept."""
    cargo = invented().cargo[id]
    return Machine.objects.create(name=cargo.title or cargo.id, spec=stored(cargo))


def carried(page: HttpResponse | str) -> dict[str, Any]:
    """The data a bench's page carries for its script."""
    text = page if isinstance(page, str) else page.content.decode()
    return json.loads(unescape(DATA.search(text)[1]))


def sentence(page: HttpResponse) -> str:
    """The page's first sentence."""
    return unescape(SENTENCE.search(page.content.decode())[1])


def standing(page: HttpResponse) -> dict[str, list[str]]:
    """Keys, places and ways of the pieces, as the page's first form sends them."""
    form = page.content.decode().partition("data-stands")[2].partition("</form>")[0]
    out: dict[str, list[str]] = {"p": [], "x": [], "w": []}
    for name, value in STANDS.findall(form):
        out[name].append(value)
    return out
