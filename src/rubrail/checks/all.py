"""Import every module of quantities and checks, so that the registry is full."""

import importlib
from importlib.util import find_spec

for _name in ("loads", "coupling", "hookup", "trailer", "tires", "truck", "deck", "road", "papers"):
    if find_spec(f"rubrail.checks.{_name}"):
        importlib.import_module(f"rubrail.checks.{_name}")
