"""Whether the event inside a plan file hangs together, and with the rest of the file.

The types are right by the time these run; what is left is what no type says:
names that point nowhere, names twice, numbers out of range. Whether the plan
is a *good* or even an allowed one is the checker's question, not asked here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from scheduler.domain.clock import DAY, format_time
from scheduler.domain.event import NUMBER_WISHES, PAIR_WISHES, Event, Player, Round, Wish, WishKind
from scheduler.readers.plain_words import quoted
from scheduler.readers.plan_models import DocumentModel, ListedPlayerModel

Trouble = tuple[str, str]  # where inside the document, and what

LATEST = 3 * DAY
LOWEST_LEVEL, HIGHEST_LEVEL = 1, 10


def event_troubles(event: Event) -> Iterator[Trouble]:
    """Yield what is wrong inside ``event_in_full``."""
    players = [player.name for player in event.players]
    courts = [court.name for court in event.courts]
    yield from _names("players", players)
    yield from _names("courts", courts)
    yield from _numbers(event)
    for index, asked in enumerate(event.rounds):
        yield from _round(f"rounds[{index}]", asked, courts)
    for index, wish in enumerate(event.wishes):
        yield from _wish(f"wishes[{index}]", wish, event)
    for index, station in enumerate(event.stations):
        if station.court not in courts:
            yield f"stations[{index}].court", f"no court called {quoted(station.court)}"
    for index, meeting in enumerate(event.earlier):
        yield from _unknown(f"earlier[{index}]", (meeting.player, meeting.other), players)


def disagreements(document: DocumentModel) -> Iterator[Trouble]:
    """Yield where the head of the document says something else than ``event_in_full``."""
    event, head = document.event_in_full, document.event
    facts = {
        "event.name": (head.name, event.name),
        "event.date": (head.date, event.date),
        "event.start": (head.start, format_time(event.start)),
    }
    for where, (stated, held) in facts.items():
        if stated != held:
            yield where, f"says {quoted(stated)}, but event_in_full says {quoted(held)}"
    if document.courts != tuple(court.name for court in event.courts):
        yield "courts", "are not the courts of event_in_full"
    if len(document.players) != len(event.players):
        listed, held_count = len(document.players), len(event.players)
        yield "players", f"lists {listed} people, but event_in_full has {held_count}"
    for index, (listed_player, player) in enumerate(
        zip(document.players, event.players, strict=False)
    ):
        if listed_player != _as_listed(player):
            yield f"players[{index}]", f"is not {quoted(player.name)} as event_in_full has them"


def _as_listed(player: Player) -> ListedPlayerModel:
    return ListedPlayerModel(
        name=player.name,
        level=player.level,
        group=player.group,
        side=player.side,
        hand=player.hand,
    )


def _names(where: str, names: list[str]) -> Iterator[Trouble]:
    first: dict[str, int] = {}
    for index, name in enumerate(names):
        if not name.strip():
            yield f"{where}[{index}].name", "must not be blank"
        elif name in first:
            yield f"{where}[{index}].name", f"is the same as {where}[{first[name]}].name"
        first.setdefault(name, index)


def _numbers(event: Event) -> Iterator[Trouble]:
    if not 0 <= event.start <= DAY:
        yield "start", f"must be a minute from 0 to {DAY}, got {quoted(event.start)}"
    if event.exchange < 0:
        yield "exchange", f"must not be below 0, got {quoted(event.exchange)}"
    if not 0 <= event.changeover <= DAY:
        yield "changeover", f"must be minutes from 0, got {quoted(event.changeover)}"
    for index, player in enumerate(event.players):
        if not LOWEST_LEVEL <= player.level <= HIGHEST_LEVEL:
            yield f"players[{index}].level", f"must be from 1 to 10, got {quoted(player.level)}"


def _round(where: str, asked: Round, courts: list[str]) -> Iterator[Trouble]:
    if not 1 <= asked.minutes <= DAY:
        yield f"{where}.minutes", f"must be from 1 to {DAY}, got {quoted(asked.minutes)}"
    if not 0 <= asked.start <= LATEST:
        yield f"{where}.start", f"must be a minute from 0 to {LATEST}, got {quoted(asked.start)}"
    if asked.group_size < 1:
        yield f"{where}.group_size", f"must be at least 1, got {quoted(asked.group_size)}"
    if isinstance(asked.courts, tuple):
        for index, name in enumerate(asked.courts):
            if name not in courts:
                yield f"{where}.courts[{index}]", f"no court called {quoted(name)}"
    elif asked.courts is not None and asked.courts < 0:
        yield f"{where}.courts", f"must not be below 0, got {quoted(asked.courts)}"


def _wish(where: str, wish: Wish, event: Event) -> Iterator[Trouble]:
    known = [player.name for player in event.players]
    if wish.player not in known:
        yield f"{where}.player", f"no player called {quoted(wish.player)}"
    if wish.kind in PAIR_WISHES and wish.other not in known:
        yield f"{where}.other", f"no player called {quoted(wish.other)}"
    if wish.kind is WishKind.ON_COURT and wish.other not in [court.name for court in event.courts]:
        yield f"{where}.other", f"no court called {quoted(wish.other)}"
    if wish.kind in NUMBER_WISHES and (wish.number is None or wish.number < 0):
        yield f"{where}.number", f"must be a whole number from 0, got {quoted(wish.number)}"
    if wish.round is not None and not 1 <= wish.round <= len(event.rounds):
        yield f"{where}.round", f"must be from 1 to {len(event.rounds)}, got {quoted(wish.round)}"


def _unknown(where: str, names: Iterable[str], known: list[str]) -> Iterator[Trouble]:
    for name in names:
        if name not in known:
            yield where, f"no player called {quoted(name)}"
