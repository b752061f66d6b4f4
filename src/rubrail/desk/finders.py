"""Static files that stand in other packages: the type, and the colors of the drawings. Served under plain names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path

from django.contrib.staticfiles.finders import BaseFinder
from django.core.files.storage import FileSystemStorage

SHIPPED = {
    "desk/type/source-sans-3.ttf": ("fontpkg_source_sans_3", "files/SourceSans3[wght].ttf"),
    "desk/drawing.css": ("rubrail.sheets.drawing", "drawing.css"),
}
"""Name the pages use, then the package and its file."""


class ShippedStorage(FileSystemStorage):
    """Reads the files where their packages keep them."""

    def path(self, name: str) -> str:
        """Place of a file on disk."""
        package, file = SHIPPED[name]
        return str(Path(str(files(package))) / file)


class ShippedFinder(BaseFinder):
    """Finds the files."""

    def __init__(self, app_names: Iterable[str] | None = None) -> None:
        self.storage = ShippedStorage(base_url=None)

    def check(self, **kwargs: object) -> list:
        """Nothing to warn of."""
        return []

    def find(self, path: str, find_all: bool = False, **kwargs: object) -> str | list[str]:
        """Place of ``path`` on disk, or nothing."""
        found = [self.storage.path(path)] if path in SHIPPED else []
        return found if find_all else (found[0] if found else [])

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[tuple[str, ShippedStorage]]:
        """Every file."""
        for name in SHIPPED:
            yield name, self.storage
