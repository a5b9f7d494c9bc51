"""Standings: worked by hand, and sums that must hold whatever is played."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.formats import SetFormat
from scheduler.domain.score_text import Mark, read_sets
from scheduler.results import Order, PlayedMatch, Standing, standings


def match(text: str, score: str, mark: Mark | None = None, evening: int = 1) -> PlayedMatch:
    """Return a match written as "AB CD", people being letters."""
    a, b = text.split()
    return PlayedMatch(
        evening, f"R1C{ord(a[0])}", (a[0], a[1]), (b[0], b[1]), read_sets(score), mark
    )


def places(found: tuple[Standing, ...]) -> list[tuple[int, str]]:
    """Return place and name of every line."""
    return [(line.place, line.player) for line in found]


def test_one_evening_worked_by_hand() -> None:
    """Three matches of four people, added up on paper."""
    found = standings([match("AB CD", "6-4"), match("AC BD", "6-1"), match("AD BC", "3-6")])
    by_name = {line.player: line for line in found}
    assert places(found) == [(1, "C"), (2, "A"), (3, "B"), (4, "D")]
    assert (by_name["A"].matches_won, by_name["A"].games_won, by_name["A"].games_lost) == (
        2,
        15,
        11,
    )
    assert (by_name["C"].matches_won, by_name["C"].games_won, by_name["C"].games_lost) == (
        2,
        16,
        10,
    )
    assert (by_name["D"].matches_won, by_name["D"].matches_lost) == (0, 3)


def test_head_to_head_goes_before_games_where_all_met() -> None:
    """A and B won two each; B won more games, but A won more of their meetings."""
    played = [
        match("AC BD", "6-4"),  # A over B
        match("AD BC", "6-4"),  # A over B
        match("BC AD", "6-0"),  # B over A
        match("BE FG", "6-0"),
        match("FG AE", "6-5", Mark.UNFINISHED),
    ]
    found = {line.player: line for line in standings(played)}
    assert found["A"].matches_won == found["B"].matches_won == 2
    assert found["B"].games_difference > found["A"].games_difference
    assert found["A"].place < found["B"].place


def test_head_to_head_is_left_out_where_some_never_met() -> None:
    """A beat B, but C, level with both, met neither: games decide."""
    played = [match("AX BY", "6-5", Mark.B_RETIRED), match("BU VW", "6-0"), match("CP QR", "6-3")]
    found = {line.player: line for line in standings(played)}
    assert found["B"].place < found["C"].place < found["A"].place


def test_people_level_on_everything_share_the_place() -> None:
    """Partners of one match share places 1 and 3."""
    assert places(standings([match("AB CD", "6-4")])) == [
        (1, "A"), (1, "B"), (3, "C"), (3, "D"),
    ]  # fmt: skip


def test_unfinished_counts_games_and_retired_counts_for_the_others() -> None:
    """Common practice, no source; the same as the evening's workbook does."""
    found = {
        line.player: line
        for line in standings(
            [match("AB CD", "5-2", Mark.UNFINISHED), match("AC BD", "5-0", Mark.A_RETIRED)]
        )
    }
    assert (found["A"].matches_won, found["A"].matches_lost, found["A"].neither) == (0, 1, 1)
    assert (found["B"].matches_won, found["B"].games_won, found["B"].games_lost) == (1, 5, 7)


def test_share_is_fair_to_unequal_numbers_of_matches() -> None:
    """Laplace's rule: 8 of 10 (9/12) goes before 1 of 1 (2/3) and 12 of 30 (13/32)."""
    played = [match("AX YZ", "6-4")] * 8 + [match("AX YZ", "4-6")] * 2
    played += [match("BU VW", "6-4")] + [match("CP QR", "6-4")] * 12 + [match("CP QR", "4-6")] * 18
    by_share = {line.player: line for line in standings(played, Order.SHARE)}
    by_won = {line.player: line for line in standings(played)}
    assert by_share["A"].place < by_share["B"].place < by_share["C"].place
    assert by_won["C"].place < by_won["A"].place < by_won["B"].place
    assert by_share["A"].matches_share == 9 / 12


def test_points_stand_for_games_where_a_tie_break_is_all() -> None:
    """A match tie-break 10-8 counts 10 points to 8 and one set."""
    tie_break = PlayedMatch(
        1, "R1C1", ("A", "B"), ("C", "D"), read_sets("10-8"), None, SetFormat.MATCH_TIE_BREAK_10
    )
    first = standings([tie_break])[0]
    assert (first.games_won, first.games_lost, first.sets_won) == (10, 8, 1)


@st.composite
def evenings(draw: st.DrawFn) -> list[PlayedMatch]:
    """Return matches of up to eight people with any scores."""
    rng = random.Random(draw(st.integers(0, 10**6)))
    played = []
    for _ in range(draw(st.integers(1, 12))):
        four = "".join(rng.sample("ABCDEFGH", 4))
        mark = rng.choice([None, None, *Mark])
        played.append(
            match(f"{four[:2]} {four[2:]}", f"{rng.randint(0, 7)}-{rng.randint(0, 7)}", mark)
        )
    return played


@given(evenings(), st.sampled_from(list(Order)))
def test_sums_hold_and_order_does_not_depend_on_the_order_of_matches(
    played: list[PlayedMatch], order: Order
) -> None:
    """Wins equal losses, games won games lost; places follow the stated first criterion."""
    found = standings(played, order)
    assert sum(line.matches_won for line in found) == sum(line.matches_lost for line in found)
    assert sum(line.games_won for line in found) == sum(line.games_lost for line in found)
    assert sum(line.matches for line in found) == 4 * len(played)
    assert found == standings(played[::-1], order)
    first = [line.matches_share if order is Order.SHARE else line.matches_won for line in found]
    assert first == sorted(first, reverse=True)
    assert [line.place for line in found] == sorted(line.place for line in found)
