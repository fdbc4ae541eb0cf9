"""From a manuscript to a book: every exercise worked out, judged, worded and broken into systems."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..judge import Judgement, judge
from ..manuscript.figures import Figures
from ..manuscript.models import Chapter as ChapterText
from ..manuscript.models import Edition, ExerciseText, Manuscript, TextBlock
from ..manuscript.series import SeriesText
from ..pattern.draft import Draft
from ..problem import Problem
from ..style.model import Spacing
from .advice import advice_on
from .book import Book, Chapter, Exercise, Text
from .entry import Entries
from .ground import Work
from .names import Names
from .specimens import specimens_of
from .systems import TooWide, half_line
from .works import Workshop


@dataclass(frozen=True)
class Composition:
    """A book with what is wrong in it; a book with errors lacks the exercises that have them."""

    book: Book
    problems: tuple[Problem, ...]


def compose(
    manuscript: Manuscript, spacing: Spacing, figures: Figures, edition: Edition | None = None
) -> Composition:
    """Work out a whole book, or one edition of it, for a style's spacing, judged by a player's figures."""
    workshop = Workshop(Names(manuscript), _Judge(figures))
    made = [tuple(_made(chapter, workshop)) for chapter in manuscript.chapters]
    is_mirrored = bool(edition and edition.mirror)
    entries = Entries(manuscript.language, spacing, is_mirrored, _numbers(made), workshop.judge)
    problems = workshop.problems
    chapters: list[Chapter] = []
    for number, (text, works) in enumerate(zip(manuscript.chapters, made, strict=True), start=1):
        items = tuple(_items(works, entries, problems))
        problems += advice_on([work for work in works if isinstance(work, Work)], workshop.judge)
        chapters.append(Chapter(number, text.title, text.intro, _paired(items, spacing)))
    book = Book(
        title=manuscript.title,
        subtitle=manuscript.subtitle,
        author=manuscript.author,
        edition=manuscript.edition,
        date=manuscript.date,
        language=manuscript.language,
        chapters=tuple(chapters),
        front=manuscript.front,
        back=manuscript.back,
        specimens=(),
        mirrored=is_mirrored,
    )
    return Composition(replace(book, specimens=specimens_of(book.exercises)), (*workshop.names.problems, *problems))


class _Judge:
    """Judges drafts by a player's figures, each only once."""

    def __init__(self, figures: Figures) -> None:
        self.figures = figures
        self.known: dict[object, Judgement] = {}

    def __call__(self, draft: Draft) -> Judgement:
        pattern, figures = draft.finished, self.figures
        key = (pattern, draft.loops)
        if key not in self.known:
            self.known[key] = judge(pattern, draft.loops, figures.player, figures.kit, figures.weights)
        return self.known[key]


def _made(chapter: ChapterText, workshop: Workshop) -> Iterator[Work | TextBlock]:
    """What stands in a chapter, worked out; what has errors is left out."""
    for item in chapter.items:
        match item:
            case TextBlock():
                yield item
            case ExerciseText():
                work = workshop.work(item.id)
                if work:
                    yield work
            case SeriesText():
                yield from workshop.family(item.id)


def _numbers(chapters: Sequence[Sequence[Work | TextBlock]]) -> dict[str, str]:
    """The printed number of each exercise by its id: chapter.exercise."""
    return {
        work.id: f"{chapter}.{place}"
        for chapter, works in enumerate(chapters, start=1)
        for place, work in enumerate((work for work in works if isinstance(work, Work)), start=1)
    }


def _items(
    works: Sequence[Work | TextBlock], entries: Entries, problems: list[Problem]
) -> Iterator[Exercise | Text]:
    """A chapter's exercises and texts as they are printed; what does not fit the page joins the problems."""
    places: dict[str, int] = {}
    for work in works:
        if isinstance(work, TextBlock):
            yield Text(work.text)
            continue
        series = work.series or ""
        places[series] = places.get(series, 0) + 1
        try:
            yield entries.exercise(work, places[series])
        except TooWide as error:
            problems.append(Problem(work.text.mark, str(error)))


def _paired(items: Sequence[Exercise | Text], spacing: Spacing) -> tuple[Exercise | Text, ...]:
    """The items with neighbours of one bar each set to share a line."""
    paired = list(items)
    index = 0
    while index + 1 < len(paired):
        first, second = (_halved(item, spacing) for item in paired[index : index + 2])
        if first and second and not second.new_page:
            paired[index : index + 2] = [first, second]
            index += 1
        index += 1
    return tuple(paired)


def _halved(item: Exercise | Text, spacing: Spacing) -> Exercise | None:
    """An exercise on half a line; None for what does not go there."""
    if isinstance(item, Text):
        return None
    systems = half_line(item.pattern, item.plays_on, spacing)
    return replace(item, systems=systems) if systems else None
