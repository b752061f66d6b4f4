"""What is done to people's accounts, with a trail; the desk never loses its last owner."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from typing import Any

from django.db import transaction

from rubrail.desk.audit import Delta, record
from rubrail.desk.editing import save_changes
from rubrail.desk.models import User
from rubrail.desk.permissions import OWNER, role_word
from rubrail.desk.turns import in_turn

LABELS = {"name": "name", "username": "sign-in name", "role": "role"}
"""Fields whose changes the trail tells; how somebody likes their pages is nobody's business."""
SYLLABLES = [c + v for c in "bdfghjkmnprstvwz" for v in "aeiou"]


class LastOwnerError(ValueError):
    """The change would leave the desk without an owner who can sign in."""


def first_password() -> str:
    """A password to be read out once and changed at the first sign-in: three groups one can say, about 57 bits."""
    return "-".join("".join(secrets.choice(SYLLABLES) for _ in range(3)) for _ in range(3))


def set_up_owner(*, username: str, name: str, password: str) -> User | None:
    """The desk's first person, or nothing where somebody was first."""
    with in_turn("set up"):
        if User.objects.exists():
            return None
        owner = User.objects.create_user(username=username, name=name, role=OWNER, password=password)
        record(by=owner, action="set up", thing=owner)
    return owner


def add_person(*, username: str, name: str, role: str, by: User) -> tuple[User, str]:
    """A new person and the password for the first sign-in, which is shown once and stored nowhere."""
    password = first_password()
    with transaction.atomic():
        person = User.objects.create_user(username=username, name=name, role=role, password=password)
        User.objects.filter(pk=person.pk).update(must_change_password=True)
        person.must_change_password = True
        record(by=by, action="added", thing=person)
    return person, password


def change_person(person: User, values: Mapping[str, Any], *, by: User, seen_version: int) -> None:
    """Change name, sign-in name, role, look or measures.

    Raises
    ------
    LastOwnerError
        If the only owner with an open account would become something else.
    StaleError
        If somebody else saved the person meanwhile.
    """
    changes = {n: v for n, v in values.items() if getattr(person, n) != v}
    told = {n: v for n, v in changes.items() if n in LABELS}
    deltas = [Delta(n, LABELS[n], _say(n, getattr(person, n)), _say(n, v), "people.manage") for n, v in told.items()]
    with in_turn("owners"):
        if changes.get("role", OWNER) != OWNER:
            _keep_an_owner(person)
        save_changes(person, values=changes, deltas=deltas, by=by, seen_version=seen_version)


def set_open(person: User, is_open: bool, *, by: User) -> None:
    """Close an account, which ends its sessions at the next page, or open it again.

    Raises
    ------
    LastOwnerError
        If it is the only owner's.
    """
    with in_turn("owners"):
        if not is_open:
            _keep_an_owner(person)
        if User.objects.filter(pk=person.pk).exclude(is_active=is_open).update(is_active=is_open):
            record(by=by, action="opened" if is_open else "closed", thing=person)
    person.is_active = is_open


def give_first_password(person: User, *, by: User) -> str:
    """A new password for the next sign-in, for somebody who forgot theirs; ends the person's sessions."""
    password = first_password()
    person.set_password(password)
    person.must_change_password = True
    with transaction.atomic():
        person.save(update_fields=["password", "must_change_password"])
        record(by=by, action="first password", thing=person)
    return password


def choose_password(person: User, password: str) -> None:
    """The person's own new password."""
    person.set_password(password)
    person.must_change_password = False
    with transaction.atomic():
        person.save(update_fields=["password", "must_change_password"])
        record(by=person, action="own password", thing=person)


def _keep_an_owner(person: User) -> None:
    owners = User.objects.filter(role=OWNER, is_active=True)
    if person.pk in (found := set(owners.values_list("pk", flat=True))) and len(found) == 1:
        raise LastOwnerError(
            f"{person.name} is the only owner with an open account; make somebody else an owner first."
        )


def _say(name: str, value: Any) -> str:
    return role_word(value) if name == "role" else str(value)
