"""Who withdrew stays out when line-ups are picked again, until ``lineup.json`` is deleted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from scheduler.domain.errors import BadInput
from scheduler.domain.event import Here
from scheduler.domain.fixture import TeamSeason
from scheduler.domain.lineup_codec import identified
from scheduler.readers.lineup_file import read_announced


@dataclass(frozen=True, slots=True)
class Earlier:
    """Who withdrew from which fixture to come, and the number of the line-ups made now."""

    withdrawn: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    revision: int = 1

    @property
    def told(self) -> tuple[str, ...]:
        """A sentence for each fixture somebody withdrew from."""
        return tuple(
            f"{' and '.join(names)} withdrew from the fixture on {date} and stays out; "
            "delete lineup.json to start afresh"
            for date, names in self.withdrawn.items()
        )


def earlier_withdrawals(season: TeamSeason, path: Path) -> Earlier:
    """Return who of the squad withdrew by a document; nobody where there is none to be read."""
    withdrawn: dict[str, tuple[str, ...]] = {}
    revision = 0
    try:
        for fixture in season.to_come:
            announced = read_announced(path, season.name, fixture.date)
            known = season.member_by_name
            gone = tuple(n for n in announced.withdrawn if n in known) if announced else ()
            if announced is not None and gone:
                withdrawn[fixture.date] = gone
                revision = announced.revision
    except BadInput:
        return Earlier()  # a document changed by hand is written anew, as if it were not there
    return Earlier(withdrawn, revision + 1)


def without_withdrawn(season: TeamSeason, earlier: Earlier) -> TeamSeason:
    """Return the season with those who withdrew answering no."""
    fixtures = tuple(
        replace(
            fixture,
            availability={
                **fixture.availability,
                **dict.fromkeys(earlier.withdrawn.get(fixture.date, ()), Here.NO),
            },
        )
        for fixture in season.fixtures
    )
    return replace(season, fixtures=fixtures)


def remembering(document: dict[str, Any], earlier: Earlier) -> dict[str, Any]:
    """Return a document that knows who withdrew before it was made."""
    if not earlier.withdrawn:
        return document
    fixtures = [
        {**fixture, "withdrawn": list(earlier.withdrawn[fixture["date"]])}
        if fixture["date"] in earlier.withdrawn
        else fixture
        for fixture in document["fixtures"]
    ]
    return identified({**document, "fixtures": fixtures})
