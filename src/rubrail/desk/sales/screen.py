"""A frozen sheet on a screen: the same blocks in the same words, for a phone as well as a desk."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from rubrail.sheets.paper.blocks import Paper


@dataclass(frozen=True, slots=True)
class OnScreen:
    """A sheet for a template; drawings are our own and safe as they were made."""

    sort: str
    title: str
    lead: str
    date: str
    yard: str
    foot: str
    blocks: tuple[dict[str, Any], ...]


def sheet_on_screen(paper: Paper) -> OnScreen:
    """The sheet's blocks as plain tables for the template."""
    return OnScreen(
        paper.sort, paper.title, paper.lead, paper.date, paper.yard, paper.foot, tuple(_block(b) for b in paper.blocks)
    )


def _block(block: Any) -> dict[str, Any]:
    table: dict[str, Any] = {"kind": block.kind, "heading": getattr(block, "heading", "")}
    if block.kind == "drawing":
        return table | {"svg": _drawing(block.svg), "caption": block.caption}
    if block.kind == "table":
        rows = [
            {
                "cells": list(zip(_sides(block.align, len(row)), block.head, row, strict=True)),
                "strong": n in block.strong,
            }
            for n, row in enumerate(block.rows)
        ]
        return table | {"head": list(zip(_sides(block.align, len(block.head)), block.head, strict=True)), "rows": rows}
    if block.kind == "signatures":
        return table
    return table | {"rows": list(getattr(block, "rows", ()))}


def _sides(align: str, count: int) -> list[str]:
    letters = (align or "l") + (align or "l")[-1] * count
    return ["right" if letters[i] == "r" else "" for i in range(count)]


def _drawing(svg: str) -> SafeString:
    return mark_safe(svg)
