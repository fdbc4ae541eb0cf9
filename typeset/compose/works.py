"""Works the exercises of a manuscript out, each once, parents before children."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from ..manuscript.exercise import ExerciseText
from ..manuscript.models import Chapter
from ..manuscript.series import SeriesText
from ..pattern.draft import Draft, SettingError
from ..pattern.grid import GridError
from ..pattern.lineage import Stumble, grow
from ..pattern.phrase import unfolded, with_endings
from ..pattern.selection import NothingChosen
from ..pattern.steps import Passage, Phase, Source, Step, StepError, bind
from ..problem import Mark, Problem, Weight
from .ground import Ground, Line, Refusal, Work, first_together
from .grounds import Grounds
from .judging import Judge
from .leaning import in_order_of_need
from .names import Broken, Named, Names, Unknown
from .pickup import with_pickup
from .series import member, members
from .variants import ONLY_ONE, Variant

T = TypeVar("T")

MOST_MOVES = 15_000_000
"""The most work that a book may be: a move is a slot that is set in time, or that a step looks at."""

MOST_IN_SERIES = 10_000
"""The most exercises that all series of a book print."""

_TOO_MUCH = (
    f"up to here this book's exercises and series take more than {MOST_MOVES:,} moves of a slot to work out; "
    "let its series make less, or divide it"
)
# What stands in no circle is worked out ahead, so no line of exercises that wait for each other gets as long.
_LONGEST_CIRCLE = 30


class Workshop:
    """Works exercises out by their ids, keeps them, and gathers what is wrong on its way.

    `judge` is asked for a draft's level and ceiling where a series keeps or orders its members by them. `left_out`
    are the names of what has errors.
    """

    def __init__(self, names: Names, judge: Judge) -> None:
        self.names = names
        self.judge = judge
        self.problems: list[Problem] = []
        self.left_out: set[str] = set()
        self._works: dict[str, Work | None] = {}
        self._families: dict[str, tuple[Work, ...]] = {}
        self._under_way: list[str] = []
        self._told: set[Problem] = set()
        self._moves = 0
        self._room = MOST_IN_SERIES

    def work_ahead(self) -> None:
        """Work the exercises out in an order in which none waits for another, however long a line they make."""
        for name in in_order_of_need(self.names):
            if name in self.names.exercises:
                self.work(name)

    def spend(self, moves: int) -> None:
        """Count work: a slot set or changed is a move. Raises Broken where a book comes to too many, which is told
        where that happens first."""
        before, self._moves = self._moves, self._moves + moves
        if self._moves > MOST_MOVES:
            if before <= MOST_MOVES:
                self.tell(self._mark_under_way(), _TOO_MUCH)
            raise Broken

    def _mark_under_way(self) -> Mark:
        """Where the exercise or series stands that is being worked out."""
        series, _, _ = self._under_way[-1].rpartition("/")
        known = {**self.names.exercises, **self.names.series}
        return known[self._under_way[-1] if self._under_way[-1] in known else series][0].mark

    def work(self, name: str) -> Work | None:
        """The exercise of that id; None where it has errors, which are then among the problems."""
        if name not in self._works:
            self._works[name] = self._guarded(name, lambda: self._work_out(name))
        return self._works[name]

    def printed(self, name: str) -> Work | None:
        """A work by its id, a series' member as it was made for print."""
        for family in self._families.values():
            for work in family:
                if work.id == name:
                    return work
        return self.work(name)

    def family(self, name: str) -> tuple[Work, ...]:
        """The members of a series that are printed, in their order; none where it has errors."""
        if name not in self._families:
            text, chapter = self.names.series[name]
            made = self._guarded(name, lambda: members(text, chapter, self)) if self._room >= 0 else None
            self._families[name] = self._with_room(text, made or ())
        return self._families[name]

    def _with_room(self, text: SeriesText, made: tuple[Work, ...]) -> tuple[Work, ...]:
        """A series' members; none, which is told, where those of the book's series would be too many."""
        self._room -= len(made)
        if self._room >= 0 or not made:
            return made
        what = f"with this one the series of the book print more than {MOST_IN_SERIES:,} exercises; set limits"
        self.tell(text.mark, what)
        self.left_out.add(text.id)
        return ()

    def _guarded(self, name: str, make: Callable[[], T]) -> T | None:
        """What is made under a name; None where that fails, with the reason among the problems."""
        self._under_way.append(name)
        try:
            return make()
        except Refusal as refusal:
            self.tell(refusal.mark, str(refusal))
        except Broken:
            pass
        finally:
            self._under_way.pop()
        self.left_out.add(name)
        return None

    def tell(self, mark: Mark, what: str, weight: Weight = Weight.ERROR, of: str | None = None) -> None:
        """Note what is wrong, once, and where."""
        problem = Problem(mark, what, weight, of)
        if problem not in self._told:
            self._told.add(problem)
            self.problems.append(problem)

    def _work_out(self, name: str) -> Work:
        if name in self.names.exercises:
            text, chapter = self.names.exercises[name]
            return self.build(text.id, text.title, text, chapter, self.ground(text, chapter))
        series, number = self.names.member(name)
        family, chapter = self.names.series[series]
        return member(family, chapter, self, number)

    def build(
        self,
        name: str,
        title: str,
        text: ExerciseText | SeriesText,
        chapter: Chapter,
        ground: Ground,
        variant: Variant = ONLY_ONE,
    ) -> Work:
        """Play an exercise's steps over its ground. Raises Refusal or Broken."""
        self.spend(0)
        own = (*variant.first, *self._bound(text.steps), *variant.last)
        if ground.joined is not None:
            _refuse_order_steps(own)
        numbers = grow([line.step for line in ground.lines], [line.step for line in own])
        lines = tuple(own[number] if number >= 0 else ground.lines[number] for number in numbers)
        played = ground.play(lines, text.play)
        broken = [self._report(text, ground, lines, numbers, stumble) for stumble in played.stumbles]
        if played.draft is None or any(broken):
            raise Broken
        self.spend(len(played.draft.pattern.slots) * (1 + len(lines)))
        draft = self._framed(played.draft, text)
        self._check_linear(name, text, chapter, draft)
        return Work(
            id=name,
            title=title,
            text=text,
            draft=draft,
            own=tuple(line.step for line in own),
            ground=ground,
            lines=lines,
            series=text.series if isinstance(text, SeriesText) else None,
            values=variant.values,
        )

    def ground(self, text: ExerciseText | SeriesText, chapter: Chapter) -> Ground:
        """What an exercise, or every member of a series, starts from. Raises Refusal or Broken."""
        return Grounds(self).ground(text, chapter)

    def named(self, name: str, mark: Mark) -> Named:
        """What a sequence's name means, or an order written out. Raises Refusal or Broken."""
        return Grounds(self).named(name, mark)

    def _framed(self, draft: Draft, text: ExerciseText | SeriesText) -> Draft:
        """A draft with its pickup and its endings. Raises Refusal or Broken."""
        if not isinstance(text, ExerciseText):
            return draft
        opened = with_pickup(draft, text)
        if not text.endings:
            return opened
        try:
            return with_endings(opened, Grounds(self).parts(text.endings))
        except SettingError as error:
            raise Refusal(text.marks("endings"), str(error)) from None

    def finished(self, name: str, mark: Mark) -> Work:
        """Another exercise, worked out. Raises Refusal or Broken."""
        if not self.names.is_exercise(name):
            raise Refusal(mark, self.names.no_such(name))
        if name in self._under_way:
            circle = " → ".join([*self._under_way[self._under_way.index(name) :], name])
            raise Refusal(mark, f"this goes in a circle: {circle}; let one start from a sequence")
        if len(self._under_way) > _LONGEST_CIRCLE:
            raise Refusal(mark, f"'{name}' leads into a long circle of exercises; let one start from a sequence")
        work = self.work(name)
        if work is None:
            raise Broken
        return work

    def _bound(self, lines: Sequence[Line]) -> tuple[Line, ...]:
        """The steps with the music filled in that they name."""
        bound = [(line, self._bind(line)) for line in lines]
        return tuple(line if step is line.step else replace(line, step=step) for line, step in bound)  # type: ignore[type-var]

    def _bind(self, line: Line) -> Step:
        try:
            return bind(line.step, self._source)
        except StepError as error:
            raise Refusal(line.mark_of(error.key, error.index), str(error)) from None

    def _source(self, source: Source) -> Source:
        """The music that a step names: an exercise's order is that after its steps on the order."""
        name = source.name
        if not self.names.is_exercise(name):
            try:
                named = self.names.named(name)
                return replace(source, order=named.order, said=named.said)
            except Unknown as unknown:
                raise KeyError(str(unknown)) from None
        if name in self._under_way:
            raise KeyError(f"'{name}' cannot use itself; name another exercise")
        work = self.work(name)
        if work is None:
            raise Broken
        if isinstance(source, Passage):
            return replace(source, order=unfolded(work.draft).pattern.slots, voiced=True)
        if work.draft.order is None:
            raise KeyError(f"'{name}' is a phrase, and has no one order")
        return replace(source, order=work.draft.order)

    def _report(
        self,
        text: ExerciseText | SeriesText,
        ground: Ground,
        lines: Sequence[Line],
        numbers: Sequence[int],
        stumble: Stumble,
    ) -> bool:
        """Tell of a step that stumbled; true where that breaks the exercise."""
        trouble = stumble.trouble
        if stumble.number is None:
            self.tell(_setting_mark(text, trouble), str(trouble))
            return True
        line = lines[stumble.number]
        if numbers[stumble.number] < 0:
            whose = f"'{line.step.key}' of '{ground.parent}' (line {line.mark.line})"
            self.tell(text.marks("steps"), f"{whose} cannot be played again here: {trouble}")
            return True
        mark = line.mark_of(getattr(trouble, "key", None), getattr(trouble, "index", None))
        if isinstance(text, SeriesText) and isinstance(trouble, NothingChosen):
            self.tell(mark, f"for some members {trouble}; they are left as they were", Weight.WARNING, text.id)
            return False
        self.tell(mark, str(trouble))
        return True

    def _check_linear(self, name: str, text: ExerciseText | SeriesText, chapter: Chapter, draft: Draft) -> None:
        linear = chapter.linear if text.linear is None else text.linear
        together = first_together(draft) if linear else None
        if together:
            raise Refusal(text.mark, f"'{name}' is linear, and {together}")


def _refuse_order_steps(lines: Sequence[Line]) -> None:
    for line in lines:
        if line.step.phase is Phase.ORDER:
            raise Refusal(
                line.mark,
                f"'{line.step.key}' works on one order, and a phrase has several; use it in its exercises",
            )


def _setting_mark(text: ExerciseText | SeriesText, trouble: Exception) -> Mark:
    if isinstance(trouble, GridError):
        return text.marks("grid" if text.grid is not None else "meter")
    return text.marks("start")
