"""What a unit's ratings say, and the decision: accept, accept with exceptions, refuse."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from rubrail.desk.access import requires
from rubrail.desk.editing import StaleError, version_in
from rubrail.desk.models import Receipt
from rubrail.desk.models.receipt import ReceiptStatus
from rubrail.desk.once import once
from rubrail.desk.receiving import deals
from rubrail.desk.receiving.answer import OWN_BUSINESS, Answered, answer_of
from rubrail.desk.receiving.begin import ReceiptError
from rubrail.desk.receiving.close import MOST_EXCEPTIONS, MOST_LINE, Decision, close, decision_faults
from rubrail.desk.receiving.damage import said_mark
from rubrail.desk.receiving.found import ordered_trailer, taken_trailer
from rubrail.desk.receiving.parts import missing_words
from rubrail.desk.receiving.ratings import ratings_page
from rubrail.desk.signatures import SignatureError, pad_again, read_signature
from rubrail.desk.standing import WrongStepError
from rubrail.desk.views.receive import receipt_at
from rubrail.desk.views.receive_steps import closed, frame, waited
from rubrail.sheets.sentences_receive import DECIDES, SAME_DAY, VERDICT_OF, reason_sentence, receiving_sentence
from rubrail.things.faults import Faults

ROLES = (("driver", "Driver"), ("receiver", "Received by"))
MEANWHILE = (
    "Somebody saved this receipt or its unit meanwhile. Nothing is decided yet: open the page again, look and decide."
)
CHOICES = (
    ("accept", "Accept", "It came as ordered."),
    ("accept with exceptions", "Accept with exceptions", "It is taken in, and what is wrong stands on the bill."),
    ("refuse", "Refuse", "It goes back on the truck."),
)


@requires("yard.see")
@require_http_methods(["GET", "HEAD"])
def receipt_ratings(request: HttpRequest, number: str) -> HttpResponse:
    """Label against papers against order, whether the ratings hold together, which lamps it must have."""
    it = receipt_at(number)
    metric = request.user.measures == "metric"
    try:
        answered = answer_of(it)
    except Faults as told:
        return render(request, "desk/receive/ratings.html", frame(it, unreadable=[f.sentence for f in told.faults]))
    return render(request, "desk/receive/ratings.html", frame(it, **ratings_page(answered, metric=metric)))


@requires("unit.edit")
@require_http_methods(["GET", "HEAD", "POST"])
@once
def receipt_outcome(request: HttpRequest, number: str) -> HttpResponse:
    """The decision, with what is proposed and why, and which deals it touches."""
    it = receipt_at(number)
    if gone := closed(request, it):
        return gone
    try:
        answered, found = _asked(it)
    except Faults as told:
        return _unreadable(request, it, told)
    if request.method != "POST":
        return _page(request, it, answered, found, _begun(it, answered, metric=request.user.measures == "metric"))
    given = {name: request.POST.get(name, "").strip() for name in ("outcome", "why", "claim", "expected", "no_driver")}
    lines = [" ".join(x.split()) for x in request.POST.get("exceptions", "").splitlines()]
    given["exceptions"] = "\n".join(x[:MOST_LINE] for x in lines if x)
    faults, signed = _signed(request, given)
    decision = Decision(
        outcome=given["outcome"],
        exceptions=tuple(given["exceptions"].splitlines()[:MOST_EXCEPTIONS]),
        why=given["why"][:300] if given["outcome"] == "refuse" else "",
        claim=given["claim"][:60],
        stays_expected=not (given["expected"] == "drop" and _may_drop(request, it)),
        signed=signed,
    )
    faults = [*decision_faults(decision), *faults]
    if faults:
        return _back(request, it, answered, found, given, faults)
    try:
        touched = close(
            it,
            decision,
            by=request.user,
            seen_version=version_in(request.POST),
            seen_unit=version_in(request.POST, "seen_unit"),
            link=request.build_absolute_uri(reverse("receipt", args=[it.number])),
        )
    except (ReceiptError, WrongStepError) as told:
        return _back(request, it, answered, found, given, [str(told)])
    except StaleError:
        return _stale(request, receipt_at(number), given)
    _say(request, it, touched)
    return redirect(it)


def _asked(it: Receipt) -> tuple[Answered, list[deals.Deal]]:
    found = deals.deals_of(it.unit, before=ordered_trailer(it), after=taken_trailer(it), with_others=False)
    return answer_of(it, need_lb=deals.need_lb(found)), found


def _back(
    request: HttpRequest, it: Receipt, answered: Answered, found: list[deals.Deal], given: Mapping[str, str],
    faults: list[str],
) -> HttpResponse:  # fmt: skip
    """What is wrong with a decision: beside what was written, or as a phone's outbox is told."""
    answer = waited(request, it, "receipt-outcome", faults=faults)
    return answer or _page(request, it, answered, found, given, faults=faults)


