"""Whether rounds of matches use as many courts as their kind demands, with the right teams."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.checker.demands import TWO_GROUPS, Demand, group_sizes, two_group_matches
from scheduler.checker.evening import Evening, RoundView
from scheduler.checker.shares import pairs_there
from scheduler.checker.words import counted, listed, place, seating
from scheduler.domain.event import Kind, Round, SpareCourt
from scheduler.domain.plan import Match, Singles, TwoAgainstOne

_RULE = {
    Kind.MIXED: "each team must have one player of each group",
    Kind.GROUP_AGAINST_GROUP: "two of one group must play two of the other",
}


def check_matches(evening: Evening, view: RoundView, asked: Round, wanted: Demand) -> Iterator[str]:
    """Yield a sentence for a wrong number of courts, wrong teams, and people who should rest."""
    demanded = _courts_demanded(evening, view, asked, wanted)
    played = len(view.planned.matches)
    if played != demanded:
        yield f"{place(view.planned)}: {counted(played, 'court')} of doubles, must be {demanded}"
    if asked.kind in TWO_GROUPS:
        yield from _two_groups(evening, view, asked, wanted)
    if asked.kind is Kind.PAIRS:
        yield from _steady_pairs(evening, view)
    yield from _spare_courts(evening, view, wanted, demanded)


def _courts_demanded(evening: Evening, view: RoundView, asked: Round, wanted: Demand) -> int:
    if asked.kind in TWO_GROUPS:
        sizes = group_sizes(evening.group_of, wanted.sure)
        return sum(two_group_matches(sizes.values(), wanted.limit))
    if asked.kind is Kind.PAIRS:
        if view.planned.number <= evening.plan.settled:
            return len(view.planned.matches)  # who were pairs then, later ones cannot tell
        return min(wanted.limit, pairs_there(evening, view) // 2)
    return min(wanted.limit, wanted.players // 4)


def _two_groups(evening: Evening, view: RoundView, asked: Round, wanted: Demand) -> Iterator[str]:
    sizes = group_sizes(evening.group_of, wanted.sure)
    here = place(view.planned)
    if len(sizes) > 2:
        yield f"{here}: a round of kind '{asked.kind}' needs two groups, there are {len(sizes)}"
        return
    own, _ = two_group_matches(sizes.values(), wanted.limit)
    strange = [match for match in view.planned.matches if not _is_own(evening, match, asked.kind)]
    right = len(view.planned.matches) - len(strange)
    if right == own:
        return
    yield f"{here}: {counted(right, 'court')} of kind '{asked.kind}', must be {own}"
    for match in strange:
        yield f"{place(view.planned, match)}: {seating(match)}: {_RULE[asked.kind]}"


def _is_own(evening: Evening, match: Match, kind: Kind) -> bool:
    """Return whether a match is of the round's own kind, not leftovers' ordinary doubles."""
    team_a, team_b = (
        sorted(evening.group_of.get(name, "") for name in team)
        for team in (match.team_a, match.team_b)
    )
    if kind is Kind.MIXED:
        return team_a == team_b and len(set(team_a)) == 2
    return len(set(team_a)) == 1 == len(set(team_b)) and team_a != team_b


def _steady_pairs(evening: Evening, view: RoundView) -> Iterator[str]:
    for match in view.planned.matches:
        if not set(view.planned.missing).isdisjoint(match.players):
            continue  # it was never played, so who is left is free to pair up otherwise
        for team in (match.team_a, match.team_b):
            for name, partner in zip(team, reversed(team), strict=True):
                steady = evening.fixed_partner.get(name)
                if steady not in (None, partner):
                    yield (
                        f"{place(view.planned, match)}: {name} partners {partner}, but "
                        f"{steady} in another round of kind 'pairs'"
                    )


def _spare_courts(
    evening: Evening, view: RoundView, wanted: Demand, demanded: int
) -> Iterator[str]:
    spare = [entry for entry in view.planned.courts if isinstance(entry, Singles | TwoAgainstOne)]
    left_over = wanted.players - 4 * demanded
    for entry in spare:
        here = f"{place(view.planned, entry)}: {listed(entry.players)} must rest"
        if evening.event.spare_court is not SpareCourt.SINGLES:
            yield f"{here}, the event keeps spare courts empty"
        elif left_over not in (2, 3) or demanded >= wanted.limit:
            yield f"{here}, a free court is for two or three people left over"
    if len(spare) > 1:
        yield f"{place(view.planned)}: {len(spare)} courts of left-over people, one is enough"
