"""What a teacher would want to know of a curriculum: levels that jump, ideas too early, what goes unused."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from ..manuscript.curriculum import CurriculumText
from ..manuscript.models import Manuscript
from ..manuscript.tasks import TaskText
from ..pattern.sound import SOUNDS
from ..problem import Mark, Problem, Weight
from .advice import BIGGEST_JUMP
from .book import Book, Chapter, Exercise, Task
from .ideas import Idea, Ideas, Text, Tracer
from .plan import Week, crowded


@dataclass(frozen=True)
class Stop:
    """A chapter where a curriculum takes it up: in which term, from 1, and where that is asked for."""

    term: int
    book: str
    chapter: Chapter
    mark: Mark


@dataclass(frozen=True)
class Opened:
    """A book with what its author wrote, and what follows its exercises back."""

    book: Book
    manuscript: Manuscript
    tracer: Tracer


@dataclass(frozen=True)
class Met:
    """An exercise or a task where a student meets it; `name` is what a message calls it."""

    name: str
    book: str
    text: Text
    ideas: Ideas
    is_task: bool


@dataclass(frozen=True)
class Advisor:
    """Looks a curriculum's stops through, in their order; everything it says is a warning."""

    text: CurriculumText
    stops: Sequence[Stop]
    books: Mapping[str, Opened]

    def problems(self) -> Iterator[Problem]:
        """Everything that its teacher should know of the books and their order."""
        yield from self.jumps()
        yield from self.steps_back()
        yield from self.ideas()
        yield from self.unused_sequences()
        yield from self.unused_sounds()
        yield from self.unused_books()

    def jumps(self) -> Iterator[Problem]:
        """Chapters that begin too far above everything before them."""
        top: int | None = None
        for stop in self.stops:
            levels = [exercise.level for exercise in stop.chapter.exercises]
            if not levels:
                continue
            if top is not None and levels[0] - top > BIGGEST_JUMP:
                yield _warning(
                    stop.mark,
                    f"chapter {stop.chapter.number} of '{stop.book}' begins at level {levels[0]}; "
                    f"nothing before it in the curriculum is above {top}",
                )
            top = max(levels if top is None else [top, *levels])

    def steps_back(self) -> Iterator[Problem]:
        """Terms that stay too far below the one before."""
        before: tuple[str, int] | None = None
        for number, stops in groupby(self.stops, key=lambda stop: stop.term):
            levels = [exercise.level for stop in stops for exercise in stop.chapter.exercises]
            term = self.text.terms[number - 1]
            if not levels:
                continue
            if before and before[1] - max(levels) > BIGGEST_JUMP:
                yield _warning(
                    term.marks("term"),
                    f"'{term.term}' goes up to level {max(levels)}, and '{before[0]}' before it up to {before[1]}",
                )
            before = (term.term, max(levels))

    def ideas(self) -> Iterator[Problem]:
        """Ideas that are used before they are introduced, and exercises that bring too many at once.

        An idea is introduced by the first exercise that brings it itself. What an exercise takes over from
        the exercises it is made from, and whatever a task is about, has to have been introduced before.
        """
        met = tuple(self._met())
        places = {(one.book, one.name): place for place, one in enumerate(met) if not one.is_task}
        known: set[Idea] = set()
        for place, one in enumerate(met):
            taken = self.books[one.book].tracer.taken_over(one.text, one.ideas)
            unknown = {idea: origin for idea, origin in taken.items() if idea not in known}
            for origin in dict.fromkeys(unknown.values()):
                early = [idea for idea in unknown if unknown[idea] == origin]
                is_later = places.get((one.book, origin), -1) > place
                yield _early(one, early, origin, is_later=is_later)
            new = [idea for idea in one.ideas if idea not in known and idea not in taken]
            if known and len(new) > self.text.at_once:
                yield _warning(
                    one.text.mark,
                    f"'{one.name}' of '{one.book}' brings {len(new)} new ideas at once, and {self.text.at_once} is "
                    f"the most here: {_listed(new)}",
                )
            known.update(one.ideas)

    def _met(self) -> Iterator[Met]:
        """Exercises and tasks in the order in which a student meets them."""
        for stop in self.stops:
            opened = self.books[stop.book]
            written = opened.manuscript.chapters[stop.chapter.number - 1].items
            tasks = (item for item in written if isinstance(item, TaskText))
            for item in stop.chapter.items:
                match item:
                    case Exercise():
                        text = opened.tracer.text(item.id)
                        yield Met(item.id, stop.book, text, opened.tracer.ideas(item.id), is_task=False)
                    case Task():
                        ideas = {idea: None for one in item.of for idea in opened.tracer.ideas(one.id)}
                        yield Met(f"task {item.number}", stop.book, next(tasks), ideas, is_task=True)

    def unused_sequences(self) -> Iterator[Problem]:
        """Sequences that a chapter of the curriculum names and no exercise of the curriculum uses."""
        used: dict[str, set[str]] = {}
        for one in self._met():
            used.setdefault(one.book, set()).update(self.books[one.book].tracer.sequences(one.text))
        for stop in self.stops:
            for sequence in self.books[stop.book].manuscript.chapters[stop.chapter.number - 1].sequences:
                full = f"{stop.book}/{sequence.name}"
                if sequence.name not in used.get(stop.book, ()) and full not in self.text.leave_out:
                    yield _warning(
                        sequence.mark,
                        f"the sequence '{sequence.name}' is never practised in the curriculum; use it, take it "
                        f"out, or name {full} under leave-out",
                    )

    def unused_sounds(self) -> Iterator[Problem]:
        """The sounds of the kit that no exercise plays."""
        played = {idea.name for one in self._met() for idea in one.ideas if idea.kind == "sound"}
        missing = [name for name in SOUNDS if name not in played and name not in self.text.leave_out]
        if missing:
            mark = self.text.marks("leave_out")
            yield _warning(
                mark, f"no exercise plays {', '.join(missing)}; name under leave-out what is left out on purpose"
            )

    def unused_books(self) -> Iterator[Problem]:
        """Books that no term takes up."""
        for index, book in enumerate(self.text.books):
            if not any(stop.book == book.name for stop in self.stops):
                yield _warning(self.text.marks("books", index), f"no term takes up '{book.name}'")

    def crowding(self, terms: Sequence[Sequence[Week]]) -> Iterator[Problem]:
        """Terms with more exercises than their days have minutes for: the first such week of each."""
        for term, weeks in zip(self.text.terms, terms, strict=True):
            for week, block in crowded(weeks):
                yield _warning(
                    term.marks("weeks"),
                    f"in week {week} of '{term.term}' {len(block.practices)} exercises share {block.minutes} "
                    "minutes and have to take turns; give the term more weeks or minutes, or fewer chapters",
                )
                break


def _early(one: Met, ideas: Sequence[Idea], origin: str, *, is_later: bool) -> Problem:
    """What is wrong where ideas are taken over from an exercise that has not been there."""
    whence = "is about" if one.is_task else "is made from"
    where = "comes later" if is_later else "is not in the curriculum before it"
    them = "it" if len(ideas) == 1 else "them"
    return _warning(
        one.text.mark,
        f"'{one.name}' of '{one.book}' uses {_listed(ideas)} before an exercise introduces {them}: it {whence} "
        f"'{origin}', which {where}",
    )


def _listed(ideas: Iterable[Idea]) -> str:
    return ", ".join(map(str, ideas))


def _warning(mark: Mark, what: str) -> Problem:
    return Problem(mark, what, Weight.WARNING)