def _unreadable(request: HttpRequest, it: Receipt, told: Faults) -> HttpResponse:
    faults = [f.sentence for f in told.faults]
    answer = waited(request, it, "receipt-outcome", faults=faults)
    return answer or render(request, "desk/receive/decide.html", frame(it, unreadable=faults))


def _stale(request: HttpRequest, it: Receipt, given: Mapping[str, str]) -> HttpResponse:
    """The page as things stand now, with what was written; the receipt where somebody decided on it meanwhile."""
    if gone := closed(request, it):
        return gone
    if answer := waited(request, it, "receipt-outcome", faults=[MEANWHILE]):
        return answer
    try:
        return _page(request, it, *_asked(it), given, stale=True)
    except Faults as told:
        return _unreadable(request, it, told)


def _say(request: HttpRequest, it: Receipt, touched: list[deals.Deal]) -> None:
    broken = sum(1 for d in touched if d.result == "broken")
    if it.status == ReceiptStatus.REFUSED:
        messages.success(request, f"Unit {it.unit} is refused; the report says why.")
    else:
        messages.success(request, f"Unit {it.unit} is {it.unit.get_status_display()}, and is what was found.")
    if broken and it.status != ReceiptStatus.REFUSED:
        says = "1 deal no longer holds" if broken == 1 else f"{broken} deals no longer hold"
        messages.warning(request, f"{says} with what came. They are the first thing below.")


def _signed(request: HttpRequest, given: Mapping[str, str]) -> tuple[list[str], dict[str, Any]]:
    """The signatures as the receipt keeps them; the driver may refuse, and then that is what is kept."""
    faults, signed = [], {}
    for role, word in ROLES:
        if role == "driver" and given["no_driver"]:
            signed[role] = {"name": "", "strokes": [], "at": timezone.now().isoformat(), "refused": True}
            continue
        try:
            signature = read_signature(request.POST, role)
        except SignatureError as told:
            faults.append(f"{word}: {told}")
            continue
        signed[role] = signature.stored(at=timezone.now(), role=word, by=request.user.name)
    return faults, signed


def _may_drop(request: HttpRequest, it: Receipt) -> bool:
    """Whether this person may let an order come to nothing; of a unit nobody ordered, whoever receives may."""
    return it.order_id is None or request.user.may("quote.edit")


def _begun(it: Receipt, answered: Answered, *, metric: bool) -> dict[str, str]:
    lines = [reason_sentence(r, metric=metric) for r in answered.exceptions if r.code not in OWN_BUSINESS]
    lines += [f"Damage: {said_mark(m)}." for m in it.damages.all()]
    lines += [f"Missing: {words.rstrip('.')}." for words in missing_words(it.found)]
    return {
        "outcome": "",
        "exceptions": "\n".join(lines),
        "why": "",
        "claim": it.claim,
        "expected": "",
        "no_driver": "",
    }


def _sentence(answered: Answered, *, metric: bool) -> str:
    """The first sentence; what nobody looked at is counted only where nothing else speaks for the outcome."""
    grave = any(r.outcome == answered.answer.proposed for r in answered.exceptions)
    told = replace(answered.answer, reasons=answered.exceptions) if grave else answered.answer
    return receiving_sentence(told, metric=metric)


def proposal(it: Receipt, answered: Answered) -> str:
    """What the findings ask for, damage and missing parts included: with any of these it is not taken as it is."""
    proposed = answered.answer.proposed
    if proposed == "accept" and (it.damages.exists() or missing_words(it.found)):
        return "accept with exceptions"
    return proposed


def _page(
    request: HttpRequest,
    it: Receipt,
    answered: Answered,
    found: list[deals.Deal],
    given: Mapping[str, str],
    *,
    faults: list[str] | None = None,
    stale: bool = False,
) -> HttpResponse:
    metric = request.user.measures == "metric"
    proposed = proposal(it, answered)
    context = frame(
        it,
        proposed=proposed,
        proposed_mark=VERDICT_OF[proposed],
        sentence=_sentence(answered, metric=metric) if proposed == answered.answer.proposed else "",
        decides=DECIDES,
        same_day=SAME_DAY,
        reasons=[reason_sentence(r, metric=metric) for r in answered.exceptions],
        unread=[reason_sentence(r, metric=metric) for r in answered.unread],
        **deals.on_page(found, metric=metric),
        given=given,
        choices=CHOICES,
        faults=faults or [],
        stale=stale,
        may_drop=_may_drop(request, it),
        driver=pad_again(request.POST, "driver", name=it.driver),
        receiver=pad_again(request.POST, "receiver", name=request.user.name),
        seen_unit=it.unit.version,
        rows=min(max(given["exceptions"].count("\n") + 2, 3), 14),
    )
    return render(request, "desk/receive/decide.html", context, status=409 if stale else 200)
