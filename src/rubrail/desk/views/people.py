"""The owner's page of people, and each person's own account."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk import people as accounts
from rubrail.desk.access import requires
from rubrail.desk.editing import Meanwhile, StaleError, merge
from rubrail.desk.forms import seen
from rubrail.desk.forms.people import AccountForm, PasswordForm, PersonForm, texts_of
from rubrail.desk.models import Change, User
from rubrail.desk.people import LastOwnerError
from rubrail.desk.permissions import PERMISSIONS, ROLES, role_may, role_word
from rubrail.desk.tries import TooManyTriesError, address_of, begin

LABELS = {"name": "Name", "username": "Sign-in name", "role": "Role"}


@requires("people.manage")
@require_http_methods(["GET", "HEAD"])
def people(request: HttpRequest) -> HttpResponse:
    """Everybody with an account, and what each role may do."""
    everybody = list(User.objects.order_by("-is_active", "name", "pk"))
    roles = [{"role": r, "word": w[0], "says": w[1]} for r, w in ROLES.items()]
    table = [{"permission": p, "cells": [role_may(r, p.name) for r in ROLES]} for p in PERMISSIONS]
    open_count = sum(1 for person in everybody if person.is_active)
    context = {"people": everybody, "roles": roles, "table": table, "open_count": open_count}
    return render(request, "desk/people/people.html", context)


@requires("people.manage")
@require_http_methods(["GET", "HEAD", "POST"])
def person_new(request: HttpRequest) -> HttpResponse:
    """Add a person; the password for the first sign-in is shown once."""
    form = PersonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        added, password = accounts.add_person(**form.cleaned_data, by=request.user)
        return _tell_password(request, added, password)
    return render(request, "desk/people/person.html", {"form": form, "person": None, "roles": ROLES})


@requires("people.manage")
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a person's name, sign-in name or role."""
    who = get_object_or_404(User, pk=pk)
    if request.method != "POST":
        return _person_page(request, who, PersonForm(instance=who))
    had = seen.unpack(request.POST.get(seen.FIELD, ""))
    if had is None or had.version != who.version:
        return _person_stale(request, who, had)
    form = PersonForm(request.POST, instance=User.objects.get(pk=pk))
    if form.is_valid():
        try:
            accounts.change_person(who, form.cleaned_data, by=request.user, seen_version=had.version)
        except LastOwnerError as fault:
            form.add_error("role", str(fault))
        except StaleError:
            return _person_stale(request, User.objects.get(pk=pk), had)
        else:
            messages.success(request, f"{who.name} is saved.")
            return redirect("people")
    return _person_page(request, who, form, seen_text=request.POST[seen.FIELD])


def _person_stale(request: HttpRequest, who: User, had: seen.Seen | None) -> HttpResponse:
    mine = {name: request.POST.get(name, "") for name in PersonForm.Meta.fields}
    theirs = texts_of(who)
    merged, changed = merge(seen=had.values if had else theirs, theirs=theirs, mine=mine)
    form = PersonForm(merged, instance=User.objects.get(pk=who.pk))
    return _person_page(request, who, form, meanwhile=changed, status=409)


def _person_page(
    request: HttpRequest,
    who: User,
    form: PersonForm,
    *,
    seen_text: str = "",
    meanwhile: list[Meanwhile] | None = None,
    status: int = 200,
) -> HttpResponse:
    context: dict[str, Any] = {
        "form": form,
        "person": who,
        "roles": ROLES,
        "seen": seen_text or seen.pack(version=who.version, values=texts_of(who)),
        "stale": meanwhile is not None,
        "meanwhile": [_said(m) for m in meanwhile or ()],
        "last_change": Change.objects.filter(kind="person", thing=who.pk).first() if meanwhile is not None else None,
    }
    return render(request, "desk/people/person.html", context, status=status)


def _said(change: Meanwhile) -> dict[str, Any]:
    def words(text: str) -> str:
        return role_word(text) if change.name == "role" and text in ROLES else text

    return {
        "label": LABELS[change.name],
        "name": change.name,
        "raw": change.theirs,
        "seen": words(change.seen),
        "theirs": words(change.theirs),
        "mine": words(change.mine),
        "both": change.both,
    }


@requires("people.manage")
@require_POST
def person_open(request: HttpRequest, pk: int) -> HttpResponse:
    """Close an account, or open it again."""
    who = get_object_or_404(User, pk=pk)
    is_open = request.POST.get("open") == "yes"
    try:
        accounts.set_open(who, is_open, by=request.user)
    except LastOwnerError as fault:
        messages.error(request, str(fault))
    else:
        done = "may sign in again" if is_open else "can no longer sign in"
        messages.success(request, f"{who.name} {done}.")
    return redirect("people")


@requires("people.manage")
@require_POST
def person_password(request: HttpRequest, pk: int) -> HttpResponse:
    """Give somebody who forgot theirs a new first password, shown once."""
    who = get_object_or_404(User, pk=pk)
    return _tell_password(request, who, accounts.give_first_password(who, by=request.user))


def _tell_password(request: HttpRequest, who: User, password: str) -> HttpResponse:
    if who == request.user:
        update_session_auth_hash(request, who)
    return render(request, "desk/people/first_password.html", {"person": who, "password": password})


@requires("account.own")
@require_http_methods(["GET", "HEAD", "POST"])
def account(request: HttpRequest) -> HttpResponse:
    """One's own name, look and measures."""
    mine = User.objects.get(pk=request.user.pk)
    form = AccountForm(request.POST or None, instance=User.objects.get(pk=request.user.pk))
    if request.method == "POST" and form.is_valid():
        try:
            accounts.change_person(mine, form.cleaned_data, by=mine, seen_version=mine.version)
        except StaleError:
            form.add_error(None, "Somebody changed your account at this moment. Look at it again, then save.")
        else:
            messages.success(request, "Your account is saved.")
            return redirect("account")
    may = [p for p in PERMISSIONS if request.user.may(p.name)]
    return render(request, "desk/people/account.html", {"form": form, "may": may, "roles": ROLES})


@requires("account.own", first_password=True)
@require_http_methods(["GET", "HEAD", "POST"])
def password(request: HttpRequest) -> HttpResponse:
    """Choose a new password; wrong old ones count like wrong sign-ins."""
    form = PasswordForm(request.POST or None, person=request.user)
    if request.method == "POST" and form.is_valid():
        try:
            counted = begin(name=f"password {request.user.pk}", address=address_of(request))
        except TooManyTriesError as many:
            form.add_error("old", str(many))
            return render(request, "desk/people/password.html", {"form": form}, status=429)
        if not request.user.check_password(form.cleaned_data["old"]):
            form.add_error("old", "This is not your password until now.")
        elif form.cleaned_data["old"] == form.cleaned_data["password"]:
            counted.succeeded()
            form.add_error("password", "This is the password you have; choose another.")
        else:
            counted.succeeded()
            accounts.choose_password(request.user, form.cleaned_data["password"])
            update_session_auth_hash(request, request.user)
            messages.success(request, "Your new password holds from now on. Other devices must sign in again.")
            return redirect("today")
    return render(request, "desk/people/password.html", {"form": form})
