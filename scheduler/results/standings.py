"""Standings of people from the matches they played with changing partners.

Order
-----
1. matches won;
2. among people level on that, if everybody there stood against everybody else
   there at least once: matches won less matches lost against one another;
3. games won less games lost;
4. games won.

Who is still level shares the place. The order is common practice in clubs; no
published source.

People who come more often win more matches, so the order by matches won
rewards coming. `Order.SHARE` is fair to unequal numbers of matches: it puts
the share of matches won first and the share of games won third. The share of
matches won is smoothed as (won + half of those without a winner + 1) /
(matches + 2), Laplace's rule of succession (Laplace 1814, *Essai
philosophique sur les probabilités*): one match won out of one is 2/3 and does
not pass eight won out of ten, which is 3/4.

A match marked unfinished counts its games and is won by nobody. Where a team
retired the other wins. Where the whole match is one tie-break, points stand in
the columns of games.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations, groupby

from scheduler.domain.suggest import fold
from scheduler.results.played import PlayedMatch
from scheduler.rules.state import Team


class Order(StrEnum):
    """What comes first: matches won, or the share of matches won."""

    WON = "won"
    SHARE = "share"


@dataclass(frozen=True, slots=True)
class Standing:
    """One person's line; `neither` counts matches that nobody won."""

    place: int
    player: str
    matches_won: int
    matches_lost: int
    neither: int
    sets_won: int
    sets_lost: int
    games_won: int
    games_lost: int

    @property
    def matches(self) -> int:
        """Matches that count, with and without a winner."""
        return self.matches_won + self.matches_lost + self.neither

    @property
    def games_difference(self) -> int:
        """Games won less games lost."""
        return self.games_won - self.games_lost

    @property
    def games_share(self) -> float:
        """Share of games won; a half where none was played."""
        total = self.games_won + self.games_lost
        return self.games_won / total if total else 0.5

    @property
    def matches_share(self) -> float:
        """Share of matches won, smoothed: see the module."""
        return (self.matches_won + self.neither / 2 + 1) / (self.matches + 2)


def standings(matches: Iterable[PlayedMatch], order: Order = Order.WON) -> tuple[Standing, ...]:
    """Return a line for everybody with a match, in order of place; see the module for the order."""
    played = list(matches)
    lines = [_line(name, of_one) for name, of_one in _by_person(played).items()]
    lines.sort(key=lambda line: (-_first(line, order), fold(line.player), line.player))
    placed: list[Standing] = []
    for _, group in groupby(lines, key=lambda line: _first(line, order)):
        placed.extend(_placed(list(group), played, order, len(placed)))
    return tuple(placed)


def _first(line: Standing, order: Order) -> float:
    return line.matches_won if order is Order.WON else line.matches_share


def _by_person(played: Sequence[PlayedMatch]) -> dict[str, list[tuple[PlayedMatch, Team]]]:
    found: dict[str, list[tuple[PlayedMatch, Team]]] = defaultdict(list)
    for match in played:
        for team in Team:
            for name in match.teams[team]:
                found[name].append((match, team))
    return found


def _line(name: str, of_one: list[tuple[PlayedMatch, Team]]) -> Standing:
    results = [(match.outcome, team) for match, team in of_one]
    won = sum(result.winner is team for result, team in results)
    lost = sum(result.winner is team.other for result, team in results)
    return Standing(
        place=0,
        player=name,
        matches_won=won,
        matches_lost=lost,
        neither=len(results) - won - lost,
        sets_won=sum(result.sets[team] for result, team in results),
        sets_lost=sum(result.sets[team.other] for result, team in results),
        games_won=sum(result.games[team] for result, team in results),
        games_lost=sum(result.games[team.other] for result, team in results),
    )


def _placed(
    group: list[Standing], played: Sequence[PlayedMatch], order: Order, above: int
) -> list[Standing]:
    """Return people level on the first criterion with their places, after so many others."""
    against = _head_to_head({line.player for line in group}, played) if len(group) > 1 else {}

    def criteria(line: Standing) -> tuple[float, ...]:
        head = against.get(line.player, 0)
        if order is Order.SHARE:
            return head, line.games_share, line.games_won
        return head, line.games_difference, line.games_won

    ranked = sorted(group, key=lambda line: [-value for value in criteria(line)])
    placed: list[Standing] = []
    for at, line in enumerate(ranked):
        level = at > 0 and criteria(line) == criteria(ranked[at - 1])
        placed.append(replace(line, place=placed[-1].place if level else above + at + 1))
    return placed


def _head_to_head(names: set[str], played: Sequence[PlayedMatch]) -> dict[str, int]:
    """Return each one's wins less losses against the others; nothing unless all of them met."""
    balance = dict.fromkeys(sorted(names), 0)
    met: set[frozenset[str]] = set()
    for match in played:
        winner = match.outcome.winner
        for one in match.team_a:
            for other in match.team_b:
                if one in names and other in names:
                    met.add(frozenset((one, other)))
                    gain = 0 if winner is None else 1 if winner is Team.A else -1
                    balance[one] += gain
                    balance[other] -= gain
    all_met = all(frozenset(both) in met for both in combinations(balance, 2))
    return balance if all_met else {}
