"""Questions a product specialist asks of rigs: weigh, place, match, envelope, decode, compare, why."""
