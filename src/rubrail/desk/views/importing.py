"""Take a list into the yard in steps: the file, what its columns mean, what would change, all of it or nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from functools import partial, wraps
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError
from rubrail.desk.lists.choices import Choices, allowed_for, faults_in, first_choices, remember
from rubrail.desk.lists.plan import Plan, moved, plan_of, stored_units
from rubrail.desk.lists.preview import preview_of
from rubrail.desk.lists.reading import MOST_BYTES, MOST_ROWS, UnreadableFileError, read_sheet
from rubrail.desk.lists.row import Layout
from rubrail.desk.lists.taking import FaultyError, GoneError, let_go_expired, take_in
from rubrail.desk.lists.wording import choices_sent, columns_shown, offered, units_offered
from rubrail.desk.models import Incoming
from rubrail.desk.standing import promises
from rubrail.quantity.basis import BASES, BASIS_SAYS

KEPT_HOURS = 24
KEPT_LISTS = 5
SAMPLE_ROWS = 50
GONE = "That list is no longer kept here: it was imported, let go, or is older than a day. Choose the file again."
MOVED = "Nothing is written yet: something changed since you looked. Look at what the list does now."

ListView = Callable[[HttpRequest, Incoming], HttpResponse]


def _of_ones_own(view: ListView) -> Callable[..., HttpResponse]:
    """Give a view the uploaded list of that address, if it is there and this person's."""

    @wraps(view)
    def given(request: HttpRequest, pk: UUID) -> HttpResponse:
        let_go_expired()
        incoming = Incoming.objects.filter(pk=pk, owner=request.user).first()
        if incoming is None:
            messages.warning(request, GONE)
            return redirect("yard-import")
        return view(request, incoming)

    return given


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
def yard_import(request: HttpRequest) -> HttpResponse:
    """Choose the file."""
    let_go_expired()
    fault = ""
    if request.method == "POST":
        try:
            return redirect("yard-import-columns", _uploaded(request).pk)
        except UnreadableFileError as told:
            fault = str(told)
    waiting = Incoming.objects.filter(owner=request.user).order_by("-created").defer("content")
    context = {
        "fault": fault,
        "waiting": list(waiting),
        "most_mb": MOST_BYTES // 2**20,
        "most_rows": f"{MOST_ROWS:,}",
        "hours": KEPT_HOURS,
        "may_price": request.user.may("price.edit"),
    }
    return render(request, "desk/importing/upload.html", context)


