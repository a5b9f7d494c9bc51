"""Whole sets tapped on the page in Chromium, what it then says held against the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from exporter_plans import make_plan
from page_driver import Phone
from selenium.webdriver.support.ui import WebDriverWait

from scheduler.domain.event import Kind, Player
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.domain.plan import Match, Plan
from scheduler.domain.score_text import SetScore, read_score_line
from scheduler.exporters.view import make_view
from scheduler.rules.choices import choose_deuce_receiver, choose_server, next_set
from scheduler.rules.play import play
from scheduler.rules.score_words import call, written_points
from scheduler.rules.scoring import is_deciding_point, winner_of
from scheduler.rules.serving import choose_half, next_serve
from scheduler.rules.state import Half, SetState, Team, rules_of, start_set

HALVES = {Half.DEUCE: "the right half (deuce)", Half.AD: "the left half (ad)"}
TIE_BREAK_IN_THE_RULES = (  # ITF Rules 5b, 10, 14, 15, 17 worked by hand: A1 due to serve
    ("A1", "deuce", "B1", False), ("B1", "ad", "A2", False), ("B1", "deuce", "A1", False),
    ("A2", "ad", "B2", False), ("A2", "deuce", "B1", False), ("B2", "ad", "A2", True),
    ("B2", "deuce", "A1", False), ("A1", "ad", "B2", False), ("A1", "deuce", "B1", False),
    ("B1", "ad", "A2", False), ("B1", "deuce", "A1", False), ("A2", "ad", "B2", True),
)  # fmt: skip


def small_plan(form: SetFormat = SetFormat.TIE_BREAK, game: GameFormat = GameFormat.AD) -> Plan:
    """Return a plan of one match, A1 and A2 against B1 and B2, in the order A1 B1 A2 B2."""
    plan = make_plan(4, 1, 0, 1, set_format=form)
    people = tuple(Player(name, 5.0, group) for name, group in zip(NAMES, "MWMW", strict=True))
    match = Match("Court 1", ("A1", "A2"), ("B1", "B2"), ("A1", "B1", "A2", "B2"), ("A1", "B1"))
    rounds = (replace(plan.rounds[0], courts=(match,), resting=(), absent=()),)
    return replace(plan, event=replace(plan.event, players=people, game_format=game), rounds=rounds)


NAMES = ("A1", "A2", "B1", "B2")


def start(form: SetFormat = SetFormat.TIE_BREAK, game: GameFormat = GameFormat.AD) -> SetState:
    """Return the rules' own set of the plan's only match."""
    return start_set(rules_of(form, game), ("A1", "A2"), ("B1", "B2"))


SAYS = """
const said = (id) => document.getElementById(id).innerText.trim();
return {
  cells: [...document.querySelectorAll("#k-board td")].map((cell) => cell.innerText),
  serve: said("k-serve"), where: said("k-where"), ends: said("k-ends"), call: said("k-call"),
};
"""


def compare(phone: Phone, state: SetState, *, moved: bool) -> None:
    """Hold what the page says at a score against the rules."""
    says = phone.run(SAYS)
    assert says["cells"][1::3] == [str(games) for games in state.games]
    assert (says["ends"] == "Change ends now.") == moved
    if winner_of(state) is not None:
        assert "won the set" in says["serve"]
        return
    assert says["cells"][2::3] == written_points(state).split("-")
    if is_deciding_point(state) and state.chosen_half is None:
        assert says["serve"] == f"{state.queue[0]} serves; the receivers choose the half"
        return
    serve = next_serve(state)
    assert says["serve"] == f"{serve.server} serves to {serve.receiver}"
    assert says["where"] == f"From {HALVES[serve.half]}, {serve.end} end."
    assert says["call"] == ("" if state.in_tie_break else call(state))


def tap_through(phone: Phone, state: SetState, taps: str) -> Iterator[SetState]:
    """Tap point after point, comparing every time, and yield each state."""
    for tap in taps:
        before = state
        if tap in "da":
            state = choose_half(state, Half.DEUCE if tap == "d" else Half.AD)
            phone.tap(f"#k-half{0 if tap == 'd' else 1}")
        else:
            state = play(state, Team(int(tap)))
            phone.tap(f"#k-point{tap}")
        compare(phone, state, moved=before.ends != state.ends)
        yield state


def last(states: Iterator[SetState]) -> SetState:
    """Return the last of the states."""
    *_, final = states
    return final


def test_an_ordinary_set(opened: Callable[..., Phone]) -> None:
    """A 6-1 with deuces and advantages, tapped point by point, agrees throughout."""
    phone = opened(small_plan())
    phone.keep_score("R1C1")
    compare(phone, start(), moved=False)
    taps = "0000" + "01010101" + "0100" + "1111" + "0000" * 4 + "0"
    final = last(tap_through(phone, start(), taps[:-1]))
    assert final.games == (6, 1)
    assert read_score_line(phone.text("#k-line")).sets == (SetScore(6, 1),)


def test_a_set_that_ends_by_tie_break(opened: Callable[..., Phone]) -> None:
    """At 6-6 a tie-break is played; its twelve points go as worked by hand."""
    phone = opened(small_plan())
    phone.keep_score("R1C1")
    state = last(tap_through(phone, start(), ("0000" + "1111") * 6))
    for tap, (server, half, receiver, changes) in zip(
        "010101010100", TIE_BREAK_IN_THE_RULES, strict=True
    ):
        assert phone.text("#k-serve") == f"{server} serves to {receiver}"
        assert phone.text("#k-where").startswith(f"From {HALVES[Half(half)]}")
        before = state
        state = last(tap_through(phone, state, tap))
        assert (before.ends != state.ends) == changes
    assert state.games == (7, 6)
    assert read_score_line(phone.text("#k-line")).sets == (SetScore(7, 6, 5),)


def test_a_short_set(opened: Callable[..., Phone]) -> None:
    """A short set is over at 4-1."""
    phone = opened(small_plan(SetFormat.SHORT))
    phone.keep_score("R1C1")
    taps = "0000" + "1111" + "0000" * 3
    assert last(tap_through(phone, start(SetFormat.SHORT), taps)).games == (4, 1)


def test_no_ad_asks_for_the_half(opened: Callable[..., Phone]) -> None:
    """At 40-40 the receivers are asked for the half; no point counts before they choose."""
    phone = opened(small_plan(game=GameFormat.NO_AD))
    phone.keep_score("R1C1")
    state = last(tap_through(phone, start(game=GameFormat.NO_AD), "010101"))
    assert not phone.find("#k-point0").is_enabled()
    assert phone.text("#k-half0") == "B1 receives, the right half (deuce)"
    assert phone.text("#k-half1") == "B2 receives, the left half (ad)"
    state = last(tap_through(phone, state, "a0"))
    assert state.games == (1, 0)
    state = last(tap_through(phone, state, "000111d1" + "0000" * 5))
    assert state.games == (6, 1)
    assert not phone.find("#k-half").is_displayed()


def test_mixed_no_ad_leaves_no_choice(opened: Callable[..., Phone]) -> None:
    """In mixed doubles the receiver of the server's group receives (appendix, no-ad)."""
    plan = small_plan(game=GameFormat.NO_AD)
    people = [replace(p, group=g) for p, g in zip(plan.event.players, "MWWM", strict=True)]
    plan = replace(
        plan,
        event=replace(plan.event, players=tuple(people)),
        rounds=(replace(plan.rounds[0], kind=Kind.MIXED),),
    )
    phone = opened(plan)
    phone.keep_score("R1C1")
    for tap in "010101":
        phone.tap(f"#k-point{tap}")
    assert phone.text("#k-serve") == "A1 serves to B2"  # A1 and B2 are of group M
    assert phone.text("#k-where") == "From the left half (ad), near end."
    assert phone.find("#k-point0").is_enabled()


