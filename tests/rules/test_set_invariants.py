"""What holds in every set, whatever is played: random points, formats and errors."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from doubles_cases import start
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.rules.choices import choose_deuce_receiver, choose_server
from scheduler.rules.corrections import wrong_receivers, wrong_server, wrong_server_all_game
from scheduler.rules.match import match_winner, play_point, start_match, with_set
from scheduler.rules.play import play
from scheduler.rules.scoring import is_deciding_point, winner_of
from scheduler.rules.serving import choose_half, next_serve, server_of, serving_team
from scheduler.rules.state import Half, SetState, Team, rules_of

FINAL_SCORES = {  # loser's games by winner's; Rule 6 and the appendix on alternative scoring
    SetFormat.TIE_BREAK: {6: {0, 1, 2, 3, 4}, 7: {5, 6}},
    SetFormat.SHORT: {4: {0, 1, 2}, 5: {3, 4}},
    SetFormat.SHORT_3_3: {4: {0, 1, 2, 3}},
    SetFormat.PRO: {8: {0, 1, 2, 3, 4, 5, 6}, 9: {7, 8}},
    SetFormat.MATCH_TIE_BREAK_10: {1: {0}},
    SetFormat.MATCH_TIE_BREAK_7: {1: {0}},
}

streams = st.lists(st.sampled_from(list(Team)), min_size=20, max_size=400)
close = st.lists(  # long, even sets: a team that is ahead tends to lose the next point
    st.permutations([Team.A, Team.B]).map(list), min_size=100, max_size=250
).map(lambda pairs: [team for pair in pairs for team in pair])
points_won = st.one_of(streams, close)
formats = st.sampled_from(list(SetFormat))
any_game = st.sampled_from(list(GameFormat))
any_change = st.sampled_from(list(EndChanges))


def walk(state: SetState, winners: Iterable[Team]) -> list[SetState]:
    """Return every state of a set from one on, up to its end or that of the points."""
    states = [state]
    for winner in winners:
        if winner_of(state) is not None:
            break
        state = play(state, winner)
        states.append(state)
    return states


def ready(state: SetState) -> SetState:
    """Return the state with a half chosen where one is due."""
    return choose_half(state, Half.AD) if is_deciding_point(state) else state


def playing(states: list[SetState]) -> list[SetState]:
    """Return the states before which a point is played."""
    return [ready(state) for state in states if winner_of(state) is None]


@given(formats, any_game, points_won)
def test_teams_alternate_games(set_format, game, winners):
    """The two teams serve games in turn, and nobody serves two games of four (Rule 14)."""
    servers = game_servers(walk(start(set_format, game), winners))
    for index, server in enumerate(servers):
        assert server[0] == "AB"[index % 2]
        if index >= 4:
            assert server == servers[index - 4]
    assert len(set(servers[:4])) == len(servers[:4])


def game_servers(states: list[SetState]) -> list[str]:
    """Return the server of each game's first point; a tie-break's opener is the last."""
    return [
        server_of(state) for state in states if state.points == (0, 0) and winner_of(state) is None
    ]


@given(formats, any_game, any_change, points_won)
def test_each_player_receives_on_one_side(set_format, game, changes, winners):
    """Nobody ever receives in both halves within a set (Rule 15)."""
    halves: dict[str, set[Half]] = {}
    for state in playing(walk(start(set_format, game, changes), winners)):
        serve = next_serve(state)
        halves.setdefault(serve.receiver, set()).add(serve.half)
    assert all(len(seen) == 1 for seen in halves.values())


def server_ends(states: list[SetState], *, tie_breaks: bool) -> dict[str, set[str]]:
    """Return the ends each player has served from, in games or in tie-breaks."""
    ends: dict[str, set[str]] = {}
    for state in states:
        if state.in_tie_break is tie_breaks:
            serve = next_serve(state)
            ends.setdefault(serve.server, set()).add(serve.end)
    return ends


@given(formats, any_game, any_change, points_won)
def test_each_player_serves_games_from_one_end(set_format, game, changes, winners):
    """In the standard games of a set everybody always serves from one end (Rules 10, 14)."""
    ends = server_ends(playing(walk(start(set_format, game, changes), winners)), tie_breaks=False)
    assert all(len(seen) == 1 for seen in ends.values())


@given(st.sampled_from([f for f in SetFormat if f.tie_break_at]), points_won)
def test_each_player_keeps_that_end_in_a_tie_break_of_first_then_four(set_format, winners):
    """With changes after one point and then every four the serving end never changes."""
    states = playing(walk(level_set(set_format, "first then four"), winners))
    games = server_ends(playing(walk_level(set_format, "first then four")), tie_breaks=False)
    for name, seen in server_ends(states, tie_breaks=True).items():
        assert seen == games[name]


@given(st.sampled_from([f for f in SetFormat if f.tie_break_at]), points_won)
def test_somebody_changes_serving_end_in_a_tie_break_of_six(set_format, winners):
    """With changes every six points the second server already serves from the other end."""
    states = playing(walk(level_set(set_format, "six"), winners))
    games = server_ends(playing(walk_level(set_format, "six")), tie_breaks=False)
    moved = server_ends(states, tie_breaks=True)
    assert any(seen != games[name] for name, seen in moved.items())


def walk_level(set_format: SetFormat, changes: str) -> list[SetState]:
    """Return the states of a set in which games are won in turn up to its tie-break."""
    assert set_format.tie_break_at is not None
    winners = [Team.A] * 4 + [Team.B] * 4
    return walk(start(set_format, "ad", changes), winners * set_format.tie_break_at)


def level_set(set_format: SetFormat, changes: str) -> SetState:
    """Return the set at the start of its tie-break."""
    return walk_level(set_format, changes)[-1]


@given(formats, any_game, points_won)
def test_a_set_ends_exactly_when_the_rules_say(set_format, game, winners):
    """A set is over at the scores the rules name and at no other."""
    for state in walk(start(set_format, game), winners):
        high, low = max(state.games), min(state.games)
        if set_format is SetFormat.TIMED:
            over = False
        elif set_format is SetFormat.ADVANTAGE:
            over = (high == 6 and low <= 4) or (high > 6 and high - low == 2)
        else:
            over = low in FINAL_SCORES[set_format].get(high, set())
        assert (winner_of(state) is not None) is over


@given(formats, any_game, points_won)
def test_scores_are_legal(set_format, game, winners):
    """Points in a game never go beyond 40 or one advantage, and games grow by one at a time."""
    states = walk(start(set_format, game), winners)
    for before, after in pairwise(states):
        grown = sum(after.games) - sum(before.games)
        assert grown in {0, 1}
        assert grown == 0 or after.points == (0, 0)
    for state in states:
        if not state.in_tie_break:
            assert max(state.points) <= 3 or sorted(state.points) == [3, 4]
        if game is GameFormat.NO_AD and not state.in_tie_break:
            assert max(state.points) <= 3
        if state.in_tie_break and max(state.points) > state.rules.tie_break_to:
            assert abs(state.points[0] - state.points[1]) <= 1


@given(formats, points_won, st.sampled_from(["A1", "A2", "B1", "B2"]), st.integers(0, 120))
def test_order_keeps_going_after_a_correction(set_format, winners, served_by, moment):
    """After any error of order teams still alternate and everybody serves every fourth turn."""
    states = walk(start(set_format), winners)
    before = states[min(moment, len(states) - 1)]
    if winner_of(before) is not None:
        return
    rule = wrong_server_all_game if sum(before.games) and before.points == (0, 0) else wrong_server
    after = rule(before, served_by).state
    assert (after.games, after.points, after.ends) == (before.games, before.points, before.ends)
    assert sorted(after.queue) == ["A1", "A2", "B1", "B2"]
    teams = [after.team_of(name) for name in after.queue]
    assert teams[0] is teams[2] is teams[1].other is teams[3].other
    servers = game_servers(walk(after, winners))
    for index in range(4, len(servers)):
        assert servers[index] == servers[index - 4]


@given(points_won, st.sampled_from(list(Team)), st.integers(0, 60))
def test_receiving_error_lasts_one_game(winners, team, moment):
    """A team that receives the wrong way round is straight again in the next game (27e)."""
    states = walk(start(), winners)
    before = states[min(moment, len(states) - 1)]
    if winner_of(before) is not None:
        return
    after = wrong_receivers(before, team).state
    straight = playing(walk(before, winners))
    for right, wrong in zip(straight, playing(walk(after, winners)), strict=True):
        same = next_serve(right).receiver == next_serve(wrong).receiver
        in_that_game = right.game_number == before.game_number
        assert same is not (in_that_game and serving_team(right) is not team)


@settings(max_examples=60)
@given(
    st.lists(st.sampled_from(list(Team)), min_size=100, max_size=700),
    st.booleans(),
    st.lists(st.booleans(), min_size=4, max_size=4),
)
def test_match_of_three(winners, with_match_tie_break, choices):
    """A match ends with the second set won; the first team alternates on from set to set."""
    deciding = SetFormat.MATCH_TIE_BREAK_10 if with_match_tie_break else SetFormat.TIE_BREAK
    match = start_match(start(), rules_of(deciding))
    for winner in winners:
        if match_winner(match) is not None:
            break
        sets_before = len(match.finished)
        match = play_point(match, winner)
        if len(match.finished) > sets_before and match_winner(match) is None:
            match = with_set(match, chosen_anew(match.current, choices))
            last = match.finished[-1]
            assert serving_team(match.current) is (
                first_team(match.finished)
                if sum(last.games) % 2 == 0
                else first_team(match.finished).other
            )
    assert max(match.sets_won) <= 2
    assert (match_winner(match) is not None) is (max(match.sets_won) == 2)
    if len(match.finished) == 3 and with_match_tie_break:
        assert sorted(match.finished[2].games) == [0, 1]


def chosen_anew(state: SetState, choices: list[bool]) -> SetState:
    """Return a new set with the order and sides the teams choose."""
    for team in Team:
        first, second = state.teams[team]
        state = choose_server(state, team, first if choices[team] else second)
        state = choose_deuce_receiver(state, team, first if choices[2 + team] else second)
        turns = [name for name in state.queue if state.team_of(name) is team]
        assert turns[0] == (first if choices[team] else second)
    return state


def first_team(finished: tuple[SetState, ...]) -> Team:
    """Return who served first in the last finished set, counted from all the games before it."""
    games_before = sum(sum(state.games) for state in finished[:-1])
    return Team.A if games_before % 2 == 0 else Team.B
