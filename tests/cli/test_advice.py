"""What is said to do where the musts cannot all be kept."""

from __future__ import annotations

from scheduler.cli.advice import advice_on, heading_of

LIMIT = "Wishes!A2: Bob must play at most 2 rounds"


def test_a_limit_below_the_fair_share_is_explained_with_what_to_do() -> None:
    """Its unit, why it cannot be kept, and the Leaves column, by name."""
    told = list(advice_on((LIMIT, "it would need Bob to rest more often"), proven=True))
    assert told[0].startswith("'plays at most' counts every round on a court, drills too")
    assert "write the hour Bob goes home under Leaves" in told[0]


def test_a_clash_of_wishes_is_said_to_be_perhaps_not_the_only_one() -> None:
    """Only one clash is looked for, so the organiser is told that there may be more."""
    clash = ("Wishes!A2: A and B must be partners", "Wishes!A3: A and B must not be partners")
    assert "there may be more such clashes" in heading_of(clash, proven=True)
    assert list(advice_on(clash, proven=True)) == []


def test_a_round_that_cannot_be_seated_is_no_clash_of_wishes() -> None:
    """Where no wish is in the way, there is none to take out and none more to look for."""
    closed = ("round 2 is a drill for 9 but no court is open",)
    assert heading_of(closed, proven=True) == "No plan can keep all of these together:"
    assert list(advice_on(closed, proven=True)) == []


def test_what_is_not_proved_may_be_searched_for_longer() -> None:
    """A search that ended without a plan has not proved that there is none."""
    assert "--effort thorough" in next(advice_on((LIMIT,), proven=False))


def test_on_the_night_it_is_said_what_to_type() -> None:
    """The workbook is read no more, so neither Leaves nor its cell can help; --ease can."""
    told = list(advice_on((LIMIT, "nobody rests in rounds 3 to 6"), proven=True, tonight=True))
    assert told == ["To play on without it, add --ease A2: it is then kept only if it can be."]


def test_a_limit_of_rounds_running_is_called_by_its_own_name() -> None:
    """Not by that of the other limit."""
    told = list(advice_on((f"{LIMIT} running",), proven=True))
    assert told[0].startswith("'rounds running at most' counts")
