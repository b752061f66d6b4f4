"""Which trailer carries these machines behind this truck, where must they sit, and what governs."""

__version__ = "0.1.0"
