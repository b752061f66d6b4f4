"""System checks of the desk's own rules; they run before every start."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from django.core.checks import CheckMessage, Error, register
from django.urls import URLPattern, URLResolver, get_resolver


def patterns(resolver: URLResolver | None = None, prefix: str = "") -> Iterator[tuple[str, URLPattern]]:
    """Every address of the desk, with its whole route."""
    for pattern in (resolver or get_resolver()).url_patterns:
        route = prefix + str(pattern.pattern)
        if isinstance(pattern, URLResolver):
            yield from patterns(pattern, route)
        else:
            yield route, pattern


@register
def every_view_says_who_may_open_it(app_configs: Sequence[Any] | None, **kwargs: Any) -> list[CheckMessage]:
    """An error for each address whose view has no access decorator."""
    return [
        Error(
            f"The page at /{route} does not say who may open it.",
            hint="Put @requires(...) or @open_to_anyone on its view.",
            id="desk.E001",
        )
        for route, pattern in patterns()
        if not getattr(pattern.callback, "access", None)
    ]
