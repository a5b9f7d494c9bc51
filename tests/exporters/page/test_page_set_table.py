"""Tables of whole formats: small, and the same as the rules wherever scores are taken together."""

from __future__ import annotations

import json
import random

import pytest

from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.exporters.page.set_table import Open, set_table
from scheduler.rules.play import play
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import server_of
from scheduler.rules.state import Team, rules_of, start_set

ALL = [(form, game, ends) for form in SetFormat for game in GameFormat for ends in EndChanges]


@pytest.mark.parametrize("variant", ALL, ids=lambda v: f"{v[0]} {v[1]} {v[2]}")
def test_long_play_stays_with_the_rules(
    variant: tuple[SetFormat, GameFormat, EndChanges],
) -> None:
    """Server and ends agree through play that goes far beyond where scores are taken together."""
    rules, rng = rules_of(*variant), random.Random(str(variant))
    table = set_table(rules)
    for _ in range(10):
        state, row = start_set(rules, ("0", "2"), ("1", "3"), ends=("0", "1")), 0
        for point in range(600):
            look = table.looks[table.look_of[row]]
            assert look.turn == int(server_of(state))
            assert look.first_end == int(state.ends[0])
            close = point % 2 if rng.random() < 0.9 else rng.randrange(2)
            state, row = play(state, Team(close)), table.moves[row][close]
            if winner_of(state) is not None:
                assert table.overs[-1 - row].winner == winner_of(state)
                break
            assert row >= 0


def test_every_row_is_reached_and_leads_somewhere() -> None:
    """Moves stay inside the table, and every row but the start is entered from another."""
    for variant in ALL:
        table = set_table(rules_of(*variant))
        entered = {row for move in table.moves for row in move if row >= 0}
        assert entered | {0} == set(range(len(table.moves)))
        ends = {-1 - row for move in table.moves for row in move if row < 0}
        assert ends == set(range(len(table.overs)))


def test_a_table_travels_in_less_than_twenty_kilobytes() -> None:
    """The largest table, a pro set's, is below 20 kB as JSON."""
    sizes = [
        len(json.dumps(set_table(rules_of(*variant)).as_json(), separators=(",", ":")))
        for variant in ALL
    ]
    assert max(sizes) < 20_000


def test_choices_are_open_as_rules_14_and_15_have_it() -> None:
    """Before game 1 all is open; then the first servers are fixed, and after game 2 everything."""
    table = set_table(rules_of(SetFormat.TIE_BREAK))
    everything = Open(15)
    row, seen = 0, []
    for _ in range(3):
        seen.append(Open(table.looks[table.look_of[row]].open))
        row = table.moves[row][0]
        seen.append(Open(table.looks[table.look_of[row]].open))
        for _ in range(3):
            row = table.moves[row][0]
    later = Open.SECOND_SERVER | Open.FIRST_RECEIVER
    assert seen == [everything, later, later, Open(0), Open(0), Open(0)]
