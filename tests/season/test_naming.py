"""Names put right, and short names for the public."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from season_plans import PEOPLE, plan_of, rows, scores_for

from scheduler.domain.codec import plan_to_json
from scheduler.domain.errors import BadInput
from scheduler.domain.event import Earlier, Player, Wish, WishKind
from scheduler.season.likeness import are_close
from scheduler.season.naming import (
    PublicNames,
    merge,
    public_names,
    rename,
    set_public_names,
    short_names,
)
from scheduler.season.public import public_plan
from scheduler.season.recording import record
from scheduler.season.results import results_of


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return a season of one evening."""
    file = tmp_path / "season.db"
    record(file, plan_of(1), scores_for(plan_of(1)))
    return file


def names(path: Path) -> set[str]:
    """Return everybody in the results."""
    return {name for match in results_of(path).matches for team in match.teams for name in team}


def test_a_new_name_stands_everywhere_and_the_old_spelling_stays_known(path: Path) -> None:
    """A later list with the old spelling is still the same person."""
    assert rename(path, "ada birch", "Ada Ash") == "Ada Birch"
    assert "Ada Ash" in names(path)
    assert "Ada Birch" not in names(path)
    assert record(path, plan_of(2)).new_people == ()
    spellings = rows(path, "SELECT name FROM spellings WHERE person = 1 ORDER BY id")
    assert spellings == [("Ada Birch",), ("Ada Ash",)]


def test_a_name_of_nobody_or_of_another_is_refused(path: Path) -> None:
    """With the nearest name, and the way to merge."""
    with pytest.raises(BadInput, match="did you mean 'Ada Birch'"):
        rename(path, "Ada Brich", "Ada Ash")
    for bad in ("", " ", "a\x07b"):
        with pytest.raises(BadInput, match="the name must"):
            rename(path, "Ada Birch", bad)
    with pytest.raises(BadInput, match="use merge"):
        rename(path, "Ada Birch", "Bruno Cole")


def test_two_spellings_become_one_person_with_all_they_played(path: Path) -> None:
    """Matches of both count for the one that stays; nothing is deleted."""
    other = plan_of(2, names=["Adeline Burke", *PEOPLE[1:]])
    record(path, other, scores_for(other))
    matches = len(results_of(path).matches)
    merge(path, "Adeline Burke", "Ada Birch")
    found = results_of(path)
    assert "Adeline Burke" not in names(path)
    assert len(found.matches) == matches
    played = [m for m in found.matches if "Ada Birch" in m.team_a + m.team_b]
    assert {m.evening for m in played} == {1, 2}
    with pytest.raises(BadInput, match="one person already"):
        merge(path, "Adeline Burke", "Ada Birch")
    # The spelling that went is known, so the next list with it is no question.
    assert record(path, plan_of(3, names=["Adeline Burke", *PEOPLE[1:]])).new_people == ()


def test_two_people_of_one_evening_cannot_be_one(path: Path) -> None:
    """They played at the same time."""
    with pytest.raises(BadInput, match="both took part on 2026-01-02"):
        merge(path, "Ada Birch", "Bruno Cole")


def test_scores_of_an_evening_can_be_corrected_after_two_names_of_its_list_became_one(
    path: Path,
) -> None:
    """Only one of the two took part, so the merge is right, and the list stays as it was."""
    plan = plan_of(2)
    twin = Player("Ada Birtch", 3.0)
    plan = replace(
        plan,
        event=replace(plan.event, players=(*plan.event.players, twin)),
        rounds=tuple(replace(planned, absent=(twin.name,)) for planned in plan.rounds),
    )
    record(path, plan, scores_for(plan))
    merge(path, "Ada Birtch", "Ada Birch")
    found = record(path, plan, scores_for(plan, seed=3))
    assert found.corrected
    assert (found.new_people, found.added) == ((), ())
    with pytest.raises(BadInput, match='"Ada Birch" and "Ada Birtch" are both Ada Birch'):
        record(path, replace(plan, event=replace(plan.event, date="2027-01-01")))


def test_all_unknown_names_of_a_merge_are_told(path: Path) -> None:
    """Both at once."""
    with pytest.raises(BadInput) as refused:
        merge(path, "Nobody", "No One Else")
    assert len(refused.value.faults) == 2


def test_short_names_are_a_setting_of_the_season(path: Path) -> None:
    """Given ones go first; a blank one takes it back."""
    assert public_names(path)[0] is PublicNames.FULL
    set_public_names(path, PublicNames.SHORT, {"Ada Birch": "Ace"})
    style, shorts = public_names(path)
    assert style is PublicNames.SHORT
    assert (shorts["Ada Birch"], shorts["Bruno Cole"]) == ("Ace", "Bruno C.")
    set_public_names(path, None, {"Ada Birch": ""})
    assert public_names(path)[1]["Ada Birch"] == "Ada B."
    with pytest.raises(BadInput):
        set_public_names(path, None, {"Nobody": "N"})


def test_short_names_tell_people_apart() -> None:
    """By as many letters as it takes, and by a number at the last."""
    found = short_names(["Ada Birch", "Ada Boyd", "Ada", "Cy Elm", "Cy  Elm"], {})
    assert found["Ada Birch"] == "Ada Bi."
    assert found["Ada Boyd"] == "Ada Bo."
    assert found["Ada"] == "Ada"
    assert len(set(found.values())) == 5


@given(st.lists(st.text("abA ", min_size=1).filter(str.strip), unique=True, max_size=8))
def test_short_names_are_all_different(people: list[str]) -> None:
    """Whatever the names."""
    shorts = short_names(people, {})
    assert len({short.casefold() for short in shorts.values()}) == len(people)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Ann Lee", "Anne Lee"),
        ("A. Birch", "Ada Birch"),
        ("Ada B.", "Ada Birch"),
        ("Ada", "Ada Birch"),
        ("Birch Ada", "Ada Birch"),
        ("Zoe Elm", "Zoë Elm"),
        ("Bruno Coel", "Bruno Cole"),
    ],
)
def test_spellings_that_may_be_one_person(one: str, other: str) -> None:
    """Both ways round."""
    assert are_close(one, other)
    assert are_close(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Jo", "Mo"), ("Ada Birch", "Ada Cole"), ("Player 7", "Player 17"), ("Ann", "Bob")],
)
def test_names_that_are_two_people(one: str, other: str) -> None:
    """Nobody needs to be asked."""
    assert not are_close(one, other)


def test_a_public_plan_holds_no_full_name() -> None:
    """Nowhere in the whole document, notes and wishes included; seats stay the same."""
    plan = plan_of(1)
    event = replace(
        plan.event,
        notes="Ada Birch brings balls",
        wishes=(Wish(WishKind.NOT_PARTNERS, "Ada Birch", "Bruno Cole"),),
        earlier=(Earlier("Ada Birch", "Bruno Cole", 1),),
        changes=("Ada Birch left",),
    )
    full = replace(plan, event=event, warnings=("Ada Birch is late",))
    shorts = short_names(list(PEOPLE), {})
    text = plan_to_json(public_plan(full, shorts))
    assert not [name for name in PEOPLE if name in text]
    seats = [
        tuple(shorts[name] for name in entry.players)
        for planned in plan.rounds
        for entry in planned.courts
    ]
    public = public_plan(full, shorts)
    assert [entry.players for planned in public.rounds for entry in planned.courts] == seats
