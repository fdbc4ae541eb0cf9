"""An exercise as it will be printed: its words, its number, its systems."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..judge.level import Weights
from ..judge.words import cause_in_words, level_in_words
from ..manuscript.models import ExerciseText
from ..pattern.mirror import mirrored
from ..pattern.sentence import Each, Parts, Sentence
from ..pattern.steps import Source, Step, bind
from ..problem import Mark
from ..style.model import Spacing
from ..wording.sentences import say, say_value
from .book import Exercise
from .ground import Refusal, Work
from .systems import break_into_systems
from .tasks import changed_slots
from .works import Workshop


@dataclass(frozen=True)
class Entries:
    """Makes entries of works, in a language and for a style's spacing; `numbers` are printed, by id."""

    language: str
    spacing: Spacing
    is_mirrored: bool
    numbers: Mapping[str, str]
    workshop: Workshop
    weights: Weights

    def exercise(self, work: Work, place: int) -> Exercise:
        """A work as it will be printed; `place` is its position among those printed of its series.

        Raises TooWide where its bars do not fit the style's width.
        """
        text, draft = work.text, work.draft
        pattern = self._handed(draft.finished)
        sentences = self._sentences(work)
        judgement = self.workshop.judge(draft)
        parent = work.ground.parent
        return Exercise(
            id=work.id,
            number=self.numbers[work.id],
            title=self._title(work, place),
            instruction=(text.say,) if text.say else sentences,
            steps=sentences,
            pattern=pattern,
            tempo=work.ground.tempo,
            plays_on=draft.loops,
            times=text.times,
            feel=work.ground.feel,
            systems=break_into_systems(pattern, draft.loops, self.spacing),
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
        return self.exercise(work, 1) if work else None

    def _changed(self, work: Work) -> tuple[int, ...]:
        """The slots in which a work differs from its parent."""
        if work.ground.parent is None:
            return ()
        parent = self.workshop.work(work.ground.parent)
        return changed_slots(parent.draft.finished, work.draft.finished) if parent else ()

    def _sentences(self, work: Work) -> tuple[str, ...]:
        """What each step of its own changed; for a phrase, first what it is made of."""
        steps = [self._numbered(step) for step in (mirrored(work.own) if self.is_mirrored else work.own)]
        sentences = [step.sentence() for step in steps]
        if isinstance(work.text, ExerciseText) and work.text.phrase:
            sentences.insert(0, self._phrase(work.text))
        return tuple(say(sentence, self.language) for sentence in sentences)

    def _numbered(self, step: Step) -> Step:
        """The step with the exercises that it names called by their numbers."""
        return bind(step, self._called)

    def _called(self, source: Source) -> Source:
        number = self.numbers.get(source.name)
        return replace(source, said=f"no. {number}") if number else source

    def _phrase(self, text: ExerciseText) -> Sentence:
        parts = tuple((self.numbers.get(part.use, part.use), part.bars, part.times) for part in text.phrase)
        return Sentence("phrase", "plain", "Play {parts}.", {"parts": Parts(parts)})

    def _title(self, work: Work, place: int) -> str:
        """An exercise's title; in a series' title `{n}`, `{what}` and the keys of `each` are filled in."""
        if work.series is None:
            return work.title or work.id.replace("-", " ").capitalize()
        said = {key: say_value(Each(key, self._handed(value)), self.language) for key, value in work.values}
        what = "; ".join(said.values())
        rotate = dict(work.values).get("rotate")
        filled = {**said, "n": str(place), "what": what}
        if rotate is not None:
            filled["rotate"] = str(rotate + 1)
        title = work.title or "{what}"
        for name, words in filled.items():
            title = title.replace(f"{{{name}}}", words)
        return f"{title[:1].upper()}{title[1:]}"

    def _handed(self, value: Any) -> Any:
        return mirrored(value) if self.is_mirrored else value
