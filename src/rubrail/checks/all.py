"""Import every module of quantities and checks, so that the registry is full."""

import importlib
from importlib.util import find_spec

_MODULES = ("loads", "coupling", "hookup", "trailer", "tires", "truck", "deck", "road", "papers")
_SECURING = ("securing", "securing_advice", "securing_en")
_LOADING = ("loading", "loading_rig")
for _name in (*_MODULES, *_SECURING, *_LOADING):
    if find_spec(f"rubrail.checks.{_name}"):
        importlib.import_module(f"rubrail.checks.{_name}")
