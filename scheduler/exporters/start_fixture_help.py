"""What the captain's workbook to fill in says about itself, and its example rows."""

from __future__ import annotations

import datetime as dt
from typing import Any

from scheduler.readers.rows import EXAMPLE_PEOPLE

Rows = list[dict[str, Any]]
_PERSON, _PARTNER = EXAMPLE_PEOPLE

INTRODUCTION = (
    "Fill in the sheets from left to right, save, and run:   rota lineup {file}",
    "Only the darker headings are needed. Leave any other cell blank and the usual thing happens.",
    "Rows in slanted grey are examples: write over them, or delete them.",
    "On the Fixtures sheet every player has a column, headed with the name as on the Squad sheet.",
    "After each fixture write on the Played sheet who really played, and run the command again.",
    "What was played is never changed; what is to come is shared out anew.",
)

SETTINGS_HELP = {
    "Name": "What the team is called; it stands at the top of the team sheets.",
    "Aim": "What matters most of a line-up. even: pairs of equal strength. strong: most lines "
    "won, by the levels. settled: partners who have played together. share: those with the "
    "fewest matches first.",
    "Partners": "Through the season. keep: the same partners again. vary: many partners. "
    "either: as it comes.",
    "Their pairs from": "Lowest sum of levels to expect of an opposing pair nobody knows. "
    "Blank: two below twice your middle level.",
    "Their pairs to": "Highest sum to expect; line-ups are chosen against this one. "
    "Blank: two above twice your middle level.",
    "Win curve": "How many levels of pair sum turn an even line into 73 in 100. Blank: worked out "
    "from at least six results on the Played sheet, before that 2, which is an invented number.",
}

COLUMN_HELP = {
    "Team": {
        "Setting": "Which setting; the list is fixed, the order is free.",
        "Value": "Your choice. A blank one means the usual.",
    },
    "Squad": {
        "Name": "As it should be printed, in any script. Each name only once.",
        "Level": "1 (new to the game) to 10 (the strongest here); decimals are fine. "
        "Blank counts as the middle of those given.",
        "Group": "Any letter or word, for conditions about groups such as mixed lines.",
        "Side": "The side this person likes to receive on: deuce, ad or either.",
        "Hand": "The hand that holds the racket: right or left.",
        "Matches so far": "Matches before this calendar began. Blank is 0.",
        "Likes": "Partners this person would like, with commas between. Kept where it is cheap.",
        "Note": "For yourself.",
    },
    "Fixtures": {
        "Date": "The day, such as 2026-06-16. Each date only once.",
        "Venue": "Where, and home or away, as it should be printed.",
        "Opponents": "The other team.",
        "Lines": "How many pairs play. Blank: the number of 'pairs' on the Conditions sheet.",
        "Their pairs": "Sums of levels of their pairs from line 1 on, where known: 13; 11.5; ? "
        "(? for one nobody knows). Columns after this one: each player's answer, "
        "yes, no or if needed; blank means yes, and is mentioned.",
    },
    "Conditions": {
        "Condition": "What the league or you demand; the list is in the cell. partners: play "
        "together or both sit out. left out at most: fixtures not played in spite of a yes.",
        "Number": "The number it needs: levels, people, pairs or fixtures.",
        "Player": "A name from the Squad sheet. Blank for fixtures played or left out: everybody.",
        "Other": "The second person of partners and not partners.",
        "Group": "For at least in the team, and at least in a pair.",
        "Lines": "For at least in a pair: which lines, such as 3-4. Blank: every line.",
    },
    "Played": {
        "Date": "The date of the fixture. A fixture counts as played as soon as it is here.",
        "Line": "1 for the first line.",
        "Player": "A name from the Squad sheet.",
        "Partner": "A name from the Squad sheet.",
        "Their pair": "Sum of the levels of their pair, if you know it.",
        "Won": "yes or no. With their pair it teaches the win curve.",
    },
}

EXAMPLE_SETTINGS: dict[str, Any] = {"Name": "Our team", "Aim": "even", "Partners": "either"}

EXAMPLE_ROWS: dict[str, Rows] = {
    "Squad": [
        {"Name": _PERSON, "Level": 4.5, "Side": "deuce", "Note": "example: write over me"},
        {
            "Name": _PARTNER,
            "Level": 6,
            "Side": "ad",
            "Hand": "left",
            "Matches so far": 2,
            "Note": "example: write over me",
        },
    ],
    "Fixtures": [
        {
            "Date": dt.date(2031, 5, 3),
            "Venue": "home",
            "Opponents": "The other team",
            _PERSON: "yes",
            _PARTNER: "if needed",
        }
    ],
    "Conditions": [
        {"Condition": "pairs", "Number": 4},
        {"Condition": "lines in level order"},
        {"Condition": "greatest difference in a pair", "Number": 3},
    ],
    "Played": [],
}
