"""What changes on the night, as edits of the event and of the rounds already played.

People who go home get an hour they leave at, latecomers one they arrive at, a
lost court one it closes at, so that everything downstream, the checker
included, sees nothing but an event. Each change is also a sentence in
`Event.changes`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from scheduler.domain.errors import Fault
from scheduler.domain.event import Event, Here, Kind, Player
from scheduler.domain.plan import Match, Plan, PlannedRound
from scheduler.domain.suggest import nearest
from scheduler.readers.fields import as_level, as_name
from scheduler.workflow.eased import eased
from scheduler.workflow.presence import back_again
from scheduler.workflow.void_wishes import without_void_wishes
from scheduler.workflow.who import find, find_two

_GROUPED = frozenset({Kind.MIXED, Kind.GROUP_AGAINST_GROUP})


@dataclass(frozen=True, slots=True)
class Night:
    """What the organiser says has happened; people and courts as typed.

    Parameters
    ----------
    after
        The last round played; 0 before the first.
    no_shows
        Who was planned for in rounds played, but never came.
    absent, add, lost_courts, swaps
        Who leaves, who comes or comes back (``"NAME"``, ``"NAME,LEVEL"`` or
        ``"NAME,LEVEL,GROUP"``), which courts are lost, and which two people
        exchange seats in the next round, all from the next round on.
    unfinished
        Courts whose match in the last round played was broken off.
    least_change
        Whether to move as few people as possible.
    eased
        The cells of musts that are only shoulds from now on.
    """

    after: int
    absent: tuple[str, ...] = ()
    add: tuple[str, ...] = ()
    lost_courts: tuple[str, ...] = ()
    swaps: tuple[str, ...] = ()
    unfinished: tuple[str, ...] = ()
    least_change: bool = False
    no_shows: tuple[str, ...] = ()
    eased: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Changed:
    """The event as it is now, the rounds played, who exchanges seats, what the user should know."""

    event: Event
    played: tuple[PlannedRound, ...]
    swaps: tuple[tuple[str, str], ...] = ()
    remarks: tuple[str, ...] = ()


def changed(plan: Plan, night: Night) -> tuple[Changed, list[Fault]]:
    """Return what the plan's event and played rounds become, and every fault of what was said."""
    faults = list(_round_faults(plan, night.after))
    if faults:
        return Changed(plan.event, ()), faults
    edit = _Edit(plan, night)
    for option, texts, change in (
        ("--unfinished", night.unfinished, edit.unfinished),
        ("--no-show", night.no_shows, edit.no_show),
        ("--absent", night.absent, edit.absent),
        ("--add", night.add, edit.add),
        ("--lost-court", night.lost_courts, edit.lost_court),
        ("--swap", night.swaps, edit.swap),
        ("--ease", night.eased, edit.ease),
    ):
        for text in texts:
            try:
                change(text)
            except ValueError as error:
                edit.faults.append(Fault(f'{option} "{text}"', str(error)))
    return edit.result(), edit.faults


def _round_faults(plan: Plan, after: int) -> Iterable[Fault]:
    number = len(plan.rounds)
    if after >= number:
        yield Fault("--after", f"the plan has {number} rounds, so none is left after {after}")
    for planned in plan.rounds[:after]:
        if planned.open:
            what = f"round {planned.number} is not seated yet; rota next does that from the scores"
            yield Fault("--after", what)


