"""Line-ups counted one by one, and squads made up at random; shares no code with the search.

The price list is written out here a second time, from its table.
"""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter

from scheduler.domain.event import Hand, Here, Player, Side
from scheduler.domain.fixture import (
    Aim,
    Condition,
    ConditionKind,
    Fixture,
    Partnering,
    PlayedPair,
    SquadMember,
    TeamSeason,
)

POINT = 10_000
K = ConditionKind


def random_season(
    rng: random.Random, players: int, lines: int, *, step: float = 0.5, **wanted
) -> TeamSeason:
    """Return a made-up squad with one fixture to come and some played."""
    squad = tuple(_member(rng, i, players, step) for i in range(players))
    names = [member.name for member in squad]
    answers = {name: _answer(rng) for name in names} if wanted.get("answers") else {}
    fixture = Fixture(
        "2031-05-20",
        lines,
        their_sums=tuple(round(rng.uniform(6, 14) * 2) / 2 for _ in range(lines))
        if rng.random() < 0.5
        else (),
        availability=answers,
    )
    past, played = [], []
    for day in range(rng.randint(0, 3)):
        date = f"2031-05-0{day + 1}"
        past.append(Fixture(date, lines))
        order = rng.sample(names, len(names))
        played += [
            PlayedPair(date, line + 1, (order[2 * line], order[2 * line + 1]))
            for line in range(min(lines, len(order) // 2))
        ]
    return TeamSeason(
        name="Test team",
        squad=squad,
        fixtures=(*past, fixture),
        conditions=_conditions(rng, names, lines) if wanted.get("conditions") else (),
        played=tuple(played),
        aim=wanted.get("aim") or rng.choice(list(Aim)),
        partnering=rng.choice(list(Partnering)),
        scale=rng.choice([1.0, 2.0, 3.5]),
    )


def _member(rng: random.Random, i: int, players: int, step: float) -> SquadMember:
    likes = (f"P{rng.randrange(players):02d}",) if rng.random() < 0.2 else ()
    player = Player(
        name=f"P{i:02d}",
        level=round(round(rng.uniform(3, 8) / step) * step, 2),
        group=rng.choice("MW"),
        hand=Hand.LEFT if rng.random() < 0.2 else Hand.RIGHT,
        side=rng.choice(list(Side)),
    )
    return SquadMember(player, matches=rng.randint(0, 3), likes=likes)


def _answer(rng: random.Random) -> Here:
    return rng.choices([Here.YES, Here.NO, Here.IF_NEEDED], [7, 1, 2])[0]


def _conditions(rng: random.Random, names: list[str], lines: int) -> tuple[Condition, ...]:
    a, b, c, d = rng.sample(names, 4)
    possible = [
        Condition(K.HIGHEST_SUM, rng.choice([11, 12, 13])),
        Condition(K.LOWEST_SUM, rng.choice([8, 9, 10])),
        Condition(K.GREATEST_DIFFERENCE, rng.choice([1.5, 2, 3])),
        Condition(K.LEVEL_ORDER),
        Condition(K.PLAYS_AT_MOST, rng.randint(1, 3), player=rng.choice(["", a])),
        Condition(K.LEFT_OUT_AT_MOST, rng.randint(0, 2), player=a),
        Condition(K.PLAYS_AT_LEAST, rng.randint(1, 3), player=b),
        Condition(K.GROUP_IN_TEAM, rng.randint(1, lines), group="W"),
        Condition(K.GROUP_IN_PAIR, 1, group="W", lines=(rng.randint(1, lines),)),
        Condition(K.GROUP_IN_PAIR, 1, group="M"),
        Condition(K.NOT_PARTNERS, player=a, other=b),
        Condition(K.PARTNERS, player=c, other=d),
    ]
    return tuple(rng.sample(possible, rng.randint(1, 4)))


def count_all(season: TeamSeason) -> dict[tuple[tuple[str, str], ...], int]:
    """Return every allowed line-up of the last fixture with its price, few calls first.

    Only line-ups that call as few ``if needed`` people as any allowed one does.
    """
    counted = _Count(season)
    for called in range(len(season.squad) + 1):
        prices = counted.with_called(called)
        if prices:
            return prices
    return {}


class _Count:
    def __init__(self, season: TeamSeason) -> None:
        self.season = season
        self.fixture = season.fixtures[-1]
        self.member = {m.name: m for m in season.squad}
        self.turns = Counter({m.name: m.matches for m in season.squad})
        self.calendar = Counter(n for p in season.played for n in p.players)
        self.turns.update(self.calendar)
        self.together = Counter(frozenset(p.players) for p in season.played)
        self.prices = {
            frozenset(pair): self.pair_price(*pair)
            for pair in itertools.combinations(sorted(self.member), 2)
        }

    def free(self) -> list[str]:
        return [n for n in sorted(self.member) if self.fixture.answer(n) is not Here.NO]

    def with_called(self, called: int) -> dict[tuple[tuple[str, str], ...], int]:
        found = {}
        for team in itertools.combinations(self.free(), 2 * self.fixture.lines):
            if sum(self.fixture.answer(n) is Here.IF_NEEDED for n in team) != called:
                continue
            if not self.team_allowed(set(team)):
                continue
            for pairs in _pairings(list(team)):
                if all(self.pair_allowed(pair, set(self.free())) for pair in pairs):
                    for order in itertools.permutations(pairs):
                        if self.order_allowed(order):
                            found[order] = self.price(order)
        return found

    def price(self, order) -> int:
        total = sum(self.prices[frozenset(pair)] for pair in order)
        strong = 20 if self.season.aim is Aim.STRONG else 1
        sums = [self.sum_of(pair) for pair in order]
        for ours, theirs in zip(sums, self.their_sums(), strict=True):
            chance = 1 / (1 + math.exp(-(ours - theirs) / (self.season.scale or 2.0)))
            total -= strong * round(chance * 10 * POINT)
        if self.season.aim is Aim.EVEN:
            squares = sum((a - b) ** 2 for a, b in itertools.combinations(sums, 2))
            total += 20 * round(squares * POINT)
        return total

    def their_sums(self) -> list[float]:
        if self.fixture.their_sums:
            return list(self.fixture.their_sums)
        levels = sorted(m.level for m in self.season.squad)
        n = len(levels)
        return [levels[(n - 1) // 2] + levels[n // 2] + 2.0] * self.fixture.lines

    def sum_of(self, pair) -> float:
        return self.member[pair[0]].level + self.member[pair[1]].level

    def pair_price(self, a: str, b: str) -> int:
        first, second = self.member[a], self.member[b]
        times = self.together[frozenset((a, b))]
        total = (20 if self.season.aim is Aim.SHARE else 1) * 5 * POINT
        total *= self.turns[a] + self.turns[b]
        if self.season.aim is Aim.SETTLED:
            total -= 20 * 2 * POINT * min(times, 3)
        elif self.season.partnering is Partnering.KEEP:
            total -= 2 * POINT * min(times, 3)
        elif self.season.partnering is Partnering.VARY:
            total += 2 * POINT * times
        if first.player.side == second.player.side != Side.EITHER:
            total += 20 * POINT // 2
        if first.player.hand == second.player.hand == Hand.LEFT:
            total += 20 * POINT // 5
        return total - 20 * (POINT // 2) * ((b in first.likes) + (a in second.likes))

    def team_allowed(self, team: set[str]) -> bool:
        return all(self._team_keeps(team, condition) for condition in self.season.conditions)

    def _team_keeps(self, team: set[str], c: Condition) -> bool:
        named = [c.player] if c.player else sorted(self.member)
        if c.kind is K.PLAYS_AT_MOST:
            return all(n not in team or self.calendar[n] < c.number for n in named)
        if c.kind is K.LEFT_OUT_AT_MOST:
            missed = len(self.season.fixtures) - 1
            return all(
                n in team
                or self.fixture.answer(n) is not Here.YES
                or missed - self.calendar[n] < c.number
                for n in named
            )
        if c.kind is K.PLAYS_AT_LEAST:
            need = [n for n in named if self.calendar[n] + 1 == c.number]
            free = set(self.free())
            return all(n in team for n in need if n in free)
        if c.kind is K.GROUP_IN_TEAM:
            return sum(self.member[n].player.group == c.group for n in team) >= c.number
        return True

    def pair_allowed(self, pair, free: set[str]) -> bool:
        levels = [self.member[n].level for n in pair]
        for c in self.season.conditions:
            both = {c.player, c.other}
            if (
                (c.kind is K.HIGHEST_SUM and sum(levels) > c.number)
                or (c.kind is K.LOWEST_SUM and sum(levels) < c.number)
                or (c.kind is K.GREATEST_DIFFERENCE and abs(levels[0] - levels[1]) > c.number)
                or (c.kind is K.NOT_PARTNERS and set(pair) == both)
                or (
                    c.kind is K.PARTNERS
                    and both <= {n for n in free if self._can_be_chosen(n)}
                    and len(both & set(pair)) == 1
                )
            ):
                return False
        return True

    def _can_be_chosen(self, name: str) -> bool:
        return not any(
            c.kind is K.PLAYS_AT_MOST and c.player in {"", name} and self.calendar[name] >= c.number
            for c in self.season.conditions
        )

    def order_allowed(self, order) -> bool:
        for c in self.season.conditions:
            if c.kind is K.LEVEL_ORDER:
                sums = [self.sum_of(pair) for pair in order]
                if any(a < b for a, b in itertools.pairwise(sums)):
                    return False
            if c.kind is K.GROUP_IN_PAIR:
                for line, pair in enumerate(order, 1):
                    asked = not c.lines or line in c.lines
                    count = sum(self.member[n].player.group == c.group for n in pair)
                    if asked and count < c.number:
                        return False
        return True


def _pairings(people: list[str]):
    if not people:
        yield []
        return
    first, rest = people[0], people[1:]
    for i, other in enumerate(rest):
        for others in _pairings(rest[:i] + rest[i + 1 :]):
            yield [(first, other), *others]
