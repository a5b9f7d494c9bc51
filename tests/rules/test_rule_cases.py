"""Rule cases kept as data, each against the set's state machine.

The cases were written from the ITF Rules of Tennis by rule number, its
appendix on alternative procedures and scoring methods, and published
commentary; each says how far it is known.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from doubles_cases import FOLDER, STATUSES, at, cases, start, team, title

from scheduler.domain.formats import SetFormat
from scheduler.rules.choices import (
    TooLateToChoose,
    choose_deuce_receiver,
    choose_server,
    next_set,
    next_to_serve,
)
from scheduler.rules.play import SetIsOver, play, play_game
from scheduler.rules.position import ImpossibleScore, after_games, after_points, refuse_finished
from scheduler.rules.score_words import call, read_games, with_points, written_points
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import HalfNotChosen, choose_half, mixed_half, next_serve
from scheduler.rules.state import Half, Team
from scheduler.rules.tables import game_rows, tie_break_rows
from scheduler.rules.toss import Choice, left_to_the_other, toss


def test_every_case_names_its_rule_and_status():
    """Each row of each file carries a rule and one of the known marks, spelled out."""
    files = sorted(FOLDER.glob("*.json"))
    assert len(files) == 11
    for path in files:
        for case in cases(path.stem):
            assert case["rule"], path.name
            assert case["status"] in STATUSES, (path.name, case)


@pytest.mark.parametrize("case", cases("twelve_games"), ids=title)
def test_game_of_a_set(case):
    """Server, end, receivers and end change of each of the twelve games of a worked set."""
    row = game_rows(start())[case["game"] - 1]
    state = after_games(start(), (case["game"] // 2, (case["game"] - 1) // 2))
    assert row.game == case["game"]
    assert (row.server, row.server_end) == (case["server"], case["server_end"])
    assert (row.deuce_receiver, row.ad_receiver) == (case["deuce_receiver"], case["ad_receiver"])
    assert row.change_ends_after is case["change_ends_after"]
    assert state.ends[Team.A] == case["team_a_end"]


@pytest.mark.parametrize("changes", ["six", "first then four"])
@pytest.mark.parametrize("case", cases("tie_break_points"), ids=title)
def test_point_of_a_tie_break(case, changes):
    """Server, half, receiver, end and change mark of each of 24 points, either way of changing."""
    row = tie_break_rows(start(end_changes=changes))[case["point"] - 1]
    suffix = changes.replace(" ", "_")
    assert (row.point, row.server) == (case["point"], case["server"])
    assert (row.half, row.receiver) == (case["half"], case["receiver"])
    assert row.server_end == case[f"end_{suffix}"]
    assert row.change_ends_after is case[f"change_{suffix}"]


@pytest.mark.parametrize("changes", ["six", "first then four"])
@pytest.mark.parametrize("case", cases("after_tie_break"), ids=title)
def test_next_set_after_a_tie_break(case, changes):
    """Ends after a tie-break depend on its length, and its opener receives in the next set."""
    won, lost = case["score"]
    suffix = changes.replace(" ", "_")
    last = after_points(after_games(start(end_changes=changes), (6, 6)), (won - 1, lost))
    assert last.ends[Team.A] == case[f"end_last_{suffix}"]
    over = play(last, Team.A)
    assert over.games == (7, 6)
    assert next_set(over).ends[Team.A] == case[f"end_next_{suffix}"]
    assert next_to_serve(over) is team(case["serves_first_next"])
    assert next_serve(next_set(over)).server[0] == case["serves_first_next"]


@pytest.mark.parametrize("case", cases("after_set"), ids=title)
def test_next_set_after_games_alone(case):
    """Last server, ends and the next set's first team after every score without a tie-break."""
    won, lost = case["score"]
    last = after_games(start(case["set"]), (won - 1, lost))
    assert next_serve(last).server == case["last_server"]
    assert last.ends[Team.A] == case["end_last"]
    over = play_game(last, Team.A)
    assert sum(over.games) == case["games"]
    assert (over.ends != last.ends) is case["change_at_set_end"]
    after = next_set(over)
    assert after.ends[Team.A] == case["end_next"]
    assert next_to_serve(over) is team(case["serves_first_next"])
    assert play_game(after, Team.A).ends != after.ends


@pytest.mark.parametrize("case", cases("set_scores"), ids=title)
def test_set_score(case):
    """A score in games ends the set, lets it go on, or cannot come about, as the rules say."""
    begun, games = start(case["set"]), tuple(case["score"])
    if case["result"] == "cannot happen":
        with pytest.raises(ImpossibleScore, match="cannot happen"):
            after_games(begun, games)
    elif case["result"] == "over":
        over = after_games(begun, games)
        assert winner_of(over) is (Team.A if games[0] > games[1] else Team.B)
        with pytest.raises(ImpossibleScore, match="the set is over"):
            refuse_finished(over)
        with pytest.raises(SetIsOver):
            play(over, Team.A)
    else:
        assert winner_of(refuse_finished(after_games(begun, games))) is None


@pytest.mark.parametrize("case", cases("points"), ids=title)
def test_points(case):
    """Points as written are called with the server's side first, or refused with a reason."""
    state = after_games(start(case["set"], case["game"]), tuple(case["games"]))
    if case["result"] == "cannot happen":
        with pytest.raises(ImpossibleScore, match=case["why"]):
            with_points(state, case["points"])
    else:
        reached = with_points(state, case["points"])
        assert call(reached) == case["result"]
        assert written_points(reached) == case["points"]


