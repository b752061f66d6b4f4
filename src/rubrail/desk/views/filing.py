"""What a finished list says, written into the file of its unit or of the kept truck by one button."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from rubrail.desk.access import demand, requires
from rubrail.desk.editing import StaleError
from rubrail.desk.handing.filing import FilingError, write
from rubrail.desk.handing.offers import NEEDS
from rubrail.desk.models import Checklist
from rubrail.desk.once import once, tell


@requires("unit.edit")
@require_POST
@once
def check_file(request: HttpRequest, pk: int, of: str) -> HttpResponse:
    """Write what the page offered; nothing where it is something else by now."""
    it = get_object_or_404(Checklist.objects.select_related("unit", "haul"), pk=pk)
    if of not in NEEDS:
        raise Http404
    demand(request, NEEDS[of])
    go = it.get_absolute_url()
    try:
        offer = write(it, of, mark=request.POST.get("mark", ""), by=request.user)
    except FilingError as fault:
        return tell(request, str(fault), go=f"{go}#file-{of}", status=422)
    except StaleError:
        return tell(request, "Somebody saved it just now; nothing was written. Look again.", go=go, status=422)
    said = "It is in the unit's file" if of == "unit" else f"It is kept with the truck {offer.name}"
    return tell(request, f"{said}; verdicts follow.", go=go)
