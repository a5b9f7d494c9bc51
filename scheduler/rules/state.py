"""A set between two points: who serves next, who receives where, which ends, what score."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum, StrEnum

from scheduler.domain.formats import EndChanges, GameFormat, SetFormat

Pair = tuple[str, str]
Score = tuple[int, int]
Queue = tuple[str, str, str, str]


class Team(IntEnum):
    """One of the two teams; the value is its place in every pair of a state."""

    A = 0
    B = 1

    @property
    def other(self) -> Team:
        """The opponents."""
        return Team.B if self is Team.A else Team.A


class Half(StrEnum):
    """Half of the court a point is served from and received in: deuce is the right one."""

    DEUCE = "deuce"
    AD = "ad"

    @property
    def other(self) -> Half:
        """The half beside it."""
        return Half.AD if self is Half.DEUCE else Half.DEUCE


@dataclass(frozen=True, slots=True)
class SetRules:
    """The numbers of one set (ITF Rules 5 and 6 and the appendix on alternative scoring).

    Parameters
    ----------
    games_to_win
        Games that win the set with a lead of two; None when there is no such number.
    tie_break_at
        Games each at which a tie-break is played; 0 when the set is nothing
        but a tie-break, None when there is none.
    tie_break_to
        Points that win the tie-break with a lead of two.
    """

    games_to_win: int | None = 6
    tie_break_at: int | None = 6
    tie_break_to: int = 7
    game: GameFormat = GameFormat.AD
    end_changes: EndChanges = EndChanges.SIX


def rules_of(
    set_format: SetFormat,
    game: GameFormat = GameFormat.AD,
    end_changes: EndChanges = EndChanges.SIX,
) -> SetRules:
    """Return the numbers behind the name of a format."""
    only_tie_break = set_format.only_tie_break_to
    if only_tie_break is not None:
        return SetRules(None, 0, only_tie_break, game, end_changes)
    return SetRules(
        set_format.games_to_win, set_format.tie_break_at, game=game, end_changes=end_changes
    )


@dataclass(frozen=True, slots=True)
class SetState:
    """A set just before a point is served, or just after its last one.

    The server is state, not a formula on the score: a wrong turn that the
    rules let stand (Rule 27c, 27d) alters every turn after it.

    Parameters
    ----------
    rules
        The numbers the set is played by.
    teams
        The partners of team A and of team B.
    queue
        The four in the order they serve from now on; the first serves next.
    deuce_receivers
        Who receives on the deuce side, one of each team, for the whole set.
    ends
        The end each team plays from now, by any two names.
    games, points
        Score, team A first. Points of a standard game are counts, and deuce
        is always 3-3; those of a tie-break are the score itself.
    tie_break_opener
        The team whose turn it was to serve first in the tie-break, once one began.
    misplaced
        Teams that receive the wrong way round to the end of this game (Rule 27e).
    chosen_half
        Half the receivers chose for a deciding point without advantage.
    """

    rules: SetRules
    teams: tuple[Pair, Pair]
    queue: Queue
    deuce_receivers: Pair
    ends: Pair
    games: Score = (0, 0)
    points: Score = (0, 0)
    tie_break_opener: Team | None = None
    misplaced: tuple[Team, ...] = field(default=())
    chosen_half: Half | None = None

    @property
    def in_tie_break(self) -> bool:
        """Whether the game under way, or about to start, is a tie-break (Rule 6b)."""
        return self.games == (self.rules.tie_break_at, self.rules.tie_break_at)

    @property
    def game_number(self) -> int:
        """Number of the game under way, or about to start, counted from 1."""
        return sum(self.games) + 1

    @property
    def points_played(self) -> int:
        """Points of this game so far; a deuce counts as six, an advantage as seven."""
        return sum(self.points)

    def team_of(self, player: str) -> Team:
        """Return the team of a player.

        Raises
        ------
        ValueError
            If nobody on court has that name.
        """
        for team in Team:
            if player in self.teams[team]:
                return team
        raise ValueError(f"{player} is not one of the four")

    def partner_of(self, player: str) -> str:
        """Return a player's partner."""
        first, second = self.teams[self.team_of(player)]
        return second if player == first else first


def start_set(
    rules: SetRules,
    first_team: Pair,
    second_team: Pair,
    *,
    deuce_receivers: Pair | None = None,
    ends: Pair = ("near", "far"),
) -> SetState:
    """Return a set in which team A serves first.

    Parameters
    ----------
    rules
        The numbers of the set.
    first_team, second_team
        Each team in its serving order; the first becomes team A.
    deuce_receivers
        One of each team; by default the first server of each.
    ends
        The end of team A at the start, then that of team B.
    """
    return SetState(
        rules=rules,
        teams=(first_team, second_team),
        queue=(first_team[0], second_team[0], first_team[1], second_team[1]),
        deuce_receivers=deuce_receivers or (first_team[0], second_team[0]),
        ends=ends,
        tie_break_opener=Team.A if rules.tie_break_at == 0 else None,
    )


def add_one(score: Score, team: Team) -> Score:
    """Return the score with one more for a team."""
    return (score[0] + 1, score[1]) if team is Team.A else (score[0], score[1] + 1)


def leader(score: Score) -> Team:
    """Return the team that is ahead; meaningless on a level score."""
    return Team.A if score[0] > score[1] else Team.B
