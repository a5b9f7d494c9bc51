"""One fixture as small whole numbers: who may pair with whom, on which line, at what price."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from scheduler.domain.event import Here
from scheduler.domain.fixture import Condition, ConditionKind, SquadMember
from scheduler.lineup.pair_rules import (
    allowed_pairs,
    equal_key,
    group_count,
    in_level_order,
    may_play_line,
)
from scheduler.lineup.price import Situation, hundredths, line_price, pair_price

MOVE = 10**13
"""Units for a person moved from what was announced: more than anything else can cost."""


@dataclass(frozen=True)
class Announced:
    """A line-up already announced, which should change as little as it can.

    `line_of` has the line of everybody who was to play.
    """

    line_of: Mapping[str, int]

    def price(self, name: str, line: int) -> int:
        """Return what a person costs on a line: moving costs, staying earns as much."""
        before = self.line_of.get(name)
        if before is None:
            return MOVE
        return -MOVE if before == line else 0


@dataclass(frozen=True)
class Need:
    """At least `count` of something over all pairs; `by_pair` holds how many each pair brings."""

    count: int
    by_pair: tuple[int, ...]


@dataclass(frozen=True)
class Problem:
    """A fixture for the search; people and pairs go by their place in the lists.

    Attributes
    ----------
    names, levels
        The people who may play and their levels in hundredths.
    lines
        Number of pairs to choose.
    pairs, sums
        The allowed pairs, strongest first, and their sums in hundredths.
    costs
        ``costs[line][pair]`` in units, None where the pair may not play there.
    follows
        For each pair the first place in the list from which the next line's
        pair may come (the level order, or symmetry); 0 leaves it free.
    ordered
        True when `follows` holds the lines in level order.
    even_weight
        Units for each squared hundredth between two pair sums.
    forced
        People who must play.
    needs
        Numbers of people of a kind who must play at least.
    twin_before
        For each person the one before in the list who is the same in every
        respect, or -1; of such twins the earlier one is used first.
    kinds
        For each person the number of the class of equal players.
    """

    names: tuple[str, ...]
    levels: tuple[int, ...]
    lines: int
    pairs: tuple[tuple[int, int], ...]
    sums: tuple[int, ...]
    costs: tuple[tuple[int | None, ...], ...]
    follows: tuple[int, ...]
    ordered: bool
    even_weight: int
    forced: tuple[int, ...]
    needs: tuple[Need, ...]
    twin_before: tuple[int, ...]
    kinds: tuple[int, ...]

    def unevenness(self, chosen: Sequence[int]) -> int:
        """Return the sum of squared differences of the pair sums, in squared hundredths."""
        sums = [self.sums[pair] for pair in chosen]
        return len(sums) * sum(value * value for value in sums) - sum(sums) ** 2

    def cost(self, chosen: Sequence[int]) -> int:
        """Return the whole price of a pair for each line, in units.

        Raises
        ------
        ValueError
            If a pair may not play on its line.
        """
        total = self.even_weight * self.unevenness(chosen)
        for line, pair in enumerate(chosen):
            price = self.costs[line][pair]
            if price is None:
                raise ValueError(f"pair {pair} may not play on line {line + 1}")
            total += price
        return total

    def rough_prices(self) -> dict[frozenset[str], int]:
        """Return a price of each pair by names, each on the line that suits it best.

        Evenness is counted from twice the middle level of all who are free,
        which is never less than it is, and in a season keeps the teams of
        different fixtures equally strong.
        """
        weight = self.even_weight * self.lines
        middle = 2 * sum(self.levels) // max(1, len(self.levels))
        prices = {}
        for pair, (i, j) in enumerate(self.pairs):
            allowed = [row[pair] for row in self.costs]
            least = min((cost for cost in allowed if cost is not None), default=0)
            uneven = weight * (self.sums[pair] - middle) ** 2
            prices[frozenset((self.names[i], self.names[j]))] = least + uneven
        return prices


@dataclass(frozen=True)
class Pool:
    """Who may be chosen: `forced` must play; at least `sure` of the `certain` must.

    `present` names everybody who is there, also those not to be called; who
    must partner one of these cannot play without them.
    """

    members: tuple[SquadMember, ...]
    present: frozenset[str]
    forced: frozenset[str] = frozenset()
    certain: frozenset[str] = frozenset()
    sure: int = 0


def build_problem(
    situation: Situation,
    pool: Pool,
    conditions: Iterable[Condition],
    announced: Announced | None = None,
) -> Problem:
    """Return the fixture as a search problem.

    Parameters
    ----------
    situation
        The fixture with its price list.
    pool
        The people to choose from.
    conditions
        The conditions to keep; those that count fixtures are the pool's business.
    announced
        What was announced, if it should change little; lines are no longer alike then.
    """
    demands = tuple(conditions)
    members = sorted(pool.members, key=lambda m: (-m.level, m.name))
    fixed_lines = _tells_lines_apart(demands) or announced is not None
    kinds = _numbered([equal_key(member) for member in members])
    twins = _twins(situation, members, pool, demands, fixed_lines=announced is not None)
    allowed = allowed_pairs(members, demands, pool.present)
    pairs = _sorted_pairs(members, allowed, _numbered(twins))
    sums = tuple(_pair_sum(members, pair) for pair in pairs)
    ordered = in_level_order(demands) or (_alike(situation) and not fixed_lines)
    return Problem(
        names=tuple(member.name for member in members),
        levels=tuple(hundredths(member.level) for member in members),
        lines=situation.fixture.lines,
        pairs=tuple(pairs),
        sums=sums,
        costs=_costs(situation, members, pairs, demands, announced),
        follows=_follows(sums, fixed_lines=fixed_lines) if ordered else (0,) * len(sums),
        ordered=ordered,
        even_weight=situation.even_weight,
        forced=tuple(i for i, member in enumerate(members) if member.name in pool.forced),
        needs=_needs(members, pairs, pool, demands),
        twin_before=_before(_numbered(twins)),
        kinds=kinds,
    )


def only_pairs(problem: Problem, wanted: Sequence[frozenset[str]]) -> Problem:
    """Return the problem of putting some pairs, all of them, on lines."""
    names = problem.names
    keep = [place for place, (i, j) in enumerate(problem.pairs) if {names[i], names[j]} in wanted]
    sums = tuple(problem.sums[place] for place in keep)
    return replace(
        problem,
        pairs=tuple(problem.pairs[place] for place in keep),
        sums=sums,
        costs=tuple(tuple(row[place] for place in keep) for row in problem.costs),
        follows=_follows(sums, fixed_lines=True) if problem.ordered else (0,) * len(sums),
        needs=tuple(Need(n.count, tuple(n.by_pair[p] for p in keep)) for n in problem.needs),
        twin_before=(-1,) * len(names),
    )


def _sorted_pairs(
    members: Sequence[SquadMember], allowed: Iterable[tuple[int, int]], twins: Sequence[int]
) -> list[tuple[int, int]]:
    return sorted(
        allowed,
        key=lambda pair: (
            -_pair_sum(members, pair),
            sorted((twins[pair[0]], twins[pair[1]])),
            pair,
        ),
    )


def _pair_sum(members: Sequence[SquadMember], pair: tuple[int, int]) -> int:
    return hundredths(members[pair[0]].level) + hundredths(members[pair[1]].level)


def _costs(
    situation: Situation,
    members: Sequence[SquadMember],
    pairs: Sequence[tuple[int, int]],
    conditions: Sequence[Condition],
    announced: Announced | None,
) -> tuple[tuple[int | None, ...], ...]:
    base = [pair_price(situation, members[i], members[j]) for i, j in pairs]
    rows = []
    for line in range(1, situation.fixture.lines + 1):
        by_sum = {s: line_price(situation, s, line) for s in {_pair_sum(members, p) for p in pairs}}
        row: list[int | None] = []
        for price, (i, j) in zip(base, pairs, strict=True):
            first, second = members[i], members[j]
            allowed = all(may_play_line(first, second, line, c) for c in conditions)
            total = price + by_sum[_pair_sum(members, (i, j))]
            if announced is not None:
                total += announced.price(first.name, line) + announced.price(second.name, line)
            row.append(total if allowed else None)
        rows.append(tuple(row))
    return tuple(rows)


def _tells_lines_apart(conditions: Sequence[Condition]) -> bool:
    return any(c.kind is ConditionKind.GROUP_IN_PAIR and c.lines for c in conditions)


def _alike(situation: Situation) -> bool:
    """Return whether lines differ by nothing but their number; the level order is free then."""
    theirs = situation.fixture.their_sums
    known = [
        theirs[line] if line < len(theirs) else None for line in range(situation.fixture.lines)
    ]
    return len(set(known)) <= 1


def _follows(sums: Sequence[int], *, fixed_lines: bool) -> tuple[int, ...]:
    """Return where the next line may go on in level order; see `Problem.follows`.

    Pairs with the same sum may take either order, which is worth trying only
    where lines differ by more than the opposing pair.
    """
    if not fixed_lines:
        return tuple(range(1, len(sums) + 1))
    first_of: dict[int, int] = {}
    for place, value in enumerate(sums):
        first_of.setdefault(value, place)
    return tuple(first_of[value] for value in sums)


def _needs(
    members: Sequence[SquadMember],
    pairs: Sequence[tuple[int, int]],
    pool: Pool,
    conditions: Sequence[Condition],
) -> tuple[Need, ...]:
    needs = [
        Need(
            int(condition.number),
            tuple(group_count((members[i], members[j]), condition.group) for i, j in pairs),
        )
        for condition in conditions
        if condition.kind is ConditionKind.GROUP_IN_TEAM
    ]
    if pool.sure and len(pool.certain) < len(members):
        sure = [member.name in pool.certain for member in members]
        needs.append(Need(pool.sure, tuple(sure[i] + sure[j] for i, j in pairs)))
    return tuple(needs)


def _twins(
    situation: Situation,
    members: Sequence[SquadMember],
    pool: Pool,
    conditions: Sequence[Condition],
    *,
    fixed_lines: bool,
) -> list[tuple[object, ...]]:
    """Return a key for each person that only people alike in every respect share."""
    named = {name for c in conditions for name in (c.player, c.other)}
    named |= {name for pair in situation.together for name in pair}
    named |= {name for member in members for name in member.likes}
    return [
        (member.name,)
        if fixed_lines or member.name in named or member.likes
        else (
            *equal_key(member),
            situation.appearances[member.name],
            member.name in pool.forced,
            member.name in pool.certain,
        )
        for member in members
    ]


def _numbered(keys: Sequence[tuple[object, ...]]) -> tuple[int, ...]:
    numbers: dict[tuple[object, ...], int] = {}
    return tuple(numbers.setdefault(key, len(numbers)) for key in keys)


def _before(numbers: Sequence[int]) -> tuple[int, ...]:
    last: dict[int, int] = {}
    before = []
    for place, number in enumerate(numbers):
        before.append(last.get(number, -1))
        last[number] = place
    return tuple(before)


def split_by_answer(
    situation: Situation, members: Iterable[SquadMember]
) -> tuple[tuple[SquadMember, ...], tuple[SquadMember, ...]]:
    """Return those who said yes and those who come if needed."""
    people = tuple(members)
    answer = situation.fixture.answer
    sure = tuple(member for member in people if answer(member.name) is Here.YES)
    spare = tuple(member for member in people if answer(member.name) is Here.IF_NEEDED)
    return sure, spare
