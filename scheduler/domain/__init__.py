"""The nouns: events, plans, formats, errors. Frozen values, standard library only."""
