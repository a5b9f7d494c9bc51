"""Best of three sets (ITF Rule 7), the third perhaps a match tie-break."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from scheduler.rules.choices import next_set
from scheduler.rules.play import play
from scheduler.rules.scoring import winner_of
from scheduler.rules.state import SetRules, SetState, Team

SETS_TO_WIN = 2


@dataclass(frozen=True, slots=True)
class MatchState:
    """A best-of-three match between two points.

    `rules` are those of the first two sets, `deciding` those of the third;
    `finished` holds the sets played, in order. At the start of a set each team
    may choose its order and sides anew: pass the changed set to `with_set`.
    """

    rules: SetRules
    deciding: SetRules
    current: SetState
    finished: tuple[SetState, ...] = field(default=())

    @property
    def sets_won(self) -> tuple[int, int]:
        """Sets each team has won, team A first."""
        winners = [winner_of(state) for state in self.finished]
        return (winners.count(Team.A), winners.count(Team.B))


def start_match(first_set: SetState, deciding: SetRules | None = None) -> MatchState:
    """Return a match before its first point; the third set is like the first by default."""
    return MatchState(first_set.rules, deciding or first_set.rules, first_set)


def match_winner(match: MatchState) -> Team | None:
    """Return who has won the match (Rule 7: two sets of three)."""
    for team in Team:
        if match.sets_won[team] == SETS_TO_WIN:
            return team
    return None


def play_point(match: MatchState, winner: Team) -> MatchState:
    """Return the match after a point; a new set begins as soon as one is over.

    Raises
    ------
    scheduler.rules.play.SetIsOver
        If the match is over.
    """
    current = play(match.current, winner)
    if winner_of(current) is None:
        return replace(match, current=current)
    match = replace(match, current=current, finished=(*match.finished, current))
    if match_winner(match) is not None:
        return match
    rules = match.deciding if match.sets_won == (1, 1) else match.rules
    return replace(match, current=next_set(current, rules))


def with_set(match: MatchState, current: SetState) -> MatchState:
    """Return the match with its current set replaced, after choices or a correction."""
    return replace(match, current=current)
