"""Dollars as ``Decimal``; the one rounding helper."""

import re
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

CENT = Decimal("0.01")
_TEXT = re.compile(r"(?P<sign>-?)\$?\s?(?P<amount>(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d{1,2})?)(?:\s?USD)?")


class UnreadableMoneyError(ValueError):
    """Not an amount of dollars."""


def cents(amount: Decimal | int) -> Decimal:
    """An amount rounded to the cent, halves away from zero.

    Parameters
    ----------
    amount : Decimal or int
        Dollars; a float is refused, because what it stands for is not exact.

    Raises
    ------
    TypeError
        If the amount is a float.

    Examples
    --------
    >>> cents(Decimal("2.675")), cents(Decimal("-0.005"))
    (Decimal('2.68'), Decimal('-0.01'))
    """
    if isinstance(amount, bool) or not isinstance(amount, Decimal | int):
        raise TypeError(f"money must be Decimal or int, got {type(amount).__name__}")
    return Decimal(amount).quantize(CENT, rounding=ROUND_HALF_UP)


def parse_money(raw: object) -> Decimal:
    """Dollars from a file or a form: ``21450``, ``21450.50``, ``"$21,450.50"``.

    Raises
    ------
    UnreadableMoneyError
        If it is not an amount in whole cents.
    """
    if isinstance(raw, bool):
        raise UnreadableMoneyError("is not an amount")
    if isinstance(raw, int | Decimal | float):
        try:
            amount = Decimal(repr(raw) if isinstance(raw, float) else raw)
            exact = amount.quantize(CENT)
        except InvalidOperation:
            raise UnreadableMoneyError("is not an amount") from None
        if not amount.is_finite():
            raise UnreadableMoneyError("is not an amount")
        if exact != amount:
            raise UnreadableMoneyError("has fractions of a cent")
        return amount
    match = _TEXT.fullmatch(raw.strip()) if isinstance(raw, str) and len(raw) < 40 else None
    if not match:
        raise UnreadableMoneyError("is not an amount")
    return Decimal(match["sign"] + match["amount"].replace(",", ""))


def show_money(amount: Decimal | None) -> str:
    """``$21,450`` or ``$21,450.50``; cents only where there are any."""
    if amount is None:
        return "not known"
    exact = cents(amount)
    text = f"{abs(exact):,.2f}".removesuffix(".00")
    return f"-${text}" if exact < 0 else f"${text}"
