"""Works the exercises of a manuscript out, each once, parents before children."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..manuscript.models import Chapter, ExerciseText
from ..manuscript.steps import StepLine
from ..pattern.counts import counts_of
from ..pattern.draft import Draft, SettingError
from ..pattern.grid import SIXTEENTHS, Grid, GridError
from ..pattern.lineage import Played, Stumble, check_phases, grow, play_on, play_steps
from ..pattern.meter import COMMON_TIME, Meter
from ..pattern.order import Order
from ..pattern.phrase import Part, join_parts
from ..pattern.steps import Passage, Phase, Source, Step, StepError, bind
from ..pattern.tempo import Tempo
from ..problem import Mark, Problem
from .names import Broken, Names, Unknown


@dataclass(frozen=True)
class Ground:
    """What an exercise starts from.

    `order` is the order before any step; a phrase has `joined`, its parts one after the other, instead.
    `lines` are the steps played so far, `parent` the id of the exercise they come from.
    """

    meter: Meter
    grid: Grid
    tempo: Tempo | None
    feel: str
    order: Order | None = None
    joined: Draft | None = None
    lines: tuple[StepLine, ...] = ()
    parent: str | None = None

    def play(self, lines: Sequence[StepLine], play: str | None) -> Played:
        """Play steps over it from the beginning."""
        steps = [line.step for line in lines]
        if self.joined is not None:
            return play_on(replace(self.joined, play=play), steps)
        assert self.order is not None  # what is no phrase has an order
        return play_steps(self.order, self.meter, self.grid, steps, play)


@dataclass(frozen=True)
class Work:
    """An exercise worked out: its text, its music, the steps of its own, and what it started from.

    `after` is what an exercise that grows out of this one starts from.
    """

    text: ExerciseText
    draft: Draft
    own: tuple[Step, ...]
    ground: Ground
    after: Ground


class Refusal(Exception):
    """Why an exercise cannot be worked out, and where that stands."""

    def __init__(self, mark: Mark, what: str) -> None:
        super().__init__(what)
        self.mark = mark


class Workshop:
    """Works exercises out by their ids, keeps them, and gathers what is wrong on its way."""

    def __init__(self, names: Names) -> None:
        self.names = names
        self.problems: list[Problem] = []
        self._works: dict[str, Work | None] = {}
        self._under_way: list[str] = []

    def work(self, name: str) -> Work | None:
        """The exercise of that id; None where it has errors, which are then among the problems."""
        if name in self._works:
            return self._works[name]
        text, chapter = self.names.exercises[name]
        self._under_way.append(name)
        try:
            self._works[name] = self._work_out(text, chapter)
        except Refusal as refusal:
            self.problems.append(Problem(refusal.mark, str(refusal)))
            self._works[name] = None
        except Broken:
            self._works[name] = None
        self._under_way.pop()
        return self._works[name]

    def _work_out(self, text: ExerciseText, chapter: Chapter) -> Work:
        if text.broken:
            raise Broken
        _check_phases(text)
        ground = self._ground(text, chapter)
        own = self._bound(text.steps)
        if ground.joined is not None:
            _refuse_order_steps(own)
        numbers = grow([line.step for line in ground.lines], [line.step for line in own])
        lines = tuple(own[number] if number >= 0 else ground.lines[number] for number in numbers)
        played = ground.play(lines, text.play)
        self._report(text, ground, lines, numbers, played.stumbles)
        if played.draft is None or played.stumbles:
            raise Broken
        self._check_linear(text, chapter, played.draft)
        after = replace(ground, lines=lines, parent=text.id)
        return Work(text, played.draft, tuple(line.step for line in own), ground, after)

    def _ground(self, text: ExerciseText, chapter: Chapter) -> Ground:
        if text.phrase:
            ground = self._phrase_ground(text)
        elif self.names.is_exercise(text.start or ""):
            ground = self._child_ground(text)
        else:
            ground = self._root_ground(text, chapter)
        return replace(ground, tempo=text.tempo or ground.tempo or chapter.set.tempo, feel=text.feel or ground.feel)

    def _root_ground(self, text: ExerciseText, chapter: Chapter) -> Ground:
        try:
            order = self.names.order(text.start or "")
        except Unknown as unknown:
            raise Refusal(text.marks("start"), str(unknown)) from None
        return Ground(
            meter=text.meter or chapter.set.meter or COMMON_TIME,
            grid=text.grid or chapter.set.grid or SIXTEENTHS,
            tempo=chapter.set.tempo,
            feel=chapter.set.feel or "straight",
            order=order,
        )

    def _child_ground(self, text: ExerciseText) -> Ground:
        parent = self._finished(text.start or "", text.marks("start"))
        for key, remedy in (("meter", "remeter"), ("grid", "regrid")):
            if getattr(text, key) is not None:
                raise Refusal(
                    text.marks(key),
                    f"'{text.id}' has the {key} of '{parent.text.id}', which it starts from; "
                    f"to set it in another {key} use the step '{remedy}'",
                )
        return parent.after

    def _phrase_ground(self, text: ExerciseText) -> Ground:
        for key in ("meter", "grid"):
            if getattr(text, key) is not None:
                raise Refusal(text.marks(key), f"a phrase has the {key} of its exercises; leave '{key}' out")
        works = [self._finished(part.use, part.mark) for part in text.phrase]
        for work, said in zip(works, text.phrase, strict=True):
            has = len(work.draft.pattern.bars)
            if said.bars is not None and said.bars > has:
                bars = "1 bar" if has == 1 else f"{has} bars"
                raise Refusal(said.mark, f"'{said.use}' has {bars}, and {said.bars} are asked for")
        parts = [Part(work.draft, said.bars, said.times) for work, said in zip(works, text.phrase, strict=True)]
        try:
            joined = join_parts(parts, text.play)
        except SettingError as error:
            raise Refusal(text.marks("phrase"), str(error)) from None
        first = works[0].after
        return Ground(first.meter, first.grid, first.tempo, first.feel, joined=joined)

    def _finished(self, name: str, mark: Mark) -> Work:
        """Another exercise, worked out. Raises Refusal or Broken."""
        if not self.names.is_exercise(name):
            raise Refusal(mark, self.names.no_such(name))
        if name in self._under_way:
            round_trip = [*self._under_way[self._under_way.index(name) :], name]
            raise Refusal(mark, f"this goes in a circle: {' → '.join(round_trip)}; let one start from a sequence")
        work = self.work(name)
        if work is None:
            raise Broken
        return work

    def _bound(self, lines: Sequence[StepLine]) -> tuple[StepLine, ...]:
        """The steps with the music filled in that they name."""
        return tuple(replace(line, step=self._bind(line)) for line in lines)

    def _bind(self, line: StepLine) -> Step:
        try:
            return bind(line.step, self._source)
        except StepError as error:
            raise Refusal(line.mark_of(error.key, error.index), str(error)) from None

    def _source(self, source: Source) -> Source:
        """The music that a step names: an exercise's order is that after its steps on the order."""
        name = source.name
        if not self.names.is_exercise(name):
            try:
                return replace(source, order=self.names.order(name), said=name.replace("-", " "))
            except Unknown as unknown:
                raise KeyError(str(unknown)) from None
        if name in self._under_way:
            raise KeyError(f"'{name}' cannot use itself")
        work = self.work(name)
        if work is None:
            raise Broken
        said = f"no. {self.names.numbers[name]}"
        if isinstance(source, Passage):
            return replace(source, order=work.draft.pattern.slots, said=said, voiced=True)
        if work.draft.order is None:
            raise KeyError(f"'{name}' is a phrase, and has no one order")
        return replace(source, order=work.draft.order, said=said)

    def _report(
        self,
        text: ExerciseText,
        ground: Ground,
        lines: Sequence[StepLine],
        numbers: Sequence[int],
        stumbles: Sequence[Stumble],
    ) -> None:
        for stumble in stumbles:
            trouble = stumble.trouble
            if stumble.number is None:
                self.problems.append(Problem(_setting_mark(text, trouble), str(trouble)))
                continue
            line = lines[stumble.number]
            key, index = getattr(trouble, "key", None), getattr(trouble, "index", None)
            if numbers[stumble.number] >= 0:
                self.problems.append(Problem(line.mark_of(key, index), str(trouble)))
                continue
            what = f"'{line.step.key}' of '{ground.parent}' (line {line.mark.line}) cannot be played again here"
            self.problems.append(Problem(text.marks("steps"), f"{what}: {trouble}"))

    def _check_linear(self, text: ExerciseText, chapter: Chapter, draft: Draft) -> None:
        linear = chapter.linear if text.linear is None else text.linear
        if not linear:
            return
        for number, bar in enumerate(draft.pattern.bars, start=1):
            for count, slot in zip(counts_of(bar), bar.slots, strict=True):
                if len(slot) > 1:
                    limbs = " and ".join(stroke.limb.value for stroke in slot)
                    raise Refusal(
                        text.mark, f"'{text.id}' is linear, and {limbs} play together on {number}|{count}"
                    )


def _check_phases(text: ExerciseText) -> None:
    late = check_phases([line.step for line in text.steps])
    if late is not None:
        line = text.steps[late]
        raise Refusal(
            line.mark,
            f"'{line.step.key}' works on the order, and comes after a step in time; put it before that step, "
            "or into an exercise that starts from this one",
        )


def _refuse_order_steps(lines: Sequence[StepLine]) -> None:
    for line in lines:
        if line.step.phase is Phase.ORDER:
            raise Refusal(
                line.mark,
                f"'{line.step.key}' works on one order, and a phrase has several; use it in its exercises",
            )


def _setting_mark(text: ExerciseText, trouble: Exception) -> Mark:
    if isinstance(trouble, GridError):
        return text.marks("grid" if text.grid is not None else "meter")
    return text.marks("start")
