"""What stands on the page and on the take-home sheets, handed to the templates."""

from __future__ import annotations

from scheduler.domain.event import Kind
from scheduler.domain.plan import Group, Plan
from scheduler.domain.score_text import Mark
from scheduler.exporters.cards.content import Card, Tick, cards_of
from scheduler.exporters.page.keeper import keeper_data
from scheduler.exporters.page.picture import draw, meetings_of
from scheduler.exporters.page.reminder import reminder
from scheduler.exporters.page.render import html_page, script_of, style_of
from scheduler.exporters.practice import practice_partners
from scheduler.exporters.text import clean
from scheduler.exporters.view import Doing, Person, View, make_view
from scheduler.rules.state import Half

_SCRIPTS = (
    "dom.js",
    "set_walk.js",
    "keeper_view.js",
    "keeper.js",
    "finding.js",
    "start.js",
)
_CHANGE = "\u21c4"  # two arrows, one over the other
_DOING = {
    Doing.RESTING: "You rest.",
    Doing.ABSENT: "You are not here.",
    Doing.NOT_SEATED_YET: "Seats come from the results of the round before.",
}


def build_page(plan: Plan, paper: str) -> bytes:
    """Return the page of a plan as the bytes of an HTML file."""
    view = make_view(plan)
    matches = any(True for _ in view.matches())
    practice, cards = _practice(plan, view), cards_of(plan)
    return html_page(
        "page.html",
        style_of("page.css", paper, view.plan_id, view.revision),
        script_of(*_SCRIPTS),
        keeper_data(plan, view),
        view=view,
        parts=_parts(matches),
        matches=matches,
        cards=cards,
        goal=_common_goal(cards),
        tie_break=_tie_break(cards),
        ticks=_ticks,
        doing=_DOING,
        practice=practice,
        pairs=[(e.person, practice[e.person.key]) for e in view.evenings if practice[e.person.key]],
        picture=draw(view),
        met=meetings_of(view),
        marks=[str(mark) for mark in Mark],
        topics=drill_topics(plan),
        reminder=reminder(plan.event),
    )


def build_take_home(plan: Plan, paper: str) -> bytes:
    """Return the take-home sheets of a plan as the bytes of an HTML file."""
    view = make_view(plan)
    return html_page(
        "take_home.html",
        style_of("take_home.css", paper, view.plan_id, view.revision),
        script_of("dom.js", "take_home.js"),
        {"plan": view.plan_id},
        view=view,
        came=_came(view),
        practice=_practice(plan, view),
        topics=drill_topics(plan),
        reminder=reminder(plan.event),
    )


def drill_topics(plan: Plan) -> tuple[str, ...]:
    """Return the topics of the evening's drills in playing order, each once."""
    found: list[str] = []
    for planned in plan.rounds:
        if planned.kind is Kind.DRILL:
            stations = [e.topic for e in planned.courts if isinstance(e, Group) and e.topic]
            found += stations or [planned.topic]
    return tuple(dict.fromkeys(filter(None, map(clean, found))))


def _ticks(ticks: tuple[Tick, ...]) -> str:
    """Return the games or points of one server, with the half and the changes of ends."""
    halves = {Half.DEUCE: "R", Half.AD: "L", None: ""}
    return " ".join(
        f"{tick.number}{halves[tick.half]}{_CHANGE if tick.change_ends else ''}" for tick in ticks
    )


def _common_goal(cards: tuple[Card, ...]) -> str:
    """Return the goal that all cards have, nothing where they differ."""
    goals = dict.fromkeys(card.goal for card in cards)
    return next(iter(goals)) if len(goals) == 1 else ""


def _tie_break(cards: tuple[Card, ...]) -> list[tuple[int, str]]:
    """Return each turn's points of the tie-break; all cards of a plan have the same."""
    if not cards:
        return []
    turn_of = {server.name: server.turn for server in cards[0].servers}
    return [(turn_of[row.name], _ticks(row.points)) for row in cards[0].tie_break]


def _came(view: View) -> set[str]:
    return {
        evening.person.key
        for evening in view.evenings
        if any(stop.doing is not Doing.ABSENT for stop in evening.stops)
    }


def _parts(matches: bool) -> list[tuple[str, str]]:
    """Return the parts of the page in order, each with its anchor and its name in the bar."""
    parts = {
        "me": "Me",
        "rounds": "Rounds",
        "courts": "Courts",
        "cards": "Cards",
        "met": "Who met",
        "home": "Take home",
        "scores": "Scores",
        "quality": "Plan",
    }
    only_of_matches = {"cards", "scores"}
    return [(id_, name) for id_, name in parts.items() if matches or id_ not in only_of_matches]


def _practice(plan: Plan, view: View) -> dict[str, tuple[Person, ...]]:
    suggested = practice_partners(plan)
    return {
        person.key: tuple(view.person_of[other] for other in suggested.get(name, ()))
        for name, person in view.person_of.items()
    }
