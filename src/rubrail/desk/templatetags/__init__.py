"""Words of our own for the templates."""
