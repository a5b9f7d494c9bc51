"""What the pairs of a whole season cost, as a CP-SAT expression."""

from __future__ import annotations

from collections.abc import Sequence

from ortools.sat.python import cp_model

from scheduler.domain.fixture import Aim, Partnering, TeamSeason
from scheduler.lineup.line_rules import Pair
from scheduler.lineup.model import FixtureVariables
from scheduler.lineup.price import Situation
from scheduler.lineup.problem import Pool, build_problem


def season_price(
    model: cp_model.CpModel, season: TeamSeason, fixtures: Sequence[FixtureVariables]
) -> cp_model.LinearExprT:
    """Return the price of all fixtures' pairs, lines and evenness only roughly in it.

    Parameters
    ----------
    model
        The model, to which counts of partners are added.
    season
        The season with its aim and what was played.
    fixtures
        The unknowns of the fixtures to come.
    """
    terms: list[cp_model.LinearExprT] = []
    for f in fixtures:
        situation = Situation.of(season, f.fixture)
        free = tuple(m for m in season.squad if m.name in f.plays)
        pool = Pool(free, frozenset(f.plays))
        rough = build_problem(situation, pool, season.conditions).rough_prices()
        terms += [rough[frozenset(pair)] * x for pair, x in f.pairs.items()]
    return cp_model.LinearExpr.sum([*terms, *_partnering_terms(model, season, fixtures)])


def _partnering_terms(
    model: cp_model.CpModel, season: TeamSeason, fixtures: Sequence[FixtureVariables]
) -> list[cp_model.LinearExprT]:
    """Return what new or repeated partners cost over the season.

    Keeping partners, every pair used at all costs; varying them, every use
    beyond the first does.
    """
    keep = season.aim is Aim.SETTLED or season.partnering is Partnering.KEEP
    if not keep and season.partnering is not Partnering.VARY:
        return []
    uses: dict[Pair, list[cp_model.LinearExprT]] = {}
    for f in fixtures:
        for pair, x in f.pairs.items():
            uses.setdefault(pair, []).append(x)
    prices = Situation.of(season, season.to_come[0]).prices
    weight = prices.main * prices.together
    terms: list[cp_model.LinearExprT] = []
    for pair in sorted(uses):
        before = season.together.get(frozenset(pair), 0)
        if keep and not before:
            used = model.new_bool_var(f"{pair[0]} + {pair[1]}")
            for x in uses[pair]:
                model.add(x <= used)
            terms.append(weight * used)
        elif not keep:
            repeats = model.new_int_var(0, len(uses[pair]), f"again {pair[0]} + {pair[1]}")
            first = 0 if before else 1
            model.add(repeats >= cp_model.LinearExpr.sum(uses[pair]) - first)
            terms.append(weight * repeats)
    return terms
