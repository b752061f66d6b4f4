"""The yard as a file to take away: what the list shows, one row a unit."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from rubrail.desk import clock
from rubrail.desk.access import requires
from rubrail.desk.finding import Wanted, look_for
from rubrail.desk.lists.writing import csv_of, list_of, workbook_of
from rubrail.desk.models import Unit

FILES = {
    "workbook": ("Workbook (.xlsx)", "Numbers are numbers, text is text; opens in any desk spreadsheet."),
    "csv": ("CSV for a desk spreadsheet", "Marked as UTF-8, so that a desk spreadsheet opens every letter right."),
    "plain": ("CSV for a program", "UTF-8 without the mark."),
}
"""Kinds of file: what they are called, and what they are for."""
COLUMNS = {
    "filled": ("Columns that hold something", "And the few that every list has."),
    "every": ("Every column", "Also those nobody has filled yet, to fill and import again."),
}
WORKBOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def yard_export(request: HttpRequest) -> HttpResponse:
    """Ask which kind of file, or give it: the units that the address finds, as the yard's list does."""
    wanted = look_for(request.GET.dict(), metric=request.user.measures == "metric")
    file = request.GET.get("file", "")
    if file in FILES:
        return _file(request, wanted, file)
    found = _found(wanted)
    context = {
        "wanted": wanted,
        "count": len(found),
        "chips": list(wanted.chips()),
        "parts": [(name, text) for name, text in wanted.texts.items() if name != "sort"],
        "files": [(value, *words) for value, words in FILES.items()],
        "columns": [(value, *words) for value, words in COLUMNS.items()],
    }
    return render(request, "desk/exporting/export.html", context)


def _found(wanted: Wanted) -> list[int]:
    """Keys of the units that the yard's list shows, in its order."""
    return [pk for pk, known in wanted.found() if known or wanted.unknown]


def _file(request: HttpRequest, wanted: Wanted, file: str) -> HttpResponse:
    keys = _found(wanted)
    stored = Unit.objects.defer("packed", "thumbnail").in_bulk(keys)
    units = [stored[pk] for pk in keys if pk in stored]
    columns, rows = list_of(units, role=request.user.role, every_column=request.GET.get("columns") == "every")
    if file == "workbook":
        data, kind, ending = workbook_of(columns, rows), WORKBOOK_TYPE, "xlsx"
    else:
        data, kind, ending = csv_of(columns, rows, marked=file == "csv"), "text/csv; charset=utf-8", "csv"
    name = f"yard-{clock.today():%Y-%m-%d}.{ending}"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(data, content_type=kind, headers=headers)
