"""An exercise as it will be printed: its words, its number, its systems."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from ..judge.level import Weights
from ..judge.words import cause_in_words, level_in_words
from ..manuscript.exercise import ExerciseText, Part
from ..manuscript.recordings import Recordings
from ..pattern.lineage import play_order
from ..pattern.mirror import mirrored
from ..pattern.order import Order
from ..pattern.sentence import Each, Parts, Sentence, Written
from ..pattern.steps import Heard, Source, Step, bind
from ..pattern.steps.order import beginning
from ..problem import Mark
from ..style.music import Spacing
from ..wording.lettering import AS_WRITTEN, Lettering
from ..wording.sentences import say, say_value
from ..wording.sides import sided
from .book import Exercise
from .ground import Refusal, Work
from .systems import break_into_systems
from .tasks import changed_slots
from .works import Workshop

_LONGEST_SAID = 9
"""The longest order that is told in letters; a longer one is easier to read under its notes."""


@dataclass(frozen=True)
class Entries:
    """Makes entries of works, in a language and for a style's spacing; `numbers` are printed, by id, and
    `places` are those of series' members among the members printed. `recordings` says where those are, and
    `lettering` is the style's."""

    language: str
    spacing: Spacing
    is_mirrored: bool
    numbers: Mapping[str, str]
    places: Mapping[str, int]
    workshop: Workshop
    weights: Weights
    recordings: Recordings | None = None
    lettering: Lettering = AS_WRITTEN

    def exercise(self, work: Work) -> Exercise:
        """A work as it will be printed. Raises TooWide where its bars do not fit the style's width."""
        text, draft = work.text, work.draft
        pattern = self._handed(draft.finished)
        steps = self._said(self._steps(work))
        judgement = self.workshop.judge(work)
        parent = work.ground.parent
        number = self.numbers[work.id]
        return Exercise(
            id=work.id,
            number=number,
            title=self._title(work),
            instruction=(self._sided(text.say),) if text.say else self._instruction(work, steps),
            steps=steps,
            pattern=pattern,
            tempo=work.ground.tempo,
            plays_on=draft.loops,
            times=text.times,
            feel=work.ground.feel,
            systems=break_into_systems(pattern, draft.loops, self.spacing, text.times),
            level=judgement.level.value,
            ceiling=judgement.ceiling.tempo,
            parent=parent,
            parent_number=self.numbers.get(parent) if parent else None,
            series=work.series,
            note=text.note,
            said=bool(text.say),
            new_page=text.new_page,
            changed=self._changed(work),
            limited_by=cause_in_words(self._handed(judgement.ceiling.cause)),
            made_hard_by=level_in_words(judgement.level, self.weights),
            order=self._handed(draft.order or ()),
            recording=self.recordings.of(number) if self.recordings else None,
            made_by=tuple(step.key for step in work.own),
        )

    def named(self, name: str, mark: Mark) -> Exercise | None:
        """An exercise by its id, as it is printed where it stands; None where it has errors of its own.

        Raises Refusal where there is none of that id.
        """
        if name not in self.numbers:
            if not self.workshop.names.is_exercise(name):
                raise Refusal(mark, self.workshop.names.no_such(name))
            if self.workshop.work(name) is not None:
                raise Refusal(mark, f"'{name}' is not printed in this book; a task is about an exercise that is")
            return None
        work = self.workshop.printed(name)
        return self.exercise(work) if work else None

    def _changed(self, work: Work) -> tuple[int, ...]:
        """The slots in which a work differs from its parent."""
        if work.ground.parent is None:
            return ()
        parent = self.workshop.work(work.ground.parent)
        return changed_slots(parent.draft.finished, work.draft.finished) if parent else ()

    def _steps(self, work: Work) -> tuple[Sentence, ...]:
        """What each step of its own changed."""
        steps = mirrored(work.own) if self.is_mirrored else work.own
        draft = work.draft
        limbs = frozenset(stroke.limb for stroke in self._handed(draft.finished).strokes)
        passes = Fraction(sum(map(bool, draft.origins)), len(draft.order)) if draft.order else None
        order = self._order_before(work)
        sentences: list[Sentence] = []
        for step in steps:
            heard = Heard(order, limbs, len(draft.pattern.bars), passes)
            sentences.append(self._numbered(step).sentence_for(heard))
            # A member of a series is left as it was where a step finds nothing in it.
            order, _ = play_order(order, [step])
        return tuple(sentences)

    def _order_before(self, work: Work) -> Order:
        """The order that the steps of a work's own begin with: its parent's, where it has one."""
        parent = self.workshop.work(work.ground.parent) if work.ground.parent else None
        order = parent.draft.order if parent else work.ground.order
        handed: Order = self._handed(order or ())
        return handed

    def _instruction(self, work: Work, steps: Sequence[str]) -> tuple[str, ...]:
        """What a reader is told: the order or the parts that it starts from, and what each step changed."""
        before: list[Sentence] = []
        after: list[Sentence] = []
        order = work.ground.order
        if work.ground.parent is None and order is not None and len(order) <= _LONGEST_SAID:
            before.append(self._order(order))
        if isinstance(work.text, ExerciseText) and work.text.phrase:
            before.append(self._phrase(work.text))
        if isinstance(work.text, ExerciseText) and work.text.endings:
            after.append(self._endings(work.text))
        return (*self._said(before), *steps, *self._said(after))

    def _said(self, sentences: Iterable[Sentence]) -> tuple[str, ...]:
        return tuple(say(sentence, self.language, self.lettering) for sentence in sentences)

    def _order(self, order: Order) -> Sentence:
        """The order that an exercise starts from, as its letters."""
        written = self.lettering.order_alone(self._handed(order))
        return Sentence("order", "plain", "", {"order": Written((written,))})

    def _numbered(self, step: Step) -> Step:
        """The step with the exercises that it names called by their numbers."""
        return bind(step, self._called)

    def _called(self, source: Source) -> Source:
        number = self.numbers.get(source.name)
        return replace(source, number=number) if number else source

    def _phrase(self, text: ExerciseText) -> Sentence:
        return Sentence("phrase", "plain", "", {"parts": self._parts(text.phrase)})

    def _endings(self, text: ExerciseText) -> Sentence:
        *before, last = (self._parts([part]) for part in text.endings)
        form = "often" if (text.times or 0) > len(text.endings) or len(before) > 1 else "plain"
        return Sentence("endings", form, "", {"before": tuple(before), "last": last})

    def _parts(self, said: Sequence[Part]) -> Parts:
        return Parts(tuple((self.numbers.get(part.use, part.use), part.bars, part.times) for part in said))

    def _title(self, work: Work) -> str:
        """An exercise's title; in a series' title `{n}`, `{what}` and the keys of `each` are filled in."""
        if work.series is None:
            return work.title or work.id.replace("-", " ").capitalize()
        values = {key: self._differing(key, value, work) for key, value in work.values}
        said = {key: self._worded(Each(key, value)) for key, value in values.items()}
        filled = {**said, "n": str(self.places[work.id]), "what": "; ".join(said.values())}
        if "rotate" in values:
            filled["rotate"] = self._worded(values["rotate"])
        title = work.title or "{what}"
        for name, words in filled.items():
            title = title.replace(f"{{{name}}}", words)
        return f"{title[:1].upper()}{title[1:]}"

    def _differing(self, key: str, value: Any, work: Work) -> Any:
        """What differs, as a reader is told it: strokes are counted, and not silent slots."""
        return beginning(self._order_before(work), value) if key == "rotate" else self._handed(value)

    def _worded(self, value: Any) -> str:
        return say_value(value, self.language, self.lettering)

    def _sided(self, text: str) -> str:
        """An author's text with its hands named, on one line."""
        return sided(" ".join(text.split()), self.language, self.is_mirrored)

    def _handed(self, value: Any) -> Any:
        return mirrored(value) if self.is_mirrored else value
