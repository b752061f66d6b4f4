"""Hand-overs: begun for an accepted quote, weighed again with what was measured, signed, delivered."""