@dataclass
class _Edit:
    """The event while it is changed, one option after the other."""

    plan: Plan
    night: Night
    event: Event = field(init=False)
    played: tuple[PlannedRound, ...] = field(init=False)
    swaps: list[tuple[str, str]] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.event = self.plan.event
        self.played = self.plan.rounds[: self.night.after]

    @property
    def _over(self) -> int:
        """The minute at which the last round played was over."""
        return max((planned.end for planned in self.played), default=self.event.rounds[0].start)

    def absent(self, text: str) -> None:
        """Take somebody out of the rounds to come."""
        player = self.event.player_by_name[find(text, self._names(), "player")]
        if not any(player.is_present(r.start, r.end) for r in self._ahead()):
            self.remarks.append(f"{player.name} was not expected in the rounds to come anyway.")
            return
        was_there = any(player.name not in r.as_it_was.absent for r in self.played)
        gone = replace(player, leaves=self._over) if was_there else replace(player, here=Here.NO)
        self._put(gone)
        self.said.append(f"{player.name} left" if was_there else f"{player.name} did not come")

    def no_show(self, text: str) -> None:
        """Say of somebody planned for that they never came; rounds played stand, and say so."""
        name = find(text, self._names(), "player")
        if not self.played:
            raise ValueError(f"no round has been played; say --absent {name}")
        missed = [r for r in self.played if name not in r.as_it_was.absent]
        here_still = any(name not in r.absent for r in self._ahead())
        if not missed and not here_still:
            raise ValueError(f"{name} is not in the plan anyway")
        self.played = tuple(_missing(r, name) if r in missed else r for r in self.played)
        self._put(replace(self.event.player_by_name[name], here=Here.NO))
        numbers = [str(r.number) for r in missed]
        stands = f": {_stands(numbers)} count for {name}" if numbers else ""
        self.said.append(f"{name} never came{stands}")
        self.said.extend(_courts_left(missed, name))

    def add(self, text: str) -> None:
        """Let somebody join, from the list or new to it, from the next round on."""
        name, level, group = _parts_of(text)
        try:
            known = self.event.player_by_name[find(name, self._names(), "player")]
        except ValueError:
            self._add_new(name, level, group)
        else:
            self._add_known(known, level)

    def _add_known(self, player: Player, level: float | None) -> None:
        start = self._ahead()[0].start
        if player.here is Here.YES and player.is_present(start, self._ahead()[0].end):
            raise ValueError(f"{player.name} is on the list and here already")
        self._check_group(player.name, player.group)
        if level is not None and level != player.level:
            self.remarks.append(f"{player.name} keeps level {player.level:g}, as on the list.")
        self._put(back_again(player, self.played, start))
        was_there = any(player.name not in r.as_it_was.absent for r in self.played)
        self.said.append(f"{player.name} is {'back' if was_there else 'here after all'}")

    def _add_new(self, text: str, level: float | None, group: str) -> None:
        name = as_name(text)
        near = nearest(name, self._names())
        if level is None:
            hint = f"; or did you mean '{near}'?" if near else ""
            raise ValueError(f'{name} is new and needs a level, as in --add "{name},5"{hint}')
        group = self._group_known(group)
        self._check_group(name, group)
        if near is not None:
            self.remarks.append(f"{name} is new to the list (which has {near}).")
        arrives = self._ahead()[0].start if self.played else None
        new = Player(
            name=name,
            level=level,
            group=group,
            arrives=arrives,
        )
        self.event = replace(self.event, players=(*self.event.players, new))
        self.played = tuple(
            replace(planned, absent=(*planned.absent, name)) for planned in self.played
        )
        self.said.append(f"{name} (level {new.level:g}) came")

    def lost_court(self, text: str) -> None:
        """Close a court from the next round on."""
        name = find(text, [court.name for court in self.event.courts], "court")
        court = next(court for court in self.event.courts if court.name == name)
        if not any(court.is_open(r.start, r.end) for r in self._ahead()):
            self.remarks.append(f"{name} was not open for any round to come anyway.")
            return
        courts = tuple(
            replace(other, closes=self._over) if other is court else other
            for other in self.event.courts
        )
        self.event = replace(self.event, courts=courts)
        self.said.append(f"{name} was lost")

    def unfinished(self, text: str) -> None:
        """Mark a match of the last round played as broken off."""
        if not self.played:
            raise ValueError("no round has been played")
        name = find(text, [court.name for court in self.event.courts], "court")
        last = self.played[-1]
        if not any(match.court == name for match in last.matches):
            raise ValueError(f"round {last.number} has no match on {name}")
        courts = tuple(
            replace(entry, unfinished=True)
            if isinstance(entry, Match) and entry.court == name
            else entry
            for entry in last.courts
        )
        self.played = (*self.played[:-1], replace(last, courts=courts))
        self.said.append(f"the match on {name} was not finished")

    def swap(self, text: str) -> None:
        """Note two people who exchange seats in the next round."""
        one, other = find_two(text, self._names())
        if one == other:
            raise ValueError(f"needs two people, but both are {one}")
        self.swaps.append((one, other))
        self.said.append(f"{one} and {other} exchange seats in round {self.night.after + 1}")

    def ease(self, text: str) -> None:
        """Make a must a should."""
        self.event, said = eased(self.event, text)
        self.said.append(said)

    def result(self) -> Changed:
        """Return everything, wishes that can mean nothing any more taken out."""
        event, void = without_void_wishes(self.plan, self.event, self.played)
        when = f"after round {self.night.after}" if self.night.after else "before round 1"
        head = f"Revision {self.plan.revision + 1}, {when}"
        said = [*self.said, *void] or ["the rest was planned again"]
        changes = (*event.changes, *(f"{head}: {text}" for text in said))
        return Changed(
            replace(event, changes=changes),
            self.played,
            tuple(self.swaps),
            (*self.remarks, *(f"{text}." for text in void)),
        )

    def _names(self) -> list[str]:
        return [player.name for player in self.event.players]

    def _ahead(self) -> Sequence[PlannedRound]:
        return self.plan.rounds[self.night.after :]

    def _put(self, player: Player) -> None:
        players = tuple(player if p.name == player.name else p for p in self.event.players)
        self.event = replace(self.event, players=players)

    def _group_known(self, group: str) -> str:
        groups = {player.group.casefold(): player.group for player in self.event.players}
        return groups.get(group.casefold(), group)

    def _check_group(self, name: str, group: str) -> None:
        """Refuse somebody without a group where a round to come needs one."""
        needing = [r for r in self._ahead() if r.kind in _GROUPED]
        groups = sorted({player.group for player in self.event.players if player.group})
        if needing and group not in groups:
            known = " or ".join(groups)
            what = f"round {needing[0].number} is '{needing[0].kind}', so {name} needs a group"
            raise ValueError(f"{what}: write NAME,LEVEL,GROUP with group {known}")


