"""What earlier evenings mean, recounted here from the plans themselves."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from season_plans import PEOPLE, plan_of, replanned, scores_for

from scheduler.checker import recount
from scheduler.domain.event import Event
from scheduler.domain.plan import Group, Plan
from scheduler.season.history import (
    History,
    earlier_of,
    history_of,
    remembering,
    spelling_questions,
)
from scheduler.season.measures import season_measures, weighted
from scheduler.season.naming import merge, rename
from scheduler.season.recording import record
from scheduler.season.results import levels_of, with_season_levels

Meetings = dict[str, Counter[frozenset[str]]]
TONIGHT = 20


def naive(plan: Plan) -> Meetings:
    """Count partners, opponents and drills of a plan without any of the program's counting."""
    found: Meetings = {"partners": Counter(), "opponents": Counter(), "drills": Counter()}
    for planned in plan.rounds:
        for entry in planned.courts:
            if isinstance(entry, Group):
                found["drills"].update(map(frozenset, combinations(entry.players, 2)))
                continue
            found["partners"].update([frozenset(entry.team_a), frozenset(entry.team_b)])
            found["opponents"].update(
                frozenset((one, other)) for one in entry.team_a for other in entry.team_b
            )
    return found


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return a season of five evenings."""
    file = tmp_path / "season.db"
    for number in range(1, 6):
        plan = plan_of(number)
        record(file, plan, scores_for(plan))
    return file


def tonight() -> Event:
    """Return an event after all of them."""
    return plan_of(TONIGHT).event


def test_meetings_are_those_of_all_evenings_whole_and_faded(path: Path) -> None:
    """Faded by half every four evenings, the last one being one evening ago."""
    evenings = [naive(plan_of(number)) for number in range(1, 6)]
    for earlier in earlier_of(path, tonight()):
        both = frozenset((earlier.player, earlier.other))
        for role in ("partners", "opponents", "drills"):
            times = [one[role][both] for one in evenings]
            assert getattr(earlier, role) == sum(times)
            faded = sum(
                count * 0.5 ** (ago / 4) for ago, count in enumerate(reversed(times), start=1)
            )
            assert getattr(earlier, f"faded_{role}") == pytest.approx(faded, abs=1e-6)
    everybody = sum(e.partners + e.opponents + e.drills for e in earlier_of(path, tonight()))
    assert everybody == sum(counts.total() for one in evenings for counts in one.values())


def test_the_half_life_can_be_set(path: Path) -> None:
    """With a half-life of one evening the last one weighs a half, the one before a quarter."""
    short = {(e.player, e.other): e for e in earlier_of(path, tonight(), half_life=1.0)}
    both = naive(plan_of(5))["partners"]
    for (one, other), earlier in short.items():
        last = both[frozenset((one, other))]
        assert earlier.faded_partners >= last / 2
    with pytest.raises(ValueError, match="half-life"):
        earlier_of(path, tonight(), half_life=0)


def test_only_evenings_before_the_event_count(path: Path) -> None:
    """Planning evening 3 again sees evenings 1 and 2, not itself nor later ones."""
    history = history_of(path, plan_of(3).event)
    assert history.evenings == 2
    assert history_of(path, replace(tonight(), date="")).evenings == 5


def test_a_replanned_evening_counts_once(tmp_path: Path) -> None:
    """With the seats of its last revision."""
    path, plan = tmp_path / "season.db", plan_of(1)
    later = replanned(plan, after=2)
    record(path, plan)
    record(path, later)
    found = earlier_of(path, tonight())
    assert sum(e.partners for e in found) == naive(later)["partners"].total()
    assert {(e.player, e.other): e.partners for e in found if e.partners} == {
        (one, other): times
        for one, other in combinations(PEOPLE, 2)
        if (times := naive(later)["partners"][frozenset((one, other))])
    }


def test_season_measures_add_whole_evenings(path: Path) -> None:
    """Repeats over all evenings by the naive count; the names are those of the evening."""
    plan = plan_of(TONIGHT)
    found = season_measures(plan, history_of(path, plan.event))
    evenings = [naive(plan_of(number)) for number in (*range(1, 6), TONIGHT)]
    for role, name in (
        ("partners", "partner_repeats"),
        ("opponents", "opponent_repeats"),
        ("drills", "drill_repeats"),
    ):
        total = sum((one[role] for one in evenings), Counter())
        assert found[name] == sum(k * (k - 1) // 2 for k in total.values())
    assert set(found) == set(recount(plan, plan.event)) - {"blend_price"}


def test_without_history_season_measures_are_the_evenings_own() -> None:
    """Every name, by the checker's own count."""
    plan = plan_of(1)
    expected = recount(plan, plan.event)
    for name, value in season_measures(plan, History()).items():
        assert value == pytest.approx(expected[name], abs=1e-6), name


