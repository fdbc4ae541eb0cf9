"""The five stages joined: from a book's folder to finished PDFs."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from .built import Built, Run
from .compose import compose
from .compose.book import Book, Chapter, Exercise
from .compose.engraving import Engraving
from .compose.single import book_of_one
from .kept import Shelf
from .manuscript import Reading, read
from .manuscript.figures import Figures, read_figures
from .manuscript.models import Edition, Manuscript
from .pdf.output import AS_BOOK, Output
from .problem import BookError, Mark, NotThere, Problem, errors_of, in_order, warnings_of
from .proof import proofread
from .record import program
from .shipped import store_folder
from .sound.performance import AS_WRITTEN, Performance
from .style import Style, load_style
from .wording.lettering import Lettering

# What engraves, draws and hands on is imported where that is done: a book is checked and listed without.
if TYPE_CHECKING:
    from .engrave import Engraved, Executor

Value = TypeVar("Value")

PLAIN = Edition.model_construct()
EVERY = "all"


@dataclass(frozen=True)
class Checked:
    """A book that was read and worked out, with every problem found; no book where there are errors."""

    manuscript: Manuscript | None
    book: Book | None
    style: Style | None
    problems: tuple[Problem, ...]

    def sound_book(self) -> Book:
        """The book; raises BookError with everything that is wrong where it has errors."""
        return self.to_set().book

    def to_set(self) -> ToSet:
        """All that it is set from. Raises as `sound_book` does."""
        if self.book is None or self.style is None or self.manuscript is None:
            raise BookError(self.problems)
        return ToSet(self.manuscript, self.book, self.style)


class ToSet(NamedTuple):
    """A book without errors: as it was written, as it was worked out, and the style that it was worked out for."""

    manuscript: Manuscript
    book: Book
    style: Style


def check(path: Path) -> Checked:
    """Read a book and work it out. Problems are gathered, not raised."""
    return check_edition(read(path), PLAIN)


def make(path: Path, edition: str | None, run: Run, output: Output = AS_BOOK) -> tuple[Built, ...]:
    """Make a book's PDF, or an edition's, or with `all` every one of them.

    Nothing is made unless everything asked for is without errors. Raises BookError, NotThere for an
    edition that the book does not have, OutsideError.
    """
    with at_work(run) as executor:
        reading = read(path)
        if reading.manuscript is None:
            raise BookError(reading.problems)
        editions = _editions(reading.manuscript, edition)
        checked = {name: check_edition(reading, wanted) for name, wanted in editions.items()}
        problems = [problem for one in checked.values() for problem in one.problems]
        if errors_of(problems):
            raise BookError(in_order(problems, reading.files))
        return tuple(
            _make_edition(one, _file_name(reading.manuscript, name) + output.ending, run, executor, output)
            for name, one in checked.items()
        )


def show(
    path: Path,
    name: str | None,
    form: str,
    performance: Performance = AS_WRITTEN,
    edition: str | None = None,
) -> bytes:
    """One exercise, by its id or number, as `pdf`, `png`, `svg` or a form to hand on, as an edition has it.

    As a score it may be a chapter by its number, or without a name the whole book. Raises BookError,
    NotThere for what the book does not have, OutsideError.
    """
    from .exchange.hand_on import FORMS, SCORES, hand_on

    if form in SCORES:
        book = _to_set(path, edition).book
        return hand_on(book, _find_part(book, name), form)
    if form in FORMS:
        book = _to_set(path, edition).book
        return hand_on(book, _find(book, name or ""), form, performance)
    run = Run(jobs=1)
    with at_work(run) as executor:
        manuscript, book, style = _to_set(path, edition)
        alone = ToSet(manuscript, book_of_one(book, _find(book, name or "")), style.shrunk())
        pdf, _, _ = _to_paper(alone, run, executor)
    if form == "pdf":
        return pdf
    if form == "svg":
        from .pdf.svg import first_page_as_svg

        return first_page_as_svg(pdf)
    from .pdf.picture import picture_of

    return picture_of(pdf)


def _to_set(path: Path, edition: str | None) -> ToSet:
    """What a book, or an edition of it, is set from. Raises BookError and NotThere."""
    reading = read(path)
    if reading.manuscript is None:
        raise BookError(reading.problems)
    return check_edition(reading, _edition(reading.manuscript, edition)).to_set()


def check_edition(reading: Reading, edition: Edition) -> Checked:
    """Work out a book that was read, or an edition of it. Problems are gathered, not raised."""
    problems = list(reading.problems)
    manuscript = reading.manuscript
    if manuscript is None:
        return Checked(None, None, None, in_order(problems, reading.files))
    style = _gathered(lambda: _style(manuscript, edition), problems)
    figures = _gathered(lambda: _figures(manuscript), problems)
    book = None
    if style and figures:
        composition = compose(manuscript, style.spacing, figures, edition, Lettering.of(style))
        problems += composition.problems
        problems += proofread(manuscript, style, composition.book)
        book = composition.book
    return Checked(manuscript, None if errors_of(problems) else book, style, in_order(problems, reading.files))


def _figures(manuscript: Manuscript) -> Figures:
    read_for = read_figures(manuscript.folder, manuscript.player)
    return read_for.at_kit(manuscript.kit, manuscript.kit_mark or Mark(manuscript.path))


def _style(manuscript: Manuscript, edition: Edition) -> Style:
    name = edition.style or manuscript.style
    return load_style(name, manuscript.folder, edition.style_mark or manuscript.style_mark)


def _gathered(load: Callable[[], Value], problems: list[Problem]) -> Value | None:
    """What is loaded; None where it has problems, which join the others."""
    try:
        return load()
    except BookError as error:
        problems += error.problems
        return None


def _editions(manuscript: Manuscript, wanted: str | None) -> Mapping[str, Edition]:
    """The editions asked for by name; '' is the book itself."""
    if wanted == EVERY:
        return {"": PLAIN, **manuscript.editions}
    return {wanted or "": _edition(manuscript, wanted)}


def _edition(manuscript: Manuscript, wanted: str | None) -> Edition:
    """An edition by its name, or without one the book itself. Raises NotThere."""
    if wanted is None:
        return PLAIN
    if wanted not in manuscript.editions:
        has = ", ".join(manuscript.editions) or "none"
        raise NotThere(f"there is no edition '{wanted}' in {manuscript.path}; its editions: {has}")
    return manuscript.editions[wanted]


def _file_name(manuscript: Manuscript, edition: str) -> str:
    return f"{manuscript.name}-{edition}" if edition else manuscript.name


def _find_part(book: Book, name: str | None) -> Exercise | Chapter | Book:
    """The whole book without a name, a chapter with exercises by its number, else an exercise."""
    chapters = {str(chapter.number): chapter for chapter in book.chapters if chapter.exercises}
    if name is None and chapters:
        return book
    return chapters.get(name or "") or _find(book, name or "")


def _find(book: Book, name: str) -> Exercise:
    exercise = book.find(name)
    if exercise:
        return exercise
    ids = ", ".join(exercise.id for exercise in book.exercises)
    raise NotThere(f"there is no exercise '{name}' in this book; there are {ids}")


def _make_edition(checked: Checked, name: str, run: Run, executor: Executor, output: Output) -> Built:
    whole = checked.to_set()
    pdf, pages, engraved = _to_paper(whole, run, executor, output)
    warnings = tuple(map(str, warnings_of(checked.problems)))
    return Built(
        name=name,
        pdf=pdf,
        pages=pages,
        exercises=len(whole.book.exercises),
        engraved=engraved.engraved,
        stored=engraved.stored,
        warnings=warnings,
        sheets=output.sheets(pages),
        not_kept=engraved.not_kept,
    )


def _to_paper(whole: ToSet, run: Run, executor: Executor, output: Output = AS_BOOK) -> tuple[bytes, int, Engraved]:
    """Engrave, lay out and bind a book: its PDF, its number of pages, and what was engraved."""
    from .exchange.spoken import spoken
    from .page import lay_out
    from .page.keeping import Keep
    from .pdf import bind
    from .unset import told_of

    manuscript, book, style = whole
    aloud = partial(spoken, book.language, lettering=Lettering.of(style))
    keep = Keep(Shelf.under(store_folder(), "chapter"), program(), run.fresh)
    with told_of(manuscript, book.exercises, book.tasks):
        engraved = engraved_in(style, book.engravings, run, executor)
        pages = lay_out(book, style, engraved.blocks, keep)
        pdf = bind(pages, engraved.blocks, style, aloud, output)
    return pdf, len(pages.labels), engraved


def engraved_in(style: Style, engravings: Iterable[Engraving], run: Run, executor: Executor) -> Engraved:
    """The blocks of engravings in a style, out of the user's store or made by an executor.

    Raises NotEngraved, OutsideError.
    """
    from .engrave import Store, default_folder, engrave
    from .pdf.forms import finish

    return engrave(
        engravings,
        style.staff,
        store=Store(default_folder()),
        executor=executor,
        progress=run.progress,
        fresh=run.fresh,
        finish=finish,
    )


@contextmanager
def at_work(run: Run) -> Iterator[Executor]:
    """Where it is engraved. Here LilyPond starts at once, to be ready when the book has been read and worked out.

    One does so where little may have changed, one for each core where everything has to be engraved.
    """
    if run.cluster is None:
        from .engrave import Store, default_folder, started_ahead

        jobs = run.jobs or os.cpu_count() or 1
        with started_ahead(jobs, jobs if run.fresh or Store(default_folder()).is_new else 1) as here:
            yield here
    else:
        from .engrave.cluster import Cluster

        yield Cluster(run.cluster)
