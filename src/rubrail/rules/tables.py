"""Tables of published figures: data files beside this module, each with its source and its checksums.

A table file has ``source`` (a key of the source records), ``units``, any single figures it states, ``rows`` and
``[checksums]`` with ``rows`` (how many) and a sum for each number column.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray


@cache
def table(name: str) -> dict[str, Any]:
    """One table by its file name without ``.toml``.

    Raises
    ------
    KeyError
        If there is no such table; the sentence names those there are.
    """
    path = files("rubrail.rules") / "tables" / f"{name}.toml"
    if not path.is_file():
        raise KeyError(f"there is no table {name!r}; tables are {', '.join(table_names())}")
    return tomllib.loads(path.read_text(encoding="utf-8"))


def table_names() -> tuple[str, ...]:
    """Names of all tables, sorted."""
    folder = files("rubrail.rules") / "tables"
    return tuple(sorted(f.name[:-5] for f in folder.iterdir() if f.name.endswith(".toml")))


def figure(name: str, key: str) -> float:
    """A single figure of a table."""
    return float(table(name)["figures"][key])


@cache
def column(name: str, key: str) -> NDArray[np.float64]:
    """One number column of a table's rows, in the order of the file; read only."""
    values = np.array([row[key] for row in table(name)["rows"]], float)
    values.flags.writeable = False
    return values


def by_code(code: ArrayLike, values: ArrayLike) -> NDArray[np.float64]:
    """The value of each code (small whole numbers from 0); ``nan`` where the code is not known or not listed.

    Parameters
    ----------
    code : array_like
        Codes, any shape; ``nan`` for not known.
    values : array_like
        One value a code, in the order of the codes.
    """
    code, listed = np.asarray(code, float), np.concatenate([np.ravel(np.asarray(values, float)), [np.nan]])
    good = (code >= 0) & (code < len(listed) - 1)
    return listed[np.where(good, code, len(listed) - 1).astype(int)]
