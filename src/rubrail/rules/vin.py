"""Vehicle identification numbers: check digit, model year, maker, and what is wrong with one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rubrail.rules.tables import table

LENGTH = 17
CHECK_PLACE, YEAR_PLACE = 9, 10
LEFT_OUT = "IOQ"
LOW_VOLUME_MARK = "9"


@dataclass(frozen=True, slots=True)
class Vin:
    """What a well-formed VIN says.

    ``maker`` is three characters, or ``1Z9...Z12`` for a low-volume maker, whose identifier has six. ``years`` are
    the model years its code can mean; ``year`` is the likely one. ``cautions`` are sentences about what looks odd
    though no rule that was read forbids it.
    """

    vin: str
    maker: str
    low_volume: bool
    year: int | None
    years: tuple[int, ...]
    plant: str
    serial: str
    cautions: tuple[str, ...]


@cache
def _letters() -> dict[str, int]:
    digits = {str(d): d for d in range(10)}
    return digits | {r["letter"]: r["value"] for r in table("vin-letters")["rows"]}


@cache
def _weights() -> tuple[int, ...]:
    return tuple(r["weight"] for r in table("vin-weights")["rows"])


def number_of(*, character: str) -> int | None:
    """Number a character stands for in the weighted sum; ``None`` for one that stands in no VIN.

    References
    ----------
    CFR-49-565
    """
    return _letters().get(character)


def clean(*, vin: str) -> str:
    """A VIN as typed, without blanks and hyphens, in capitals."""
    return "".join(c for c in vin.upper() if not c.isspace() and c != "-")


def weighted_sum(*, vin: str) -> int:
    """Sum of the characters' numbers times the places' weights; the check digit's own place weighs nothing.

    Parameters
    ----------
    vin : str
        17 characters; any character may stand in place 9.

    Raises
    ------
    ValueError
        If the length is wrong or a character is not allowed elsewhere than in place 9.

    References
    ----------
    CFR-49-565
    """
    faults = _shape_faults(vin)
    if faults:
        raise ValueError(" ".join(faults))
    letters = _letters()
    return sum(w * letters.get(c, 0) for w, c in zip(_weights(), vin, strict=True))


def check_digit(*, vin: str) -> str:
    """Check digit a VIN must have in place 9: the weighted sum's remainder by 11, ``X`` for 10.

    Parameters
    ----------
    vin : str
        17 characters; what stands in place 9 does not matter.

    References
    ----------
    CFR-49-565
    """
    rest = weighted_sum(vin=vin) % 11
    return "X" if rest == 10 else str(rest)


def model_years(*, code: str) -> tuple[int, ...]:
    """Model years a year code can mean, earlier first; empty for a code that is none (U, Z, 0 and others).

    References
    ----------
    VIN-YEAR
    """
    return next(((r["first"], r["second"]) for r in table("vin-years")["rows"] if r["code"] == code), ())


def likely_year(*, code: str, this_year: int) -> int | None:
    """The latest model year a code can mean that is not beyond next year; a trailer's VIN does not tell the cycle.

    Parameters
    ----------
    code : str
        Character in place 10.
    this_year : int
        Calendar year to judge by.
    """
    return max((y for y in model_years(code=code) if y <= this_year + 1), default=None)


def vin_faults(*, vin: str) -> list[str]:
    """One sentence for each thing wrong with a VIN; empty for a valid one.

    Parameters
    ----------
    vin : str
        As typed; blanks and hyphens are passed over.

    References
    ----------
    CFR-49-565, VIN-YEAR
    """
    vin = clean(vin=vin)
    faults = _shape_faults(vin)
    if faults:
        return faults
    found, must = vin[CHECK_PLACE - 1], check_digit(vin=vin)
    if found != must:
        faults.append(f"The check digit (place {CHECK_PLACE}) must be {must}, got {found}: a character is misread.")
    code = vin[YEAR_PLACE - 1]
    if not model_years(code=code):
        faults.append(f"The year code (place {YEAR_PLACE}) must be one in use, got {code}.")
    return faults


def _shape_faults(vin: str) -> list[str]:
    if len(vin) != LENGTH:
        return [f"A VIN must have {LENGTH} characters, got {len(vin)}."]
    faults = []
    for place, c in enumerate(vin, 1):
        if c in LEFT_OUT:
            faults.append(f"The letters I, O and Q are never used, got {c} in place {place}.")
        elif c not in _letters() and place != CHECK_PLACE:
            faults.append(f"A VIN must be made of capital letters and digits, got {c!r} in place {place}.")
    return faults


def maker_id(*, vin: str) -> str:
    """Maker's identifier: three characters, or six for a low-volume maker; the check digit is not looked at.

    Parameters
    ----------
    vin : str
        17 characters.

    References
    ----------
    CFR-49-565
    """
    return f"{vin[:3]}...{vin[11:14]}" if vin[2] == LOW_VOLUME_MARK else vin[:3]


def read_vin(*, vin: str, this_year: int) -> Vin:
    """What a valid VIN says.

    Parameters
    ----------
    vin : str
        As typed; blanks and hyphens are passed over.
    this_year : int
        Calendar year to judge the model year by.

    Raises
    ------
    ValueError
        With every fault, where it is not valid.

    References
    ----------
    CFR-49-565, VIN-YEAR
    """
    faults = vin_faults(vin=vin)
    if faults:
        raise ValueError(" ".join(faults))
    vin = clean(vin=vin)
    low_volume = vin[2] == LOW_VOLUME_MARK
    code = vin[YEAR_PLACE - 1]
    serial = vin[14:] if low_volume else vin[11:]
    cautions = []
    if not (vin[14:] if low_volume else vin[13:]).isdigit():
        cautions.append(f"The end of a trailer's serial number is usually all digits, got {serial}.")
    return Vin(
        vin=vin,
        maker=maker_id(vin=vin),
        low_volume=low_volume,
        year=likely_year(code=code, this_year=this_year),
        years=model_years(code=code),
        plant=vin[10],
        serial=serial,
        cautions=tuple(cautions),
    )
