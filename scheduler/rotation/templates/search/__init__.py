"""The long search behind the book of templates; not needed to plan an evening."""
