"""Who plays, read from the chances or levels a person writes."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.errors import BadInput, Fault
from scheduler.timing import Court, LevelModel, Pace, Servers
from scheduler.timing.levels import ORIGIN, level_faults
from scheduler.timing.servers import chance_faults
from scheduler.timing.wording import percent


@dataclass(frozen=True, slots=True)
class Play:
    """What is played, by whom, on how many courts.

    Parameters
    ----------
    court
        The four servers and how much slower than the pace they are; every
        court is taken to be like this one.
    basis
        In a sentence, where the chances of a point come from.
    courts
        How many courts play at once.
    pace
        The seconds of points, pauses and changes.
    """

    court: Court
    basis: str
    courts: int
    pace: Pace

    @property
    def all_alike(self) -> list[Court]:
        """Every court that plays."""
        return [self.court] * self.courts


def who_plays(
    points_won: str | None,
    levels: str | None,
    courts: int = 1,
    pace: Pace | None = None,
    beginners: bool = False,
) -> Play:
    """Return who plays, from chances or levels as a person writes them.

    Parameters
    ----------
    points_won
        ``"0.6,0.55"``, a chance of a point on its own serve for each team, or
        ``"0.62,0.58/0.55,0.5"``, one for each server.
    levels
        ``"3.0,3.5/4.0,2.5"``, the first team's and the second's; even teams
        when neither is given.
    courts
        How many courts play at once.
    pace
        The seconds of points, pauses and changes; the defaults when None.
    beginners
        True to take every court for one of beginners whatever the levels.

    Raises
    ------
    BadInput
        If both are given, a value is not a number in its range, or their
        number is wrong; every fault is named.
    """
    pace = pace or Pace()
    if points_won is not None and levels is not None:
        what = "give chances of a point or levels, not both"
        raise BadInput.one("--points-won, --levels", what)
    times = pace.beginner_factor if beginners else 1.0
    if points_won is not None:
        servers = _servers_of_chances(points_won)
        return Play(Court(servers, times), "chances of a point as given", courts, pace)
    model = LevelModel()
    if levels is None:
        basis = f"even teams, servers win {percent(model.equal_serve)} of points ({ORIGIN})"
        return Play(Court(model.servers((5.0, 5.0), (5.0, 5.0)), times), basis, courts, pace)
    first, second = _two_teams(levels)
    if not beginners:
        times = pace.times_at((*first, *second))
    return Play(Court(model.servers(first, second), times), f"from levels ({ORIGIN})", courts, pace)


def _servers_of_chances(text: str) -> Servers:
    where = "--points-won"
    sides = [side.split(",") for side in text.split("/")]
    wanted = "two chances such as 0.6,0.55, or each server's such as 0.62,0.58/0.55,0.5"
    numbers = _numbers(where, sides, wanted, ([2], [2, 2]))
    faults = chance_faults((value for side in numbers for value in side), where)
    if faults:
        if all(1 < value <= 100 for side in numbers for value in side):
            faults.append(Fault(where, "write 60 % as 0.6"))
        raise BadInput(faults)
    if len(numbers) == 1:
        return Servers.of_teams(numbers[0][0], numbers[0][1])
    (first, first_partner), (second, second_partner) = numbers
    return Servers((first, second, first_partner, second_partner))


def _two_teams(text: str) -> tuple[tuple[float, float], tuple[float, float]]:
    where = "--levels"
    sides = [side.split(",") for side in text.split("/")]
    wanted = "two levels for each team, such as 3.0,3.5/4.0,2.5"
    numbers = _numbers(where, sides, wanted, ([2, 2],))
    faults = level_faults(tuple(value for side in numbers for value in side), where)
    if faults:
        raise BadInput(faults)
    return (numbers[0][0], numbers[0][1]), (numbers[1][0], numbers[1][1])


def _numbers(
    where: str, sides: list[list[str]], wanted: str, shapes: tuple[list[int], ...]
) -> list[list[float]]:
    """Return the numbers of a text split into sides, or name everything wrong with it."""
    if [len(side) for side in sides] not in shapes:
        given = "/".join(",".join(side) for side in sides)
        raise BadInput.one(where, f'must be {wanted}, got "{given}"')
    faults: list[Fault] = []
    numbers = [[_number(where, word, faults) for word in side] for side in sides]
    if faults:
        raise BadInput(faults)
    return numbers


def _number(where: str, word: str, faults: list[Fault]) -> float:
    try:
        return float(word)
    except ValueError:
        faults.append(Fault(where, f'must be a number, got "{word.strip()}"'))
        return 0.0
