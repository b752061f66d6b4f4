"""Write the documents that come from the code: limits.md, json.md, and the schemas of answers.

Run from the project's folder: ``python go.py run`` sets up, then ``.venv/bin/python scripts/make_docs.py``. Tests
fail where a document differs from what this writes. ``python -m rubrail.things.publish`` does the same for files.md.
"""

from __future__ import annotations

import json
import sys
import tomllib
from decimal import Decimal
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "src"))


def documents() -> dict[str, str]:
    """Every written document: its path within the project, and its text."""
    import rubrail.checks.all  # noqa: F401 - fills the registry
    from rubrail.cli.json_page import json_page
    from rubrail.cli.limits_page import limits_page
    from rubrail.cli.shapes import ANSWERS, answer_schema
    from rubrail.cli.told import VERSION
    from rubrail.sheets.listing_page import listing_page
    from rubrail.sheets.pricing_page import pricing_page

    cases = tomllib.loads((ROOT / "tests/answers/pricing_cases.toml").read_text("utf-8"), parse_float=Decimal)["case"]
    out = {"docs/limits.md": limits_page(), "docs/json.md": json_page(), "docs/pricing.md": pricing_page(cases)}
    out["docs/listing.md"] = listing_page()
    for answer in ANSWERS:
        text = json.dumps(answer_schema(answer), indent=1, ensure_ascii=False) + "\n"
        out[f"docs/schemas/answers/{answer}-{VERSION}.json"] = text
    return out


def main() -> None:
    """Write them all."""
    for path, text in documents().items():
        target = ROOT / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