def test_the_weighted_cost_is_repeats_tonight_and_faded_meetings(path: Path) -> None:
    """A pair that partners k times tonight and f faded times before costs k(k-1)/2 + k f."""
    plan = plan_of(TONIGHT)
    history = history_of(path, plan.event)
    faded = {frozenset((e.player, e.other)): e for e in earlier_of(path, plan.event)}
    here = naive(plan)
    cost = sum(
        times * (times - 1) / 2 + times * (faded[both].faded_opponents if both in faded else 0)
        for both, times in here["opponents"].items()
    )
    found = weighted(plan, history)
    assert found["opponent_repeats"] == pytest.approx(cost, abs=1e-4)
    assert (found["half_life"], found["evenings"]) == (4, 5)


def test_renaming_and_merging_move_the_meetings_along(path: Path) -> None:
    """Under the new name, and with those of both spellings."""
    before = {frozenset((e.player, e.other)): e for e in earlier_of(path, tonight())}
    rename(path, "Ada Birch", "Ada Ash")
    names = ["Ada Ash", *PEOPLE[1:]]
    after = earlier_of(path, replace(plan_of(TONIGHT, names=names).event))
    for earlier in after:
        both = {earlier.player, earlier.other}
        old = frozenset("Ada Birch" if name == "Ada Ash" else name for name in both)
        assert earlier.partners == before[old].partners
    other = plan_of(6, names=["Zoltan Twig", *PEOPLE[1:]])
    record(path, other)
    merge(path, "Zoltan Twig", "Ada Ash")
    total = Counter(
        {frozenset((e.player, e.other)): e.opponents for e in earlier_of(path, tonight())}
    )
    for mate in PEOPLE[1:]:
        was = before.get(frozenset(("Ada Birch", mate)))
        more = naive(other)["opponents"][frozenset(("Zoltan Twig", mate))]
        assert total[frozenset(("Ada Birch", mate))] == (was.opponents if was else 0) + more


def test_tonights_spelling_is_used_and_odd_ones_are_named(path: Path) -> None:
    """A misspelt name has no history, and planning can say so."""
    names = ["Ada Birsh", "bruno cole", *PEOPLE[2:]]
    event = plan_of(TONIGHT, names=names).event
    people = {name for e in earlier_of(path, event) for name in (e.player, e.other)}
    assert "bruno cole" in people
    assert "Ada Birsh" not in people
    assert len(spelling_questions(path, event)) == 1


def test_an_event_remembers_and_takes_levels(path: Path) -> None:
    """Earlier meetings go into the event; levels from results take the place of the list's."""
    names = ["Ada Birsh", *PEOPLE[1:]]
    event = plan_of(TONIGHT, names=names).event
    found = remembering(path, event)
    assert found.event.earlier == earlier_of(path, event)
    assert found.history.evenings == 5
    assert "did you mean 'Ada Birch'" in found.remarks[0]
    levelled = with_season_levels(path, event)
    learned = levels_of(path, event)
    assert levelled.players[0] == event.players[0]
    assert [p.level for p in levelled.players[1:]] == [learned[name].level for name in names[1:]]


def test_levels_of_those_who_come_are_found_by_their_names_tonight(path: Path) -> None:
    """Only of those who have played."""
    event = plan_of(TONIGHT, names=["ada birch", "Kofi Lark", *PEOPLE[2:]]).event
    found = levels_of(path, event)
    assert "ada birch" in found
    assert "Kofi Lark" not in found
    assert all(row.low <= row.level <= row.high for row in found.values())
