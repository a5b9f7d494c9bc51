"""The captain's stories: pick the line-ups of a season, mend one on the day, write them out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from scheduler.domain.errors import BadInput, Fault
from scheduler.domain.event import Here
from scheduler.domain.fixture import (
    Aim,
    Fixture,
    FixtureAnswer,
    Partnering,
    SeasonAnswer,
    TeamSeason,
)
from scheduler.domain.lineup_codec import (
    answer_to_dict,
    document_text,
    fixture_to_dict,
    identified,
)
from scheduler.domain.suggest import hint
from scheduler.exporters.files import write_together
from scheduler.exporters.naming import safe_file_name
from scheduler.exporters.team_sheet.message import message_text
from scheduler.lineup.chance import curve_of, unknown_spread
from scheduler.lineup.season import answer_one, answer_season, appearances_after
from scheduler.lineup.withdrawal import after_withdrawal
from scheduler.lineup.work import Work
from scheduler.readers.lineup_file import read_announced
from scheduler.workflow.withdrawals import (
    Earlier,
    earlier_withdrawals,
    remembering,
    without_withdrawn,
)

DOCUMENT = "lineup.json"


@dataclass(frozen=True, slots=True)
class Picked:
    """Line-ups with the fixture they are about, their document and a message to paste."""

    answer: SeasonAnswer
    fixture: FixtureAnswer
    document: dict[str, Any]
    message: str
    revision: int = 1

    @property
    def shown(self) -> dict[str, Any]:
        """The document as far as it was asked for: on the day the one fixture alone."""
        if not self.fixture.withdrawn:
            return self.document
        changed = [f for f in self.document["fixtures"] if f["date"] == self.fixture.fixture.date]
        return {**self.document, "fixtures": changed}


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a captain asks for: one date or the whole calendar, and other aims than the sheet's."""

    date: str = ""
    aim: Aim | None = None
    partnering: Partnering | None = None


def pick_lineups(
    season: TeamSeason,
    wanted: Wanted,
    work: Work,
    warnings: tuple[str, ...] = (),
    folder: Path | None = None,
) -> Picked:
    """Return line-ups for every fixture to come, or for the one asked for.

    Who withdrew by the ``lineup.json`` of a folder is not put in again.

    Raises
    ------
    BadInput
        If there is no such fixture, or none is left to play.
    NoPlan
        With a smallest set of conditions that cannot be kept together.
    """
    season = _overridden(season, wanted)
    earlier = Earlier() if folder is None else earlier_withdrawals(season, folder / DOCUMENT)
    season = without_withdrawn(season, earlier)
    fixture = fixture_asked_for(season, wanted.date)
    answer = answer_one(season, fixture) if wanted.date else answer_season(season, work)
    noted = (*warnings, *earlier.told, *_unanswered(answer), *_unproven(answer))
    answer = replace(answer, warnings=(*noted, *_assumptions(season, answer)))
    document = remembering(answer_to_dict(answer, earlier.revision), earlier)
    chosen = next(a for a in answer.fixtures if a.fixture.date == fixture.date)
    message = message_text(season, chosen)
    return Picked(answer, chosen, document, message, earlier.revision)


def mend_lineup(
    season: TeamSeason, wanted: Wanted, withdrawn: tuple[str, ...], folder: Path, work: Work
) -> Picked:
    """Return the line-up that moves the fewest people now that some cannot play.

    What was announced is read from ``lineup.json`` in the folder; without it
    the line-up is worked out first, as it would have been announced.

    Raises
    ------
    BadInput
        If a name is not known or does not play anyway.
    NoPlan
        With a smallest set of conditions that rule out every line-up.
    """
    season = _overridden(season, wanted)
    fixture = fixture_asked_for(season, wanted.date)
    _check_names(season, withdrawn)
    announced = read_announced(folder / DOCUMENT, season.name, fixture.date)
    if announced is None:
        picked = pick_lineups(season, wanted, work)
        pairs = tuple(pair.players for pair in picked.fixture.chosen.pairs)
        gone, revision, document = withdrawn, 1, picked.document
    else:
        pairs, document, revision = announced.pairs, announced.document, announced.revision
        gone = tuple(dict.fromkeys((*announced.withdrawn, *withdrawn)))
        _check_known(season, pairs)
    _check_playing(pairs, withdrawn, fixture)
    mended = after_withdrawal(season, fixture, pairs, gone)
    now = tuple(pair.players for pair in mended.chosen.pairs)
    answer = SeasonAnswer(season, (mended,), appearances_after(season, {fixture.date: now}))
    changed = _with_fixture(document, mended, revision + 1)
    return Picked(answer, mended, changed, message_text(season, mended), revision + 1)


