"""Demand against limit, one small function each, in one registry."""
