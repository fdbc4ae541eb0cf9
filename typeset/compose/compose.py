"""From a manuscript to a book: every exercise worked out, judged, worded and broken into systems."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from ..manuscript.exercise import ExerciseText, TextBlock
from ..manuscript.figures import Figures
from ..manuscript.models import Chapter as ChapterText
from ..manuscript.models import Edition, Manuscript
from ..manuscript.series import SeriesText
from ..manuscript.tasks import TaskText
from ..problem import Mark, Problem
from ..style.music import Spacing
from ..wording.lettering import AS_WRITTEN, Lettering
from .advice import advice_on
from .book import Book, Chapter, Exercise, Item, Task, Text
from .entry import Entries
from .ground import Refusal, Work
from .judging import Judge
from .names import Names
from .signs import signs_of
from .specimens import specimens_of
from .systems import TooWide, half_line, lone_line
from .tasks import Asker
from .works import Workshop


@dataclass(frozen=True)
class Composition:
    """A book with what is wrong in it; a book with errors lacks the exercises that have them."""

    book: Book
    problems: tuple[Problem, ...]


def compose(
    manuscript: Manuscript,
    spacing: Spacing,
    figures: Figures,
    edition: Edition | None = None,
    lettering: Lettering = AS_WRITTEN,
) -> Composition:
    """Work out a whole book, or one edition of it, for a style's spacing, judged by a player's figures.

    Sentences write orders and counts in the `lettering` of that style.
    """
    workshop = Workshop(Names(manuscript), Judge(figures))
    workshop.work_ahead()
    made = [tuple(_made(chapter, workshop)) for chapter in manuscript.chapters]
    is_mirrored = bool(edition and edition.mirror)
    entries = Entries(
        manuscript.language,
        spacing,
        is_mirrored,
        _numbers(made),
        _places(made),
        workshop,
        figures.weights,
        manuscript.recordings,
        lettering,
    )
    is_for_teacher = bool(edition and edition.answers == "inline")
    asker = Asker(manuscript.language, is_for_teacher, lettering)
    problems = workshop.problems
    chapters: list[Chapter] = []
    setter = _Setter(entries, asker, problems)
    for number, (text, works) in enumerate(zip(manuscript.chapters, made, strict=True), start=1):
        items = tuple(setter.items(works))
        printed = [work for work in works if isinstance(work, Work)]
        problems += advice_on(printed, workshop.judge, is_whole=_is_whole(text, workshop))
        chapters.append(Chapter(number, text.title, text.intro, paired(items, spacing)))
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
        kit=figures.kit.mirrored() if is_mirrored else figures.kit,
        mirrored=is_mirrored,
        sound_levels=manuscript.sound_levels,
        for_teacher=is_for_teacher,
        isbn=manuscript.isbn if edition is None or edition.is_plain else edition.isbn,
    )
    shown = specimens_of(book.exercises)
    signs = signs_of(book.exercises, spacing.staff_space)
    return Composition(replace(book, specimens=shown, signs=signs), (*workshop.names.problems, *problems))


Entry = Work | TextBlock | TaskText


def _made(chapter: ChapterText, workshop: Workshop) -> Iterator[Entry]:
    """What stands in a chapter, worked out; what has errors is left out."""
    for item in chapter.items:
        match item:
            case TextBlock() | TaskText():
                yield item
            case ExerciseText():
                work = workshop.work(item.id)
                if work:
                    yield work
            case SeriesText():
                yield from workshop.family(item.id)


def _is_whole(chapter: ChapterText, workshop: Workshop) -> bool:
    """True where nothing of a chapter was left out for its errors; a series may well keep none of its members."""
    entries = (item for item in chapter.items if isinstance(item, ExerciseText | SeriesText))
    return not chapter.head.broken and workshop.left_out.isdisjoint(entry.id for entry in entries)


def _numbers(chapters: Sequence[Sequence[Entry]]) -> dict[str, str]:
    """The printed number of each exercise by its id: chapter.exercise."""
    return {
        work.id: f"{chapter}.{place}"
        for chapter, works in enumerate(chapters, start=1)
        for place, work in enumerate((work for work in works if isinstance(work, Work)), start=1)
    }


def _places(chapters: Sequence[Sequence[Entry]]) -> dict[str, int]:
    """The position of each member among those printed of its series, from 1, by its id."""
    places: dict[str, int] = {}
    printed: Counter[str] = Counter()
    for work in (work for works in chapters for work in works if isinstance(work, Work)):
        if work.series is not None:
            printed[work.series] += 1
            places[work.id] = printed[work.series]
    return places


class _Setter:
    """Sets what was worked out as what is printed; what cannot be printed joins the problems."""

    def __init__(self, entries: Entries, asker: Asker, problems: list[Problem]) -> None:
        self.entries = entries
        self.asker = asker
        self.problems = problems
        self.tasks = 0

    def items(self, works: Sequence[Entry]) -> Iterator[Item]:
        """What stands in a chapter, in order."""
        for work in works:
            try:
                match work:
                    case TextBlock():
                        yield Text(work.text)
                    case TaskText():
                        yield from self._task(work)
                    case Work():
                        yield self.entries.exercise(work)
            except TooWide as error:
                self.problems.append(Problem(_mark_of(work), str(error)))
            except Refusal as refusal:
                self.problems.append(Problem(refusal.mark, str(refusal)))

    def _task(self, text: TaskText) -> Iterator[Task]:
        """A task; none where an exercise that it is about has errors of its own."""
        self.tasks += 1
        if text.broken:
            return
        of = [self.entries.named(name, text.marks("of")) for name in text.of]
        exercises = [one for one in of if one]
        if len(exercises) == len(of):
            spacing = self.entries.spacing
            yield self.asker.task(text, self.tasks, [_alone(one, spacing) for one in exercises])


def _mark_of(entry: Entry) -> Mark:
    return entry.text.mark if isinstance(entry, Work) else entry.mark


def paired(items: Sequence[Item], spacing: Spacing) -> tuple[Item, ...]:
    """The items with neighbours of one bar each set to share a line, and others of one bar to fill theirs."""
    halves = [*(_halved(item, spacing) for item in items), None]
    shared: list[Item] = []
    while len(shared) < len(items):
        first, second = halves[len(shared) : len(shared) + 2]
        if first and second and not second.new_page:
            shared += [first, second]
        else:
            shared.append(first or _alone(items[len(shared)], spacing))
    return tuple(shared)


def _halved(item: Item, spacing: Spacing) -> Exercise | None:
    """An exercise on half a line; None for what does not go there."""
    if not isinstance(item, Exercise):
        return None
    systems = half_line(item.pattern, item.plays_on, spacing)
    return replace(item, systems=systems) if systems else None


T = TypeVar("T")


def _alone(item: T, spacing: Spacing) -> T:
    """An exercise that shares its line with none; anything else as it is."""
    if not isinstance(item, Exercise):
        return item
    systems = lone_line(item.pattern, item.plays_on, spacing)
    return replace(item, systems=systems) if systems else item
