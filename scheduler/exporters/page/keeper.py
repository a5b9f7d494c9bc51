"""What the page's score keeper works on: tables of the rules, and the matches of the plan."""

from __future__ import annotations

from typing import Any

from scheduler.domain.event import Event, Kind
from scheduler.domain.formats import SetFormat
from scheduler.domain.plan import Match, Plan
from scheduler.domain.score_text import Mark
from scheduler.exporters.page.set_table import set_table
from scheduler.exporters.score_text import line_pieces, match_words
from scheduler.exporters.text import isolated
from scheduler.exporters.view import View
from scheduler.rules.order import serving_order
from scheduler.rules.serving import mixed_half
from scheduler.rules.state import Half, rules_of, start_set

_DECIDER = SetFormat.MATCH_TIE_BREAK_10  # the usual end of a match that stands at one set all


def keeper_data(plan: Plan, view: View) -> dict[str, Any]:
    """Return everything the score keeper needs, ready for JSON.

    The four of a match are numbered as they stand in the plan: 0 and 1 are
    team A, 2 and 3 team B.
    """
    pieces = line_pieces(view)
    return {
        "plan": view.plan_id,
        "line": {"before": pieces.before, "comment": pieces.comment},
        "marks": [str(mark) for mark in Mark],
        "formats": _formats(plan.event),
        "people": [isolated(person.label) for person in view.people],
        "matches": _matches(plan, view),
    }


def _matches(plan: Plan, view: View) -> dict[str, dict[str, Any]]:
    court_of = {court.name: number for number, court in enumerate(plan.event.courts, start=1)}
    index_of = {name: index for index, name in enumerate(view.person_of)}
    by_key = {
        f"R{planned.number}C{court_of[match.court]}": (planned.kind, match)
        for planned, match in plan.matches()
    }
    return {
        place.key: {
            "title": match_words(place),
            "times": place.round.times,
            "people": [index_of[name] for name in by_key[place.key][1].players],
            **_orders(by_key[place.key][1]),
            **_mixed(plan.event, *by_key[place.key]),
        }
        for place in view.matches()
    }


def _formats(event: Event) -> list[dict[str, Any]]:
    """Return the event's own format, and what else may follow a set."""
    wanted = [event.set_format]
    if event.set_format not in {SetFormat.TIMED, _DECIDER}:
        wanted.append(_DECIDER)
    return [
        {
            "name": str(form),
            "points": form.only_tie_break_to is not None,
            "timed": form is SetFormat.TIMED,
            **set_table(rules_of(form, event.game_format, event.end_changes)).as_json(),
        }
        for form in wanted
    ]


def _orders(match: Match) -> dict[str, list[int]]:
    """Return the four in serving order, and the deuce-side receivers, team A's first."""
    number = {name: index for index, name in enumerate(match.players)}
    a, b = match.team_a, match.team_b
    order = match.serving_order or serving_order(a, b)
    deuce = match.deuce_receivers or (a[0], b[0])
    return {
        "order": [number[name] for name in order],
        "deuce": sorted(number[name] for name in deuce),
    }


def _mixed(event: Event, kind: Kind, match: Match) -> dict[str, list[list[int]]]:
    """Return the half of a no-ad deciding point by server and by who receives on the deuce side.

    ``mixed[server][k]`` is 0 (deuce) or 1 (ad), where k tells which of the two
    receivers, in the order of the plan, stands on the deuce side. Empty where
    this is no mixed match, so that the receivers are free to choose.
    """
    if kind is not Kind.MIXED:
        return {}
    groups = {name: event.player_by_name[name].group for name in match.players}
    try:  # left-over players of a mixed round may play ordinary doubles
        return {"mixed": [_halves(match, server, groups) for server in match.players]}
    except ValueError:
        return {}


def _halves(match: Match, server: str, groups: dict[str, str]) -> list[int]:
    own, other = match.team_a, match.team_b
    if server in other:
        own, other = other, own
    if server != own[0]:
        own = (own[1], own[0])
    halves = []
    for receiver in other:
        state = start_set(
            rules_of(SetFormat.TIE_BREAK), own, other, deuce_receivers=(own[0], receiver)
        )
        halves.append(0 if mixed_half(state, groups) is Half.DEUCE else 1)
    return halves
