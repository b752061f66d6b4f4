"""Receive a unit: what is expected, what came, what was found, what was decided, and which deals it touches."""
