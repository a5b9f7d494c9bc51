"""Words, table and chart of ``rota timing``."""

from __future__ import annotations

import math
from collections.abc import Iterator

from scheduler.cli.columns import columns
from scheduler.domain.formats import SetFormat
from scheduler.timing import ORIGINS, UNITS, Pace, RoundFit, TimedRound
from scheduler.timing.wording import courts_words, described, percent
from scheduler.workflow.timing import ChartRow, FormatsThatFit, LengthOfPlay, Quantiles
from scheduler.workflow.timing_players import Play

_BAR = 40
_ALL, _ONE = "█", "░"
_DEFAULTS = Pace()
#: Where each server stands in the answer.
_SERVERS = ("first team", "second team", "first team's partner", "second team's partner")


def length_text(play: Play, length: LengthOfPlay) -> str:
    """Return the answer about one format, ready to print."""
    heading = _sentence(described(length.set_format, length.game_format))
    parts = [f"{heading}, {_on(play.courts)}", f"Points: {play.basis}.", columns(_facts(length))]
    if length.timed is not None:
        parts.append(timed_text(length.timed, length.every_court.median))
    else:
        parts += [columns(_minutes_rows(play, length)), *_chart_parts(play, length.chart)]
    return "\n\n".join([*parts, _origins(play, length.set_format is SetFormat.TIMED)])


def fit_text(play: Play, found: FormatsThatFit) -> str:
    """Return the list of formats against a round's minutes, ready to print."""
    heading = f"A round of {found.minutes:g} minutes, {_on(play.courts)}"
    rows = [("format", "fits?", "in time", "median", "80 %", "95 %"), *map(_fit_row, found.formats)]
    parts = [heading, f"Points: {play.basis}."]
    if found.formats:
        parts.append(columns(rows))
    parts.append(
        f"Or a timed round with {found.timed_game} games: " + timed_text(found.timed, found.minutes)
    )
    return "\n\n".join([*parts, _origins(play, timed=False)])


def timed_text(timed: TimedRound, minutes: float) -> str:
    """Return in words how many games a timed round yields and whether all serve equally."""
    if timed.games[0] > 0.99:
        return f"{minutes:g} minutes are too short to finish a game."
    low, high = timed.games_quantile(0.1), timed.games_quantile(0.9)
    span = f"{low}" if low == high else f"{low} to {high}"
    found = f"{span} finished games in {minutes:g} minutes in 8 rounds of 10"
    equally = f"all four equally often in {percent(timed.served_equally)}"
    if high >= 4:
        equally += f" (after {_fours(high)} games)"
    return (
        f"{found}, {timed.games_mean:.1f} in the mean.\n"
        f"Everyone has served a finished game in {percent(timed.everyone_served)} of rounds, "
        f"{equally}.\n"
        f"Level at the bell in {percent(timed.level)}. A game in play at the bell does not count."
    )


def _fours(high: int) -> str:
    """Return the numbers of games after which all four have served equally often."""
    multiples = [str(count) for count in range(4, high + 1, 4)]
    return " or ".join(multiples)


def _facts(length: LengthOfPlay) -> list[tuple[str, str]]:
    rows: list[tuple[str, str]] = []
    if length.set_format.only_tie_break_to is None:
        alike = length.holds[:2] == length.holds[2:]
        rows += [
            (f"{who} holds a game", percent(chance))
            for who, chance in zip(_SERVERS, length.holds[: 2 if alike else 4], strict=False)
        ]
        if length.set_format.tie_break_at is not None and length.tie_break_chance is not None:
            rows.append(("first team wins a tie-break", percent(length.tie_break_chance)))
    won = "first team leads at the bell" if length.timed else "first team wins"
    rows.append((won, percent(length.set_chance)))
    if length.set_format.only_tie_break_to is None:
        rows.append(("games, mean", f"{length.games_mean:.1f}"))
    rows.append(("points, mean", f"{length.points_mean:.1f}"))
    return rows


def _minutes_rows(play: Play, length: LengthOfPlay) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = [
        ("minutes until done", "half", "80 %", "95 %"),
        ("one court", *_quantile_words(length.one_court)),
    ]
    if play.courts > 1:
        rows.append((courts_words(play.courts), *_quantile_words(length.every_court)))
    return rows


def _quantile_words(quantiles: Quantiles) -> tuple[str, str, str]:
    return (_minutes(quantiles.median), _minutes(quantiles.p80), _minutes(quantiles.p95))


def _minutes(value: float) -> str:
    """Return whole minutes rounded up: nobody is done earlier than said."""
    return str(math.ceil(value)) if math.isfinite(value) else "no end in sight"


def _chart_parts(play: Play, rows: tuple[ChartRow, ...]) -> Iterator[str]:
    if not rows:
        return
    legend = f"{_ALL} done by this minute"
    if play.courts > 1:
        legend = f"{_ALL} all {play.courts} courts done by this minute   {_ONE} one court"
    lines = [_chart_line(row, several=play.courts > 1) for row in rows]
    yield "\n".join([legend, *lines])


def _chart_line(row: ChartRow, *, several: bool) -> str:
    dark = round(row.all_courts * _BAR)
    light = round(row.one_court * _BAR) - dark
    bar = _ALL * dark + (_ONE * light if several else "")
    return f"{row.minute:>4} min  {bar:<{_BAR}}  {percent(row.all_courts):>9}"


def _fit_row(fit: RoundFit) -> tuple[str, ...]:
    verdict = "no"
    if fit.fits:
        verdict = "yes" if fit.done_in_time >= 0.95 else "mostly"
    name = described(fit.set_format, fit.game_format).split(" ", 1)[1]
    quantiles = _quantile_words(Quantiles(fit.median, fit.p80, fit.p95))
    return (name, verdict, percent(fit.done_in_time), *quantiles)


def _origins(play: Play, timed: bool) -> str:
    """Return the list of everything the minutes rest on, with where it comes from."""
    names = [name for name in ORIGINS if name != "set_break"]
    rows = [(_named(name), _value(play, name), _origin(play, name)) for name in names]
    slower = ""
    if play.court.times != 1:
        slower = f"\nA court of beginners: play is taken {play.court.times:g} times as long."
    ends = "the bell" if timed else "the end of the last point"
    return (
        f"Minutes count from the round's start to {ends}, changeover and knock-up included.{slower}"
        f"\nThey rest on these settings, none of them measured here:\n{columns(rows)}"
    )


def _named(name: str) -> str:
    return "--" + name.replace("_", "-")


def _value(play: Play, name: str) -> str:
    unit = UNITS[name]
    value = f"{getattr(play.pace, name):g}"
    return f"{value} s" if unit == "s" else value


def _origin(play: Play, name: str) -> str:
    given = getattr(play.pace, name) != getattr(_DEFAULTS, name)
    return "as given" if given else ORIGINS[name]


def _on(courts: int) -> str:
    return "one court" if courts == 1 else f"{courts} courts"


def _sentence(text: str) -> str:
    return text[0].upper() + text[1:]
