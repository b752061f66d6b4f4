"""Drawings to scale, plain sentences and printed documents, made from answers."""
