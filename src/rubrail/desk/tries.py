"""How often a sign-in may be tried. Counted in the database, so that every process and a restart count the same."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction
from django.db.models import Q
from django.utils import timezone
from django.utils.crypto import salted_hmac

from rubrail.desk.models import SignInTry

WINDOW = timedelta(minutes=15)


@dataclass(frozen=True, slots=True)
class Limit:
    """So many failed tries within the window, counted by name, by address or by both together."""

    by_name: bool
    by_address: bool
    tries: int


LIMITS = (
    Limit(by_name=True, by_address=True, tries=5),
    # Many names from one address is guessing through the list; one name from many addresses, a crowd guessing.
    Limit(by_name=False, by_address=True, tries=30),
    Limit(by_name=True, by_address=False, tries=60),
)


@dataclass(frozen=True, slots=True)
class Try:
    """One try that may go ahead; forget it once it has succeeded."""

    name_key: str
    address: str

    def succeeded(self) -> None:
        """Stop counting this name's tries from this address."""
        SignInTry.objects.filter(name_key=self.name_key, address=self.address).delete()


def wait_minutes(*, name: str, address: str) -> int | Try:
    """Minutes to wait before the next try, or the try itself, already counted.

    Counting first and checking the password afterwards means that tries sent at the same moment do not slip past.

    Parameters
    ----------
    name : str
        The sign-in name as typed; stored as a keyed digest only.
    address : str
        Where the try comes from.
    """
    now = timezone.now()
    key = salted_hmac("rubrail.desk.tries", name.strip().lower()).hexdigest()
    with transaction.atomic():
        SignInTry.objects.filter(at__lt=now - WINDOW).delete()
        for limit in LIMITS:
            which = Q()
            if limit.by_name:
                which &= Q(name_key=key)
            if limit.by_address:
                which &= Q(address=address)
            counted = list(SignInTry.objects.filter(which).order_by("-at").values_list("at", flat=True)[: limit.tries])
            if len(counted) >= limit.tries:
                return max(1, math.ceil((counted[-1] + WINDOW - now).total_seconds() / 60))
        SignInTry.objects.create(name_key=key, address=address, at=now)
    return Try(key, address)


def address_of(request: object) -> str:
    """Where a request comes from."""
    return request.META.get("REMOTE_ADDR", "")[:64]  # type: ignore[attr-defined]
