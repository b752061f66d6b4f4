"""What is printed and how: width, color, and the marks that say a verdict without color."""

from __future__ import annotations

import sys
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import Console
    from rich.text import Text

MARKS = {"clear": "●", "depends": "◐", "over": "⊠", "not known": "○", "does not apply": "–"}
PLAIN_MARKS = {"clear": "+", "depends": "~", "over": "x", "not known": "?", "does not apply": "-"}
COLORS = {"clear": "green", "depends": "yellow", "over": "red", "not known": "cyan", "does not apply": "dim"}
WIDEST = 110
PLAIN_LETTERS = str.maketrans(
    {
        "−": "-",
        "–": "-",
        "—": "-",
        "×": "x",
        "≤": "<=",
        "≥": ">=",
        "°": " deg",
        "²": "2",
        "…": "...",
        "“": '"',
        "”": '"',
        "’": "'",
        "÷": "/",
    }
)


class Screen:
    """One answer on the terminal.

    Parameters
    ----------
    metric : bool
        Show kilograms, centimeters and kilopascals.
    """

    def __init__(self, *, metric: bool = False) -> None:
        self.metric = metric

    @cached_property
    def console(self) -> Console:
        """Rich's console, no wider than lines stay readable; it minds NO_COLOR, COLUMNS and pipes itself."""
        from rich.console import Console

        class Paper(Console):
            def on_broken_pipe(self) -> None:
                raise  # while the error is being handled; ends.py has the code for it

        console = Paper(highlight=False, markup=False, emoji=False, legacy_windows=False)
        console.width = min(console.width, WIDEST)
        return console

    @cached_property
    def plain(self) -> bool:
        """Whether only plain letters can be shown."""
        encoding = (getattr(sys.stdout, "encoding", None) or "ascii").lower()
        return not encoding.startswith("utf")

    def mark(self, verdict: str) -> Text:
        """The verdict's shape and word."""
        from rich.text import Text

        marks = PLAIN_MARKS if self.plain else MARKS
        return Text(f"{marks[verdict]} {verdict}", style=COLORS[verdict])

    def letters(self, text: str) -> str:
        """Text in the letters this terminal has."""
        if not self.plain:
            return text
        return text.translate(PLAIN_LETTERS).encode("ascii", "replace").decode("ascii")

    def text(self, text: str = "", *, style: str = "") -> None:
        """One paragraph, wrapped at words."""
        self.console.print(self.letters(text), style=style or None)

    def heading(self, text: str) -> None:
        """A line above a group."""
        self.console.print()
        self.console.print(self.letters(text), style="bold")

    def verdict(self, verdict: str, sentence: str) -> None:
        """The first thing on an answer: the verdict's shape beside the one sentence."""
        from rich.table import Table
        from rich.text import Text

        marks = PLAIN_MARKS if self.plain else MARKS
        grid = Table.grid(padding=(0, 1))
        grid.add_column(no_wrap=True)
        grid.add_column()
        grid.add_row(Text(marks[verdict], style=f"bold {COLORS[verdict]}"), Text(self.letters(sentence), style="bold"))
        self.console.print(grid)

    def table(self, *columns: tuple, rows: list[tuple[Any, ...]], no_header: bool = False) -> None:
        """A table without a box: a rule under the heads, numbers to the right.

        Parameters
        ----------
        columns : tuple of (head, how) or (head, how, width)
            ``how`` is ``left``, ``right`` or ``wrap`` (which takes what is left); ``width`` is the least, so that
            tables below one another share their edges.
        rows : list of tuple
            Strings or ``Text``.
        """
        from rich import box
        from rich.table import Table
        from rich.text import Text

        table = Table(
            box=None if no_header else box.SIMPLE_HEAD,
            show_header=not no_header,
            show_edge=False,
            pad_edge=False,
            padding=(0, 2 if no_header else 1, 0, 0),
            header_style="dim",
            border_style="dim",
            expand=any(how == "wrap" for _, how, *_ in columns),
        )
        for head, how, *width in columns:
            table.add_column(
                self.letters(head),
                justify="right" if how == "right" else "left",
                no_wrap=how != "wrap",
                overflow="fold",
                min_width=width[0] if width else None,
                ratio=1 if how == "wrap" else None,
            )
        for row in rows:
            table.add_row(*(c if isinstance(c, Text) else Text(self.letters(str(c))) for c in row))
        self.console.print(table)
