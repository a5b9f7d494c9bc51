"""A court in text: where the four stand as the next point is served."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.cli.columns import centre, width
from scheduler.rules.serving import Serve
from scheduler.rules.state import Half, Pair

LANDS = "serve lands here"
Cells = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Places:
    """Who is where: the serve, the two partners, and the ends drawn at the bottom and the top."""

    serve: Serve
    servers_partner: str
    receivers_partner: str
    ends: Pair


def court_diagram(places: Places) -> str:
    """Return the court seen from above, the first end at the bottom.

    The serve goes crosswise into the service box marked. Partners stand where
    most people put them: common practice, no source, for they may stand
    anywhere on their own side of the net.
    """
    grid = _grid(places)
    wide = max(2 + width(cell) for row in grid for cell in row)
    bottom, top = (f"{end} end" for end in places.ends)
    whole = 2 * wide + 3
    lines = [
        centre(top, whole),
        _outside(grid[0], wide),
        _line(wide, "-"),
        _back(grid[1], wide),
        _line(wide, "+"),
        _boxes(grid[2], wide),
        "=" * whole,
        _boxes(grid[3], wide),
        _line(wide, "+"),
        _back(grid[4], wide),
        _line(wide, "-"),
        _outside(grid[5], wide),
        centre(bottom, whole),
    ]
    return "\n".join(line.rstrip() for line in lines if line.strip())


def _grid(places: Places) -> list[Cells]:
    """Return the cells from the top down: outside, back court, boxes, and the same again."""
    serve = places.serve
    server_below: list[Cells] = [  # the receiver's column first, which is the left one for deuce
        ("", ""),
        (serve.receiver, ""),
        (LANDS, places.receivers_partner),
        (places.servers_partner, ""),
        ("", ""),
        ("", f"{serve.server} serves"),
    ]
    below = serve.end == places.ends[0]
    rows = server_below if below else server_below[::-1]
    receiver_left = (serve.half is Half.DEUCE) == below
    return rows if receiver_left else [(right, left) for left, right in rows]


def _line(wide: int, middle: str) -> str:
    return "+" + "-" * wide + middle + "-" * wide + "+"


def _outside(cells: Cells, wide: int) -> str:
    return " " + " ".join(centre(cell, wide) for cell in cells)


def _back(cells: Cells, wide: int) -> str:
    return "|" + " ".join(centre(cell, wide) for cell in cells) + "|"


def _boxes(cells: Cells, wide: int) -> str:
    return "|" + "|".join(centre(cell, wide) for cell in cells) + "|"
