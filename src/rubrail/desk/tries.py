"""How often a sign-in may be tried. Counted in the database, so that every process and a restart count the same."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta

from django.db.models import Q
from django.http import HttpRequest
from django.utils import timezone
from django.utils.crypto import salted_hmac

from rubrail.desk.models import SignInTry
from rubrail.desk.turns import in_turn

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


class TooManyTriesError(Exception):
    """Wait before the next try."""

    def __init__(self, minutes: int) -> None:
        super().__init__(f"Too many wrong tries. Wait {'a minute' if minutes == 1 else f'{minutes} minutes'}.")
        self.minutes = minutes


@dataclass(frozen=True, slots=True)
class Try:
    """One try that may go ahead; forget it once it has succeeded."""

    name_key: str
    address: str

    def succeeded(self) -> None:
        """Stop counting this name's tries from this address."""
        SignInTry.objects.filter(name_key=self.name_key, address=self.address).delete()


def begin(*, name: str, address: str) -> Try:
    """A try that may go ahead, already counted.

    Counting first and checking the password afterwards means that tries sent at the same moment do not slip past.

    Parameters
    ----------
    name : str
        The sign-in name as typed; stored as a keyed digest only.
    address : str
        Where the try comes from.

    Raises
    ------
    TooManyTriesError
        If one must wait.
    """
    now = timezone.now()
    key = salted_hmac("rubrail.desk.tries", name.strip().lower()).hexdigest()
    with in_turn("sign-in tries"):
        SignInTry.objects.filter(at__lt=now - WINDOW).delete()
        for limit in LIMITS:
            which = Q()
            if limit.by_name:
                which &= Q(name_key=key)
            if limit.by_address:
                which &= Q(address=address)
            counted = list(SignInTry.objects.filter(which).order_by("-at").values_list("at", flat=True)[: limit.tries])
            if len(counted) >= limit.tries:
                raise TooManyTriesError(max(1, math.ceil((counted[-1] + WINDOW - now).total_seconds() / 60)))
        SignInTry.objects.create(name_key=key, address=address, at=now)
    return Try(key, address)


def address_of(request: HttpRequest) -> str:
    """Where a request comes from."""
    return request.META.get("REMOTE_ADDR", "")[:64]
