"""Who may partner whom, and on which line: the conditions as plain yes-or-no questions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

from scheduler.domain.fixture import Condition, ConditionKind, SquadMember
from scheduler.lineup.price import hundredths


def equal_key(member: SquadMember) -> tuple[object, ...]:
    """Return what makes two players equal on court: level, group, side and hand."""
    player = member.player
    return (hundredths(player.level), player.group, str(player.side), str(player.hand))


def may_partner(first: SquadMember, second: SquadMember, condition: Condition) -> bool:
    """Return whether two people may be partners on some line under one condition."""
    total = hundredths(first.level) + hundredths(second.level)
    limit = hundredths(condition.number)
    match condition.kind:
        case ConditionKind.HIGHEST_SUM:
            return total <= limit
        case ConditionKind.LOWEST_SUM:
            return total >= limit
        case ConditionKind.GREATEST_DIFFERENCE:
            return abs(hundredths(first.level) - hundredths(second.level)) <= limit
        case ConditionKind.NOT_PARTNERS:
            return {first.name, second.name} != {condition.player, condition.other}
    return True


def may_play_line(first: SquadMember, second: SquadMember, line: int, condition: Condition) -> bool:
    """Return whether two partners may play a line under a condition about groups in pairs."""
    if condition.kind is not ConditionKind.GROUP_IN_PAIR:
        return True
    if condition.lines and line not in condition.lines:
        return True
    return group_count((first, second), condition.group) >= condition.number


def group_count(members: Iterable[SquadMember], group: str) -> int:
    """Return how many of some people are of a group."""
    return sum(member.player.group == group for member in members)


def in_level_order(conditions: Iterable[Condition]) -> bool:
    """Return whether the strongest pair must play line 1 and so on down."""
    return any(condition.kind is ConditionKind.LEVEL_ORDER for condition in conditions)


def bound_partners(present: frozenset[str], conditions: Iterable[Condition]) -> dict[str, set[str]]:
    """Return for each person the partners they must have, both being there."""
    bound: dict[str, set[str]] = {}
    for condition in conditions:
        both = (condition.player, condition.other)
        if condition.kind is ConditionKind.PARTNERS and present.issuperset(both):
            bound.setdefault(both[0], set()).add(both[1])
            bound.setdefault(both[1], set()).add(both[0])
    return bound


def allowed_pairs(
    members: Sequence[SquadMember], conditions: Sequence[Condition], present: frozenset[str]
) -> list[tuple[int, int]]:
    """Return the pairs (by place) that every condition allows on some line."""
    bound = bound_partners(present, conditions)
    return [
        (i, j)
        for i, j in combinations(range(len(members)), 2)
        if all(may_partner(members[i], members[j], condition) for condition in conditions)
        and bound.get(members[i].name, {members[j].name}) == {members[j].name}
        and bound.get(members[j].name, {members[i].name}) == {members[i].name}
    ]