def write_lineups(picked: Picked, folder: Path, paper: str) -> tuple[Path, ...]:
    """Write the document, the workbook and the message; all are made before one is written.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    from scheduler.exporters.team_sheet import team_sheet_bytes  # noqa: PLC0415  openpyxl is slow

    season = picked.answer.season
    name = safe_file_name(f"{season.name} {picked.fixture.fixture.date}")
    if picked.revision > 1:
        name += f"-r{picked.revision}"
    files = {
        folder / DOCUMENT: document_text(picked.document).encode("utf-8", "replace"),
        folder / f"{name}.xlsx": team_sheet_bytes(
            picked.answer,
            picked.fixture,
            identity=str(picked.document["id"]),
            revision=picked.revision,
            paper=paper,
        ),
        folder / f"{name}.txt": picked.message.encode("utf-8", "replace"),
    }
    folder.mkdir(parents=True, exist_ok=True)
    write_together(list(files.items()))
    return tuple(files)


def fixture_asked_for(season: TeamSeason, date: str) -> Fixture:
    """Return the fixture of a date, or the next one to come.

    Raises
    ------
    BadInput
        If there is none, or it has been played.
    """
    dates = {fixture.date: fixture for fixture in season.fixtures}
    if date and date not in dates:
        raise BadInput.one("--date", f"there is no fixture on {date}{hint(date, dates)}")
    if date and date in season.played_dates:
        raise BadInput.one(
            "--date", f"the fixture on {date} has been played (see the Played sheet)"
        )
    if not season.to_come:
        raise BadInput.one("Fixtures", "every fixture has been played; there is nothing to pick")
    return dates[date] if date else min(season.to_come, key=lambda fixture: fixture.date)


def _overridden(season: TeamSeason, wanted: Wanted) -> TeamSeason:
    aim = season.aim if wanted.aim is None else wanted.aim
    partnering = season.partnering if wanted.partnering is None else wanted.partnering
    return replace(season, aim=aim, partnering=partnering)


def _unanswered(answer: SeasonAnswer) -> list[str]:
    told = []
    for each in answer.fixtures:
        missing = [n for n in each.fixture.unanswered if each.fixture.answer(n) is Here.YES]
        if missing and not each.played:
            told.append(f"no answer yet for {each.fixture.date}, counted as yes: {_few(missing)}")
    return told


def _unproven(answer: SeasonAnswer) -> list[str]:
    """Return a word where a fixture chosen by itself ended without a proof; rare below 7 lines."""
    alone = [each for each in answer.fixtures if not each.played and not answer.measures]
    return [
        f"the line-up for {each.fixture.date} is the best found; a better one is not ruled out"
        for each in alone
        if not each.chosen.proven
    ]


def _few(names: list[str]) -> str:
    more = f" and {len(names) - 6} more" if len(names) > 6 else ""
    return ", ".join(names[:6]) + more


def _assumptions(season: TeamSeason, answer: SeasonAnswer) -> list[str]:
    """Return what the chances rest on."""
    curve = curve_of(season)
    told = []
    if curve.results:
        told.append(
            f"the win curve is fitted to {curve.results} results: scale {curve.scale:.1f} levels, "
            f"somewhere from {curve.low:.1f} to {curve.high:.1f}"
        )
    elif season.scale is None:
        told.append(f"the win curve's scale of {curve.scale:g} levels is an invented number")
    unknown = any(
        sum(known is not None for known in each.fixture.their_sums) < each.fixture.lines
        for each in answer.fixtures
        if not each.played
    )
    if unknown:
        low, high = unknown_spread(season)
        told.append(f"opposing pairs nobody knows are taken to add up to {low:g} to {high:g}")
    return told


def _check_names(season: TeamSeason, names: tuple[str, ...]) -> None:
    known = season.member_by_name
    unknown = [name for name in names if name not in known]
    if unknown:
        faults = [f"no player called '{name}'{hint(name, known)}" for name in unknown]
        raise BadInput([_fault(what) for what in faults])


def _check_playing(
    pairs: tuple[tuple[str, str], ...], withdrawn: tuple[str, ...], fixture: Fixture
) -> None:
    playing = {name for pair in pairs for name in pair}
    idle = [name for name in withdrawn if name not in playing]
    if idle:
        what = f"does not play on {fixture.date}; strike the name from the reserves"
        raise BadInput([_fault(f"{name} {what}") for name in idle])


def _check_known(season: TeamSeason, pairs: tuple[tuple[str, str], ...]) -> None:
    known = season.member_by_name
    strangers = [name for pair in pairs for name in pair if name not in known]
    if strangers:
        what = "was announced and is not on the Squad sheet any more"
        raise BadInput([_fault(f"{name} {what}") for name in strangers])


def _fault(what: str) -> Fault:
    return Fault("--withdrawn", what)


def _with_fixture(document: dict[str, Any], mended: FixtureAnswer, revision: int) -> dict[str, Any]:
    """Return the document with one fixture's line-ups replaced and the appearances put right."""
    before = next(f for f in document["fixtures"] if f["date"] == mended.fixture.date)
    counts = dict(document["appearances"])
    for pair in before["lineups"][0]["pairs"]:
        for name in pair["players"]:
            counts[name] = counts.get(name, 0) - 1
    for name in mended.chosen.players:
        counts[name] = counts.get(name, 0) + 1
    fixtures = [
        fixture_to_dict(mended) if fixture is before else fixture
        for fixture in document["fixtures"]
    ]
    changed = {**document, "fixtures": fixtures, "appearances": counts, "revision": revision}
    return identified(changed)
