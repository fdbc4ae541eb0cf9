"""The step: one idea of variation, declared once.

A step is a frozen record of parameters, a pure function, and a sentence. From the declaration come its
YAML key, the checks on what an author writes, the printed reference, and the instruction above an
exercise. Fields are the parameters: a trailing underscore is dropped and `_` is written `-`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields, replace
from enum import IntEnum
from fractions import Fraction
from typing import Any, ClassVar

from ..draft import Draft
from ..limb import Limb
from ..order import Order
from ..sentence import Sentence
from ..sound import Sound


class Phase(IntEnum):
    """When a step acts: on the order, on its setting in time, or on what stands there."""

    ORDER = 1
    TIME = 2
    REST = 3


class StepError(ValueError):
    """A step that cannot be done, or parameters that no one could play.

    `key` names the parameter at fault and `index` the value in it, from 0; for a parameter that is a
    mapping `index` is the mapping's key.
    """

    def __init__(self, message: str, key: str | None = None, index: int | str | None = None) -> None:
        super().__init__(message)
        self.key = key
        self.index = index


@dataclass(frozen=True)
class Source:
    """Another order that a step uses by name: a sequence's, an exercise's, or one written out.

    `order` and `said`, what a reader is told it is called, are filled in by `bind` before the step is
    played, and for an exercise its printed `number`. `voiced` says that its strokes have their sounds already.
    """

    name: str
    order: Order = ()
    said: str = ""
    number: str = ""
    voiced: bool = False


@dataclass(frozen=True)
class Passage(Source):
    """Other music that a step uses by name: a sequence, an order, or an exercise with its sounds."""


@dataclass(frozen=True)
class Example:
    """A step before and after, as `shedbook steps` prints it and a test plays it.

    `start` is an order; `value` what stands after the step's key in YAML; `after` the result as
    `write_played` writes it, or, for what is set in time, as `write_music` does. `first` are steps in YAML
    that come before it.
    """

    start: str
    value: str
    after: str
    first: str = ""
    meter: str = "4/4"
    grid: str = "16ths"


@dataclass(frozen=True, slots=True)
class Heard:
    """What a step's sentence may depend on in its exercise.

    `order` is the order just before the step; `limbs` are those that play in the end, in so many `bars`;
    `passes` is how often the order is played through there, None where there is no one order.
    """

    order: Order
    limbs: frozenset[Limb]
    bars: int
    passes: Fraction | None


@dataclass(frozen=True)
class Step:
    """What all steps have in common.

    `key` is the YAML key, `about` one line for the reference, `says` the English sentences by form.
    """

    key: ClassVar[str]
    phase: ClassVar[Phase]
    about: ClassVar[str]
    says: ClassVar[Mapping[str, str]]
    example: ClassVar[Example]

    @property
    def form(self) -> str:
        """Which of its sentences it says; most steps have one."""
        return "plain"

    def words(self) -> Mapping[str, Any]:
        """The values that go into the sentence: every parameter by its name."""
        return {parameter.name.rstrip("_"): getattr(self, parameter.name) for parameter in fields(self)}

    def sentence(self) -> Sentence:
        """What this step tells a reader."""
        return Sentence(self.key, self.form, self.says[self.form], self.words())

    def sentence_for(self, heard: Heard) -> Sentence:
        """What it tells a reader of an exercise in which that is heard; for most steps the same everywhere."""
        return self.sentence()


class OrderStep(Step):
    """A step on the order."""

    phase = Phase.ORDER

    def change(self, order: Order) -> Order:
        """The order after this step. Raises StepError or SelectionError."""
        raise NotImplementedError


class DraftStep(Step):
    """A step on music set in time."""

    phase = Phase.REST

    def change(self, draft: Draft) -> Draft:
        """The draft after this step. Raises StepError, SelectionError or SettingError."""
        raise NotImplementedError


STEPS: dict[str, type[Step]] = {}
"""Every step by its YAML key, in the order in which they are declared."""


def step(cls: type[Step]) -> type[Step]:
    """Enter a step into the table of steps."""
    if cls.key in STEPS:
        raise ValueError(f"two steps are called {cls.key}")
    STEPS[cls.key] = cls
    return cls


def refuse_unplayable(limb: Limb, sound: Sound, key: str, index: int | str | None = None) -> None:
    """Raise StepError where a hand is to play what feet play, or a foot what hands play."""
    if not sound.can_be_played_by(limb):
        who = "a hand" if limb.is_hand else "a foot"
        raise StepError(f"{limb.value} is {who}, and {who} cannot play {sound.name}", key, index)


def alone(**options: Any) -> Any:
    """A parameter that a lone value means: `rotate: 2` is `rotate: {by: 2}`."""
    return field(metadata={"alone": True}, **options)


def bind(unbound: Step, find: Callable[[Source], Source]) -> Step:
    """The step with the music filled in that it names.

    `find` fills a source in and raises KeyError, with a message, for an unknown name.
    """
    changes: dict[str, Any] = {}
    for name, value in vars(unbound).items():
        if isinstance(value, Source):
            changes[name] = _found(value, find, name, None)
        elif isinstance(value, tuple) and value and isinstance(value[0], Source):
            changes[name] = tuple(_found(source, find, name, index) for index, source in enumerate(value))
    return replace(unbound, **changes) if changes else unbound


def _found(source: Source, find: Callable[[Source], Source], key: str, index: int | None) -> Source:
    try:
        return find(source)
    except KeyError as error:
        raise StepError(str(error.args[0]), key, index) from None
