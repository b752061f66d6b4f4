"""Statics and geometry, arrays in, arrays out. Knows no trailers and no law."""
