"""Checklists on the desk: begun from a unit, entered line by line, signed, and looked at again."""
