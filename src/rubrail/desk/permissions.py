"""What each role may do: one declared list. A name that is not on it is an error, never a silent no."""

from __future__ import annotations

from dataclasses import dataclass

OWNER, SALES, HAND, VIEWER = "owner", "sales", "hand", "viewer"
ROLES = {
    OWNER: ("owner", "Sees and does everything, and looks after the people."),
    SALES: ("sales", "Looks after stock, hauls and prices; sees cost and margin."),
    HAND: ("yard hand", "Keeps the units true: weights, measures, photos. Sees no cost."),
    VIEWER: ("viewer", "Looks, and changes nothing. Sees no cost."),
}
"""Role by its stored word: the word people read, and what it is for."""

EVERYONE = (OWNER, SALES, HAND, VIEWER)


class UnknownPermissionError(LookupError):
    """Code asked for a permission that was never declared."""


@dataclass(frozen=True, slots=True)
class Permission:
    """One thing a role may or may not do."""

    name: str
    label: str
    help: str
    roles: tuple[str, ...]


PERMISSIONS = (
    Permission("account.own", "have an account", "See and change one's own name, password and look.", EVERYONE),
    Permission("yard.see", "see the yard", "Every unit and what is known of it, without cost.", EVERYONE),
    Permission("unit.edit", "change units", "Add units and correct what is known of them.", (OWNER, SALES, HAND)),
    Permission("price.edit", "change prices", "Set a unit's asking price and its status.", (OWNER, SALES)),
    Permission("money.see", "see cost and margin", "What a unit cost, and what is left at its price.", (OWNER, SALES)),
    # Who comes for a unit, and when, is for everybody who may have to hand it over; how to reach them, what they pay
    # and what they are owed later is not.
    Permission("haul.see", "see hauls", "Buyers' trucks, machines and hauls, and who comes for which unit.", EVERYONE),
    Permission("haul.edit", "change hauls", "Enter and change buyers' trucks, machines and hauls.", (OWNER, SALES)),
    Permission(
        "quote.see",
        "see quotes and orders",
        "What buyers were offered and makers were sent; how to reach a buyer.",
        (OWNER, SALES),
    ),
    Permission("quote.edit", "make quotes and orders", "Offer, accept, order, deliver.", (OWNER, SALES)),
    Permission("changes.see", "see the changes", "Who changed what and when, in what they may see.", EVERYONE),
    Permission("people.manage", "look after people", "Add people, set their roles, close accounts.", (OWNER,)),
)
BY_NAME = {permission.name: permission for permission in PERMISSIONS}


def permission(name: str) -> Permission:
    """The declared permission of that name.

    Raises
    ------
    UnknownPermissionError
        If none is declared.
    """
    try:
        return BY_NAME[name]
    except KeyError:
        raise UnknownPermissionError(f"{name!r} is no permission; the list has {', '.join(BY_NAME)}.") from None


def role_may(role: str, name: str) -> bool:
    """Whether ``role`` may do what ``name`` declares.

    Raises
    ------
    UnknownPermissionError
        If no such permission is declared.
    """
    return role in permission(name).roles


def role_word(role: str) -> str:
    """The word people read for a stored role."""
    return ROLES[role][0]


def permissions_of(role: str) -> tuple[str, ...]:
    """Names of all a role may do."""
    return tuple(p.name for p in PERMISSIONS if role in p.roles)
