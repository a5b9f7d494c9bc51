"""What the page says is what the plan holds: stops, meetings, topics, reminders."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import pytest
from exporter_plans import make_plan
from page_driver import Phone

from scheduler.domain.event import Event, Kind
from scheduler.domain.formats import EndChanges, GameFormat, SetFormat
from scheduler.domain.plan import Match, Plan
from scheduler.exporters.page import page_of
from scheduler.exporters.page.content import drill_topics
from scheduler.exporters.page.picture import draw, meetings_of
from scheduler.exporters.page.reminder import reminder
from scheduler.exporters.view import make_view

STOPS = """
return Object.fromEntries([...document.querySelectorAll(".who")].map((who) => [
  who.querySelector("summary").textContent,
  [...who.querySelectorAll(".stops > li")].map((stop) => stop.textContent),
]));
"""


def together(plan: Plan, one: str, other: str) -> int:
    """Return in how many matches two people meet, counted straight from the plan."""
    return sum({one, other} <= set(match.players) for _, match in plan.matches())


def test_every_stop_of_every_evening_is_the_plans(opened: Callable[..., Phone]) -> None:
    """Each person reads, round by round, the court, everybody on it, the turn and the side."""
    plan = make_plan(stations=True)
    stops = opened(plan).run(STOPS)
    assert len(stops) == len(plan.event.players)
    for index, planned in enumerate(plan.rounds):
        for entry in planned.courts:
            for name in entry.players:
                text = stops[name][index]
                assert entry.court in text
                assert all(other in text for other in entry.players if other != name)
                if isinstance(entry, Match):
                    turn = entry.serving_order.index(name)
                    side = "deuce" if name in entry.deuce_receivers else "ad"
                    assert f"You serve {('1st', '2nd', '3rd', '4th')[turn]}" in text
                    assert f"receive on the {side} side" in text
        for name in planned.resting:
            assert "You rest." in stops[name][index]
        for name in planned.absent:
            assert "You are not here." in stops[name][index]


def test_the_picture_has_a_square_for_every_two_people() -> None:
    """Squares by shade are as many as pairs that met so often, counted from the plan."""
    plan = make_plan(16, 4, 0, 6)
    names = [player.name for player in plan.event.players]
    times = [min(together(plan, *pair), 3) for pair in combinations(names, 2)]
    picture = draw(make_view(plan))
    assert [shade.pairs for shade in picture.shades] == [times.count(n) for n in range(4)]
    assert [shade.path.count("M") for shade in picture.shades] == [
        shade.pairs for shade in picture.shades
    ]
    assert sum(shade.pairs for shade in picture.shades) == 16 * 15 // 2


def test_long_names_beside_the_picture_are_initials_and_no_two_alike() -> None:
    """The last word's initial is enough, but where two would look alike or there is no last."""
    view = make_view(make_plan(6, 1, 0, 2))
    labels = (
        "Beatrix Holloway", "Philippa Barrowclough", "Philippa Bellwether", "Ravi Sorley",
        "Incomprehensibly", "Nico van der Barrow",
    )  # fmt: skip
    evenings = tuple(
        replace(evening, person=replace(evening.person, label=label))
        for evening, label in zip(view.evenings, labels, strict=True)
    )
    keys = [evening.person.key for evening in evenings]
    shorts = [label for label, _, _ in draw(replace(view, evenings=evenings)).labels]
    assert shorts == [
        "Beatrix H.", f"Philippa {keys[1]}", f"Philippa {keys[2]}", "Ravi Sorley",
        f"Incomprehen {keys[4]}", "Nico B.",
    ]  # fmt: skip


def test_no_score_is_kept_of_a_match_somebody_never_came_to() -> None:
    """Its button is missing wherever it stands; other courts of the round keep theirs."""
    plan = make_plan(22, 5, 0, 3)
    lacking, other = plan.rounds[0].matches[:2]
    first = replace(plan.rounds[0], missing=(lacking.team_a[0],))
    page = page_of(replace(plan, rounds=(first, *plan.rounds[1:]))).decode("utf-8")
    numbers = {court.name: at for at, court in enumerate(plan.event.courts, start=1)}
    assert f'data-k="R1C{numbers[lacking.court]}"' not in page
    assert f'data-k="R1C{numbers[other.court]}"' in page


def test_lists_of_meetings_say_the_same_as_the_plan() -> None:
    """Partners, opponents and the missed are those of the plan, for everybody."""
    plan = make_plan(12, 3, 1, 4)
    view = make_view(plan)
    name_of = {person.key: name for name, person in view.person_of.items()}
    for met in meetings_of(view):
        me = name_of[met.person.key]
        for _, match in plan.matches():
            if me in match.players:
                partner = next(set(t) - {me} for t in (match.team_a, match.team_b) if me in t)
                assert partner <= {name_of[other.key] for other, _ in met.partners}
        in_matches = sum(n for _, n in met.partners) + sum(n for _, n in met.opponents)
        assert in_matches == sum(
            together(plan, me, other) for other in name_of.values()
        ) - together(plan, me, me)
        missed = {name_of[other.key] for other in met.missed}
        assert missed == {o for o in name_of.values() if o != me and not together(plan, me, o)}


def test_topics_stand_once_in_playing_order() -> None:
    """Tonight's topics are those of the drill rounds, or of the stations where there are some."""
    assert drill_topics(make_plan(drills=3)) == ("volleys", "returns of serve", "lobs")
    assert drill_topics(make_plan(drills=2, stations=True)) == tuple(
        f"topic Court {number}" for number in range(1, 6)
    )


@pytest.mark.parametrize(
    ("form", "wanted"),
    [  # ITF Rules 5b and 6, and the appendix on alternative scoring; pro set: common regulation
        (SetFormat.TIE_BREAK, "with 6 games and two more than the other wins. At 6 games all"),
        (SetFormat.SHORT, "with 4 games and two more than the other wins. At 4 games all"),
        (SetFormat.SHORT_3_3, "with 4 games and two more than the other wins. At 3 games all"),
        (SetFormat.PRO, "with 8 games and two more than the other wins. At 8 games all"),
        (SetFormat.ADVANTAGE, "with 6 games and two more than the other wins."),
        (SetFormat.MATCH_TIE_BREAK_10, "with 10 and two more than the other wins"),
        (SetFormat.TIMED, "until the bell"),
    ],
)
def test_reminders_fit_the_format(form: SetFormat, wanted: str) -> None:
    """The reminder names the numbers of the event's format; a tie-break only where there is one."""
    event = replace(make_plan().event, set_format=form)
    text = " ".join(reminder(event))
    assert wanted in text
    assert ("tie-break" in text) == (form.tie_break_at is not None)


def test_reminders_fit_game_and_ends() -> None:
    """No-ad and the other change of ends are told as the appendix has them, mixed too."""
    event = make_plan().event
    no_ad = replace(event, game_format=GameFormat.NO_AD, end_changes=EndChanges.FIRST_THEN_FOUR)
    mixed = replace(no_ad, rounds=tuple(replace(r, kind=Kind.MIXED) for r in event.rounds))

    def text(of: Event) -> str:
        return " ".join(reminder(of))

    assert "two points running" in text(event)
    assert "every six points" in text(event)
    assert "the receivers choose the half" in text(no_ad)
    assert "after the first point and then after every four" in text(no_ad)
    assert "the receivers choose" not in text(mixed)
