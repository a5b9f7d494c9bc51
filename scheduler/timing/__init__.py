"""How long games, sets and rounds take, and which format fits the clock.

Points are independent trials whose chance depends on who serves; from there
everything is exact: a chain of points gives the distributions of games and
points, `Pace` turns them into minutes, and the slowest of all courts is what
an organiser waits for.
"""

from scheduler.timing.advice import fits
from scheduler.timing.durations import AllCourts, Durations, all_courts, court_durations
from scheduler.timing.fit import Court, RoundFit, formats_for, round_fit, shortest_timed, slowest_of
from scheduler.timing.game import game_chance, game_points_mean
from scheduler.timing.learning import LearnedFactor, RecordedMatch, learn_factor
from scheduler.timing.levels import LevelModel
from scheduler.timing.match import MatchMeans, best_of_three
from scheduler.timing.pace import ORIGINS, UNITS, Pace
from scheduler.timing.servers import Servers
from scheduler.timing.sets import SetLengths, SetMeans, set_lengths, set_means
from scheduler.timing.tie_break import TieBreakMeans, tie_break_means, tie_break_points
from scheduler.timing.timed import TimedRound, timed_round

__all__ = [
    "ORIGINS",
    "UNITS",
    "AllCourts",
    "Court",
    "Durations",
    "LearnedFactor",
    "LevelModel",
    "MatchMeans",
    "Pace",
    "RecordedMatch",
    "RoundFit",
    "Servers",
    "SetLengths",
    "SetMeans",
    "TieBreakMeans",
    "TimedRound",
    "all_courts",
    "best_of_three",
    "court_durations",
    "fits",
    "formats_for",
    "game_chance",
    "game_points_mean",
    "learn_factor",
    "round_fit",
    "set_lengths",
    "set_means",
    "shortest_timed",
    "slowest_of",
    "tie_break_means",
    "tie_break_points",
    "timed_round",
]
