"""Every shared quantity of weights and places; importing this registers them all."""

from rubrail.checks import loads_deck, loads_tires, loads_trailer, loads_truck

__all__ = ["loads_deck", "loads_tires", "loads_trailer", "loads_truck"]
