"""What stands on a serving-order card, as plain values; sheets and page only lay it out.

A card has one row a player, in serving order. The games a player serves stand
in that player's row, so the lowest number not ticked yet always shows who is
next. The tie-break works the same way.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache

from scheduler.domain.event import Event, Kind
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.exporters.cards.panels import Panel, legend, panels
from scheduler.exporters.cards.timed_goal import TimedGoal, timed_goal
from scheduler.exporters.view import Place, View, make_view
from scheduler.rules.state import Half, Pair, SetRules, SetState, rules_of, start_set
from scheduler.rules.tables import GameRow, PointRow, game_rows, tie_break_rows

FULL_TURNS = 8  # points after which a tie-break's serve is back with its first server
START_END, OTHER_END = "start", "other"
SIDES = {Half.DEUCE: "right (deuce)", Half.AD: "left (ad)"}


@dataclass(frozen=True, slots=True)
class Tick:
    """A box to tick: a game or a tie-break point, and whether ends change after it.

    `half` is the half a point is served from; None for a game.
    """

    number: int
    change_ends: bool
    half: Half | None = None


@dataclass(frozen=True, slots=True)
class Server:
    """One row of a card: `turn` from 1 to 4, the team's letter, where and when this one serves.

    `end` is ``"start"`` where the player's games are served from the end of
    game 1, ``"other"`` where from the one across, and empty where ends do not
    stay the same. `ticks` are games, or points where a tie-break is all there is.
    """

    turn: int
    team: str
    name: str
    receives: str
    end: str
    ticks: tuple[Tick, ...]


@dataclass(frozen=True, slots=True)
class TieBreakRow:
    """One player's points of the tie-break, in the order they are served."""

    name: str
    team: str
    points: tuple[Tick, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """One card.

    `key` is the match's place in the plan (``R4C2``); `counts` says what the
    boxes of the servers' rows are (``"game"`` or ``"point"``); `tie_break` stands
    in the order of serving and is empty where there is none beside games.
    """

    key: str
    court: str
    round: str
    event: str
    what: str
    counts: str
    legend: str
    servers: tuple[Server, ...]
    tie_break_title: str
    tie_break: tuple[TieBreakRow, ...]
    goal: str
    panels: tuple[Panel, ...]
    identity: str


def cards_of(plan: Plan) -> tuple[Card, ...]:
    """Return a card for every doubles match of the plan, in playing order."""
    view = make_view(plan)
    places = {place.key: place for place in view.matches()}
    return tuple(
        _card(plan.event, view, planned, match, places[_key(plan.event, planned, match)])
        for planned, match in plan.matches()
    )


def _key(event: Event, planned: PlannedRound, match: Match) -> str:
    court = [court.name for court in event.courts].index(match.court)
    return f"R{planned.number}C{court + 1}"


def _card(event: Event, view: View, planned: PlannedRound, match: Match, place: Place) -> Card:
    start = _start(event, view, match)
    goal = _goal(event, planned, start, match)
    pattern = _pattern(start.rules, _deuce_turns(start), goal.games if goal else None)
    name = dict(zip(_TURNS, start.queue, strict=True))
    return Card(
        key=place.key,
        court=place.court,
        round=f"Round {planned.number}, {place.round.times}",
        event=view.name,
        what=_what(event),
        counts=pattern.counts,
        legend=legend(pattern.counts),
        servers=tuple(replace(server, name=name[server.name]) for server in pattern.servers),
        tie_break_title=_tie_break_title(start),
        tie_break=tuple(replace(row, name=name[row.name]) for row in pattern.tie_break),
        goal=goal.sentence if goal else _points_goal(start),
        panels=panels(event, mixed=planned.kind is Kind.MIXED),
        identity=f"{view.identity}, {place.key}",
    )


_TURNS = ("1", "2", "3", "4")
"""The four of a match by their turn to serve, for what does not hang on their names."""


@dataclass(frozen=True, slots=True)
class _Pattern:
    """What the cards of all matches of one kind share, people by their turns."""

    counts: str
    servers: tuple[Server, ...]
    tie_break: tuple[TieBreakRow, ...]


def _deuce_turns(start: SetState) -> tuple[int, int]:
    """Return the turns, 0 to 3, of the two who receive on the deuce side, first team first."""
    first, second = (start.queue.index(name) for name in start.deuce_receivers)
    return first, second


@cache
def _pattern(rules: SetRules, deuce: tuple[int, int], goal_games: int | None) -> _Pattern:
    """Play a set by the rules once for all matches that differ in names alone."""
    start = start_set(
        rules,
        (_TURNS[0], _TURNS[2]),
        (_TURNS[1], _TURNS[3]),
        deuce_receivers=(_TURNS[deuce[0]], _TURNS[deuce[1]]),
        ends=(START_END, OTHER_END),
    )
    games = _games_shown(start, goal_games)
    by_points = _by_server(tie_break_rows(start, _points_shown(start)))
    return _Pattern(
        counts="game" if games else "point",
        servers=_servers(start, _games_by_server(games) if games else by_points, games),
        tie_break=_tie_break(start, by_points) if games else (),
    )


def _start(event: Event, view: View, match: Match) -> SetState:
    """Return the match's set before its first point, people by their labels."""
    label = {name: view.person_of[name].label for name in match.players}
    order = match.serving_order or _as_named(match)
    first: Pair = (label[order[0]], label[order[2]])
    second: Pair = (label[order[1]], label[order[3]])
    deuce = {label[name] for name in match.deuce_receivers}
    receivers = tuple(next((n for n in team if n in deuce), team[0]) for team in (first, second))
    return start_set(
        rules_of(event.set_format, event.game_format, event.end_changes),
        first,
        second,
        deuce_receivers=(receivers[0], receivers[1]),
        ends=(START_END, OTHER_END),
    )


def _as_named(match: Match) -> tuple[str, str, str, str]:
    return (match.team_a[0], match.team_b[0], match.team_a[1], match.team_b[1])


def _goal(event: Event, planned: PlannedRound, start: SetState, match: Match) -> TimedGoal | None:
    if event.set_format is not SetFormat.TIMED:
        return None
    order = match.serving_order or _as_named(match)
    levels = tuple(event.player_by_name[name].level for name in order)
    return timed_goal(levels, start.rules.game, planned.minutes)


def _games_shown(start: SetState, goal_games: int | None) -> tuple[GameRow, ...]:
    """Return the games on the card: all before a tie-break; of a timed round the goal and four."""
    rows = game_rows(start)
    return rows if goal_games is None else rows[: goal_games + 4]


def _points_shown(start: SetState) -> int:
    """Return how many points have a box: two of the longest turns of all four, or three to 10."""
    turns = 2 if start.rules.tie_break_to <= 7 else 3
    return turns * FULL_TURNS


def _servers(
    start: SetState, ticks: dict[str, list[Tick]], games: tuple[GameRow, ...]
) -> tuple[Server, ...]:
    end = {row.server: row.server_end for row in games}
    return tuple(
        Server(
            turn=turn,
            team=start.team_of(name).name,
            name=name,
            receives=SIDES[Half.DEUCE if name in start.deuce_receivers else Half.AD],
            end=end.get(name, ""),
            ticks=tuple(ticks[name]),
        )
        for turn, name in enumerate(start.queue, start=1)
    )


def _games_by_server(rows: Iterable[GameRow]) -> dict[str, list[Tick]]:
    ticks: dict[str, list[Tick]] = {}
    for row in rows:
        ticks.setdefault(row.server, []).append(Tick(row.game, row.change_ends_after))
    return ticks


def _by_server(rows: Iterable[PointRow]) -> dict[str, list[Tick]]:
    """Return the points of a tie-break by their server, first servers first."""
    ticks: dict[str, list[Tick]] = {}
    for row in rows:
        ticks.setdefault(row.server, []).append(Tick(row.point, row.change_ends_after, row.half))
    return ticks


def _tie_break(start: SetState, ticks: dict[str, list[Tick]]) -> tuple[TieBreakRow, ...]:
    return tuple(
        TieBreakRow(name, start.team_of(name).name, tuple(points)) for name, points in ticks.items()
    )


def _tie_break_title(start: SetState) -> str:
    at, to = start.rules.tie_break_at, start.rules.tie_break_to
    return f"Tie-break at {at}\N{EN DASH}{at}: first to {to}, two ahead" if at else ""


def _points_goal(start: SetState) -> str:
    if start.rules.tie_break_at != 0:
        return ""
    return f"First to {start.rules.tie_break_to} points, two ahead."


def _what(event: Event) -> str:
    if event.set_format is SetFormat.TIMED:
        return "Games until the bell"
    return str(event.set_format).capitalize()
