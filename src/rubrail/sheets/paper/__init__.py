"""Paper: every printed sheet is a list of blocks, set by one design.

``blocks`` are what a sheet can hold; ``press`` turns a sheet into a PDF; each other module makes one kind of sheet
from answers. What a sheet says is decided here in Python, how it looks in ``house.typ`` alone.
"""
