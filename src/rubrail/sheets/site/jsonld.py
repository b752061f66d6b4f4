"""A unit for machines, in the vocabulary of schema.org, as JSON-LD.

Read on schema.org: ``weightTotal`` is the permitted total weight of the loaded vehicle, so it holds the label GVWR;
``payload`` the permitted weight of cargo without the empty vehicle, so it holds the lesser of what the label and what
every other rating of the trailer alone allows; ``LBR`` is named there as the code of the pound; ``Reserved`` says that
an item is reserved and so not to be had. Remembered: the other terms, and ``INH`` as the inch of UN/CEFACT. What the
trade says and schema.org has no word for stands under ``additionalProperty``.
"""

from __future__ import annotations

import json
import re
from typing import Any

from rubrail.sheets.site.frame import address_of
from rubrail.sheets.site.markup import UNPRINTABLE, Markup, data_block
from rubrail.sheets.site.shown import COUPLING_WORDS, DECK_WORDS, SiteDetail, SiteUnit, SiteYard

POUND, INCH, PIECES = "LBR", "INH", "C62"
AVAILABLE = {
    "here": "https://schema.org/InStock",
    "expected": "https://schema.org/PreOrder",
    "held": "https://schema.org/Reserved",
}
CONDITION = {"new": "https://schema.org/NewCondition", "used": "https://schema.org/UsedCondition"}

_ESCAPED = re.compile(f"[<>&\u2028\u2029]|{UNPRINTABLE.pattern}")


def vehicle(u: SiteUnit, detail: SiteDetail, *, yard: SiteYard) -> Markup:
    """The data block of a unit's page."""
    return data_block("application/ld+json", json_text(vehicle_data(u, detail, yard=yard)))


def json_text(data: Any) -> str:
    """JSON whose text cannot end the block it stands in."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)
    return _ESCAPED.sub(lambda m: json.dumps(m[0])[1:-1] if m[0] > "\x7e" else f"\\u{ord(m[0]):04x}", text)


def vehicle_data(u: SiteUnit, detail: SiteDetail, *, yard: SiteYard) -> dict[str, Any]:
    """A unit as schema.org's ``Vehicle``, which is a ``Product``; what is not known is left out, never guessed."""
    url = address_of(yard, u.path)
    it: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": ["Product", "Vehicle"],
        "@id": url,
        "url": url,
        "name": u.title,
        "sku": u.stock_number,
        "description": detail.headline or detail.says,
        "category": "Trailer",
        "bodyType": DECK_WORDS.get(u.deck),
        "brand": {"@type": "Brand", "name": u.maker} if u.maker else None,
        "model": u.model or None,
        "vehicleModelDate": str(u.year) if u.year else None,
        "vehicleIdentificationNumber": u.vin or None,
        "color": u.color or None,
        "itemCondition": CONDITION.get(u.condition),
        "numberOfAxles": u.axles,
        "weight": _quantity(u.empty_lb, POUND, "empty weight"),
        "weightTotal": _quantity(u.gvwr_lb, POUND, "GVWR on the certification label"),
        "payload": _quantity(u.payload_lb, POUND, "trailer alone, load at its best place"),
        "image": [address_of(yard, p.path(p.sizes()[-1][0])) for p in u.photos] or None,
        "additionalProperty": _trade(u) or None,
        "offers": _offer(u, url, yard),
    }
    return {k: v for k, v in it.items() if v is not None}


def _quantity(value: float | None, unit: str, name: str) -> dict[str, Any] | None:
    if value is None:
        return None
    return {"@type": "QuantitativeValue", "value": plain(value), "unitCode": unit, "name": name}


def plain(value: float) -> int | float:
    """A number to the hundredth, whole where it is."""
    number = round(value, 2)
    return int(number) if number == int(number) else number


def _trade(u: SiteUnit) -> list[dict[str, Any]]:
    rows = (
        ("coupling", COUPLING_WORDS[u.coupling], None),
        ("deck length, tail included", u.deck_length_in, INCH),
        ("deck width", u.deck_width_in, INCH),
        ("deck height", u.deck_height_in, INCH),
    )
    return [
        {"@type": "PropertyValue", "name": name, "value": value if unit is None else plain(value)}
        | ({"unitCode": unit} if unit else {})
        for name, value, unit in rows
        if value is not None
    ]


def _offer(u: SiteUnit, url: str, yard: SiteYard) -> dict[str, Any] | None:
    """The offer; without a price that may be shown there is none, for an offer without a price says nothing."""
    if u.price_usd is None:
        return None
    offer = {
        "@type": "Offer",
        "url": url,
        "price": f"{u.price_usd:.2f}",
        "priceCurrency": "USD",
        "availability": AVAILABLE[u.standing],
        "itemCondition": CONDITION.get(u.condition),
        "seller": {"@type": "Organization", "name": yard.name} if yard.name else None,
    }
    return {k: v for k, v in offer.items() if v is not None}
