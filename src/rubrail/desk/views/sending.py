"""What a phone's outbox asks before it sends: who is signed in, and with which token a form is taken."""

from __future__ import annotations

from django.http import HttpRequest, JsonResponse
from django.middleware.csrf import get_token
from django.views.decorators.http import require_GET

from rubrail.desk.access import open_to_anyone


@open_to_anyone
@require_GET
def sending(request: HttpRequest) -> JsonResponse:
    """Who is signed in, by number, and a token; nobody where a password must be chosen first."""
    user = request.user
    ready = user.is_authenticated and not user.must_change_password
    return JsonResponse({"who": str(user.pk) if ready else "", "token": get_token(request) if ready else ""})
