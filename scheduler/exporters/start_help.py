"""What the workbook to fill in says about itself: every column in our own words."""

from __future__ import annotations

import datetime as dt
from typing import Any

from scheduler.readers.rows import EXAMPLE_PEOPLE

Rows = list[dict[str, Any]]

_PERSON, _PARTNER = EXAMPLE_PEOPLE

INTRODUCTION = (
    "Fill in the sheets from left to right, save, and run:   rota plan {file}",
    "Only the darker headings are needed. Leave any other cell blank and the usual thing happens.",
    "Rows in slanted grey are examples: write over them, or delete them.",
    "Put the pointer on a heading to see what belongs under it. Columns may stand in any order.",
    "Times are hours and minutes, such as 18:30. Times after midnight belong to the same evening.",
)

SETTINGS_HELP = {
    "Name": "What the evening is called; it stands at the top of every sheet and names the file.",
    "Date": "The day, such as 2026-06-16. May stay blank.",
    "Start": "When the first round begins.",
    "Emphasis": "What matters most once rests, partners and wishes are right. blend: even matches "
    "and new opponents, traded against each other. variety: new opponents first. balance: even "
    "matches first. meet everyone: as many different people as possible.",
    "Exchange": "Under blend: how many levels of difference in a match are worth avoiding one "
    "repeated opponent. Higher means more variety, lower means closer matches.",
    "Spare court": "What two or three left-over people do while a court is free: rest or singles.",
    "Set": "What is played in a round. timed: games until the bell.",
    "Game": "ad: two points clear. no-ad: one deciding point at 40-40.",
    "End changes": "In a tie-break: every six points, or after the first and then every four.",
    "Changeover": "Minutes between rounds. 0 means that a round's minutes include walking over.",
    "Until": "When the courts must be empty. You are told if the rounds run past it.",
    "Notes": "Printed as they stand.",
}

COLUMN_HELP = {
    "Event": {
        "Setting": "Which setting; the list is fixed, the order is free.",
        "Value": "Your choice. A blank one means the usual.",
    },
    "Players": {
        "Name": "As it should be printed, in any script. Each name only once.",
        "Level": "1 (new to the game) to 10 (the strongest here); halves are fine. "
        "Blank counts as the middle of those given.",
        "Group": "Any letter or word. Needed by mixed rounds and by group against group, "
        "which want two groups.",
        "Hand": "The hand that holds the racket: right or left.",
        "Side": "The side this person likes to receive on: deuce, ad or either.",
        "Arrives": "Blank: there from the start. Plays only rounds they are there for all of.",
        "Leaves": "Blank: stays to the end.",
        "Here": "yes, no (stays on the list, does not come), or if needed "
        "(plays only to complete a court).",
        "Note": "For yourself.",
    },
    "Courts": {
        "Name": "As people call it. Each name only once.",
        "From": "Blank: free from the start.",
        "Until": "Blank: free to the end.",
    },
    "Rounds": {
        "Kind": "drill: everybody in groups. doubles: two against two. mixed: each team one of "
        "each group. pairs: partners stay together. group against group: two of one group "
        "against two of the other. up and down: winners move a court up, losers one down.",
        "Minutes": "How long the round lasts.",
        "Topic": "Printed with the round.",
        "Group size": "Drills only: how many people to a court you would like. Blank is 4.",
        "Levels": "mixed or alike: who shares a court. Blank: as it comes.",
        "Courts": "How many courts, or which ones with commas between. Blank: all that are open.",
        "Start": "Blank: straight after the round before. A later time makes a break.",
    },
    "Wishes": {
        "Wish": "What is wished for; the list is in the cell.",
        "Player": "A name from the Players sheet.",
        "Other": "The other person; or the court for on court; or the number for plays at most "
        "and rounds running at most; or nothing for rests.",
        "Strength": "must: no plan without it. should: kept where it can be. Blank is must.",
        "Round": "The number of the one round it is about. Blank: the whole evening.",
    },
    "Stations": {
        "Court": "A name from the Courts sheet. Leave the whole sheet blank without stations.",
        "Topic": "What is practised there in every drill round.",
        "Coach": "Who leads it.",
    },
}

EXAMPLE_SETTINGS: dict[str, Any] = {
    "Name": "Club evening",
    "Start": dt.time(18, 0),
    "Emphasis": "blend",
    "Exchange": 2,
    "Spare court": "rest",
    "Set": "timed",
    "Game": "ad",
    "End changes": "six",
    "Changeover": 0,
}

EXAMPLE_ROWS: dict[str, Rows] = {
    "Players": [
        {"Name": _PERSON, "Level": 4.5, "Here": "yes", "Note": "example: write over me"},
        {
            "Name": _PARTNER,
            "Level": 6,
            "Hand": "left",
            "Side": "ad",
            "Here": "yes",
            "Note": "example: write over me",
        },
    ],
    "Courts": [{"Name": "Court 1"}, {"Name": "Court 2"}],
    "Rounds": [
        {"Kind": "drill", "Minutes": 20, "Topic": "Warm-up"},
        {"Kind": "doubles", "Minutes": 25, "Topic": "Doubles"},
    ],
    "Wishes": [
        {
            "Wish": "not partners",
            "Player": _PERSON,
            "Other": _PARTNER,
            "Strength": "should",
        },
        {"Wish": "plays at most", "Player": _PARTNER, "Other": 6, "Strength": "should"},
    ],
    "Stations": [],
}
