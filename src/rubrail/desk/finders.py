"""Static files that other packages ship: the type is served from its own package, under plain names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path

from django.contrib.staticfiles.finders import BaseFinder
from django.core.files.storage import FileSystemStorage

TYPE_PACKAGE = "fontpkg_source_sans_3"
TYPE_FILES = {"desk/type/source-sans-3.ttf": "files/SourceSans3[wght].ttf"}


class TypeStorage(FileSystemStorage):
    """Reads the type's files under the names the style sheet uses."""

    def __init__(self) -> None:
        super().__init__(location=str(files(TYPE_PACKAGE)), base_url=None)

    def path(self, name: str) -> str:
        """Place of a file on disk."""
        return str(Path(self.location) / TYPE_FILES.get(name, name))


class TypeFinder(BaseFinder):
    """Finds the type's files."""

    def __init__(self, app_names: Iterable[str] | None = None) -> None:
        self.storage = TypeStorage()

    def check(self, **kwargs: object) -> list:
        """Nothing to warn of."""
        return []

    def find(self, path: str, find_all: bool = False, **kwargs: object) -> str | list[str]:
        """Place of ``path`` on disk, or nothing."""
        found = [self.storage.path(path)] if path in TYPE_FILES else []
        return found if find_all else (found[0] if found else [])

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[tuple[str, TypeStorage]]:
        """Every file."""
        for name in TYPE_FILES:
            yield name, self.storage
