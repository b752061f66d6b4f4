"""Take what a phone sends once: its key comes with it, and a key that comes again gets the first answer again.

A form that waited in a phone's own storage is sent until an answer arrives; the answer, not the form, may be what was
lost on the way. So the entry and its key are written together or not at all.
"""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable, Mapping
from datetime import timedelta
from functools import wraps
from typing import Any

from django.contrib import messages
from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.utils import timezone

from rubrail.desk.models import Sent
from rubrail.desk.photographs import read_ahead

HEADER = "X-Once-Key"
FIELD = "once"
PHOTOS = "photos"
"""Field of the pictures that come along."""
MARK = "X-Once"
"""Header of an answer that is about the key it names; one without it came from something else on the way."""
KEPT_DAYS = 60
MOST_ANSWER = 20_000
"""Characters of an answer that are kept to be given again."""

NO_KEY = "The entry's key is not one of ours; open the page again."
OTHERS_KEY = "This entry's key belongs to another entry; open the page again and enter it anew."
NOT_AS_IT_IS = "The desk does not take it as it is. Open the page, look at what it says, enter it anew."

View = Callable[..., HttpResponse]


class _TakenError(Exception):
    """The key was there already."""


def from_outbox(request: HttpRequest) -> bool:
    """Whether a phone's outbox sends this, and reads the answer as JSON."""
    return HEADER in request.headers


def tell(
    request: HttpRequest, says: str, *, go: str, status: int = 200, shown: Mapping[str, str] | None = None, **more: Any
) -> HttpResponse:
    """Answer a form that may have waited in an outbox: as JSON there, else by a message on the page ``go``.

    Parameters
    ----------
    request : HttpRequest
    says : str
        One sentence; on a refusal, what is wrong and what is accepted.
    go : str
        Where a browser without the outbox goes next.
    status : int
        422 refused as it is, 409 somebody else changed it (tell ``theirs``, ``mine`` and ``seen`` too), 200 taken.
    shown : mapping, optional
        Parts of the page as they stand now, for its script; of this moment, so a later answer to the key lacks them.
    more
        What else the page's own script reads.
    """
    if from_outbox(request):
        answer = JsonResponse({"says": says, "go": go, **more, **(shown or {})}, status=status)
        answer.passing = tuple(shown or ())
        return answer
    if says:
        messages.add_message(request, messages.SUCCESS if status < 400 else messages.ERROR, says)
    return HttpResponseRedirect(go)


def once(view: View) -> View:
    """Let a view do what a key asks for once, and give its first answer again after that.

    The key comes in the header ``X-Once-Key`` or the field ``once``; without one the view runs as it is. What the view
    writes and the key are written in one transaction; an answer of 400 and above takes both back. Pictures in the
    field ``photos`` are read before it begins. Stands below ``@requires`` and ``@require_POST``.
    """

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        raw = request.headers.get(HEADER) or request.POST.get(FIELD, "")
        if not raw or request.method != "POST":
            return view(request, *args, **kwargs)
        key = _key(raw)
        if key is None:
            return _marked(request, raw[:60], _refusal(NO_KEY, 400))
        if request.FILES and not Sent.objects.filter(key=key).exists():
            read_ahead(request.FILES.getlist(PHOTOS))
        try:
            answer = _first(request, key, view, args, kwargs)
        except _TakenError:
            answer = _again(request, key)
        return _marked(request, str(key), answer)

    return guarded


def _key(raw: str) -> uuid.UUID | None:
    try:
        return uuid.UUID(raw) if len(raw) == 36 else None
    except ValueError:
        return None


def _first(request: HttpRequest, key: uuid.UUID, view: View, args: Any, kwargs: Any) -> HttpResponse:
    with transaction.atomic():
        try:
            with transaction.atomic():
                sent = Sent.objects.create(key=key, who_id=request.user.pk, address=request.path[:200])
        except IntegrityError:
            raise _TakenError from None
        answer = view(request, *args, **kwargs)
        if not _final(answer):
            transaction.set_rollback(True)
            return answer
        sent.status, sent.answer = answer.status_code, _kept(answer)
        sent.save(update_fields=("status", "answer"))
        forget_old()
    return answer


def _final(answer: HttpResponse) -> bool:
    """Whether something was done: a page shown again instead of a redirect is a form with faults in it."""
    return 300 <= answer.status_code < 400 or (answer.status_code < 300 and _is_json(answer))


def _is_json(answer: HttpResponse) -> bool:
    return answer.headers.get("Content-Type", "").startswith("application/json")


def _kept(answer: HttpResponse) -> dict[str, Any]:
    if "Location" in answer.headers:
        return {"go": answer.headers["Location"]}
    told = json.loads(answer.content)
    told = (
        {k: v for k, v in told.items() if k not in getattr(answer, "passing", ())} if isinstance(told, dict) else told
    )
    return {"json": told if len(json.dumps(told)) <= MOST_ANSWER else {}}


def _again(request: HttpRequest, key: uuid.UUID) -> HttpResponse:
    sent = Sent.objects.get(key=key)
    if sent.who_id != request.user.pk or sent.address != request.path[:200]:
        return _refusal(OTHERS_KEY, 409)
    if "go" in sent.answer:
        return HttpResponseRedirect(sent.answer["go"])
    return JsonResponse(sent.answer.get("json", {}), status=sent.status)


def _refusal(says: str, status: int) -> HttpResponse:
    return JsonResponse({"says": says}, status=status)


def _marked(request: HttpRequest, key: str, answer: HttpResponse) -> HttpResponse:
    """The answer as an outbox reads it: JSON whatever the view gave, with the key it is about."""
    if not from_outbox(request):
        return answer
    if "Location" in answer.headers:
        answer = JsonResponse({"go": answer.headers["Location"]})
    elif not _is_json(answer):
        status = answer.status_code if answer.status_code >= 400 else 422
        answer = _refusal(NOT_AS_IT_IS, status)
    answer.headers[MARK] = key
    return answer


def forget_old() -> None:
    """Drop keys older than ``KEPT_DAYS``; nothing waits in a phone that long."""
    Sent.objects.filter(at__lt=timezone.now() - timedelta(days=KEPT_DAYS)).delete()
