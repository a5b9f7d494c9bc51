"""What a line-up gains and gives up, in one sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from scheduler.domain.fixture import Aim, Partnering
from scheduler.lineup.figures import Figures, Pairs
from scheduler.lineup.price import Situation

_LEAST_WINS = 0.05
"""A smaller difference in expected line wins is not worth a word."""


@dataclass(frozen=True)
class _Scale:
    """One thing in which line-ups differ; `worth` is better the higher it is."""

    kind: str
    worth: Callable[[Figures], float]
    words: Callable[[Figures, Figures], str]
    least: float = 1e-6


def _wins(now: Figures, then: Figures) -> str:
    return f"expected line wins ({now.wins:.2f} instead of {then.wins:.2f})"


def _even(now: Figures, then: Figures) -> str:
    return f"evenness (pair sums {_sums(now)} instead of {_sums(then)})"


def _together(now: Figures, then: Figures) -> str:
    return f"settled pairs ({_times(now)} instead of {then.together})"


def _fresh(now: Figures, then: Figures) -> str:
    return f"new partners ({_times(now)} instead of {then.together})"


def _turns(now: Figures, then: Figures) -> str:
    matches = _count(now.turns, "other match", "other matches")
    return f"fair turns (those who play have {matches} in all instead of {then.turns})"


def _sides(now: Figures, then: Figures) -> str:
    pairs = _count(now.same_side, "pair")
    return f"sides ({pairs} of two alike instead of {then.same_side})"


def _hands(now: Figures, then: Figures) -> str:
    pairs = _count(now.left_hands, "pair")
    return f"hands ({pairs} of two left-handers instead of {then.left_hands})"


def _wishes(now: Figures, then: Figures) -> str:
    return f"wishes ({_count(now.liked, 'wish', 'wishes')} kept instead of {then.liked})"


def _sums(figures: Figures) -> str:
    return ", ".join(f"{value:g}" for value in figures.sums)


def _times(figures: Figures) -> str:
    return f"partners {_count(figures.together, 'other time')} together"


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


_SCALES = {
    "wins": _Scale("wins", lambda f: f.wins, _wins, _LEAST_WINS),
    "even": _Scale("even", lambda f: -f.unevenness, _even),
    "turns": _Scale("turns", lambda f: -f.turns, _turns),
    "sides": _Scale("sides", lambda f: -f.same_side, _sides),
    "hands": _Scale("hands", lambda f: -f.left_hands, _hands),
    "wishes": _Scale("wishes", lambda f: f.liked, _wishes),
}
_SETTLED = _Scale("together", lambda f: f.together, _together)
_VARIED = _Scale("together", lambda f: -f.together, _fresh)


def gains(situation: Situation, now: Figures, then: Figures) -> list[str]:
    """Return the kinds of thing in which one line-up is better than another."""
    return [s.kind for s in _scales(situation) if s.worth(now) > s.worth(then) + s.least]


def why_chosen(situation: Situation, chosen: Figures, others: Sequence[Figures]) -> str:
    """Return why the first line-up is chosen and what the alternatives would do better."""
    gives_up = []
    for scale in _scales(situation):
        better = [f for f in others if scale.worth(f) > scale.worth(chosen) + scale.least]
        if better:
            best = max(better, key=scale.worth)
            number = 1 + others.index(best)
            gives_up.append(f"{scale.words(chosen, best)} against alternative {number}")
    first = "Fair turns over the season, then" if situation.looks_ahead else "Best for"
    merit = f"{first} the aim '{situation.season.aim}': {_merit(situation, chosen)}"
    if not gives_up:
        return f"{merit}; gives up nothing that an alternative here has."
    return f"{merit}; gives up {_and(gives_up[:2])}."


def why_alternative(
    situation: Situation, now: tuple[Pairs, Figures], then: tuple[Pairs, Figures]
) -> str:
    """Return what another line-up gains and gives up beside the chosen one."""
    scales = _scales(situation)
    better = [s for s in scales if s.worth(now[1]) > s.worth(then[1]) + s.least]
    worse = [s for s in scales if s.worth(now[1]) < s.worth(then[1]) - s.least]
    gained = _and(s.words(now[1], then[1]) for s in better) or "nothing"
    lost = _and(s.words(now[1], then[1]) for s in worse) or "nothing"
    return f"{_difference(now[0], then[0])}: gains {gained}; gives up {lost}."


def _scales(situation: Situation) -> list[_Scale]:
    season = situation.season
    first = {Aim.STRONG: "wins", Aim.EVEN: "even", Aim.SHARE: "turns", Aim.SETTLED: "together"}
    scales = [*_partner_scale(situation), *_SCALES.values()]
    return sorted(scales, key=lambda scale: scale.kind != first[season.aim])


def _partner_scale(situation: Situation) -> list[_Scale]:
    """Return what earlier partners are worth; nothing where the captain does not mind."""
    season = situation.season
    if season.aim is Aim.SETTLED or season.partnering is Partnering.KEEP:
        return [_SETTLED]
    return [_VARIED] if season.partnering is Partnering.VARY else []


def _merit(situation: Situation, chosen: Figures) -> str:
    match situation.season.aim:
        case Aim.EVEN:
            return f"pair sums {_sums(chosen)}"
        case Aim.STRONG:
            return f"{chosen.wins:.1f} line wins expected against the strongest opponents assumed"
        case Aim.SETTLED:
            return _times(chosen)
        case Aim.SHARE:
            matches = _count(chosen.turns, "other match", "other matches")
            return f"those who play have {matches} in all"


def _difference(now: Pairs, then: Pairs) -> str:
    playing, before = _people(now), _people(then)
    coming = [name for name in playing if name not in before]
    going = [name for name in before if name not in playing]
    if coming:
        verb = "plays" if len(coming) == 1 else "play"
        return f"{_and(coming)} {verb} instead of {_and(going)}"
    known = {frozenset(pair) for pair in then}
    new = [pair for pair in now if frozenset(pair) not in known]
    if new:
        return f"The same people, {_and(f'{a} with {b}' for a, b in new)}"
    return f"The same pairs, {_and(f'{a} and {b} on line {i}' for i, (a, b) in _moved(now, then))}"


def _moved(now: Pairs, then: Pairs) -> list[tuple[int, tuple[str, str]]]:
    return [
        (line, pair)
        for line, (pair, before) in enumerate(zip(now, then, strict=True), 1)
        if frozenset(pair) != frozenset(before)
    ]


def _people(pairs: Pairs) -> list[str]:
    return [name for pair in pairs for name in pair]


def _and(parts: Iterable[str]) -> str:
    *most, last = list(parts) or [""]
    return f"{', '.join(most)} and {last}" if most else last
