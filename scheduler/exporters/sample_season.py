"""An invented team's season, as the rows a captain would type.

Team, people, opponents and places are made up.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

Rows = list[dict[str, Any]]

SETTINGS: dict[str, Any] = {
    "Name": "Millrace second team",
    "Aim": "even",
    "Partners": "vary",
    "Their pairs from": 9,
    "Their pairs to": 12,
}

_SQUAD: list[tuple[str, float, str, str, str, int, str]] = [
    ("Aurelio Zanforlin", 7.5, "M", "deuce", "right", 3, ""),
    ("Brígida Salcines", 6.5, "W", "ad", "left", 4, ""),
    ("Corentin Quéffelec", 6, "M", "ad", "right", 2, ""),
    ("Dorottya Ványi", 5.5, "W", "deuce", "right", 4, "Brígida Salcines"),
    ("Eskil Torbjörnsen", 7, "M", "either", "right", 0, ""),
    ("Fenella Auchterlony", 5, "W", "ad", "right", 3, ""),
    ("Gwilym Penhalligon", 5, "M", "deuce", "left", 1, ""),
    ("Hinewai Tamihana", 6, "W", "either", "right", 2, ""),
    ("Izidor Mlakar", 4.5, "M", "ad", "right", 3, ""),
    ("Jadwiga Ostrowicz", 4.5, "W", "deuce", "right", 2, ""),
    ("Kwabena Osafo", 5.5, "M", "deuce", "right", 1, ""),
    ("Lieselot Vandeputte", 4, "W", "ad", "right", 0, "Izidor Mlakar"),
    ("Mirza Hadžikadić", 5, "M", "either", "right", 2, ""),
    ("Noor Zwartbol", 5.5, "W", "ad", "right", 1, ""),
]
_NAMES = [row[0] for row in _SQUAD]

_FIXTURES: list[tuple[dt.date, str, str, str, str]] = [
    (dt.date(2031, 4, 12), "home", "Alder Lock", "12; 11; 10; 8.5", "yyyyyyynyyyyyy"),
    (dt.date(2031, 4, 26), "away, Stonebatter Lane", "Stonebatter", "", "yyynyyyyyyyiyy"),
    (dt.date(2031, 5, 10), "home", "Gullwing", "13; ?; ?; 9", "yynyyyyiyyyyyn"),
    (dt.date(2031, 5, 24), "away, The Old Brickfield", "Brickfield", "", "yyyyinyyyyynyy"),
    (dt.date(2031, 6, 7), "home", "Tarn End", "", "nyyyyyyyiyyyyy"),
    (dt.date(2031, 6, 21), "away, Alder Lock", "Alder Lock", "12; 11; 10; 8.5", "yyy-yyny-yyyiy"),
]
_ANSWERS = {"y": "yes", "n": "no", "i": "if needed", "-": None}

_PLAYED: list[tuple[int, int, str, str, float | None, str]] = [
    (0, 1, "Aurelio Zanforlin", "Fenella Auchterlony", 12, "yes"),
    (0, 2, "Eskil Torbjörnsen", "Kwabena Osafo", 11, "yes"),
    (0, 3, "Brígida Salcines", "Jadwiga Ostrowicz", 10, "no"),
    (0, 4, "Mirza Hadžikadić", "Noor Zwartbol", 8.5, "yes"),
    (1, 1, "Eskil Torbjörnsen", "Hinewai Tamihana", 12.5, "no"),
    (1, 2, "Corentin Quéffelec", "Kwabena Osafo", 11, "yes"),
    (1, 3, "Noor Zwartbol", "Gwilym Penhalligon", 10.5, "yes"),
    (1, 4, "Izidor Mlakar", "Jadwiga Ostrowicz", 9.5, "no"),
]

SHEETS: dict[str, Rows] = {
    "Squad": [
        {
            "Name": name,
            "Level": level,
            "Group": group,
            "Side": side,
            "Hand": hand,
            "Matches so far": matches,
            "Likes": likes,
        }
        for name, level, group, side, hand, matches, likes in _SQUAD
    ],
    "Fixtures": [
        {
            "Date": date,
            "Venue": venue,
            "Opponents": opponents,
            "Their pairs": theirs,
            **{name: _ANSWERS[answer] for name, answer in zip(_NAMES, answers, strict=True)},
        }
        for date, venue, opponents, theirs, answers in _FIXTURES
    ],
    "Conditions": [
        {"Condition": "pairs", "Number": 4},
        {"Condition": "lines in level order"},
        {"Condition": "highest pair sum", "Number": 13},
        {"Condition": "greatest difference in a pair", "Number": 3},
        {"Condition": "at least in a pair", "Number": 1, "Group": "W", "Lines": "3-4"},
        {"Condition": "not partners", "Player": "Izidor Mlakar", "Other": "Gwilym Penhalligon"},
        {"Condition": "plays at most", "Number": 5, "Player": "Aurelio Zanforlin"},
    ],
    "Played": [
        {
            "Date": _FIXTURES[fixture][0],
            "Line": line,
            "Player": player,
            "Partner": partner,
            "Their pair": theirs,
            "Won": won,
        }
        for fixture, line, player, partner, theirs, won in _PLAYED
    ],
}
