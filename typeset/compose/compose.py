"""From a manuscript to a book: every exercise worked out, judged, worded and broken into systems."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..judge import judge
from ..manuscript.model import Chapter as ChapterText
from ..manuscript.figures import Figures
from ..manuscript.model import ExerciseText, Manuscript, TextBlock
from ..problem import Problem
from ..style.model import Spacing
from ..wording.sentences import say
from .book import Book, Chapter, Exercise, Text
from .names import Names
from .specimens import specimens_of
from .systems import TooWide, break_into_systems
from .works import Work, Workshop


@dataclass(frozen=True)
class Composition:
    """A book with what is wrong in it; a book with errors lacks the exercises that have them."""

    book: Book
    problems: tuple[Problem, ...]


def compose(manuscript: Manuscript, spacing: Spacing, figures: Figures) -> Composition:
    """Work out a whole book for a style's spacing, judged by a player's figures."""
    composer = _Composer(manuscript, spacing, figures)
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
    )
    return Composition(
        replace(book, specimens=specimens_of(book.exercises)), tuple(composer.workshop.problems)
    )


class _Composer:
    """Composes one manuscript, chapter by chapter."""

    def __init__(self, manuscript: Manuscript, spacing: Spacing, figures: Figures) -> None:
        self.language = manuscript.language
        self.spacing = spacing
        self.figures = figures
        self.workshop = Workshop(Names(manuscript))
        self.numbers = _numbers(manuscript)

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
        return Chapter(number, text.title, text.intro, tuple(items))

    def exercise(self, work: Work) -> Exercise | None:
        """An exercise as it will be printed; None where its bars do not fit the style's width."""
        text, draft = work.text, work.draft
        try:
            systems = break_into_systems(draft.pattern, draft.loops, self.spacing)
        except TooWide as error:
            self.workshop.problems.append(Problem(text.mark, str(error)))
            return None
        sentences = tuple(say(step.sentence(), self.language) for step in work.own)
        judgement = judge(
            draft.pattern, draft.loops, self.figures.player, self.figures.kit, self.figures.weights
        )
        parent = work.ground.parent
        return Exercise(
            id=text.id,
            number=self.numbers[text.id],
            title=text.title,
            instruction=(text.say,) if text.say else sentences,
            steps=sentences,
            pattern=draft.pattern,
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


def _numbers(manuscript: Manuscript) -> dict[str, str]:
    """The printed number of each exercise: chapter.exercise."""
    numbers: dict[str, str] = {}
    for chapter_number, chapter in enumerate(manuscript.chapters, start=1):
        texts = [item for item in chapter.items if isinstance(item, ExerciseText)]
        for number, text in enumerate(texts, start=1):
            numbers.setdefault(text.id, f"{chapter_number}.{number}")
    return numbers
