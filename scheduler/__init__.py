"""Plans a club evening: drill rounds and social doubles, with serving-order cards."""

__version__ = "0.1.0"
