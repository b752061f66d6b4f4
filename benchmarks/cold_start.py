"""How long commands take from nothing: ``python benchmarks/cold_start.py`` prints the best and the median of eight.

Aimed at: help within 0.3 s, a weigh within 1 s, a match of the invented yard within 2 s, on two ordinary cores.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

SOURCE = Path(__file__).resolve().parent.parent / "src"
HAUL, UNIT, YARD = "03-landscaper-track-loader", "SH-133", ("--yard", "demo")
COMMANDS = (
    ("--help",),
    ("weigh", "--help"),
    ("weigh", HAUL, UNIT, *YARD),
    ("weigh", HAUL, UNIT, *YARD, "--json"),
    ("match", HAUL, *YARD),
    ("match", "04-three-machines", *YARD),
)
TIMES = 8


def seconds(command: tuple[str, ...]) -> float:
    """Wall time of one run in a process of its own."""
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "rubrail.cli", *command],
        env={**os.environ, "PYTHONPATH": str(SOURCE)},
        capture_output=True,
        check=False,
    )
    return time.perf_counter() - start


def main() -> None:
    """Print a line for each command."""
    for command in COMMANDS:
        took = sorted(seconds(command) for _ in range(TIMES))
        print(f"best {took[0]:5.2f} s   median {took[TIMES // 2]:5.2f} s   rubrail {' '.join(command)}")


if __name__ == "__main__":
    main()
