"""The measures of a plan in plain words, each beside the best that was possible."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

from scheduler.domain.event import Kind, Strength
from scheduler.domain.formats import GameFormat, SetFormat
from scheduler.domain.plan import Measure, Plan
from scheduler.exporters.meetings import Meetings, Pair
from scheduler.exporters.text import clean, counted, number

_TIMES = {2: "twice", 3: "three times", 4: "four times", 5: "five times", 6: "six times"}


@dataclass(frozen=True, slots=True)
class MeasureLine:
    """One measure for people.

    `title` says what it is about, `sentence` how the plan does and how good
    that is; `value` and `bound` are the figures, `proof` what the bound rests on.
    """

    name: str
    title: str
    sentence: str
    value: float
    bound: float | None
    standing: str
    proof: str


@dataclass(frozen=True, slots=True)
class _Told:
    """How one measure is told: its title and the first half of its sentence."""

    title: str
    tell: Callable[[Measure, Plan, Meetings], str]


def measure_lines(plan: Plan, meetings: Meetings) -> tuple[MeasureLine, ...]:
    """Return a line for every measure that is about something in this plan.

    They come in the plan's order, but stations before drill groups, whose
    least number hangs on them.
    """
    idle = _about_nothing(plan)
    names = [name for name in plan.measures if name not in idle]
    if "station_repeats" in names and "drill_repeats" in names:
        names.remove("station_repeats")
        names.insert(names.index("drill_repeats"), "station_repeats")
    return tuple(_line(name, plan.measures[name], plan, meetings) for name in names)


def _about_nothing(plan: Plan) -> frozenset[str]:
    """Return the measures of what this evening has not: stations, drills, wishes that may give."""
    event = plan.event
    there = {
        "station_repeats": bool(event.stations),
        "drill_repeats": any(asked.kind is Kind.DRILL for asked in event.rounds),
        "wishes_missed": any(wish.strength is Strength.SHOULD for wish in event.wishes),
    }
    return frozenset(name for name, is_there in there.items() if not is_there)


def _line(name: str, measure: Measure, plan: Plan, meetings: Meetings) -> MeasureLine:
    told = _TOLD.get(name)
    title = told.title if told else clean(name.replace("_", " ")).capitalize()
    first = told.tell(measure, plan, meetings) if told else f"{title}: {number(measure.value)}"
    return MeasureLine(
        name=name,
        title=title,
        sentence=f"{first}{_beside_the_bound(measure)}.",
        value=measure.value,
        bound=measure.bound,
        standing=standing(measure),
        proof=clean(measure.proof),
    )


def standing(measure: Measure) -> str:
    """Return in a few words how a figure stands to its bound."""
    if measure.proven:
        return "best possible"
    if measure.best_given_above:
        return "best once the lines above are settled"
    if measure.bound is None:
        return "no limit known"
    return f"{number(measure.value - measure.bound)} above the proven limit"


def _beside_the_bound(measure: Measure) -> str:
    if measure.proven:
        return "" if measure.value == 0 else f"; {number(measure.value)} is the proven minimum"
    if measure.best_given_above:
        return "; proved the best possible once the lines above are settled"
    if measure.bound is None:
        return ""
    if measure.bound <= 0:
        return "; whether any plan can do better is not known"
    return f"; no plan can have less than {number(measure.bound)}"


def _pairs(verb: str, count: Callable[[Meetings], Counter[Pair]]) -> Callable[..., str]:
    def tell(measure: Measure, _plan: Plan, meetings: Meetings) -> str:
        by_times = Counter(times for times in count(meetings).values() if times > 1)
        if not by_times:
            return f"No two people {verb} twice"
        return _histogram(by_times, verb, measure.value)

    return tell


def _histogram(by_times: Counter[int], verb: str, total: float) -> str:
    first = verb.split(maxsplit=1)[0]
    parts = []
    for times, pairs in sorted(by_times.items()):
        said = verb if pairs > 1 else verb.replace(first, f"{first}s", 1)
        often = _TIMES.get(times, f"{times} times")
        parts.append(f"{counted(pairs, 'pair', 'pairs')} {said} {often}")
    words = ", ".join(parts)
    return words if set(by_times) == {2} else f"{words}: {number(total)} repeats in all"


def _rests(measure: Measure, plan: Plan, _meetings: Meetings) -> str:
    if not any(planned.resting for planned in plan.rounds):
        return "Nobody rests"
    if measure.value == 0:
        return "Everybody rests exactly a fair share"
    within = number(measure.value)
    return f"Everybody rests a fair share, to within {within} of a round"


def _running(measure: Measure, _plan: Plan, _meetings: Meetings) -> str:
    if measure.value == 0:
        return "Nobody rests two rounds running"
    times = counted(int(measure.value), "time", "times")
    return f"{times} somebody rests two rounds running"


def _gap(text: str) -> Callable[..., str]:
    def tell(measure: Measure, _plan: Plan, _meetings: Meetings) -> str:
        said = text.format(number(measure.value))
        return said.replace(" 1 levels", " 1 level")

    return tell


def _blend(measure: Measure, plan: Plan, _meetings: Meetings) -> str:
    rate = number(plan.event.exchange)
    levels = "level" if rate == "1" else "levels"
    return (
        f"The gaps of all matches added up, a repeated opponent counting as {rate} {levels} more, "
        f"come to {number(measure.value)}"
    )


def _wishes(measure: Measure, _plan: Plan, _meetings: Meetings) -> str:
    if measure.value == 0:
        return "Every wish marked 'should' is kept"
    return f"{counted(int(measure.value), 'wish', 'wishes')} marked 'should' could not be kept"


def _returns(place: str) -> Callable[..., str]:
    def tell(measure: Measure, _plan: Plan, _meetings: Meetings) -> str:
        if measure.value == 0:
            return f"Nobody comes to the same {place} twice"
        return (
            f"Returns to a {place} already played on: {number(measure.value)}, all people together"
        )

    return tell


def _minutes(share: str) -> Callable[..., str]:
    def tell(measure: Measure, _plan: Plan, _meetings: Meetings) -> str:
        return f"{share} over on all courts after {number(measure.value)} minutes, by estimate"

    return tell


_TOLD = {
    "partner_repeats": _Told("Partners", _pairs("partner", lambda m: m.partners_by_choice)),
    "opponent_repeats": _Told("Opponents", _pairs("oppose", lambda m: m.opponents)),
    "meeting_repeats": _Told(
        "Meetings in matches",
        _pairs("meet", lambda m: m.partners_by_choice + m.opponents),
    ),
    "drill_repeats": _Told("Drill groups", _pairs("share a drill group", lambda m: m.drills)),
    "rest_unfairness": _Told("Rests", _rests),
    "back_to_back_rests": _Told("Rests running", _running),
    "level_gap_mean": _Told(
        "Level balance", _gap("The two teams of a match differ by {} levels on average")
    ),
    "level_gap_max": _Told(
        "Widest match", _gap("The two teams of the most uneven match differ by {} levels")
    ),
    "blend_price": _Told("New opponents against even matches", _blend),
    "court_repeats": _Told("Courts", _returns("court")),
    "station_repeats": _Told("Stations", _returns("station")),
    "first_serve_unfairness": _Told(
        "First serves",
        _gap("Nobody is more than {} away from an even share of serving first in a match"),
    ),
    "wishes_missed": _Told("Wishes", _wishes),
    "round_minutes_median": _Told("Length of a round", _minutes("Half of such rounds are")),
    "round_minutes_p80": _Told("Length of a round", _minutes("8 in 10 such rounds are")),
    "round_minutes_p95": _Told("Length of a round", _minutes("95 in 100 such rounds are")),
}


def play_words(set_format: SetFormat, game_format: GameFormat) -> str:
    """Return what is played in a match, in a sentence."""
    if set_format is SetFormat.TIMED:
        what = "A match is as many games as fit until the bell"
    else:
        what = f"A match is one {set_format}"
    if set_format.only_tie_break_to is not None:
        return f"{what}."
    return f"{what}, games {_GAME_WORDS[game_format]}."


_GAME_WORDS = {
    GameFormat.AD: "with advantage at deuce",
    GameFormat.NO_AD: "without advantage: one deciding point at deuce",
}
