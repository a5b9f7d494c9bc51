"""What a match's score says: whether it can be, and who won what with it.

A match of a round is one set, one tie-break, or the games until the bell. It
may also be written as up to three sets, the last of them a match tie-break
where the sets stood level (ITF Rule 7; appendix on alternative scoring, match
tie-break), as long as the rounds are long enough for that.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from scheduler.domain.formats import SetFormat
from scheduler.domain.score_text import Mark, SetScore
from scheduler.rules.position import ImpossibleScore, after_games, after_points
from scheduler.rules.scoring import set_winner, tie_break_winner
from scheduler.rules.state import Score, SetRules, Team, leader, rules_of, start_set

DECIDERS = (SetFormat.MATCH_TIE_BREAK_10, SetFormat.MATCH_TIE_BREAK_7)
SETS_TO_WIN = 2  # best of three, Rule 7


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a score gives each team.

    `games` are points where the whole match is one tie-break; a match
    tie-break that decided a match of sets counts as one game of it. A match
    cut short has no winner when it is unfinished, and the team that did not
    retire wins otherwise.
    """

    winner: Team | None
    sets: Score
    games: Score


@lru_cache(maxsize=4096)
def outcome(sets: tuple[SetScore, ...], mark: Mark | None, set_format: SetFormat) -> Outcome:
    """Return what a sound score gives each team."""
    winners = [_set_winner(score, set_format, first=at == 0) for at, score in enumerate(sets)]
    won = (winners.count(Team.A), winners.count(Team.B))
    games = [_games(score, set_format, first=at == 0) for at, score in enumerate(sets)]
    total = (sum(a for a, _ in games), sum(b for _, b in games))
    return Outcome(_winner(won, mark), won, total)


def complaint(
    sets: tuple[SetScore, ...],
    mark: Mark | None,
    set_format: SetFormat,
    *,
    ask_tie_breaks: bool = False,
) -> str:
    """Return what is wrong with a score as a sentence without a full stop, or "" if nothing is.

    Parameters
    ----------
    sets
        The sets, team A first; none when nothing was typed.
    mark
        How the match was cut short; None when it was finished.
    set_format
        What was to be played.
    ask_tie_breaks
        Whether a set won by a tie-break must say how many points its loser had.
    """
    if not sets:
        return "the score as it stood is missing" if mark else ""
    return (
        _number_of_sets(sets, set_format)
        or _finished_before_last(sets, set_format)
        or _last_set(sets, mark, set_format)
        or _tie_break_points(sets, set_format, ask=ask_tie_breaks)
    )


def _winner(won: Score, mark: Mark | None) -> Team | None:
    if mark is not None:
        return {Mark.A_RETIRED: Team.B, Mark.B_RETIRED: Team.A}.get(mark)
    return None if won[0] == won[1] else leader(won)


def _formats(set_format: SetFormat, *, first: bool) -> tuple[SetFormat, ...]:
    return (set_format,) if first else (set_format, *DECIDERS)


def _set_winner(score: SetScore, set_format: SetFormat, *, first: bool) -> Team | None:
    pair = (score.a, score.b)
    if set_format is SetFormat.TIMED:
        return None if score.a == score.b else leader(pair)
    for form in _formats(set_format, first=first):
        if _is_finished(pair, form):
            return leader(pair)
    return None


def _games(score: SetScore, set_format: SetFormat, *, first: bool) -> Score:
    pair = (score.a, score.b)
    if first or set_format is SetFormat.TIMED or _is_reachable(pair, set_format):
        return pair
    return (int(score.a > score.b), int(score.b > score.a))  # a match tie-break: one game


def _is_finished(pair: Score, form: SetFormat) -> bool:
    return _is_reachable(pair, form) and _has_winner(pair, rules_of(form))


def _has_winner(pair: Score, rules: SetRules) -> bool:
    if rules.tie_break_at == 0:
        return tie_break_winner(pair, rules.tie_break_to) is not None
    return set_winner(pair, rules) is not None


def _is_reachable(pair: Score, form: SetFormat) -> bool:
    return _impossible(pair, form) == ""


@lru_cache(maxsize=4096)
def _impossible(pair: Score, form: SetFormat) -> str:
    """Return why the rules allow no such score, or "" where they do."""
    start = start_set(rules_of(form), ("A1", "A2"), ("B1", "B2"))
    reach = after_points if form.only_tie_break_to else after_games
    try:
        reach(start, pair)
    except ImpossibleScore as error:
        return "" if _ends_the_tie_break(pair, form) else str(error)
    return ""


def _ends_the_tie_break(pair: Score, form: SetFormat) -> bool:
    """Return whether a whole tie-break ends with this score and not a point before."""
    goal = form.only_tie_break_to
    if goal is None or tie_break_winner(pair, goal) is None:
        return False
    before = (max(pair) - 1, min(pair))
    return tie_break_winner(before, goal) is None


def _number_of_sets(sets: tuple[SetScore, ...], set_format: SetFormat) -> str:
    if len(sets) == 1:
        return ""
    if set_format is SetFormat.TIMED:
        return "a timed round has one score"
    if set_format.only_tie_break_to:
        return "one tie-break is all that is played"
    won = [_set_winner(score, set_format, first=at == 0) for at, score in enumerate(sets[:-1])]
    if max(won.count(Team.A), won.count(Team.B)) >= SETS_TO_WIN:
        return f"the match was over before {sets[-1]}: a team had won two sets"
    return ""


def _finished_before_last(sets: tuple[SetScore, ...], set_format: SetFormat) -> str:
    for at, score in enumerate(sets[:-1]):
        if _set_winner(score, set_format, first=at == 0) is None:
            return f"{score} is not a finished {set_format.words}, but another set follows"
    return ""


def _last_set(sets: tuple[SetScore, ...], mark: Mark | None, set_format: SetFormat) -> str:
    if set_format is SetFormat.TIMED:
        return ""
    score, first = sets[-1], len(sets) == 1
    pair = (score.a, score.b)
    forms = _formats(set_format, first=first)
    if any(_is_finished(pair, form) for form in forms):
        decided = first or _match_is_over(sets, set_format)
        return f"{score} is final: clear the mark '{mark}'" if mark and decided else ""
    if any(_is_reachable(pair, form) for form in forms):
        advice = "mark it as cut short if it was"
        return "" if mark else f"{score} is not a finished {set_format.words}; {advice}"
    return f"{_impossible(pair, set_format)} ({set_format.words})"


def _match_is_over(sets: tuple[SetScore, ...], set_format: SetFormat) -> bool:
    return max(outcome(sets, None, set_format).sets) >= SETS_TO_WIN


def _tie_break_points(sets: tuple[SetScore, ...], set_format: SetFormat, *, ask: bool) -> str:
    at = set_format.tie_break_at
    for score in sets:
        by_tie_break = at is not None and sorted((score.a, score.b)) == [at, at + 1]
        if score.lost_with is not None and not by_tie_break:
            return f"{score.a}-{score.b} has no tie-break, so no ({score.lost_with})"
        if ask and by_tie_break and score.lost_with is None:
            return f"{score} needs the loser's points of the tie-break, as in {score}(5)"
    return ""
