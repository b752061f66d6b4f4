"""The desk: the yard's stock, people and papers in a browser. One Django app, settings beside it."""
