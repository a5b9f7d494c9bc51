"""The captain's pairs: who plays a fixture, with whom, on which line."""
