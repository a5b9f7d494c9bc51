"""Rounds in which no two players meet twice, neither as partners nor as opponents.

At most ``(n - 1) // 3`` such rounds exist for n players, everybody meeting
three others a round. Every multiple of four up to 100 is covered up to that
limit, but for 8 and 12 players (one round, the most by pigeonhole), 20 (five
rounds; six are impossible: OEIS A107431) and 68 (21 of 22). For 16, 28, 40, 52,
64, 76, 88 and 100 players these are resolvable designs (Hanani,
Ray-Chaudhuri and Wilson 1972); ten rounds of 32 are due to Aguado 2004. How a
foursome is split into teams is open: whoever meets once is partner or opponent once.
"""

from __future__ import annotations

from scheduler.rotation.templates.development import developed
from scheduler.rotation.templates.labels import rounds_of, table
from scheduler.rotation.templates.recount import Match, Rounds

_FILE = "meet_once.txt"
_TRIES = 12
"""Orders of seats that are tried, each for its share of the steps."""


def meet_once_rounds(players: int) -> Rounds | None:
    """Return all rounds we have for a multiple of four players."""
    stored = table(_FILE).get(str(players))
    if stored is None:
        return sloped_rounds(players // 4) if players % 4 == 0 else None
    kind, text = stored.split(" ", 1)
    if kind == "rounds":
        return rounds_of(text)
    lengths, bases = text.split(" bases ")
    return developed(rounds_of(bases), tuple(map(int, lengths.split())))


def sloped_rounds(courts: int) -> Rounds:
    """Return rounds from lines of small slope, for any number of courts.

    Players are four blocks of Z_c. In round m the match through b is
    (b, b + m, b + 2m, b + 3m), one of each block. Two players of
    blocks i < j with difference d meet in the rounds with (j - i) m = d modulo
    c, and 3m < c + 3 keeps these differences apart for all m.
    """
    return tuple(
        tuple(
            (
                b,
                courts + (b + m) % courts,
                2 * courts + (b + 2 * m) % courts,
                3 * courts + (b + 3 * m) % courts,
            )
            for b in range(courts)
        )
        for m in range(-(-courts // 3))
    )


def with_extra_players(
    rounds: Rounds, players: int, extra: int, wanted: int, steps: int = 1_500
) -> Rounds | None:
    """Let one to three more players in, each taking a seat for every round.

    In every round `extra` players who have not rested yet give up their seats
    in different matches. The newcomers must never meet anyone twice; so the
    seats are looked for by backtracking, and None is returned where that
    takes too long. The rests are fair: everybody else rests at most once.

    Parameters
    ----------
    rounds
        Rounds in which nobody meets twice and nobody rests.
    players
        Their number of players.
    extra
        How many come in; they get the labels from `players` on.
    wanted
        How many of the rounds to use.
    steps
        How long to look: seats tried before giving up.
    """
    if extra == 0:
        return rounds[:wanted]
    if extra * wanted > players or 3 * wanted >= players:
        return None
    for turn in range(_TRIES):
        search = _Newcomers(rounds[:wanted], players, extra, steps // _TRIES, turn)
        if search.seat(0, 0):
            return search.rounds()
    return None


class _Newcomers:
    """Backtracking over the seats that newcomers take over."""

    def __init__(self, rounds: Rounds, players: int, extra: int, steps: int, turn: int) -> None:
        self._given = [list(played) for played in rounds]
        self._players, self._extra = players, extra
        self._rested = [False] * players
        self._met = [[False] * players for _ in range(extra)]
        self._taken: list[dict[int, int]] = [{} for _ in rounds]
        self._steps_left, self._turn = steps, turn

    def seat(self, number: int, newcomer: int) -> bool:
        """Seat a newcomer and all that follow, the rounds in order."""
        if number == len(self._given):
            return True
        if newcomer == self._extra:
            return self.seat(number + 1, 0)
        for court, place in self._seats(number, newcomer):
            self._steps_left -= 1
            if self._steps_left < 0:
                return False
            self._take(number, newcomer, court, place, leave=False)
            if self.seat(number, newcomer + 1):
                return True
            self._take(number, newcomer, court, place, leave=True)
        return False

    def _seats(self, number: int, newcomer: int) -> list[tuple[int, int]]:
        """List the seats free to a newcomer, in an order that turns with round and newcomer."""
        met = self._met[newcomer]
        seats = [
            (court, place)
            for court, match in enumerate(self._given[number])
            if court not in self._taken[number] and sum(met[x] for x in match) <= 1
            for place in range(4)
            if not self._rested[match[place]]
            and not any(met[x] for k, x in enumerate(match) if k != place)
        ]
        turn = ((7 + 2 * self._turn) * number + 3 * newcomer) % max(1, len(seats))
        seats = seats[turn:] + seats[:turn]
        return sorted(seats, key=lambda seat: not met[self._given[number][seat[0]][seat[1]]])

    def _take(self, number: int, newcomer: int, court: int, place: int, *, leave: bool) -> None:
        match = self._given[number][court]
        self._rested[match[place]] = not leave
        for k, label in enumerate(match):
            if k != place:
                self._met[newcomer][label] = not leave
        if leave:
            del self._taken[number][court]
        else:
            self._taken[number][court] = place * self._extra + newcomer

    def rounds(self) -> Rounds:
        """Return the rounds with the newcomers in their seats."""
        result = []
        for played, taken in zip(self._given, self._taken, strict=True):
            matches: list[Match] = list(played)
            for court, code in taken.items():
                place, newcomer = divmod(code, self._extra)
                seats = list(played[court])
                seats[place] = self._players + newcomer
                matches[court] = (seats[0], seats[1], seats[2], seats[3])
            result.append(tuple(matches))
        return tuple(result)
