"""Sequences that several books share: files of orders with names of their own, `group/name`."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Annotated, NamedTuple, Self

from pydantic import ValidationError, model_validator

from ..pattern.grid import Grid
from ..pattern.meter import Meter
from ..pattern.order import Order
from ..pattern.stroke import Ornament, ornamented
from ..problem import Problem
from ..shipped import shelf
from ..text_file import FileTrouble, text_of
from .marked import Marked
from .messages import problems_in
from .models import prose_keys
from .parse import parse
from .plain import Wrong, as_list, read_from_one, read_name
from .reads import Listed, Reads, whole
from .values import GridText, Line, MeterText, OrderText
from .written import KEY, UNREADABLE, WrittenMap, mark_in

MOST_GROUPS = 100
"""The most groups that are looked through for a name that is near a misspelt one."""

FOLDER = "sequences"
"""Where the groups stand, each a file: beside the book, and among what travels with the program."""

Numbers = Annotated[
    tuple[Annotated[int, Reads(read_from_one, whole(1))], ...],
    Listed(as_list),
]


@dataclass(frozen=True)
class SharedSequence:
    """A sequence of a group.

    `title` is what a sentence calls it, empty where its strokes do. `order` is None where it could not be
    read; its strokes carry the ornaments. `grid` and `meter` are those it is usually set in, where it says so.
    """

    title: str = ""
    order: Order | None = None
    grid: Grid | None = None
    meter: Meter | None = None


class SharedSequences:
    """The groups a book can use; each is read when it is first asked for.

    A name is looked for in the book's own group, then in the shipped one. `problems` are those of the book's
    own groups that were read.
    """

    def __init__(self, beside: Path) -> None:
        self.folder = beside / FOLDER
        self.problems: list[Problem] = []
        self._own: dict[str, dict[str, SharedSequence]] = {}

    def find(self, name: str) -> SharedSequence | None:
        """The sequence `group/name`; None where there is none."""
        group, slash, wanted = name.partition("/")
        return self._group(group).get(wanted) if slash else None

    def groups(self) -> tuple[str, ...]:
        """The names of all groups, as far as anyone would look through them."""
        folders = (shelf("shared") / FOLDER, self.folder)
        files = (file for folder in folders for file in folder.glob("*.yaml"))
        return tuple(sorted({file.stem for file in islice(files, MOST_GROUPS)}))

    def names(self) -> tuple[str, ...]:
        """The names of all sequences, with their groups, in the order of their files."""
        return tuple(f"{group}/{name}" for group in self.groups() for name in self._group(group))

    def _group(self, name: str) -> dict[str, SharedSequence]:
        if not _is_name(name):
            return {}
        if name not in self._own:
            own = _read(self.folder / f"{name}.yaml", self.folder.parent)
            self.problems += own.problems
            self._own[name] = {**_shipped(name).sequences, **own.sequences}
        return self._own[name]


class _Read(NamedTuple):
    """What a group's file holds, and what is wrong in it."""

    sequences: dict[str, SharedSequence]
    problems: tuple[Problem, ...]


class SequenceText(Marked):
    """A sequence of a group as written, where it says more than its order."""

    title: Line = ""
    """what a sentence calls it; left out: its strokes"""
    order: OrderText
    """limbs, as in R L R K L"""
    grid: GridText | None = None
    """the grid it is usually set in"""
    meter: MeterText | None = None
    """the meter it is usually set in"""
    flams: Numbers = ()
    """the numbers of the slots that have one"""
    drags: Numbers = ()
    """the numbers of the slots that have one"""
    buzzes: Numbers = ()
    """the numbers of the slots that have one"""
    diddles: Numbers = ()
    """the numbers of the slots that have one"""

    @model_validator(mode="after")
    def _can_be_played(self) -> Self:
        self.sequence()
        return self

    def sequence(self) -> SharedSequence:
        """The sequence with its ornaments. Raises Wrong where a stroke cannot carry one."""
        slots = list(self.order)
        given = {"flams": self.flams, "drags": self.drags, "buzzes": self.buzzes, "diddles": self.diddles}
        for (key, numbers), ornament in zip(given.items(), Ornament, strict=True):
            for index, number in enumerate(numbers):
                try:
                    slots[number - 1] = ornamented(slots[number - 1], ornament)
                except IndexError:
                    raise Wrong(f"the order has {len(slots)} slots, and no {number}", key, index) from None
                except ValueError as error:
                    raise Wrong(f"slot {number} of the order {error}", key, index) from None
        return SharedSequence(self.title, tuple(slots), self.grid, self.meter)


_PROSE = prose_keys(SequenceText)


def _is_name(word: str) -> bool:
    try:
        return bool(read_name(word))
    except Wrong:
        return False


@cache
def _shipped(group: str) -> _Read:
    return _read(shelf("shared") / FOLDER / f"{group}.yaml")


def _read(file: Path, within: Path | None = None) -> _Read:
    """Read a group's file, as much of it as can be read; where there is none, it is empty.

    One of a book's own lies `within` its folder.
    """
    if not file.exists() and not file.is_symlink():
        return _Read({}, ())
    try:
        parsed = parse(text_of(file, within=within), file, _PROSE)
    except FileTrouble as trouble:
        return _Read({}, (trouble.problem,))
    problems = list(parsed.problems)
    if parsed.root is None:
        return _Read({}, tuple(problems))
    sequences: dict[str, SharedSequence] = {}
    for name in parsed.root:
        sequences[name], wrong = _read_entry(parsed.root, name)
        problems += (problem for problem in wrong if problem.mark.line not in parsed.broken_lines)
    return _Read(sequences, tuple(problems))


def _read_entry(root: WrittenMap, name: str) -> tuple[SharedSequence, list[Problem]]:
    """A sequence by its name; without an order where it has errors."""
    written = root[name]
    problems: list[Problem] = []
    try:
        read_name(name)
    except Wrong as error:
        problems.append(Problem(mark_in(root, [name, KEY]), str(error)))
    if written is UNREADABLE:
        return SharedSequence(), problems
    try:
        given = {"order": written} if isinstance(written, str) else written
        return SequenceText.model_validate(given).sequence(), problems
    except ValidationError as error:
        return SharedSequence(), [*problems, *problems_in(error, root, (name,))]
