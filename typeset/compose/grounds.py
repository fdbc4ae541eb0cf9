"""What exercises start from: an order, another exercise, or several one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from ..manuscript.exercise import ExerciseText
from ..manuscript.exercise import Part as PartText
from ..manuscript.models import Chapter
from ..manuscript.series import SeriesText
from ..pattern.bar import bars_in_words
from ..pattern.draft import SettingError
from ..pattern.lineage import check_phases
from ..pattern.phrase import Part, join_parts
from ..problem import Mark
from .ground import Ground, Refusal, Work, time_of
from .names import Broken, Named, Names, Unknown


class Others(Protocol):
    """Where other exercises are worked out."""

    names: Names

    def finished(self, name: str, mark: Mark) -> Work:
        """Another exercise, worked out. Raises Refusal or Broken."""

    def tell(self, mark: Mark, what: str) -> None:
        """Note what is wrong, and where."""


class Grounds:
    """Finds what exercises start from."""

    def __init__(self, others: Others) -> None:
        self.others = others

    def ground(self, text: ExerciseText | SeriesText, chapter: Chapter) -> Ground:
        """What an exercise, or every member of a series, starts from. Raises Refusal or Broken."""
        # Where what the chapter sets cannot be read, an exercise that leans on it cannot be worked out.
        leans = chapter.set.broken and (text.meter is None or text.grid is None)
        if text.broken or leans:
            self._check_names(text)
            raise Broken
        _check_phases(text)
        ground = self._first_ground(text, chapter)
        return replace(ground, tempo=text.tempo or ground.tempo or chapter.set.tempo, feel=text.feel or ground.feel)

    def _check_names(self, text: ExerciseText | SeriesText) -> None:
        """Tell of unknown names in an exercise that has other errors, so that all come in one go."""
        parts = (*text.phrase, *text.endings) if isinstance(text, ExerciseText) else ()
        for part in parts:
            if not self.others.names.is_exercise(part.use):
                self.others.tell(part.mark, self.others.names.no_such(part.use))
        if text.start and not self.others.names.is_exercise(text.start):
            self.named(text.start, text.marks("start"))

    def _first_ground(self, text: ExerciseText | SeriesText, chapter: Chapter) -> Ground:
        if isinstance(text, ExerciseText) and text.phrase:
            return self._phrase_ground(text)
        if text.start is not None and self.others.names.is_exercise(text.start):
            return self._child_ground(text, text.start)
        start = None if text.start is None else self.named(text.start, text.marks("start"))
        meter, grid = time_of(text, chapter, start)
        return Ground(
            meter=meter,
            grid=grid,
            tempo=chapter.set.tempo,
            feel=chapter.set.feel or "straight",
            order=start.order if start else None,
        )

    def named(self, name: str, mark: Mark) -> Named:
        """What a sequence's name means, or an order written out. Raises Refusal or Broken."""
        try:
            named = self.others.names.named(name)
        except Unknown as unknown:
            raise Refusal(mark, str(unknown)) from None
        if not any(named.order):
            raise Refusal(mark, f"there is no stroke in '{name}'; an exercise needs one to start from")
        return named

    def _child_ground(self, text: ExerciseText | SeriesText, start: str) -> Ground:
        parent = self.others.finished(start, text.marks("start"))
        for key, remedy in (("meter", "remeter"), ("grid", "regrid")):
            if getattr(text, key) is not None:
                raise Refusal(
                    text.marks(key),
                    f"'{text.id}' has the {key} of '{parent.id}', which it starts from; "
                    f"to set it in another {key} use the step '{remedy}'",
                )
        return parent.after

    def _phrase_ground(self, text: ExerciseText) -> Ground:
        for key in ("meter", "grid"):
            if getattr(text, key) is not None:
                raise Refusal(text.marks(key), f"a phrase has the {key} of its exercises; leave '{key}' out")
        parts = self.parts(text.phrase)
        try:
            joined = join_parts(parts, text.play)
        except SettingError as error:
            raise Refusal(text.marks("phrase"), str(error)) from None
        first = self.others.finished(text.phrase[0].use, text.phrase[0].mark).after
        return Ground(first.meter, first.grid, first.tempo, first.feel, joined=joined)

    def parts(self, said: Sequence[PartText]) -> list[Part]:
        """The parts of a phrase, or an exercise's endings. Raises Refusal or Broken."""
        parts: list[Part] = []
        for one in said:
            draft = self.others.finished(one.use, one.mark).draft
            has = len(draft.pattern.course)
            if one.bars is not None and one.bars > has:
                what = f"'{one.use}' has {bars_in_words(has)}, and {one.bars} are asked for"
                raise Refusal(one.mark, what)
            parts.append(Part(draft, one.bars, one.times))
        return parts


def _check_phases(text: ExerciseText | SeriesText) -> None:
    late = check_phases([line.step for line in text.steps])
    if late is not None:
        line = text.steps[late]
        raise Refusal(
            line.mark,
            f"'{line.step.key}' works on the order, and comes after a step in time; put it before that step, "
            "or into an exercise that starts from this one",
        )