@pytest.mark.parametrize("case", cases("corner_points"), ids=title)
def test_corner_point(case):
    """Points that are easy to get wrong are served by, from and to the right ones."""
    serve = next_serve(at(case))
    found = {"server": serve.server, "half": serve.half, "receiver": serve.receiver}
    found["end"] = serve.end
    for key in found.keys() & case.keys():
        assert found[key] == case[key]


@pytest.mark.parametrize("case", cases("no_ad"), ids=title)
def test_deciding_point(case):
    """The half of a no-ad deciding point is chosen, in mixed doubles given by who serves."""
    state = with_points(after_games(start(game="no-ad"), tuple(case["games"])), "40-40")
    with pytest.raises(HalfNotChosen):
        next_serve(state)
    half = Half(case["chosen_half"]) if "chosen_half" in case else mixed_half(state, case["groups"])
    serve = next_serve(choose_half(state, half))
    assert (serve.server, serve.receiver, serve.half) == (
        case["server"],
        case["receiver"],
        case["half"],
    )
    for winner in Team:
        assert sum(play(choose_half(state, half), winner).games) == sum(state.games) + 1


@pytest.mark.parametrize("case", cases("choices"), ids=title)
def test_choice_of_order_and_sides(case):
    """A team may choose its server and sides up to its own first turn of the set, not later."""
    games, points = case["when"]
    state = at({"set": case.get("set", "tie-break set"), "games": games, "points": points})
    choose = choose_server if case["choose"] == "server" else choose_deuce_receiver
    side, player = team(case["team"]), case["team"] + "2"
    if not case["open"]:
        with pytest.raises(TooLateToChoose):
            choose(state, side, player)
        return
    changed = choose(state, side, player)
    if case["choose"] == "server":
        turns = [name for name in changed.queue if name[0] == case["team"]]
        assert turns == [player, case["team"] + "1"]
        assert replace(changed, queue=state.queue) == state
    else:
        assert changed.deuce_receivers[side] == player
        assert replace(changed, deuce_receivers=state.deuce_receivers) == state


def test_choices_are_independent():
    """Serving order and receiving sides are free of each other: four legal ways (14, 15)."""
    seen = set()
    for server in ("A1", "A2"):
        for receiver in ("A1", "A2"):
            state = choose_server(start(), Team.A, server)
            state = choose_deuce_receiver(state, Team.A, receiver)
            seen.add((next_serve(state).server, next_serve(play_game(state, Team.A)).receiver))
    assert len(seen) == 4


def test_choice_of_a_stranger_is_refused():
    """Nobody outside the team can be chosen to serve or receive for it."""
    for choose in (choose_server, choose_deuce_receiver):
        with pytest.raises(ValueError, match="not of that team"):
            choose(start(), Team.A, "B1")
        with pytest.raises(ValueError, match="not one of the four"):
            choose(start(), Team.A, "C1")


@pytest.mark.parametrize("case", cases("toss"), ids=title)
def test_toss(case):
    """What the winner takes, what that leaves, and who serves from where in the end (Rule 9)."""
    choices = tuple(Choice(word) for word in case["choices"])
    if "left" in case:
        assert list(left_to_the_other(choices[0])) == case["left"]
    if "serves" in case:
        result = toss(team(case["winner"]), choices)
        assert (result.serves, list(result.ends)) == (team(case["serves"]), case["ends"])
    if "refused" in case:
        with pytest.raises(ValueError, match=r"not open|still to choose"):
            toss(team(case["winner"]), choices)


def test_no_choice_of_half_without_a_deciding_point():
    """The half is chosen only at 40-40 of a no-ad game."""
    for state in (start(), with_points(start(), "40-40")):
        with pytest.raises(ValueError, match="only for the deciding point"):
            choose_half(state, Half.AD)


def test_mixed_half_needs_one_of_each_group():
    """Two receivers of the server's gender leave the half of a mixed deciding point open."""
    state = with_points(start(game="no-ad"), "40-40")
    with pytest.raises(ValueError, match="one player of each group"):
        mixed_half(state, {"A1": "m", "A2": "w", "B1": "m", "B2": "m"})


def test_games_are_read_in_the_usual_spellings():
    """Hyphen, dash and colon all part the two numbers; anything else is refused in words."""
    assert read_games("4-3") == read_games(" 4 \N{EN DASH} 3 ") == read_games("4:3") == (4, 3)
    for wrong in ("4", "x-3", "4-3-2", "-1-3", ""):
        with pytest.raises(ImpossibleScore, match="two numbers"):
            read_games(wrong)


def test_a_slip_of_the_finger_does_not_run_for_ever():
    """A score beyond any set ever played is refused at once."""
    with pytest.raises(ImpossibleScore):
        after_games(start("timed"), (10**9, 3))
    with pytest.raises(ImpossibleScore):
        after_points(after_games(start(), (6, 6)), (10**9, 10**9))


def test_formats_without_a_tie_break_have_no_tie_break_rows():
    """An advantage set and a timed round list twelve games and no tie-break point."""
    for set_format in ("advantage set", "timed"):
        assert len(game_rows(start(set_format))) == 12
        assert tie_break_rows(start(set_format)) == ()


def test_rows_listed_for_each_format():
    """Games run to the last before the tie-break, and a tie-break shows 24 points."""
    for set_format in SetFormat:
        level = set_format.tie_break_at
        if level is not None:
            assert len(game_rows(start(set_format))) == 2 * level
            assert len(tie_break_rows(start(set_format))) == 24
        if set_format.only_tie_break_to is not None:
            assert game_rows(start(set_format)) == ()
            assert len(tie_break_rows(start(set_format))) == 24
