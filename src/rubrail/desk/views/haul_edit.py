"""Enter a haul on one page, and change it later on the same page."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.bases import NOTHING, OWN, PIECES, TRUCKS, limits_base
from rubrail.desk.editing import StaleError, merge
from rubrail.desk.forms import seen
from rubrail.desk.forms.haul import HaulForm
from rubrail.desk.hauls import add_haul, called, change_haul
from rubrail.desk.models import Change, Haul
from rubrail.desk.quick import MOST_PIECES, Plan, over_again, piece_specs, truck_specs
from rubrail.desk.quick_haul import table_of, texts_of
from rubrail.desk.stale import notes_on_haul
from rubrail.desk.typed import FIELD as MEASURES
from rubrail.desk.typed import measures_sent
from rubrail.things.door import read_thing
from rubrail.things.faults import Faults
from rubrail.things.haul import Haul as HaulThing

COLUMNS = ("buyer", "title")
LENGTHS = {"buyer": 120, "title": 200}


@requires("haul.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def haul_new(request: HttpRequest) -> HttpResponse:
    """Enter a buyer's truck and machines; what is not known stays typical or unknown."""
    if request.method != "POST":
        begun = {"truck:from": request.GET.get("truck", ""), "piece.0:from": request.GET.get("piece", "")}
        begun |= {"piece:count": "1", MEASURES: request.user.measures}
        return _page(request, None, _sent(begun, None)[0])
    texts, plan = _sent(request.POST, None)
    if _asks_again(request.POST):
        return _page(request, None, texts)
    form, thing = _read(texts, plan, None)
    if thing is None:
        return _page(request, None, texts, form=form)
    haul = add_haul(thing, buyer=texts.get("buyer", ""), title=texts.get("title", ""), by=request.user)
    messages.success(request, "The haul is entered.")
    return redirect(haul)


