"""The invented yard is read once for all commands run in the tests' own process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from cli.terminal import YARD, yard
from rubrail.things import folder
from rubrail.things.yard import Yard


@pytest.fixture(scope="module", autouse=True)
def _one_yard() -> Iterator[None]:
    """Commands get the yard that was read already, and leave it as it was; other folders are read as ever."""
    load, read = folder.load_yard, []

    def load_once(path: Path | str) -> Yard:
        if Path(path) != YARD:
            return load(path)
        read.append(path)
        return yard()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(folder, "load_yard", load_once)
        yield
    assert not read or yard() == load(YARD), "a command has changed the yard it was given"
