"""The trailer, the truck, the cargo and the haul: validated things, their files, and columns of many rigs."""