@requires("haul.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def haul_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a haul. Whoever saves second is told what the first one changed."""
    it = get_object_or_404(Haul, pk=pk)
    if request.method != "POST":
        texts = stored_texts(it, measures=request.user.measures) | {MEASURES: request.user.measures}
        return _page(request, it, texts)
    texts, plan = _sent(request.POST, it)
    had = seen.unpack(request.POST.get(seen.FIELD, ""))
    if had is None or had.version != it.version:
        return _stale(request, it, texts, had)
    if _asks_again(request.POST):
        return _page(request, it, texts, had=request.POST[seen.FIELD])
    form, thing = _read(texts, plan, it)
    if thing is None:
        return _page(request, it, texts, form=form, had=request.POST[seen.FIELD])
    columns = {name: texts.get(name, "") for name in COLUMNS}
    try:
        deltas = change_haul(it, thing, **columns, by=request.user, seen_version=had.version)
    except StaleError:
        return _stale(request, Haul.objects.get(pk=pk), texts, had)
    messages.success(request, "The haul is saved." if deltas else "Nothing had changed.")
    return redirect(it)


def stored_texts(it: Haul, *, measures: str) -> dict[str, str]:
    """A stored haul as the page writes it, with what everything begins from."""
    count = len(it.spec.get("cargo", ()))
    keys = {"truck:from": OWN, "piece:count": str(count)} | {f"piece.{n}:from": f"{OWN}:{n}" for n in range(count)}
    columns = {name: getattr(it, name) for name in COLUMNS}
    texts = keys | columns | texts_of(it.spec, plan_of(keys, it), measures=measures)
    return {name: text for name, text in texts.items() if text}


def plan_of(texts: Mapping[str, str], it: Haul | None, *, shown: bool = False) -> Plan:
    """What everything begins from; with ``shown``, what the page that was sent had been made for."""
    spec = it.spec if it else {}
    word = "shown" if shown else "from"
    truck = texts.get(f"truck:{word}", NOTHING)
    pieces = [texts.get(f"piece.{n}:{word}", NOTHING) for n in range(_count(texts))]
    own = {f"{OWN}:{n}": load["piece"] for n, load in enumerate(spec.get("cargo", ()))}
    trucks = TRUCKS.bases([truck], {OWN: spec["truck"]} if spec else {})
    machines = PIECES.bases(pieces, own)
    return Plan(trucks[truck].with_hitches_offered(), tuple(machines[key] for key in pieces), limits_base(spec))


def _count(texts: Mapping[str, str]) -> int:
    sent = texts.get("piece:count", "")
    return min(int(sent), MOST_PIECES) if re.fullmatch(r"\d{1,2}", sent) else 1


def _asks_again(data: Mapping[str, str]) -> bool:
    """Whether only the page is wanted again, for another base or another number of pieces."""
    return any(name in data for name in ("again", "more", "drop"))


def _sent(data: Mapping[str, str], it: Haul | None) -> tuple[dict[str, str], Plan]:
    """Texts of a sent page for what is chosen now, a piece added or taken away where that was asked."""
    texts = {name: str(data.get(name, "")).strip() for name in data if name not in ("csrfmiddlewaretoken", seen.FIELD)}
    if "drop" in data:
        texts = _without(texts, data["drop"])
    if "more" in data:
        texts["piece:count"] = str(min(_count(texts) + 1, MOST_PIECES))
    was, now = plan_of(texts, it, shown=True), plan_of(texts, it)
    out = {k: v for k, v in texts.items() if not k.startswith(("truck.", "piece.")) or ":" in k.split(".")[-1]}
    out = {k: v for k, v in out.items() if not k.endswith((":basis", ":has"))}
    out |= over_again(texts, was=was.truck, now=now.truck, make=truck_specs, prefix="truck.")
    for n, (before, after) in enumerate(zip(was.pieces, now.pieces, strict=True)):
        out |= over_again(
            texts, was=before, now=after, make=lambda base, n=n: piece_specs(base, n), prefix=f"piece.{n}."
        )
    return out, now


def _without(texts: Mapping[str, str], dropped: str) -> dict[str, str]:
    """Texts without one piece; those after it move up."""
    if not dropped.isdecimal() or int(dropped) >= _count(texts):
        return dict(texts)
    gone, out = int(dropped), {}
    for name, text in texts.items():
        member = re.match(r"piece\.(\d+)", name)
        n = int(member[1]) if member else -1
        if n != gone:
            out[f"piece.{n - 1}{name[member.end() :]}" if n > gone else name] = text
    return out | {"piece:count": str(_count(texts) - 1)}


def _read(texts: Mapping[str, str], plan: Plan, it: Haul | None) -> tuple[HaulForm, HaulThing | None]:
    """The haul the page describes, or nothing, with every fault beside its field."""
    form = _form(plan, it, data=texts)
    form.is_valid()
    built = table_of(texts, plan, stored=it.spec if it else {})
    for name, said in built.faults.items():
        form.add_error(name, said)
    try:
        thing = read_thing(HaulThing, built.table)
    except Faults as told:
        for fault in told.faults:
            form.tell(fault, built)
        return form, None
    return form, None if form.errors else thing


def _form(plan: Plan, it: Haul | None, **kwargs: Any) -> HaulForm:
    loads = it.spec.get("cargo", ()) if it else ()
    own = [(f"{OWN}:{n}", f"As this haul has it: {called(load['piece'])}") for n, load in enumerate(loads)]
    trucks = TRUCKS.choices(own=called(it.spec["truck"]) if it else "")
    return HaulForm(plan=plan, trucks=trucks, machines=[*own, *PIECES.choices()], **kwargs)


def _stale(request: HttpRequest, it: Haul, texts: dict[str, str], had: seen.Seen | None) -> HttpResponse:
    """The page again: this person's own entries kept, the others' changes told and beside them."""
    measures = measures_sent(texts)
    theirs = stored_texts(it, measures=measures)
    merged, changed = merge(seen=had.values if had else theirs, theirs=theirs, mine=texts)
    merged["piece:count"] = str(max(_count(texts), _count(theirs)))
    return _page(request, it, merged, meanwhile=notes_on_haul(changed, it.spec, measures=measures), status=409)


def _page(
    request: HttpRequest,
    it: Haul | None,
    texts: Mapping[str, str],
    *,
    form: HaulForm | None = None,
    had: str = "",
    meanwhile: list[dict[str, Any]] | None = None,
    status: int = 200,
) -> HttpResponse:
    form = form or _form(plan_of(texts, it), it, initial=texts)
    if request.method == "POST":
        # One is somewhere in the page already; only a page just opened puts one at its beginning.
        form.fields["buyer"].widget.attrs.pop("autofocus", None)
    if it and not had:
        had = seen.pack(version=it.version, values=stored_texts(it, measures=form.measures))
    context = {
        "haul": it,
        "form": form,
        "seen": had,
        "room": len(form.plan.pieces) < MOST_PIECES,
        "stale": meanwhile is not None,
        "meanwhile": meanwhile or [],
        "last_change": Change.objects.filter(kind="haul", thing=it.pk).first() if meanwhile is not None else None,
    }
    return render(request, "desk/haul/edit.html", context, status=status)
