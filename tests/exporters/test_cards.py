"""Serving-order cards: one a doubles match, and whoever follows one plays by the rules."""

from __future__ import annotations

import io
import random
import re

import pytest
from openpyxl import load_workbook

from scheduler.domain.codec import plan_to_dict
from scheduler.domain.event import Court, Event, Kind, Player, Round
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.domain.plan import Group, Match, Plan, PlannedRound
from scheduler.exporters.cards.content import Card, Tick, cards_of
from scheduler.exporters.cards.page import LAYOUTS, cards_page
from scheduler.exporters.cards.timed_goal import timed_goal
from scheduler.exporters.cards.workbook import cards_workbook
from scheduler.rules.order import serving_order
from scheduler.rules.play import play
from scheduler.rules.position import after_games
from scheduler.rules.scoring import winner_of
from scheduler.rules.serving import next_serve, server_of
from scheduler.rules.state import SetState, Team, rules_of, start_set

LONG = ("Bartholomew Featherstoneh", "Maximiliana Wetherspoon-Q", "Alexandrina Montgomery-Lu")
NAMES = (*LONG, "=HYPERLINK(1)", "Ana <b>", "Ben & Co", "李娜", "دنيا حسن")
COURTS = ("Court 1", "Court 2")


def plan_of(
    set_format: SetFormat = SetFormat.TIE_BREAK,
    game: GameFormat = GameFormat.AD,
    changes: EndChanges = EndChanges.SIX,
    kind: Kind = Kind.DOUBLES,
) -> Plan:
    """Return a plan with a drill and two rounds of two matches."""
    rounds = (Round(Kind.DRILL, 1080, 20), Round(kind, 1100, 25), Round(kind, 1125, 25))
    event = Event(
        name="Tuesday",
        start=1080,
        players=tuple(Player(name, 5.0) for name in NAMES),
        courts=tuple(Court(name) for name in COURTS),
        rounds=rounds,
        set_format=set_format,
        game_format=game,
        end_changes=changes,
    )
    drill = PlannedRound(
        1, Kind.DRILL, 1080, 20, (Group("Court 1", NAMES[:4]), Group("Court 2", NAMES[4:]))
    )
    return Plan(event, (drill, matches(2, kind, 1100, 1), matches(3, kind, 1125, 3)))


def matches(number: int, kind: Kind, start: int, step: int) -> PlannedRound:
    """Return a round of two matches, the people dealt out by a step."""
    seats = [NAMES[index * step % len(NAMES)] for index in range(len(NAMES))]
    found = []
    for court, four in zip(COURTS, (seats[:4], seats[4:]), strict=True):
        first, second = (four[0], four[1]), (four[2], four[3])
        order = serving_order(first, second)
        found.append(Match(court, first, second, order, (first[1], second[0])))
    return PlannedRound(number, kind, start, 25, tuple(found))


def state_of(plan: Plan, match: Match) -> SetState:
    """Return the match before its first point, by the plan alone."""
    a1, b1, a2, b2 = match.serving_order
    event = plan.event
    rules = rules_of(event.set_format, event.game_format, event.end_changes)
    return start_set(
        rules,
        (a1, a2),
        (b1, b2),
        deuce_receivers=(match.deuce_receivers[0], match.deuce_receivers[1]),
        ends=("start", "other"),
    )


def test_one_card_a_doubles_match():
    """Every match has its card, in playing order; drills have none."""
    cards = cards_of(plan_of())
    assert [card.key for card in cards] == ["R2C1", "R2C2", "R3C1", "R3C2"]
    assert [card.court for card in cards] == [*COURTS, *COURTS]


def test_cards_carry_the_plan_id():
    """Each card names the plan it was made from."""
    plan = plan_of()
    identity = plan_to_dict(plan)["id"]
    assert all(identity in card.identity for card in cards_of(plan))
    page = cards_page(plan).decode()
    assert page.count(identity) == 4


def boxes(ticks_by_name: list[tuple[str, tuple[Tick, ...]]]) -> list[tuple[str, Tick]]:
    """Return who serves each box, read as a player reads: lowest number first."""
    flat = [(name, tick) for name, ticks in ticks_by_name for tick in ticks]
    return sorted(flat, key=lambda box: box[1].number)


@pytest.mark.parametrize("changes", list(EndChanges))
@pytest.mark.parametrize("set_format", list(SetFormat))
def test_a_set_played_by_the_card_is_played_by_the_rules(set_format, changes):
    """Server, receiver, half, ends and changes read off the card are those of the rules.

    A hundred sets a format, points won by chance; the reader knows nothing but
    the card and that the serve goes crosswise (ITF Rules 5b, 10, 14, 15, 17).
    """
    plan = plan_of(set_format, GameFormat.NO_AD, changes)
    cards = cards_of(plan)
    chance = random.Random(f"{set_format} {changes}")
    compared = 0
    for _ in range(25):
        for card, (_, match) in zip(cards, plan.matches(), strict=True):
            compared += follow(card, state_of(plan, match), chance)
    assert compared > 1000


