"""Serving-order cards to hang on the net post: one a doubles match, as sheets and as a page."""
