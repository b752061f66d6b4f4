"""One place that decides between a whole page and the part of it that htmx asked for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers


def wants_part(request: HttpRequest) -> bool:
    """Whether only the changing part of the page is wanted: asked by htmx, and not to restore history."""
    return bool(request.htmx) and not request.htmx.history_restore_request


def answer(
    request: HttpRequest, template: str, context: Mapping[str, Any], *, part: str, status: int = 200
) -> HttpResponse:
    """The page, or its part.

    Parameters
    ----------
    template, part : str
        The page's template, and the one it includes for the part that changes.
    """
    name = part if wants_part(request) else template
    response = render(request, name, {**context, "is_part": name == part}, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response
