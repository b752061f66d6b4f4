"""Lists somebody uploaded and has not taken into the yard yet, and how earlier ones were read."""

from __future__ import annotations

import json
import uuid
import zlib
from typing import Any

from django.conf import settings
from django.db import models


class Incoming(models.Model):
    """An uploaded list between the steps of taking it in: its owner's alone, and gone when taken in or expired."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    name = models.CharField(max_length=120, help_text="what the file was called")
    kind = models.CharField(max_length=10, help_text="csv or workbook")
    note = models.CharField(max_length=300, help_text="how it was read, in words")
    headings = models.JSONField(default=list)
    content = models.BinaryField(help_text="rows of text, packed")
    row_count = models.PositiveIntegerField()
    choices = models.JSONField(default=dict, help_text="what each column means, as the person chose")
    seen = models.JSONField(default=dict, help_text="versions of the units when the person last looked")
    created = models.DateTimeField(auto_now_add=True)
    expires = models.DateTimeField(db_index=True)

    def __str__(self) -> str:
        """The file's name."""
        return self.name

    @property
    def rows(self) -> list[tuple[int, list[str]]]:
        """Rows by the number a spreadsheet gives them."""
        return [(number, cells) for number, cells in json.loads(zlib.decompress(bytes(self.content)))]

    @staticmethod
    def packed(rows: Any) -> bytes:
        """Rows as ``content`` keeps them."""
        return zlib.compress(json.dumps(rows, ensure_ascii=False, separators=(",", ":")).encode("utf-8"))


class HeadingsRead(models.Model):
    """What the columns of a list with these headings meant, so that the next one like it need not be asked again."""

    mark = models.CharField(max_length=64, unique=True, help_text="of all headings in their order")
    headings = models.JSONField(default=list)
    choices = models.JSONField(default=dict)
    updated = models.DateTimeField(auto_now=True, db_index=True)

    def __str__(self) -> str:
        """The first headings."""
        return ", ".join(self.headings[:4])
