"""The form of a truck or a machine: its name, and every field of its file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from rubrail.desk.forms import spec
from rubrail.desk.forms.spec import SpecForm
from rubrail.desk.kept import NAME_LENGTH, Sort, id_of
from rubrail.desk.spec_fields import sections_of

OWN = frozenset({"schema", "id"})
COUNTS = {"truck": {"hitch": 1, "gear": 1}, "machine": {}}
"""Members of each list that a form from nothing has room for."""


class ThingForm(SpecForm):
    """Every field of a truck or a machine, by the file's own paths; with a name where it is kept under one."""

    def __init__(self, *, sort: Sort, named: bool, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.model = sort.thing
        self.sections = sections_of(sort.thing, own=OWN)
        if named:
            self.fields["name"] = forms.CharField(
                label="Name",
                max_length=NAME_LENGTH,
                help_text="It is offered under this name.",
                widget=forms.TextInput(attrs={"autocomplete": "off"}),
            )
        self.add_sections()

    def table(self, stored: Mapping[str, Any]) -> dict[str, Any]:
        """The file's table that the fields stand for."""
        texts = self.texts()
        name = texts.get("name") or stored.get("title") or "thing"
        table = spec.table_of(texts, sections=self.sections, stored=stored, counts=self.counts, measures=self.measures)
        schema = {"schema": stored["schema"]} if "schema" in stored else {}
        return {**schema, "id": stored.get("id") or id_of(str(name)), **table}


def counts_of(sort: Sort, table: Mapping[str, Any]) -> dict[str, int]:
    """How many members each list of a thing's table has."""
    return spec.counts_of(table, sections_of(sort.thing, own=OWN))


def texts_of(sort: Sort, table: Mapping[str, Any], *, measures: str) -> dict[str, str]:
    """A thing's table as its form writes it."""
    return spec.texts_of(table, sections_of(sort.thing, own=OWN), measures=measures)
