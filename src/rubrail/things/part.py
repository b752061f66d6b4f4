"""What every thing and every part of a thing is: immutable, no unknown keys, one basis for its values."""

from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ModelWrapValidatorHandler,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from rubrail.quantity.basis import BASES
from rubrail.quantity.money import UnreadableMoneyError, parse_money
from rubrail.things.measure import FILE_BASIS, refuse

Contradiction = tuple[str, Any, str]
"""Field (dotted, within the thing), what it says, and what it must be for the thing to make sense."""

TAGS = ("=id", "=table")
"""Marks that appear in the place of an error where a thing is named by id, or held as a table."""

Basis = Literal["label", "weighed", "measured", "maker", "estimated", "typical"]
Id = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$")]
Line = Annotated[str, Field(min_length=1, max_length=200)]
Flag = Annotated[bool, Field(strict=True)]
Whole = Annotated[int, Field(strict=True)]
Text = Annotated[str, Field(max_length=4000)]


def _money(raw: Any) -> Any:
    try:
        return parse_money(raw)
    except UnreadableMoneyError as reason:
        raise refuse('dollars such as 21450 or "$21,450.50"', raw, f"it {reason}") from None


def _day(raw: Any) -> Any:
    if isinstance(raw, date) and not isinstance(raw, datetime):
        return raw
    try:
        return date.fromisoformat(raw)
    except (TypeError, ValueError):
        raise refuse("a date such as 2026-03-14", raw) from None


_MONEY = {"anyOf": [{"type": "number", "minimum": 0, "maximum": 10_000_000}, {"type": "string", "maxLength": 40}]}
Money = Annotated[Decimal, BeforeValidator(_money), Field(ge=0, le=10_000_000), WithJsonSchema(_MONEY)]
_CHANGE = {
    "anyOf": [{"type": "number", "minimum": -1_000_000, "maximum": 1_000_000}, {"type": "string", "maxLength": 40}]
}
MoneyChange = Annotated[Decimal, BeforeValidator(_money), Field(ge=-1_000_000, le=1_000_000), WithJsonSchema(_CHANGE)]
"""Dollars that may be less than nothing: what an option adds or takes off."""
Day = Annotated[date, BeforeValidator(_day)]


class Part(BaseModel):
    """A table of a file."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True, allow_inf_nan=False)
    told_elsewhere: ClassVar[bool] = False
    """Whether its fields are listed under a heading of their own, not again in every thing that holds it."""

    basis: Annotated[Basis | None, Field(description="basis of every value in this table that states none")] = None

    @model_validator(mode="wrap")
    @classmethod
    def _with_basis(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        basis = data.get("basis") if isinstance(data, dict) else None
        if basis not in BASES:
            return handler(data)
        token = FILE_BASIS.set(basis)
        try:
            return handler(data)
        finally:
            FILE_BASIS.reset(token)


class Thing(Part):
    """A file's whole content: something with an id that is checked for sense as a whole."""

    schema_name: ClassVar[str] = ""
    told_elsewhere: ClassVar[bool] = True

    id: Annotated[Id, Field(description="its own name in the yard: letters, digits, dot, hyphen, underscore")]

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        found = list(self.contradictions())
        if found:
            raise PydanticCustomError("contradictions", "contradicts itself", {"found": found})
        return self

    def contradictions(self) -> Iterator[Contradiction]:
        """Fields that cannot all be true together; none by default."""
        return iter(())
