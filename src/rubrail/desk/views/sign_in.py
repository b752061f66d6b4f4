"""Coming in and going out: first-run set-up, sign-in, sign-out."""

from __future__ import annotations

import ipaddress

from django.conf import settings
from django.contrib.auth import REDIRECT_FIELD_NAME, authenticate, login, logout
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST

from rubrail.desk.access import open_to_anyone
from rubrail.desk.forms.people import FirstRunForm, SignInForm
from rubrail.desk.models import User
from rubrail.desk.people import set_up_owner
from rubrail.desk.permissions import ROLES
from rubrail.desk.tries import TooManyTriesError, address_of, begin

WRONG = "This name and password do not belong together. Check both; capitals count in the password."


def _at_this_machine(request: HttpRequest) -> bool:
    try:
        return ipaddress.ip_address(address_of(request)).is_loopback
    except ValueError:
        return False


def _where_to(request: HttpRequest) -> str:
    going = request.POST.get(REDIRECT_FIELD_NAME) or request.GET.get(REDIRECT_FIELD_NAME) or ""
    safe = url_has_allowed_host_and_scheme(going, {request.get_host()}, require_https=request.is_secure())
    return going if safe else reverse("today")


@open_to_anyone
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for name and password; too many wrong ones make one wait."""
    if request.user.is_authenticated:
        return redirect(_where_to(request))
    if not User.objects.exists():
        return redirect("first-run")
    form = SignInForm(request.POST or None)
    status, wait = 200, 0
    if request.method == "POST" and form.is_valid():
        name, password = form.cleaned_data["username"], form.cleaned_data["password"]
        try:
            counted = begin(name=name, address=address_of(request))
        except TooManyTriesError as many:
            wait, status = many.minutes, 429
            form.add_error(None, str(many))
        else:
            if user := authenticate(request, username=name, password=password):
                counted.succeeded()
                login(request, user)
                return redirect(_where_to(request))
            form.add_error(None, WRONG)
    context = {"form": form, "next": request.GET.get(REDIRECT_FIELD_NAME, ""), "roles": _demo_roles()}
    response = render(request, "desk/people/sign_in.html", context, status=status)
    if wait:
        response["Retry-After"] = str(wait * 60)
    return response


def _demo_roles() -> list[tuple[str, str, str]]:
    return [(role, *words) for role, words in ROLES.items()] if settings.RUBRAIL_DEMO else []


@open_to_anyone
@require_POST
def enter_demo(request: HttpRequest) -> HttpResponse:
    """Come into the invented yard in one of the roles, at the machine it runs on."""
    if not settings.RUBRAIL_DEMO or not _at_this_machine(request):
        raise Http404
    person = User.objects.filter(role=request.POST.get("role", ""), is_active=True).order_by("pk").first()
    if person is None:
        raise Http404
    login(request, person, backend="django.contrib.auth.backends.ModelBackend")
    return redirect("today")


@open_to_anyone
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session."""
    logout(request)
    return redirect("sign-in")


@open_to_anyone
@require_http_methods(["GET", "HEAD", "POST"])
def first_run(request: HttpRequest) -> HttpResponse:
    """Make the first person, the owner. Only at the machine the desk runs on, and only once."""
    if User.objects.exists():
        return redirect("sign-in")
    if not _at_this_machine(request):
        return render(request, "desk/people/first_run_elsewhere.html", status=403)
    form = FirstRunForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        asked = form.cleaned_data
        owner = set_up_owner(username=asked["username"], name=asked["name"], password=asked["password"])
        if owner is None:
            return redirect("sign-in")
        login(request, owner, backend="django.contrib.auth.backends.ModelBackend")
        return redirect("yard")
    return render(request, "desk/people/first_run.html", {"form": form})
