"""Why there is no plan: a smallest set of must-wishes that clash, in plain words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

from scheduler.domain.event import PAIR_WISHES, WishKind
from scheduler.rotation.constraint_model.fairness import fair_limits
from scheduler.rotation.constraint_model.model import Asked, Limit, RotaModel, musts_of
from scheduler.rotation.constraint_model.parameters import Budget, Status
from scheduler.rotation.constraint_model.reasons import (
    counting_sentences,
    limit_sentences,
    round_sentence,
    unseatable_sentences,
)
from scheduler.rotation.constraint_model.subsets import irreducible, smallest
from scheduler.rotation.constraint_model.variables import ONCE_WISHES
from scheduler.rotation.problem import Demand, Problem

_ABOUT_PLACES = PAIR_WISHES | {WishKind.ON_COURT}
_LARGEST_TO_IMPROVE = 4
_TRIES = 16
_QUESTIONS = 20
_FIRST_SHARE = 0.1


class Clash:
    """The search for what clashes.

    Parameters
    ----------
    problem
        A problem without a plan.
    seed
        The solver's random seed.
    budget
        The work that may be done.
    free_teams
        Whether the partners of the ``pairs`` rounds may be chosen anew.
    """

    def __init__(self, problem: Problem, seed: int, budget: Budget, *, free_teams: bool) -> None:
        self._problem = problem
        self._seed = seed
        self._budget = budget
        self._one_question = budget.left / _QUESTIONS
        self._free_teams = free_teams
        self._musts = musts_of(problem)
        self._limits = fair_limits(problem, seed, budget)

    def sentences(self) -> tuple[str, ...]:
        """Return the clashing wishes and what else they clash with, each as a sentence."""
        if self._is_impossible((), self._limits):
            return unseatable_sentences(self._problem)
        chosen = [self._musts[index] for index in self._smallest(self._first())]
        wishes = dict.fromkeys(demand.wish.sentence for demand in chosen)
        return (*wishes, *self._reasons(chosen))

    def _first(self) -> tuple[int, ...]:
        """Return a clashing set from which nothing can be left out."""
        start = self._clash_in_a_round() or self._too_many_partners() or self._blamed()
        return irreducible(start, self._clash, self._by_kind(start))

    def _by_kind(self, chosen: Sequence[int]) -> list[list[int]]:
        kinds = dict.fromkeys(self._musts[index].kind for index in chosen)
        return [[index for index in chosen if self._musts[index].kind is kind] for kind in kinds]

    def _clash_in_a_round(self) -> tuple[int, ...]:
        """Return musts that clash in one round already, from which nothing can be left out."""
        for number in self._problem.free:
            binding = [i for i, demand in enumerate(self._musts) if _binds_in(demand, number)]
            clash = partial(self._clash_in, number)
            if binding and clash(binding):
                return irreducible(binding, clash)
        return ()

    def _too_many_partners(self) -> tuple[int, ...]:
        """Return wishes of one player for more partners than there are rounds to have them in."""
        wishes: dict[int, dict[int, int]] = defaultdict(dict)
        for index, demand in enumerate(self._musts):
            if demand.kind is WishKind.PARTNERS_ONCE:
                wishes[demand.player].setdefault(demand.other, index)
                wishes[demand.other].setdefault(demand.player, index)
        for player, partners in sorted(wishes.items()):
            most = self._rounds_to_play(player)
            chosen = sorted(partners.values())[: most + 1]
            if len(partners) > most and self._clash(chosen):
                return tuple(chosen)
        return ()

    def _rounds_to_play(self, player: int) -> int:
        """Return in how many matches a player can be at most, by the fair share of rests."""
        fewest = (x.rests for x in self._limits if x.player == player and not x.is_most)
        matches = (s for s in self._problem.shapes if player in s.players and not s.is_drill)
        return sum(1 for _ in matches) - max(fewest, default=0)

    def _blamed(self) -> Sequence[int]:
        """Return the musts that the solver blames, all of them where it cannot say."""
        model = RotaModel(
            self._problem,
            Asked(self._musts, self._limits),
            is_assumed=True,
            free_teams=self._free_teams,
        )
        with self._budget.at_most(_FIRST_SHARE * self._budget.left) as part:
            status, core = model.clash(self._seed, part)
        everyone = range(len(self._musts))
        blamed = [index for index in everyone if self._musts[index] in core.demands]
        return blamed if status is Status.IMPOSSIBLE and self._clash(blamed) else everyone

    def _smallest(self, known: tuple[int, ...]) -> tuple[int, ...]:
        if not 1 < len(known) <= _LARGEST_TO_IMPROVE:
            return known
        return smallest(known, range(len(self._musts)), self._left_out, tries=_TRIES)

    def _left_out(self, chosen: Sequence[int]) -> Sequence[int] | None:
        """Keep some wishes and as many others as possible; return those left out."""
        model = RotaModel(
            self._problem,
            Asked(tuple(self._musts[index] for index in chosen), self._limits),
            free_teams=self._free_teams,
            softly=self._musts,
        )
        with self._budget.at_most(self._one_question) as part:
            status, missed = model.least_missed(self._seed, part)
        if status is Status.IMPOSSIBLE:
            return None
        return tuple(index for index in missed if index not in chosen)

    # ---- questions -------------------------------------------------------------------

    def _clash(self, chosen: Sequence[int]) -> bool:
        """Return whether some musts are proved to clash, fair shares being kept."""
        return self._is_impossible([self._musts[index] for index in chosen], self._limits)

    def _clash_in(self, number: int, chosen: Sequence[int]) -> bool:
        """Return whether some musts are proved to clash in one round."""
        here = [replace(self._musts[index], rounds=(number,)) for index in chosen]
        return self._is_impossible(here, (), rounds=[number])

    def _is_impossible(
        self,
        demands: Iterable[Demand],
        limits: Iterable[Limit],
        *,
        rounds: Sequence[int] | None = None,
        is_roomy: bool = False,
    ) -> bool:
        asked = Asked(tuple(demands), tuple(limits))
        model = RotaModel(
            self._problem, asked, rounds=rounds, free_teams=self._free_teams, is_roomy=is_roomy
        )
        if is_roomy:
            for demand in asked.demands:
                model.wishes.plays_once(demand)
        with self._budget.at_most(self._one_question) as part:
            return model.is_impossible(self._seed, part)

    # ---- what beside the wishes is part of the clash ---------------------------------

    def _reasons(self, chosen: list[Demand]) -> tuple[str, ...]:
        """Say what else the wishes run into: fair shares, or the courts of one round."""
        if self._stand_alone(chosen):
            return ()
        if not self._is_impossible(chosen, ()):
            return limit_sentences(self._problem, self._needed_limits(chosen))
        for number in self._problem.free:
            here = [demand for demand in chosen if _binds_in(demand, number)]
            indices = [self._musts.index(demand) for demand in here]
            if here and self._clash_in(number, indices):
                return round_sentence(self._problem, number, here)
        return counting_sentences(self._problem, chosen)

    def _stand_alone(self, chosen: list[Demand]) -> bool:
        """Return whether the wishes clash with each other whatever the seats and shares.

        That is so if they cannot be kept with every court as roomy or empty as
        one likes, as long as everybody they name plays once.
        """
        about_places = all(demand.kind in _ABOUT_PLACES for demand in chosen)
        return len(chosen) > 1 and about_places and self._is_impossible(chosen, (), is_roomy=True)

    def _needed_limits(self, chosen: list[Demand]) -> list[Limit]:
        """Return shares without which the wishes could be kept, those of people named if enough."""
        named = {player for d in chosen for player in (d.player, d.other)}
        ordered = sorted(self._limits, key=lambda limit: (limit.player in named, limit.player))

        def clash(kept: Sequence[int]) -> bool:
            return self._is_impossible(chosen, [ordered[index] for index in kept])

        start = [index for index, limit in enumerate(ordered) if limit.player in named]
        if not clash(start):
            return list(self._limits)
        return [ordered[index] for index in irreducible(start, clash)]


def _binds_in(demand: Demand, number: int) -> bool:
    """Return whether a wish has to be kept in this very round."""
    somewhere = demand.kind not in _ABOUT_PLACES or demand.kind in ONCE_WISHES
    return number in demand.rounds and (not somewhere or demand.wish.round is not None)
