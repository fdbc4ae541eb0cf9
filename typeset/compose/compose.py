"""From a manuscript to a book: every exercise worked out, judged, worded and broken into systems."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..judge import judge
from ..manuscript.figures import Figures
from ..manuscript.models import Chapter as ChapterText
from ..manuscript.models import Edition, ExerciseText, Manuscript, TextBlock
from ..pattern.mirror import mirrored
from ..problem import Problem
from ..style.model import Spacing
from ..wording.sentences import say
from .book import Book, Chapter, Exercise, Text
from .names import Names
from .specimens import specimens_of
from .systems import TooWide, break_into_systems, half_line
from .works import Work, Workshop


@dataclass(frozen=True)
class Composition:
    """A book with what is wrong in it; a book with errors lacks the exercises that have them."""

    book: Book
    problems: tuple[Problem, ...]


def compose(
    manuscript: Manuscript, spacing: Spacing, figures: Figures, edition: Edition | None = None
) -> Composition:
    """Work out a whole book, or one edition of it, for a style's spacing, judged by a player's figures."""
    is_mirrored = bool(edition and edition.mirror)
    composer = _Composer(manuscript, spacing, figures, is_mirrored)
    chapters = tuple(
        composer.chapter(number, chapter) for number, chapter in enumerate(manuscript.chapters, start=1)
    )
    book = Book(
        title=manuscript.title,
        subtitle=manuscript.subtitle,
        author=manuscript.author,
        edition=manuscript.edition,
        date=manuscript.date,
        language=manuscript.language,
        chapters=chapters,
        front=manuscript.front,
        back=manuscript.back,
        specimens=(),
        mirrored=is_mirrored,
    )
    return Composition(replace(book, specimens=specimens_of(book.exercises)), tuple(composer.workshop.problems))


class _Composer:
    """Composes one manuscript, chapter by chapter."""

    def __init__(self, manuscript: Manuscript, spacing: Spacing, figures: Figures, is_mirrored: bool) -> None:
        self.language = manuscript.language
        self.spacing = spacing
        self.figures = figures
        self.is_mirrored = is_mirrored
        self.workshop = Workshop(Names(manuscript))
        self.numbers = self.workshop.names.numbers

    def chapter(self, number: int, text: ChapterText) -> Chapter:
        items: list[Exercise | Text] = []
        for item in text.items:
            if isinstance(item, TextBlock):
                items.append(Text(item.text))
            elif isinstance(item, ExerciseText):
                work = self.workshop.work(item.id)
                exercise = self.exercise(work) if work else None
                if exercise:
                    items.append(exercise)
        return Chapter(number, text.title, text.intro, self.paired(items))

    def paired(self, items: Sequence[Exercise | Text]) -> tuple[Exercise | Text, ...]:
        """The items with neighbours of one bar each set to share a line."""
        paired = list(items)
        index = 0
        while index + 1 < len(paired):
            pair = paired[index : index + 2]
            halves = [self.halved(item) for item in pair]
            if all(halves) and not getattr(pair[1], "new_page", False):
                paired[index : index + 2] = [half for half in halves if half]
                index += 1
            index += 1
        return tuple(paired)

    def halved(self, item: Exercise | Text) -> Exercise | None:
        """An exercise on half a line; None for what does not go there."""
        if isinstance(item, Text):
            return None
        systems = half_line(item.pattern, item.plays_on, self.spacing)
        return replace(item, systems=systems) if systems else None

    def exercise(self, work: Work) -> Exercise | None:
        """An exercise as it will be printed; None where its bars do not fit the style's width."""
        text, draft, steps = work.text, work.draft, work.own
        pattern = draft.finished
        if self.is_mirrored:
            pattern, steps = mirrored(pattern), mirrored(steps)
        try:
            systems = break_into_systems(pattern, draft.loops, self.spacing)
        except TooWide as error:
            self.workshop.problems.append(Problem(text.mark, str(error)))
            return None
        sentences = tuple(say(step.sentence(), self.language) for step in steps)
        judgement = judge(draft.finished, draft.loops, self.figures.player, self.figures.kit, self.figures.weights)
        parent = work.ground.parent
        return Exercise(
            id=text.id,
            number=self.numbers[text.id],
            title=text.title or text.id.replace("-", " ").capitalize(),
            instruction=(text.say,) if text.say else sentences,
            steps=sentences,
            pattern=pattern,
            tempo=work.ground.tempo,
            plays_on=draft.loops,
            times=text.times,
            feel=work.ground.feel,
            systems=systems,
            level=judgement.level.value,
            ceiling=judgement.ceiling.tempo,
            parent=parent,
            parent_number=self.numbers[parent] if parent else None,
            note=text.note,
            said=bool(text.say),
            new_page=text.new_page,
        )
