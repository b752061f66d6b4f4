"""The invented yard, as plain data files. Nothing in it is a real maker, truck, machine, buyer or price."""

from pathlib import Path

YARD = Path(__file__).parent / "yard"
"""Folder of the invented yard."""

MAKERS = Path(__file__).parent / "makers.toml"
"""The yard's invented makers: name, what they build, and the six characters that stand for them in a VIN."""