def test_orders_are_asked_for_at_a_new_set(opened: Callable[..., Phone]) -> None:
    """A new set opens with the choices of Rules 14 and 15, and obeys them."""
    phone = opened(small_plan())
    phone.keep_score("R1C1")
    state = next_set(last(tap_through(phone, start(), "0000" * 6)))
    phone.tap("#k-formats button")
    compare(phone, state, moved=False)
    assert phone.find("#k-choices").get_attribute("open")
    for choice in ("server0-1", "server1-1", "deuce0-1", "deuce1-1"):
        phone.tap(f"#c-{choice}")
    state = choose_server(state, Team.A, "A2")
    state = choose_deuce_receiver(state, Team.A, "A2")
    state = choose_deuce_receiver(state, Team.B, "B2")
    compare(phone, state, moved=False)
    state = last(tap_through(phone, state, "0000"))
    compare(phone, choose_server(state, Team.B, "B2"), moved=True)
    assert not phone.driver.find_elements("id", "c-server0-0")  # A has served: too late
    assert phone.driver.find_elements("id", "c-server1-0")  # B may still choose


def test_toss_may_turn_all_round(opened: Callable[..., Phone]) -> None:
    """Before the first point the toss may give the serve to team B and the far end (Rule 9)."""
    phone = opened(small_plan())
    phone.keep_score("R1C1")
    phone.tap("#k-choices summary")
    phone.tap("#c-first-1")
    phone.tap("#c-end-1")
    assert phone.text("#k-serve") == "B1 serves to A1"
    assert phone.text("#k-where") == "From the right half (deuce), far end."
    phone.tap("#k-point1")
    assert not phone.driver.find_elements("id", "c-first-0")


