"""Fixed pairs against each other: everybody once, rests fair, courts in turn.

The rounds are those of the circle method: with the teams Z_N (N odd), round t
has the games {t + i, t - i}, and t itself rests, or plays the one team more
there is when the number of teams is even.

*Courts.* A game with difference 2i goes to court i; so everybody comes to each of
these courts twice. The team in the middle plays on court 0 in every round; so it
exchanges courts with one game a round, such that nobody is on a court more than
twice. Where that cannot work, an assignment found by annealing is stored. This is a
balanced tournament design (Haselgrove and Leech, "A tournament design problem",
1977; Schellenberg, van Rees and Vanstone, "The existence of balanced tournament
designs", 1977: they exist but for four teams).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from scheduler.rotation.templates.labels import games_of, table

Game = tuple[int, int]
CourtGame = tuple[int, int, int]


def pairs_round_robin(teams: int, courts: int, rounds: int) -> tuple[tuple[CourtGame, ...], ...]:
    """Return rounds of (court, team, team), as many teams meeting once as can.

    Nobody rests two rounds more than another, and no two teams meet twice
    before all have met once. On ``teams // 2`` courts no team is on a court more
    than twice within the first ``teams - 1`` rounds, unless there are 4 teams
    (impossible) or 22, 28, 34 and so on by sixes (not found).

    Parameters
    ----------
    teams
        Number of teams, at least two.
    courts
        Number of courts used in every round; at most ``teams // 2``.
    rounds
        Number of rounds.
    """
    if courts == teams // 2:
        cycle = _full_rounds(teams)
        return tuple(cycle[r % len(cycle)] for r in range(rounds))
    classes = _partial_rounds(teams, courts, rounds)
    _even_out(classes, courts)
    return _on_courts(classes, teams, courts)


# ---- all courts in use ----------------------------------------------------------------


def _circle(modulus: int, middle: int) -> list[Game]:
    """Return the games of one round of the circle method, the nearest to the middle first."""
    return [((middle + i) % modulus, (middle - i) % modulus) for i in range(1, modulus // 2 + 1)]


def _full_rounds(teams: int) -> tuple[tuple[CourtGame, ...], ...]:
    stored = table("pairs.txt").get(str(teams))
    if stored is not None:
        return tuple(
            tuple((k, *game) for k, game in enumerate(games_of(word))) for word in stored.split()
        )
    modulus = teams - 1 if teams % 2 == 0 else teams
    if teams % 2:
        return tuple(
            tuple((court, *game) for court, game in enumerate(_circle(modulus, t)))
            for t in range(modulus)
        )
    if modulus % 3 == 0:
        rounds = [[(modulus, t), *_circle(modulus, t)] for t in range(modulus)]
        return _on_courts(rounds, teams, teams // 2)
    exchanged = _exchanges(modulus)
    result = []
    for t in range(modulus):
        games = [(modulus, t), *_circle(modulus, t)]
        court = exchanged.get(t, 0)
        games[0], games[court] = games[court], games[0]
        result.append(tuple((k, *game) for k, game in enumerate(games)))
    return tuple(result)


def _exchanges(modulus: int) -> dict[int, int]:
    """Return for each round the court that its game on court 0 changes with.

    The rounds but one fall into pairs {-j, j}, which as differences d = 2j are
    all distinct, and both rounds of a pair t, t + d exchange with the court of
    the games {s + d, s - d}. Then t and t + d still come to that court twice,
    while t - d and t + 2d come to it once and to court 0 once more. These are
    -3j and 3j: distinct for all j unless 3 divides the modulus.
    """
    half = modulus // 2
    return {t % modulus: _court(modulus, 2 * j) for j in range(1, half + 1) for t in (-j, j)}


def _court(modulus: int, difference: int) -> int:
    """Return the court of the games {s + d, s - d}."""
    d = difference % modulus
    return min(d, modulus - d)


# ---- fewer courts -------------------------------------------------------------------


def _partial_rounds(teams: int, courts: int, rounds: int) -> list[list[Game]]:
    """Return games enough for the rounds: full rounds of the circle, one in part, empty ones.

    With d full rounds and part of one more everybody plays d or d + 1 times. For
    an odd number of teams, which rest in turn, those who rested are chosen
    around the middle of the last round, so that its first games are theirs.
    """
    modulus = teams - 1 if teams % 2 == 0 else teams
    games = courts * rounds
    whole, part = divmod(games, teams // 2)
    turns = whole % modulus
    around = [k * side for k in range(1, modulus // 2 + 1) for side in (1, -1)]
    middles = [*(m % modulus for m in around), 0]
    order = [middles[k % modulus] for k in range(whole)]
    if teams % 2 == 0:
        classes = [[*_circle(modulus, m), (modulus, m)] for m in [*order, middles[turns]]]
        classes[-1] = classes[-1][:part]
    else:
        classes = [_circle(modulus, m) for m in order]
        classes.append(_circle(modulus, 0)[:part])
    return [*classes, *([] for _ in range(rounds - len(classes)))][: max(rounds, len(classes))]


def _even_out(classes: list[list[Game]], courts: int) -> None:
    """Give every round the same number of games.

    The games of a longer and a shorter round make paths and even circuits of
    alternating rounds; a path with more games of the longer one is exchanged
    (de Werra 1971, McDiarmid 1972: equitable edge colourings).
    """
    while classes and not classes[-1] and len(classes) * courts > sum(map(len, classes)):
        classes.pop()
    while True:
        longer = max(classes, key=len)
        shorter = min(classes, key=len)
        if len(longer) <= courts:
            return
        path = _surplus_path(longer, shorter)
        moved, back = [g for g in path if g in longer], [g for g in path if g in shorter]
        longer[:] = [g for g in longer if g not in moved] + back
        shorter[:] = [g for g in shorter if g not in back] + moved


def _surplus_path(longer: list[Game], shorter: list[Game]) -> list[Game]:
    """Return a path with one more game of the longer round than of the shorter."""
    by_team = [{team: game for game in games for team in game} for games in (longer, shorter)]
    for start in (team for game in longer for team in game):
        if start in by_team[1]:
            continue
        path, team, side = [], start, 0
        while team in by_team[side]:
            game = by_team[side][team]
            path.append(game)
            team = game[1] if game[0] == team else game[0]
            side = 1 - side
        if len(path) % 2:
            return path
    raise AssertionError("a longer round has a path of its own")


def _on_courts(
    classes: list[list[Game]], teams: int, courts: int
) -> tuple[tuple[CourtGame, ...], ...]:
    """Put each round's games on courts so that teams return to a court rarely."""
    visits = [[0] * courts for _ in range(teams)]
    rounds = [list(games) for games in classes]
    for games in rounds:
        for court, game in enumerate(games):
            for team in game:
                visits[team][court] += 1
    better = True
    while better:
        better = False
        for games in rounds:
            better |= _exchange_courts(games, visits)
    return tuple(tuple((court, *game) for court, game in enumerate(games)) for games in rounds)


def _exchange_courts(games: list[Game], visits: list[list[int]]) -> bool:
    """Exchange the courts of two games where that saves returns; return whether it ever did."""
    better = False
    for a, b in combinations(range(len(games)), 2):
        moves = list(_moves(games, a, b))
        if sum(visits[team][to] - visits[team][here] + 1 for team, here, to in moves) < 0:
            for team, here, to in moves:
                visits[team][here] -= 1
                visits[team][to] += 1
            games[a], games[b] = games[b], games[a]
            better = True
    return better


def _moves(games: list[Game], a: int, b: int) -> Iterator[tuple[int, int, int]]:
    yield from ((team, a, b) for team in games[a])
    yield from ((team, b, a) for team in games[b])
