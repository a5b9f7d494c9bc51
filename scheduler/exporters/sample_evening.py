"""An invented club evening, as the rows an organiser would type.

People, club and wishes are made up; the names come in many scripts because
clubs' lists do.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

Rows = list[dict[str, Any]]

SETTINGS: dict[str, Any] = {
    "Name": "Tuesday club evening",
    "Date": dt.date(2026, 6, 16),
    "Start": dt.time(18, 30),
    "Emphasis": "blend",
    "Exchange": 2,
    "Spare court": "rest",
    "Set": "timed",
    "Game": "ad",
    "End changes": "six",
    "Changeover": 0,
    "Until": dt.time(21, 15),
    "Notes": "Balls are in the box by the gate. Last one out locks it.",
}

_PEOPLE: list[tuple[str, float, str, str, str]] = [
    ("Amara Ilesanmi", 7.5, "right", "either", ""),
    ("Bjarni Þórsson", 4.0, "right", "either", "stays on the gate court"),
    ("Çağla Demirel", 5.5, "right", "ad", ""),
    ("Dumitra Văcaru", 3.0, "right", "either", ""),
    ("Ελένη Μαυρίδου", 6.0, "right", "deuce", ""),
    ("Kaleo Nahale", 2.5, "right", "either", ""),
    ("Imke van der Wolde", 6.5, "right", "ad", ""),
    ("Joana Brás", 5.0, "left", "ad", "leaves early"),
    ("Kwabena Tuffour", 8.0, "right", "deuce", "comes after the drills"),
    ("Łucja Żurek", 4.5, "right", "either", ""),
    ("Mateo Ibarrondo", 7.0, "right", "deuce", ""),
    ("Nia Gwenllian", 3.5, "right", "either", ""),
    ("Owen Tarrant", 9.0, "left", "ad", ""),
    ("Pihla Suokas", 4.5, "right", "either", ""),
    ("Quỳnh Lữ", 6.0, "right", "either", ""),
    ("Оксана Гайдук", 5.5, "right", "deuce", ""),
    ("ნინო ლომაძე", 2.0, "right", "either", ""),
    ("הדס לביא", 6.5, "right", "either", ""),
    ("سلمى القطان", 4.0, "right", "either", ""),
    ("वेदिका गोखले", 3.5, "right", "either", ""),
    ("佐伯 美緒", 8.5, "right", "deuce", ""),
    ("문가람", 5.0, "right", "either", "comes from work"),
]
_TIMES: dict[str, dict[str, dt.time]] = {
    "문가람": {"Arrives": dt.time(18, 50)},
    "Kwabena Tuffour": {"Arrives": dt.time(19, 25)},
    "Joana Brás": {"Leaves": dt.time(20, 30)},
}

PLAYERS: Rows = [
    {
        "Name": name,
        "Level": level,
        "Hand": hand,
        "Side": side,
        **_TIMES.get(name, {}),
        "Here": "yes",
        "Note": note,
    }
    for name, level, hand, side, note in _PEOPLE
]

COURTS: Rows = [
    {"Name": "Gate court"},
    {"Name": "Middle court"},
    {"Name": "Hedge court"},
    {"Name": "Wall court"},
    {"Name": "Far court", "From": dt.time(19, 0)},
]

ROUNDS: Rows = [
    {"Kind": "drill", "Minutes": 20, "Topic": "Stations", "Group size": 4, "Levels": "mixed"},
    {"Kind": "drill", "Minutes": 20, "Topic": "Stations", "Group size": 4, "Levels": "mixed"},
    {"Kind": "drill", "Minutes": 20, "Topic": "Stations", "Group size": 4, "Levels": "mixed"},
    {"Kind": "doubles", "Minutes": 20, "Topic": "Social doubles"},
    {"Kind": "doubles", "Minutes": 20, "Topic": "Social doubles"},
    {"Kind": "doubles", "Minutes": 20, "Topic": "Social doubles"},
    {"Kind": "doubles", "Minutes": 20, "Topic": "Social doubles"},
    {"Kind": "doubles", "Minutes": 25, "Topic": "Last round"},
]

WISHES: Rows = [
    {
        "Wish": "not partners",
        "Player": "Owen Tarrant",
        "Other": "Nia Gwenllian",
        "Strength": "must",
    },
    {
        "Wish": "not partners",
        "Player": "Imke van der Wolde",
        "Other": "Mateo Ibarrondo",
        "Strength": "must",
    },
    {
        "Wish": "partners once",
        "Player": "Łucja Żurek",
        "Other": "Pihla Suokas",
        "Strength": "should",
    },
    {
        "Wish": "on court",
        "Player": "Bjarni Þórsson",
        "Other": "Gate court",
        "Strength": "must",
    },
]

STATIONS: Rows = [
    {"Court": "Gate court", "Topic": "Forehand crosscourt", "Coach": "Coach Tilda"},
    {"Court": "Middle court", "Topic": "Volley pairs", "Coach": "Coach Rasmus"},
    {"Court": "Hedge court", "Topic": "Second serve and return", "Coach": ""},
    {"Court": "Wall court", "Topic": "Lobs and overheads", "Coach": ""},
    {"Court": "Far court", "Topic": "Approach and split step", "Coach": ""},
]

SHEETS: dict[str, Rows] = {
    "Players": PLAYERS,
    "Courts": COURTS,
    "Rounds": ROUNDS,
    "Wishes": WISHES,
    "Stations": STATIONS,
}
