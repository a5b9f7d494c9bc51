"""The use cases, each a short story told with the floors below."""