def _uploaded(request: HttpRequest) -> Incoming:
    file = request.FILES.get("list")
    if file is None:
        raise UnreadableFileError("No file was chosen.")
    name = " ".join((file.name or "the file").split())[:120]
    if (file.size or 0) > MOST_BYTES:
        raise UnreadableFileError(
            f"{name[:60]!r} has {file.size / 2**20:.0f} MB; at most {MOST_BYTES // 2**20} MB is taken."
        )
    sheet = read_sheet(file.read(MOST_BYTES + 1), name=name)
    samples = [cells for _, cells in sheet.rows[:SAMPLE_ROWS]]
    choices = first_choices(sheet.headings, samples, role=request.user.role, csv=sheet.kind == "csv")
    incoming = Incoming.objects.create(
        owner=request.user,
        name=name,
        kind=sheet.kind,
        note=sheet.note[:300],
        headings=list(sheet.headings),
        content=Incoming.packed(sheet.rows),
        row_count=len(sheet.rows),
        choices={"first": choices.stored()},
        expires=timezone.now() + timedelta(hours=KEPT_HOURS),
    )
    late = Incoming.objects.filter(owner=request.user).order_by("-created").values_list("pk", flat=True)[KEPT_LISTS:]
    Incoming.objects.filter(pk__in=list(late)).delete()
    return incoming


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@_of_ones_own
def yard_import_columns(request: HttpRequest, incoming: Incoming) -> HttpResponse:
    """Say what each column means."""
    allowed = allowed_for(request.user.role)
    faults: dict[int, str] = {}
    sent: dict[int, str] = {}
    if request.method == "POST":
        choices, sent, faults = choices_sent(request.POST, count=len(incoming.headings), csv=incoming.kind == "csv")
        faults = {**faults_in(choices, incoming.headings, allowed=allowed), **faults}
        if not faults:
            incoming.choices = {"chosen": choices.stored()}
            incoming.save(update_fields=["choices"])
            return redirect("yard-import-preview", incoming.pk)
    else:
        choices = Choices.read(incoming.choices.get("chosen") or incoming.choices["first"])
    context = {
        "incoming": incoming,
        "columns": columns_shown(incoming, choices, sent=sent, faults=faults),
        "fault": faults.get(-1, ""),
        "faults": len(faults),
        "offered": offered(allowed),
        "units": units_offered(),
        "choices": choices,
        "bases": [(word, BASIS_SAYS[word]) for word in BASES],
        "may_price": request.user.may("price.edit"),
    }
    return render(request, "desk/importing/columns.html", context)


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@_of_ones_own
def yard_import_preview(request: HttpRequest, incoming: Incoming) -> HttpResponse:
    """Show what the list would change; write it when told to, all of it or nothing."""
    choices = Choices.read(incoming.choices.get("chosen", {}))
    if faults_in(choices, incoming.headings, allowed=allowed_for(request.user.role)):
        return redirect("yard-import-columns", incoming.pk)
    layout = Layout(incoming.headings, choices)
    planned = partial(plan_of, incoming.rows, layout=layout, promised=promises())
    if request.method != "POST":
        return _preview(request, incoming, planned(units=stored_units()))
    units = stored_units()
    left = _left(request, incoming)
    plan = planned(units=units, left=left)
    if "left_all" in request.POST:
        left |= {outcome.number for outcome in plan.outcomes if outcome.faults}
        plan = planned(units=units, left=left)
    if request.POST.get("mark") != plan.mark:
        return _moved(request, incoming, plan, left)
    if not plan.writes and not plan.counts["faulty"]:
        incoming.delete()
        messages.success(request, "The list says nothing that is not known here; nothing was written.")
        return redirect("yard")
    try:
        taken = take_in(plan, incoming=incoming, by=request.user)
    except FaultyError:
        return _preview(request, incoming, plan, left=left, refused=True)
    except StaleError:
        return _moved(request, incoming, planned(units=stored_units(), left=left), left)
    except GoneError:
        messages.warning(request, GONE)
        return redirect("yard-import")
    remember(incoming.headings, choices)
    messages.success(request, f"{incoming.name} is imported: {taken.said}.")
    # Nobody is owed a call by a list alone: whoever imports it is asked, once for all of them.
    return redirect("follow-ups-sold" if taken.sold else "yard")


def _left(request: HttpRequest, incoming: Incoming) -> set[int]:
    return {int(n) for n in request.POST.getlist("left") if n.isdigit() and len(n) < 8}


def _moved(request: HttpRequest, incoming: Incoming, plan: Plan, left: set[int]) -> HttpResponse:
    names = moved(incoming.seen, plan)
    messages.warning(request, MOVED)
    return _preview(request, incoming, plan, left=left, moved_units=names, status=409)


def _preview(
    request: HttpRequest,
    incoming: Incoming,
    plan: Plan,
    *,
    left: set[int] | None = None,
    refused: bool = False,
    moved_units: list[str] | None = None,
    status: int = 200,
) -> HttpResponse:
    if incoming.seen != plan.seen:
        incoming.seen = dict(plan.seen)
        incoming.save(update_fields=["seen"])
    context: dict[str, Any] = {
        "incoming": incoming,
        "plan": plan,
        "left": left or set(),
        "refused": refused,
        "moved": moved_units or [],
        **preview_of(plan),
    }
    return render(request, "desk/importing/preview.html", context, status=status)


@requires("unit.edit")
@require_POST
@_of_ones_own
def yard_import_drop(request: HttpRequest, incoming: Incoming) -> HttpResponse:
    """Let an uploaded list go; the yard stays as it is."""
    incoming.delete()
    messages.success(request, f"{incoming.name} is let go; the yard is as it was.")
    return redirect("yard-import")
