"""What ``rota replan`` says to be read out: who moves first, a line a person."""

from __future__ import annotations

import pytest

from scheduler.cli.read_out import read_out, rounds_in_words
from scheduler.workflow.moves import RESTS, Moved, Step, Why


@pytest.mark.parametrize(
    ("rounds", "words"),
    [
        ([3], "round 3"),
        ([3, 4], "rounds 3 and 4"),
        ([3, 5], "rounds 3 and 5"),
        ([3, 4, 5], "rounds 3 to 5"),
        ([2, 4, 5, 6, 8], "rounds 2, 4 to 6 and 8"),
    ],
)
def test_rounds_are_said_as_people_say_them(rounds: list[int], words: str) -> None:
    """Three or more running are told from first to last."""
    assert rounds_in_words(rounds) == words


def test_who_moves_stands_apart_from_who_only_has_other_company() -> None:
    """One line a person: gone, new, another place, and last the same place with other people."""
    steps = (
        Step("Ana", 2, Why.COMPANY, "Court 1", "with Bo against Cy and Di"),
        Step("Bo", 2, Why.COMPANY, "Court 1", "with Ana against Cy and Di"),
        Step("Bo", 3, Why.MOVES, RESTS),
        Step("Cy", 2, Why.GONE, ""),
        Step("Cy", 3, Why.GONE, ""),
        Step("Di", 2, Why.MOVES, "Court 2", "with Ed against Fay and Gil"),
        Step("Di", 3, Why.MOVES, "Court 2", "with Fay against Ed and Gil"),
        Step("Ed", 2, Why.COMPANY, "Court 2", "with Di against Fay and Gil"),
        Step("Ed", 3, Why.COMPANY, "Court 2", "with Gil against Di and Fay"),
        Step("Flo", 3, Why.COMES, "Court 1", "with Ana against Ed and Gil"),
    )
    assert list(read_out(Moved(2, 3, 2, steps))) == [
        "2 people move, 3 times in all; 2 more have other company.",
        "",
        "Not here:",
        "  Cy: rounds 2 and 3",
        "",
        "New on court:",
        "  Flo: round 3 on Court 1",
        "",
        "Another place:",
        "  Bo: round 3 rests; other people in round 2",
        "  Di: rounds 2 and 3 on Court 2",
        "",
        "Same place, other partner or opponents:",
        "  Ana: round 2 with Bo against Cy and Di",
        "  Ed: rounds 2 and 3",
    ]


def test_where_people_are_just_seated_nobody_is_said_to_stay() -> None:
    """A round seated from results is news for everybody, and moves nobody."""
    steps = (Step("Ana", 2, Why.SEATED, "Court 1", "with Bo against Cy and Di"),)
    assert list(read_out(Moved(0, 0, 0, steps))) == ["Seated now:", "  Ana: round 2 on Court 1"]


def test_numbers_are_told_in_whole_words() -> None:
    """Nobody moves, one does, one more has other company: no "more" where nobody moves."""
    assert Moved(0, 0, 0).sentence == "nobody moves"
    assert Moved(0, 0, 1).sentence == "nobody moves; 1 has other company"
    assert Moved(1, 2, 1).sentence == "1 person moves, 2 times in all; 1 more has other company"
