"""Pairs that may not play every line, as rules of a CP-SAT model.

Where a pair's allowed lines are the first few (or the last few) of all, the
lines need no unknowns of their own: in level order it is enough that not too
many pairs stand before such a pair; in free order, that there are not too many
such pairs (P. Hall, "On representatives of subsets", J. London Math. Soc. 10,
1935, 26-30, for nested sets). Otherwise there is a switch for every pair and line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

Pair = tuple[str, str]


@dataclass(frozen=True)
class Candidate:
    """An allowed pair: names, sum of levels in hundredths, and the lines it may play."""

    names: Pair
    total: int
    lines: tuple[int, ...]


def pair_switches(
    model: cp_model.CpModel,
    label: str,
    candidates: Sequence[Candidate],
    lines: int,
    *,
    ordered: bool,
) -> dict[Pair, cp_model.LinearExprT]:
    """Return for each pair an expression that is 1 where it plays, its lines' rules added.

    Parameters
    ----------
    model
        The model to add to.
    label
        What the unknowns' names begin with.
    candidates
        The pairs that may play at least one line.
    lines
        How many pairs play.
    ordered
        Whether the lines are in level order.
    """
    if all(_is_start(c.lines, lines) for c in candidates):
        ranks = [(c, c.total, len(c.lines)) for c in candidates]
    elif all(_is_end(c.lines, lines) for c in candidates):
        ranks = [(c, -c.total, len(c.lines)) for c in candidates]
    else:
        return _by_line(model, label, candidates, lines, ordered=ordered)
    switches = {c.names: model.new_bool_var(f"{label}: {' + '.join(c.names)}") for c in candidates}
    ranked = [(switches[c.names], total, most) for c, total, most in ranks]
    _limit_ranks(model, label, ranked, lines, ordered=ordered)
    return dict(switches)


Ranked = Sequence[tuple[cp_model.IntVar, int, int]]


def _is_start(allowed: tuple[int, ...], lines: int) -> bool:
    return allowed == tuple(range(1, lines + 1))[: len(allowed)]


def _is_end(allowed: tuple[int, ...], lines: int) -> bool:
    return allowed == tuple(range(1, lines + 1))[lines - len(allowed) :]


def _limit_ranks(
    model: cp_model.CpModel, label: str, ranked: Ranked, lines: int, *, ordered: bool
) -> None:
    """Keep every pair within its first lines, pairs of one sum taking the order that suits.

    Each entry is a switch, the sum it is ranked by, and the last line it may have.
    """
    limits = sorted({(total if ordered else 0, most) for _, total, most in ranked if most < lines})
    for value, most in limits:
        bound = [s for s, total, m in ranked if m <= most and (not ordered or total == value)]
        before = [s for s, total, _ in ranked if ordered and total > value]
        count = cp_model.LinearExpr.sum([*before, *bound])
        if not ordered:
            model.add(count <= most)
            continue
        any_of = model.new_bool_var(f"{label}: one of {value} within {most}")
        for switch in bound:
            model.add_implication(switch, any_of)
        model.add(count + (lines - most) * any_of <= lines)


def _by_line(
    model: cp_model.CpModel,
    label: str,
    candidates: Sequence[Candidate],
    lines: int,
    *,
    ordered: bool,
) -> dict[Pair, cp_model.LinearExprT]:
    on_line: dict[int, list[tuple[cp_model.IntVar, int]]] = {n + 1: [] for n in range(lines)}
    pairs: dict[Pair, cp_model.LinearExprT] = {}
    for candidate in candidates:
        mine = []
        for line in candidate.lines:
            name = f"{label}: {' + '.join(candidate.names)} on {line}"
            mine.append(model.new_bool_var(name))
            on_line[line].append((mine[-1], candidate.total))
        pairs[candidate.names] = cp_model.LinearExpr.sum(mine)
    for entries in on_line.values():
        model.add_exactly_one([switch for switch, _ in entries])
    if ordered:
        for stronger, weaker in pairwise(on_line.values()):
            _in_order(model, stronger, weaker)
    return pairs


def _in_order(
    model: cp_model.CpModel,
    stronger: Sequence[tuple[cp_model.IntVar, int]],
    weaker: Sequence[tuple[cp_model.IntVar, int]],
) -> None:
    """Keep two lines in level order, sum by sum.

    Whenever the weaker line's pair reaches a sum, so does the stronger
    line's: many small rules, which the solver's relaxation sees through far
    better than one comparison of weighted sums.
    """
    for value in sorted({total for _, total in weaker}):
        above = [switch for switch, total in stronger if total >= value]
        below = [switch for switch, total in weaker if total >= value]
        model.add(cp_model.LinearExpr.sum(above) >= cp_model.LinearExpr.sum(below))
