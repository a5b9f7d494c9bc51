"""From scores to standings and levels: pure computing, nothing of files or the season's store."""

from scheduler.results.levels import LevelRow, Levels, Starting, levels_from
from scheduler.results.played import PlayedMatch
from scheduler.results.rating import Model, Rating, chance, update
from scheduler.results.standings import Order, Standing, standings

__all__ = [
    "LevelRow",
    "Levels",
    "Model",
    "Order",
    "PlayedMatch",
    "Rating",
    "Standing",
    "Starting",
    "chance",
    "levels_from",
    "standings",
    "update",
]