def test_undo_takes_back_one_tap_at_a_time(opened: Callable[..., Phone]) -> None:
    """Undo goes back point by point, over a game's end and over a chosen half."""
    phone = opened(small_plan(game=GameFormat.NO_AD))
    phone.keep_score("R1C1")
    states = [start(game=GameFormat.NO_AD)]
    states += tap_through(phone, states[0], "010101a000")
    for state in reversed(states[:-1]):
        phone.tap("#k-undo")
        taken = phone.text("#k-serve")
        if not (is_deciding_point(state) and state.chosen_half is None):
            assert taken == f"{next_serve(state).server} serves to {next_serve(state).receiver}"
    assert not phone.find("#k-undo").is_enabled()


def test_scores_survive_a_reload_and_are_kept_by_plan(opened: Callable[..., Phone]) -> None:
    """A reload keeps the score; another plan's page starts with none."""
    plan = small_plan()
    phone = opened(plan)
    phone.keep_score("R1C1")
    state = last(tap_through(phone, start(), "0000" + "01"))
    phone.driver.refresh()
    phone.keep_score("R1C1")
    compare(phone, state, moved=False)
    stored = phone.run("return Object.keys(localStorage)")
    assert stored == [f"rota {make_view(plan).plan_id} scores"]


def test_scores_are_copied_out_as_lines_that_can_be_read(opened: Callable[..., Phone]) -> None:
    """Each match with a score is one line that `read_score_line` reads."""
    plan = make_plan(16, 3, 0, 2)
    phone, view = opened(plan), make_view(plan)
    for key, games in (("R1C1", "0" * 6), ("R2C3", "1" * 3), ("R1C2", "1" * 6 + "0")):
        phone.keep_score(key)
        phone.run("document.querySelectorAll('#keeper details').forEach((d) => { d.open = true; })")
        for team in games[:6]:
            phone.tap(f"#k-game{team}")
        if len(games) > 6:
            phone.tap("#k-formats button:last-child")
            for _ in range(3):
                phone.tap("#k-point0")
        phone.tap("#k-close")
    phone.show("scores")
    lines = [
        read_score_line(line) for line in phone.find("#lines").get_property("value").split("\n")
    ]
    assert [
        (line.plan_id, line.match, [str(s) for s in line.sets], line.mark) for line in lines
    ] == [
        (view.plan_id, "R1C1", ["6-0"], None),
        (view.plan_id, "R1C2", ["0-6", "3-0"], "unfinished"),
        (view.plan_id, "R2C3", ["0-3"], "unfinished"),
    ]
    first = next(iter(view.matches()))
    assert lines[0].comment == (
        f"{first.court}, round 1: {first.seats[0].person.label} & {first.seats[1].person.label}"
        f" / {first.seats[2].person.label} & {first.seats[3].person.label}"
    )
    assert phone.text('#scores [role="status"]') == ""
    phone.tap("#copy")
    WebDriverWait(phone.driver, 10).until(lambda _: phone.text("#copied") == "Copied.")


def test_a_retirement_is_marked(opened: Callable[..., Phone]) -> None:
    """The mark chosen stands in the line in the words the workbook uses."""
    phone = opened(small_plan())
    phone.keep_score("R1C1")
    phone.run("document.querySelectorAll('#keeper details').forEach((d) => { d.open = true; })")
    phone.tap("#k-game0")
    phone.tap('#k-mark option[value="B retired"]')
    line = read_score_line(phone.text("#k-line"))
    assert (line.sets, line.mark) == ((SetScore(1, 0),), "B retired")
