"""Tasks: what is asked of an exercise, how it is printed, and what the answer is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..manuscript.tasks import SPOT_THE_CHANGE, TaskText
from ..pattern.bar import Bar, Pattern
from ..pattern.counts import place_of
from ..pattern.stroke import Dynamic, Slot
from ..problem import Mark
from ..wording.lettering import AS_WRITTEN, Lettering
from ..wording.sentences import say_change, say_value, task_words
from .book import Exercise, Task
from .engraving import System
from .ground import Refusal

ACCENTS, NOTES, STICKING = "find-the-accents", "write-the-notes", "write-the-sticking"


@dataclass(frozen=True)
class Asker:
    """Makes tasks of exercises, in a language and in a style's lettering."""

    language: str
    is_inline: bool
    lettering: Lettering = AS_WRITTEN

    def task(self, text: TaskText, number: int, of: Sequence[Exercise]) -> Task:
        """A task as it will be printed. Raises Refusal where there is nothing to find or to write."""
        self._refuse_nothing(text, of)
        words = task_words(text.task, self.language)
        instruction = " ".join(of[0].steps)
        fields = {"numbers": [one.number for one in of], "instruction": instruction}
        return Task(
            kind=text.task,
            number=number,
            title=text.title or words["title"],
            asks=text.say or words["asks"].format(*fields["numbers"], instruction=instruction).strip(),
            of=tuple(of),
            asked=tuple(tuple(asked_system(system, text.task) for system in one.systems) for one in of),
            answer=tuple(self._changes(*of)) if text.task == SPOT_THE_CHANGE else (),
            accepts=words.get("accepts"),
            note=text.note,
            is_inline=self.is_inline,
            new_page=text.new_page,
        )

    def _refuse_nothing(self, text: TaskText, of: Sequence[Exercise]) -> None:
        mark: Mark = text.marks("of")
        if text.task == ACCENTS and not any(stroke.dynamic is Dynamic.ACCENT for stroke in of[0].pattern.strokes):
            raise Refusal(mark, f"'{of[0].id}' has no accents to find")
        if text.task == SPOT_THE_CHANGE:
            first, second = (one.pattern for one in of)
            if [bar.onsets for bar in first.bars] != [bar.onsets for bar in second.bars]:
                raise Refusal(mark, "the two have other bars or grids; a change is spotted in bars of one shape")
            if first == second:
                raise Refusal(mark, f"'{of[0].id}' and '{of[1].id}' are the same; there is no change to spot")

    def _changes(self, first: Exercise, second: Exercise) -> Iterator[str]:
        """Each place in which two exercises differ, in words."""
        words = task_words(SPOT_THE_CHANGE, self.language)
        slots = zip(first.pattern.slots, second.pattern.slots, strict=True)
        for index, (before, after) in enumerate(slots):
            if before != after:
                was, is_ = say_change(before, after, self.language)
                place = say_value(place_of(first.pattern, index), self.language, self.lettering)
                yield words["change"].format(place=place, before=was, after=is_)


def changed_slots(before: Pattern, after: Pattern) -> tuple[int, ...]:
    """The slots, from 0, in which a pattern differs from the one it grew out of.

    None where the two have another shape, or where more than half of what sounds has changed: marks on
    nearly every note would say nothing.
    """
    if [bar.onsets for bar in before.bars] != [bar.onsets for bar in after.bars]:
        return ()
    pairs = list(zip(before.slots, after.slots, strict=True))
    changed = tuple(index for index, (old, new) in enumerate(pairs) if old != new)
    sounding = sum(1 for old, new in pairs if old or new)
    return changed if 2 * len(changed) <= sounding else ()


def asked_system(system: System, kind: str) -> System:
    """A system as a task prints it, every bar in full: without its accents, or blank, or as it is."""
    system = replace(system, same=())
    if kind == ACCENTS:
        pickup = system.pickup and _without_accents(system.pickup)
        return replace(system, bars=tuple(_without_accents(bar) for bar in system.bars), pickup=pickup)
    return replace(system, blank=True) if kind == NOTES else system


def _without_accents(bar: Bar) -> Bar:
    return bar.with_slots([_plain(slot) for slot in bar.slots])


def _plain(slot: Slot) -> Slot:
    return tuple(stroke.played(Dynamic.PLAIN) if stroke.dynamic is Dynamic.ACCENT else stroke for stroke in slot)