def follow(card: Card, state: SetState, chance: random.Random) -> int:
    """Play a set by a card beside the rules and return how many points were compared."""
    receives = {server.name: server.receives.split()[0] for server in card.servers}
    team = {server.name: server.team for server in card.servers}
    end = {server.name: server.end for server in card.servers}
    games = boxes([(s.name, s.ticks) for s in card.servers])
    points = boxes([(r.name, r.points) for r in card.tie_break]) or games
    compared = 0
    while winner_of(state) is None:
        done = sum(state.points) if state.in_tie_break else sum(state.games)
        column = points if state.in_tie_break else games
        if done >= len(column):
            break
        name, tick = column[done]
        assert server_of(state) == name
        before = state
        deciding = not state.in_tie_break and state.points == (3, 3)
        if not deciding:
            serve = next_serve(state)
            right = serve.half == "deuce"
            assert receives[serve.receiver] == ("right" if right else "left")
            assert team[serve.receiver] != team[serve.server]
            assert tick.half in {None, serve.half}
            assert state.in_tie_break or serve.end == end[name]
            compared += 1
        state = play(state, chance.choice(list(Team)))
        ended = state.games != before.games
        if ended and before.in_tie_break:
            break  # ends change once for the new set, whatever the box says
        if before.in_tie_break or ended:
            assert (state.ends != before.ends) is tick.change_ends
        else:
            assert state.ends == before.ends
    return compared


@pytest.mark.parametrize("set_format", [f for f in SetFormat if f.tie_break_at is not None])
def test_tie_break_starts_with_the_right_player(set_format):
    """The tie-break's rows start with whoever the rules have open it: at 3-3 the partner."""
    plan = plan_of(set_format)
    card, (_, match) = cards_of(plan)[0], next(plan.matches())
    at = set_format.tie_break_at
    level = after_games(state_of(plan, match), (at, at))
    assert card.tie_break[0].name == server_of(level)
    assert card.tie_break[0].points[0].number == 1


def test_timed_cards_aim_for_equal_serves():
    """A timed round aims for 4 or 8 games, and shows four more (ITF Rule 14: cycles of four)."""
    plan = plan_of(SetFormat.TIMED)
    for card in cards_of(plan):
        shown = [len(server.ticks) for server in card.servers]
        assert len(set(shown)) == 1
        assert "Aim for 4 games" in card.goal
        assert shown[0] == 2
    assert timed_goal((5.0,) * 4, GameFormat.AD, 10).games == 4
    assert timed_goal((5.0,) * 4, GameFormat.AD, 45).games == 8
    assert timed_goal((5.0,) * 4, GameFormat.AD, 200).games == 8


def test_a_match_without_orders_gets_the_named_ones():
    """A plan by hand may leave orders out: people then serve as they are named."""
    plan = plan_of()
    bare = Match("Court 1", (NAMES[0], NAMES[1]), (NAMES[2], NAMES[3]))
    card = cards_of(Plan(plan.event, (PlannedRound(2, Kind.DOUBLES, 1100, 25, (bare,)),)))[0]
    assert [server.name for server in card.servers] == [NAMES[0], NAMES[2], NAMES[1], NAMES[3]]


def panel_words(plan: Plan) -> str:
    """Return all panels of a plan's first card."""
    return " ".join(f"{panel.title} {panel.text}" for panel in cards_of(plan)[0].panels)


def test_panels_fit_the_format():
    """Words about deuce, tie-breaks and new sets stand only where they apply."""
    ad, no_ad = panel_words(plan_of()), panel_words(plan_of(game=GameFormat.NO_AD))
    assert "advantage" in ad
    assert "advantage" not in no_ad
    assert "receivers choose" in no_ad
    mixed = panel_words(plan_of(game=GameFormat.NO_AD, kind=Kind.MIXED))
    assert "gender" in mixed
    assert "receivers choose" not in mixed
    for set_format in (SetFormat.TIMED, SetFormat.MATCH_TIE_BREAK_10):
        assert "New set" not in panel_words(plan_of(set_format))
    assert "Tie-break" not in panel_words(plan_of(SetFormat.ADVANTAGE))
    for set_format in SetFormat:
        words = panel_words(plan_of(set_format))
        assert "qualified coaches" in words
        assert "out of turn" in words


@pytest.mark.parametrize("layout", list(LAYOUTS))
def test_page_stands_alone_and_escapes_names(layout):
    """The page loads nothing, holds every name in full, and no name becomes a tag."""
    page = cards_page(plan_of(), *layout).decode()
    assert "<b>" in page
    assert "Ana <b>" not in page
    assert "Ana &lt;b&gt;" in page
    assert "Ben &amp; Co" in page
    for name in LONG:
        assert page.count(name) == 4  # two rounds, in the order and in the tie-break
    assert not re.search(r"(?:src|href)\s*=|url\(|@import|<script|<link", page)
    assert page.count('<article class="card') == 4


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("size", ["a6", "a5"])
def test_workbook_holds_text_alone_a_page_a_sheet(paper, size):
    """Cells are text whatever they begin with; each sheet is one page of the paper asked for."""
    book = load_workbook(io.BytesIO(cards_workbook(plan_of(), paper, size)), rich_text=True)
    assert len(book.sheetnames) == (1 if size == "a6" else 2)
    values = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value]
    assert {cell.data_type for cell in values} == {"s"}
    texts = [str(cell.value) for cell in values]
    for name in NAMES:
        assert texts.count(name) == 4
    assert all(cell.quotePrefix for cell in values if str(cell.value).startswith("="))
    for sheet in book:
        assert sheet.page_setup.paperSize == (9 if paper == "a4" else 1)
        assert sheet.page_setup.orientation == ("portrait" if size == "a6" else "landscape")
        assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 1)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage


def test_blocks_of_cells_never_overlap():
    """No merged block covers another one, for any format."""
    for set_format in SetFormat:
        book = load_workbook(io.BytesIO(cards_workbook(plan_of(set_format))))
        for sheet in book:
            covered: set[tuple[int, int]] = set()
            for block in sheet.merged_cells.ranges:
                cells = set(block.cells)
                assert not cells & covered
                covered |= cells


def test_the_same_plan_gives_the_same_bytes():
    """Cards repeat byte for byte."""
    assert cards_page(plan_of()) == cards_page(plan_of())
    assert cards_workbook(plan_of()) == cards_workbook(plan_of())
