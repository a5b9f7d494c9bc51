"""The law of the game for doubles, after the ITF Rules of Tennis."""