def _missing(planned: PlannedRound, name: str) -> PlannedRound:
    """Return a round played with the note that somebody never came; their match is unfinished."""
    courts = tuple(
        replace(entry, unfinished=True)
        if isinstance(entry, Match) and name in entry.players
        else entry
        for entry in planned.courts
    )
    return replace(planned, courts=courts, missing=(*planned.missing, name))


def _stands(numbers: Sequence[str]) -> str:
    if len(numbers) == 1:
        return f"round {numbers[0]} stands as printed, but does not"
    return f"rounds {', '.join(numbers[:-1])} and {numbers[-1]} stand as printed, but do not"


def _courts_left(missed: Iterable[PlannedRound], name: str) -> Iterable[str]:
    """Say of every match somebody was planned for that it was not one."""
    for planned in missed:
        for match in planned.matches:
            if name in match.players:
                where = f"the match of round {planned.number} on {match.court}"
                yield f"{where} counts as not played"


def _parts_of(text: str) -> tuple[str, float | None, str]:
    """Return name, level and group of ``NAME``, ``NAME,LEVEL`` or ``NAME,LEVEL,GROUP``."""
    parts = [part.strip() for part in text.split(",")]
    numbers = [_is_number(part) for part in parts]
    if len(parts) > 2 and numbers[-1] and numbers[-2]:
        raise ValueError("has two numbers; write a level with a point, such as 4.5")
    if len(parts) > 1 and numbers[-1]:
        return text.rsplit(",", 1)[0], _level(parts[-1]), ""
    if len(parts) > 2 and numbers[-2]:
        return text.rsplit(",", 2)[0], _level(parts[-2]), parts[-1]
    return text.strip(), None, ""


def _level(text: str) -> float:
    try:
        return as_level(text)
    except ValueError as error:
        raise ValueError(f"level {error}") from None


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
