"""How long games, sets and rounds take."""
