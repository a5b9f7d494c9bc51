"""The shape of ``plan.json``, as strict pydantic models.

Only the outside of the document is modelled here; ``event_in_full`` is
validated against the domain's own dataclasses, so it cannot drift from them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag, field_validator

from scheduler.domain.clock import parse_time
from scheduler.domain.codec import SCHEMA
from scheduler.domain.event import Event, Hand, Kind, Side
from scheduler.domain.plan import Change, Group, Match, Measure, Singles, TwoAgainstOne
from scheduler.readers.plain_words import quoted

ENTRY_KEYS = ("group", "team_a", "team_b", "singles", "two_against_one")
MOST_ROUNDS = 1000
MOST_MINUTES = 24 * 60


class _Model(BaseModel):
    """Types are taken at their word, NaN and infinity are refused, other keys are ignored."""

    model_config = ConfigDict(strict=True, allow_inf_nan=False, frozen=True)


Text = str
Names = tuple[Text, ...]
Pair = tuple[Text, Text]
# A union keeps a whole number whole, so that the document written again has the same id.
Number = int | float


class GroupModel(_Model):
    """A court of a drill round."""

    court: Text
    group: Names
    topic: Text = ""
    coach: Text = ""

    def entry(self) -> Group:
        """Return the domain's value."""
        return Group(self.court, self.group, self.topic, self.coach)


class MatchModel(_Model):
    """A court with two against two."""

    court: Text
    team_a: Pair
    team_b: Pair
    serving_order: Names = ()
    deuce_receivers: Names = ()
    unfinished: bool = False

    def entry(self) -> Match:
        """Return the domain's value."""
        return Match(
            self.court,
            self.team_a,
            self.team_b,
            self.serving_order,
            self.deuce_receivers,
            self.unfinished,
        )


class SinglesModel(_Model):
    """A court with one against one."""

    court: Text
    singles: Pair

    def entry(self) -> Singles:
        """Return the domain's value."""
        return Singles(self.court, self.singles)


class SidesModel(_Model):
    """The two sides of two against one."""

    two: Pair
    one: tuple[Text]


class TwoAgainstOneModel(_Model):
    """A court with two against one."""

    court: Text
    two_against_one: SidesModel

    def entry(self) -> TwoAgainstOne:
        """Return the domain's value."""
        return TwoAgainstOne(self.court, self.two_against_one.two, self.two_against_one.one)


_TAG_OF = {
    frozenset({"group"}): "a group",
    frozenset({"team_a"}): "a match",
    frozenset({"team_b"}): "a match",
    frozenset({"team_a", "team_b"}): "a match",
    frozenset({"singles"}): "singles",
    frozenset({"two_against_one"}): "two against one",
}
ENTRY_TAGS = frozenset(_TAG_OF.values())


def _entry_tag(value: Any) -> str | None:
    if not isinstance(value, Mapping):
        return None
    return _TAG_OF.get(frozenset(key for key in ENTRY_KEYS if key in value))


EntryModel = Annotated[
    Annotated[GroupModel, Tag("a group")]
    | Annotated[MatchModel, Tag("a match")]
    | Annotated[SinglesModel, Tag("singles")]
    | Annotated[TwoAgainstOneModel, Tag("two against one")],
    Discriminator(
        _entry_tag,
        custom_error_type="unknown_entry",
        custom_error_message=(
            "must be an object with just one of: group, team_a and team_b, singles, two_against_one"
        ),
    ),
]


def _time(text: str) -> str:
    parse_time(text)
    return text


class RoundModel(_Model):
    """One round; its time stays text until the event's start is known."""

    round: Annotated[int, Field(ge=1, le=MOST_ROUNDS)]
    kind: Kind
    start: Text
    minutes: Annotated[int, Field(ge=1, le=MOST_MINUTES)]
    topic: Text = ""
    open: bool = False
    courts: tuple[EntryModel, ...]
    resting: Names
    absent: Names
    missing: Names = ()

    _start_is_a_time = field_validator("start")(_time)


class MeasureModel(_Model):
    """One measure beside its bound."""

    value: Number
    bound: Number | None = None
    proven: bool = False
    best_given_above: bool = False
    proof: Text = ""

    def measure(self) -> Measure:
        """Return the domain's value."""
        return Measure(self.value, self.bound, self.proven, self.best_given_above, self.proof)


class HeadModel(_Model):
    """The few facts of the event that stand at the top of the document."""

    name: Text
    date: Text
    start: Text

    _start_is_a_time = field_validator("start")(_time)


class ListedPlayerModel(_Model):
    """A player as the top of the document lists them."""

    name: Text
    level: Number
    group: Text = ""
    side: Side = Side.EITHER
    hand: Hand = Hand.RIGHT


class DocumentModel(_Model):
    """The whole document."""

    schema_: Annotated[Text, Field(alias="schema")]
    event: HeadModel
    seed: int
    effort: Text
    version: Text
    revision: Annotated[int, Field(ge=1)]
    id: Text
    players: tuple[ListedPlayerModel, ...]
    courts: Names
    rounds: tuple[RoundModel, ...]
    measures: dict[Text, MeasureModel]
    warnings: Names = ()
    changes: tuple[Change, ...] = ()
    season_measures: dict[Text, Number] = Field(default_factory=dict)
    weighted: dict[Text, Number] = Field(default_factory=dict)
    settled: Annotated[int, Field(ge=0, le=MOST_ROUNDS)] = 0
    pairs: tuple[Pair, ...] = ()
    event_in_full: Event

    @field_validator("schema_")
    @classmethod
    def _is_ours(cls, schema: str) -> str:
        if schema != SCHEMA:
            raise ValueError(f'must be "{SCHEMA}", got {quoted(schema)}')
        return schema
