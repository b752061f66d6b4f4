"""Published limits as data tables and small functions, each with its source."""
