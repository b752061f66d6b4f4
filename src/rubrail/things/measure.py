"""How a measured field is read from a file: a plain number, text with a unit, or ``{value, basis, plus_minus}``."""

import math
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any

from pydantic_core import PydanticCustomError, core_schema

from rubrail.quantity.basis import BASES, default_tolerance
from rubrail.quantity.parse import EXAMPLES, UnreadableError, dimension_of, parse_quantity
from rubrail.quantity.value import Value

Known = Value | None
"""A measured field: a value, or ``None`` for not known."""

UNKNOWN_WORDS = ("", "not known", "unknown")
FILE_BASIS: ContextVar[str] = ContextVar("FILE_BASIS", default="estimated")
"""Basis of the values of the file or table being read, where a value states none."""


def refuse(accepted: str, value: object, remedy: str = "") -> PydanticCustomError:
    """The one shape a refused field takes: what is accepted, what came, and what to do about it."""
    return PydanticCustomError("refused", "must be {accepted}", {"accepted": accepted, "got": value, "remedy": remedy})


@dataclass(frozen=True)
class Measure:
    """Annotation of a measured field.

    Parameters
    ----------
    kind : str
        Row of the tolerance table (``quantity.basis.TOLERANCES``).
    unit : str
        Unit of a plain number, and of the value read.
    low, high : float
        Outside these a number is a slip, not a trailer.
    says : str
        What it is.
    basis : str
        Basis where the value states none; ``""`` takes the file's.
    """

    kind: str
    unit: str
    low: float
    high: float
    says: str
    basis: str = ""

    @property
    def rating(self) -> bool:
        """Whether it is a rating or a chosen number, which has no tolerance."""
        return self.kind in ("rating", "nominal")

    @property
    def accepted(self) -> str:
        """The range in words."""
        return f"{self.low:,g} to {self.high:,g} {self.unit}".rstrip()

    def read(self, raw: Any) -> Known:
        """Value of a field as written.

        Raises
        ------
        PydanticCustomError
            If it is none of the accepted shapes, out of range, or of the wrong kind of unit.
        """
        if raw is None or isinstance(raw, Value) or (isinstance(raw, str) and raw.strip().lower() in UNKNOWN_WORDS):
            return raw if isinstance(raw, Value) else None
        basis, stated = self.basis or FILE_BASIS.get(), None
        if isinstance(raw, dict):
            raw, basis, stated = self._parts(raw, basis)
            if raw is None:
                return None
        number = self._number(raw)
        if not self.low <= number <= self.high:
            raise refuse(self.accepted, raw)
        if stated is None:
            stated = default_tolerance(kind=self.kind, basis=basis, number=number)
        return Value(number, basis, stated)

    def _parts(self, raw: dict, basis: str) -> tuple[Any, str, float | None]:
        extra = set(raw) - {"value", "basis", "plus_minus"}
        if extra or "value" not in raw:
            raise refuse("a table of value, basis and plus_minus", raw)
        basis = raw.get("basis", basis)
        if basis not in BASES:
            raise refuse(f"a value whose basis is one of {', '.join(BASES)}", basis)
        stated = raw.get("plus_minus")
        if stated is not None:
            stated = self._number(stated)
            if stated < 0:
                raise refuse("a value whose plus_minus is 0 or more", raw["plus_minus"])
            if stated and self.rating:
                raise refuse("a value without plus_minus: a rating or a chosen figure has no tolerance", stated)
            if stated and basis == "label":
                raise refuse("a value without plus_minus, for its basis is the label", stated)
        value = raw["value"]
        if isinstance(value, str) and value.strip().lower() in UNKNOWN_WORDS:
            value = None
        return value, basis, stated

    def _number(self, raw: Any) -> float:
        if isinstance(raw, bool) or not isinstance(raw, int | float | str):
            raise refuse(self._shape(), raw)
        if isinstance(raw, str):
            try:
                return parse_quantity(raw, self.unit)
            except UnreadableError as reason:
                raise refuse(self._shape(), raw, f"it {reason}") from None
        try:
            number = float(raw)
        except OverflowError:
            raise refuse(self.accepted, raw) from None
        if not math.isfinite(number):
            raise refuse(self._shape(), raw, 'write "not known" or leave the line out')
        return number

    def _shape(self) -> str:
        dimension = dimension_of(self.unit)
        return f"a {dimension if self.unit else 'number'} such as {EXAMPLES[dimension]}"

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(self.write)
        )

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        number: dict[str, Any] = {"type": "number", "minimum": self.low, "maximum": self.high}
        properties: dict[str, Any] = {"value": {"type": ["number", "string"]}, "basis": {"enum": list(BASES)}}
        if not self.rating:
            properties["plus_minus"] = {"type": ["number", "string"]}
        table = {"type": "object", "properties": properties, "required": ["value"], "additionalProperties": False}
        says = self.says + (f" [{self.unit}]" if self.unit else "")
        return {"description": says, "anyOf": [number, {"type": "string", "maxLength": 60}, table, {"type": "null"}]}

    def write(self, value: Known) -> dict[str, Any] | None:
        """What a value is written back as; reading it again gives the same value."""
        if value is None:
            return None
        table: dict[str, Any] = {"value": value.number, "basis": value.basis}
        return table if self.rating or value.basis == "label" else {**table, "plus_minus": value.plus_minus}


def rating(unit: str, low: float, high: float, says: str) -> Measure:
    """A stamped, published or registered figure: basis ``label`` unless said otherwise, no tolerance."""
    return Measure("rating", unit, low, high, says, "label")


def nominal(unit: str, low: float, high: float, says: str) -> Measure:
    """A size that is a choice, not a measurement (a ball, a spacing): no tolerance."""
    return Measure("nominal", unit, low, high, says)


def months(says: str) -> Measure:
    """A span of whole or broken months, as a promise has it: no tolerance."""
    return Measure("nominal", "months", 0, 240, says)


def weight(low: float, high: float, says: str, kind: str = "machine weight") -> Measure:
    """A weight in pounds."""
    return Measure(kind, "lb", low, high, says)


def length(low: float, high: float, says: str, kind: str = "length") -> Measure:
    """A length in inches; ``kind`` sets the tolerance."""
    return Measure(kind, "in", low, high, says)


def place(low: float, high: float, says: str) -> Measure:
    """Where something is, in inches."""
    return Measure("place", "in", low, high, says)


def width(low: float, high: float, says: str) -> Measure:
    """A width in inches."""
    return Measure("width", "in", low, high, says)


def height(low: float, high: float, says: str) -> Measure:
    """A height in inches."""
    return Measure("height", "in", low, high, says)


def angle(low: float, high: float, says: str) -> Measure:
    """An angle in degrees, as the files write it."""
    return Measure("angle", "deg", low, high, says)
