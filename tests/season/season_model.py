"""The plainest model of a season, for machines that do anything in any order: dicts and a list."""

from __future__ import annotations

from pathlib import Path

from season_plans import everything, rows

from scheduler.domain.match_keys import matches_by_key
from scheduler.domain.plan import Plan
from scheduler.domain.typed_score import TypedScore
from scheduler.season.people import load_people
from scheduler.season.results import results_of
from scheduler.season.store import reading
from scheduler.workflow.season_tables import export_season, import_season

Teams = tuple[tuple[str, ...], tuple[str, ...]]


class SeasonModel:
    """What a season file must hold.

    `plans` has the plan that counts of each evening by its number, `scores`
    what was typed last by match; `typed` has every row a score ever got, with
    the row it corrects (counted from 1) or None; `shown` has the present name
    of everybody by every spelling.
    """

    def __init__(self) -> None:
        self.plans: dict[int, Plan] = {}
        self.scores: dict[int, dict[str, str]] = {}
        self.typed: list[tuple[str, str, int | None]] = []
        self.shown: dict[str, str] = {}
        self._row: dict[tuple[int, str], int] = {}

    def hold(self, number: int, plan: Plan) -> None:
        """Note the plan of an evening, new or in the place of an earlier one."""
        self.plans[number] = plan
        self.scores.setdefault(number, {})
        for player in plan.event.players:
            self.shown.setdefault(player.name, player.name)

    def type(self, number: int, key: str, text: str) -> None:
        """Note a score that was typed, "" where one was taken back."""
        if self.scores[number].get(key, "") == text:
            return
        self.typed.append((key, text, self._row.get((number, key))))
        self._row[number, key] = len(self.typed)
        if text:
            self.scores[number][key] = text
        else:
            del self.scores[number][key]

    def rename(self, name: str, new: str) -> None:
        """Note that whoever has one name now has another."""
        for spelling, shown in self.shown.items():
            if shown == name:
                self.shown[spelling] = new
        self.shown[new] = new

    def teams(self, number: int, key: str) -> Teams:
        """Return who plays a match, by their present names."""
        _, match = matches_by_key(self.plans[number])[key]
        first, second = (
            tuple(self.shown[name] for name in team) for team in (match.team_a, match.team_b)
        )
        return first, second

    def check(self, path: Path) -> None:
        """Check that every score counts as typed last, that no row is gone, and who is who."""
        with reading(path) as connection:
            people = load_people(connection)
        by_spelling = people.by_spelling.items()
        assert {name: people.name_of[person] for name, person in by_spelling} == self.shown
        found = results_of(path)
        evenings = dict(zip(sorted(self.plans), found.evenings, strict=True))
        expected = {
            (evenings[number].number, key): (text, self.teams(number, key))
            for number, scores in self.scores.items()
            for key, text in scores.items()
        }
        there = {
            (match.evening, match.key): (
                TypedScore(match.key, match.sets, match.mark).text,
                match.teams,
            )
            for match in found.matches
        }
        assert there == expected
        recorded = rows(path, "SELECT key, trim(sets || ' ' || mark), corrects FROM scores")
        assert recorded == self.typed


def through_a_workbook(path: Path, number: int) -> Path:
    """Return the season that came back from an export, after checking that it is the same."""
    before = everything(path)
    book = path.with_name(f"{number}.xlsx")
    export_season(path, book)
    again = path.with_name(f"season {number}.db")
    import_season(book, again)
    assert everything(again) == before
    return again
