"""The engine: seats an event."""
