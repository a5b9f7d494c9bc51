"""The season's memory: one SQLite file of evenings, people, matches and scores.

Nothing that a person typed is ever changed in place: a correction is a new
row that names the row it corrects, and the database itself refuses updates
and deletions.
"""
