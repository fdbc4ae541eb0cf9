"""The command: its words, its progress, its messages. Everything it does is in `pipeline`."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

# Everything else is imported where it is used, so that --help answers at once.
if TYPE_CHECKING:
    from .built import Built, Progress
    from .compose.book import Exercise
    from .problem import Problem
    from .sound.performance import Performance

HAS_ERRORS, USED_WRONGLY, FAILED_OUTSIDE, STOPPED = 1, 2, 3, 130
FORMS = ("text", "json", "midi", "wav", "opus", "musicxml", "mxl", "pdf", "png", "svg")
READABLE = ("text", "json", "musicxml", "svg")
AUDIO = ("opus", "wav")
_NUMBERS = (0, 3, 4)

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Turn short orders of strokes into printed drum books.",
)

BookPath = Annotated[
    Path, typer.Argument(metavar="BOOK", help="A book's folder, its book.yaml, or a single chapter file.")
]

Tempo = Annotated[
    int | None, typer.Option(min=20, max=400, metavar="N", help="Beats a minute, as the exercise counts.")
]
Ladder = Annotated[
    int | None, typer.Option(min=1, metavar="N", help="From its tempo to its goal in steps of N beats a minute.")
]
Times = Annotated[int | None, typer.Option(min=1, max=99, metavar="N", help="How often, at each tempo.")]
SwingRatio = Annotated[
    str | None, typer.Option("--swing", metavar="RATIO", help="As 2:1 or '16ths 3:2'; 1:1 is straight.")
]
Click = Annotated[bool, typer.Option("--click/--no-click", help="A click beside the drums.")]
CountIn = Annotated[bool, typer.Option("--count-in/--no-count-in", help="A bar of clicks before each tempo.")]


@app.command()
def new(folder: Annotated[Path, typer.Argument(metavar="DIR", help="A new folder, or an empty one.")]) -> None:
    """Write a small book to start from, with remarks that teach the format."""
    from .starting import NotEmpty, start_book

    try:
        files = start_book(folder)
    except NotEmpty as error:
        _refuse(str(error))
    for file in files:
        typer.echo(f"{file} written")
    typer.echo(f"next: shedbook build {folder}")


@app.command()
def check(book: BookPath) -> None:
    """Tell every problem of a book, then list its exercises with level and ceiling; of a curriculum, its terms."""
    from . import curricula, pipeline

    if curricula.is_curriculum(_existing(book, wants_book=False)):
        _check_curriculum(book)
        return
    checked = pipeline.check(book)
    sound = checked.sound_book()
    _tell(checked.problems)
    typer.echo(_table(sound.exercises))


def _check_curriculum(path: Path) -> None:
    from .curricula import check_curriculum
    from .exchange.curriculum import curriculum_text

    checked = check_curriculum(path)
    sound = checked.sound_curriculum()
    _tell(checked.problems)
    typer.echo(curriculum_text(sound))


@app.command()
def build(
    book: BookPath,
    edition: Annotated[
        str | None,
        typer.Option(metavar="E|all", help="One of the book's editions, or the book and all of them."),
    ] = None,
    out: Annotated[Path, typer.Option(metavar="DIR", help="Where the PDFs go.")] = Path("build"),
    jobs: Annotated[int, typer.Option(min=0, metavar="N", help="Engravers side by side; 0 is one a core.")] = 0,
    fresh: Annotated[bool, typer.Option("--fresh", help="Engrave everything again.")] = False,
    press: Annotated[bool, typer.Option("--press", help="A file for a printing house: PDF/X-4, in greys.")] = False,
    booklet: Annotated[bool, typer.Option("--booklet", help="Sheets to fold into a booklet.")] = False,
    two_up: Annotated[bool, typer.Option("--two-up", help="Two pages side by side.")] = False,
    flip: Annotated[
        str, typer.Option(metavar="short|long", help="The edge over which the printer turns sheets.")
    ] = "short",
    sheet: Annotated[
        str | None, typer.Option(metavar="PAPER", help="The sheets in the printer; else the style's.")
    ] = None,
    profile: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The printing house's ICC profile, for --press.")
    ] = None,
) -> None:
    """Build a book as a PDF, or the map and the plans of a curriculum."""
    from . import building
    from .built import Run
    from .pdf.output import asked_output

    asked = [name for name, is_asked in (("press", press), ("booklet", booklet), ("two-up", two_up)) if is_asked]
    try:
        output = asked_output(asked, flip, sheet, profile)
    except ValueError as error:
        _refuse(str(error))
    with _progress("engraving") as progress:
        run = Run(jobs, fresh, progress)
        files = building.build(_existing(book, wants_book=False), out, edition, run, output)
    _tell_made(files)


@app.command(name="list")
def list_exercises(
    book: BookPath, json: Annotated[bool, typer.Option("--json", help="As a JSON array.")] = False
) -> None:
    """List a book's exercises."""
    from . import pipeline
    from .exchange.json import list_json

    exercises = pipeline.check(_existing(book)).sound_book().exercises
    typer.echo(list_json(exercises) if json else _table(exercises))


@app.command()
def show(
    book: BookPath,
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="ID", help="An exercise's id or number; in musicxml a chapter's number, or nothing."
        ),
    ] = None,
    form: Annotated[str, typer.Option("--as", metavar="|".join(FORMS), help="The form.")] = "text",
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Where it goes; else to standard output.")
    ] = None,
    tempo: Tempo = None,
    ladder: Ladder = None,
    times: Times = None,
    swing: SwingRatio = None,
    click: Click = True,
    count_in: CountIn = True,
) -> None:
    """Show one exercise; in musicxml also a chapter or the whole book."""
    from . import building, pipeline

    if form not in FORMS:
        _refuse(f"there is no form '{form}'; there are {', '.join(FORMS)}")
    if out and (form, out.suffix) == ("musicxml", ".mxl"):
        form = "mxl"
    if name is None and form not in ("musicxml", "mxl"):
        _refuse(f"as {form} there is one exercise at a time; say which, by its id or its number")
    if form not in READABLE and out is None and sys.stdout.isatty():
        _refuse(f"{form} is no text for a terminal; say where it goes with --out FILE")
    performance = _performance(tempo, ladder, times, swing, click, count_in)
    shown = pipeline.show(_existing(book), name, form, performance)
    if out is None:
        sys.stdout.buffer.write(shown)
    else:
        building.write_whole(out, shown)
        typer.echo(f"{out} written")


@app.command()
def sheet(
    book: BookPath,
    exercises: Annotated[
        list[str] | None, typer.Argument(metavar="ID...", help="Exercises by id or number, in this order.")
    ] = None,
    title: Annotated[str | None, typer.Option(metavar="T", help="What stands over the sheet.")] = None,
    name: Annotated[str | None, typer.Option("--for", metavar="NAME", help="Who it is for.")] = None,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Where it goes; with --roster, the folder they go to.")
    ] = None,
    style: Annotated[str | None, typer.Option(metavar="STYLE", help="Another style than the usual one.")] = None,
    roster: Annotated[
        Path | None, typer.Option(metavar="CSV", help="A table of students: a sheet for each, and one to print.")
    ] = None,
    left_handed: Annotated[bool, typer.Option("--left-handed", help="For a left-handed player.")] = False,
    two_sided: Annotated[
        bool, typer.Option("--two-sided", help="Of a roster, no two students share a sheet of paper.")
    ] = False,
    jobs: Annotated[int, typer.Option(min=0, metavar="N", help="Engravers side by side; 0 is one a core.")] = 0,
    fresh: Annotated[bool, typer.Option("--fresh", help="Engrave everything again.")] = False,
) -> None:
    """Make a handout of chosen exercises, or one for each student of a roster."""
    from . import building
    from .built import Run, SheetOrder

    if roster is None and not exercises:
        _refuse("a handout has exercises; name them by their ids or numbers, or give a roster with --roster")
    if roster is not None and (name is not None or left_handed):
        _refuse("a roster says who its sheets are for; leave out --for and --left-handed, or --roster")
    if roster is not None and not roster.is_file():
        _refuse(f"there is no roster at {roster}")
    order = SheetOrder(tuple(dict.fromkeys(exercises or ())), title, name, style, left_handed, two_sided)
    problems: Sequence[Problem] = ()
    with _progress("engraving") as progress:
        run = Run(jobs, fresh, progress)
        if roster is None:
            files = building.build_sheet(_existing(book), out, order, run)
        else:
            files, problems = building.build_roster(_existing(book), out, order, roster, run)
    _tell_made(files)
    if problems:
        _tell(problems)
        sys.exit(HAS_ERRORS)


@app.command()
def sound(
    book: BookPath,
    form: Annotated[str, typer.Option("--as", metavar="|".join(AUDIO), help="The form.")] = AUDIO[0],
    out: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Where the recordings go; else build/BOOK-sound.")
    ] = None,
    ladder: Ladder = None,
    times: Times = None,
    swing: SwingRatio = None,
    click: Click = True,
    count_in: CountIn = True,
    jobs: Annotated[int, typer.Option(min=0, metavar="N", help="Recordings side by side; 0 is one a core.")] = 0,
    fresh: Annotated[bool, typer.Option("--fresh", help="Record everything again.")] = False,
) -> None:
    """Record a play-along of every exercise; only what changed is recorded again."""
    from . import pipeline, playalongs
    from .built import Run

    if form not in AUDIO:
        _refuse(f"there are no recordings as '{form}'; there are {', '.join(AUDIO)}")
    performance = _performance(None, ladder, times, swing, click, count_in)
    checked = pipeline.check(_existing(book))
    sound_book = checked.sound_book()
    assert checked.manuscript is not None  # a sound book was read
    folder = out or Path("build") / f"{checked.manuscript.name}-sound"
    with _progress("recording") as progress:
        recorded = playalongs.record(sound_book, folder, form, performance, Run(jobs, fresh, progress))
    typer.echo(f"{recorded.folder}: {recorded.made} recordings made, {recorded.kept} as they were")


@app.command()
def take(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A drum part: .mid, .musicxml or .mxl.")],
    out: Annotated[
        Path | None, typer.Option(metavar="FILE.yaml", help="Where the chapter goes; else to standard output.")
    ] = None,
) -> None:
    """Write a chapter from a drum part in a MIDI file or a MusicXML score."""
    from . import building
    from .taking import take as take_from

    if not file.is_file():
        _refuse(f"there is no file {file}")
    if out and out.exists():
        _refuse(f"{out} is there already, and what was written in it would be lost; choose another name")
    taken = take_from(file)
    _tell(taken.left_out)
    if out is None:
        sys.stdout.buffer.write(taken.text.encode())
    else:
        building.write_whole(out, taken.text.encode())
        typer.echo(f"{out} written, with {taken.exercises} exercise{'' if taken.exercises == 1 else 's'}")


@app.command()
def steps(name: Annotated[str | None, typer.Argument(metavar="NAME", help="One step.")] = None) -> None:
    """Explain the steps that an exercise can take."""
    from . import reference

    if name is None:
        typer.echo(reference.all_steps())
        return
    try:
        typer.echo(reference.one_step(name))
    except KeyError as error:
        _refuse(str(error.args[0]))


def main() -> None:
    """Run the command; whatever goes wrong becomes a message and an exit status, never a traceback."""
    from .problem import BookError, NotThere, OutsideError

    try:
        app()
    except NotThere as error:
        _refuse(str(error))
    except BookError as error:
        _tell(error.problems)
        sys.exit(HAS_ERRORS)
    except OutsideError as error:
        _stop(str(error), FAILED_OUTSIDE)
    except BrokenPipeError:
        # Whoever read our output has gone; there is no one to tell.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(FAILED_OUTSIDE)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        _stop(f"{where}{error.strerror or error}", FAILED_OUTSIDE)
    except KeyboardInterrupt:
        _stop("stopped; what was built before is as it was", STOPPED)
    except Exception as error:
        if os.environ.get("SHEDBOOK_DEBUG"):
            raise
        _stop(
            f"this is a mistake in shedbook itself ({type(error).__name__}: {error}); "
            "set SHEDBOOK_DEBUG=1 to see where, and please report it with the book that caused it",
            FAILED_OUTSIDE,
        )


def _performance(
    tempo: int | None, ladder: int | None, times: int | None, swing: str | None, click: bool, count_in: bool
) -> Performance:
    """How an exercise is to be played, out of what was said on the command line."""
    from .sound.performance import Performance
    from .sound.swing import Swing, SwingError

    try:
        return Performance(tempo, ladder, times, Swing.parse(swing) if swing else None, click, count_in)
    except SwingError as error:
        _refuse(str(error))


def _existing(book: Path, *, wants_book: bool = True) -> Path:
    from .curricula import is_curriculum

    if not book.exists():
        _refuse(f"there is no book at {book}; give a book's folder, its book.yaml, or a chapter file")
    if wants_book and is_curriculum(book):
        _refuse(f"{book} is a curriculum; give one of its books (check and build take a curriculum too)")
    return book


def _refuse(what: str) -> NoReturn:
    """The command was used wrongly."""
    _stop(what, USED_WRONGLY)


def _stop(what: str, status: int) -> NoReturn:
    typer.echo(f"shedbook: {what}", err=True)
    sys.exit(status)


def _tell_made(files: Mapping[Path, Built]) -> None:
    """Each warning once, then a line for each file."""
    for warning in dict.fromkeys(warning for built in files.values() for warning in built.warnings):
        typer.echo(warning, err=True)
    for file, built in files.items():
        typer.echo(_summary(file, built))


def _tell(problems: Sequence[Problem]) -> None:
    for problem in problems:
        typer.echo(str(problem), err=True)


def _table(exercises: Sequence[Exercise]) -> str:
    """Exercises in columns: number, id, title, level, ceiling, and what makes these what they are."""
    rows = [("no.", "id", "title", "level", "ceiling", "limited by", "made hard by")]
    rows += [
        (
            one.number,
            one.id,
            one.title,
            str(one.level),
            str(one.ceiling),
            one.limited_by,
            one.made_hard_by,
        )
        for one in exercises
    ]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return "\n".join(_row(row, widths) for row in rows)


def _row(row: Sequence[str], widths: Sequence[int]) -> str:
    """Numbers to the right, words to the left."""
    cells = [
        f"{cell:>{width}}" if column in _NUMBERS else f"{cell:<{width}}"
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(cells).rstrip()


def _summary(file: Path, built: Built) -> str:
    """What was written, in one line."""
    pages = "1 page" if built.pages == 1 else f"{built.pages} pages"
    if built.sheets:
        pages += " on 1 sheet" if built.sheets == 1 else f" on {built.sheets} sheets"
    exercises = "1 exercise" if built.exercises == 1 else f"{built.exercises} exercises"
    music = f"; {built.engraved} systems engraved, {built.stored} from the store"
    return f"{file}: {pages}, {exercises}{music if built.engraved or built.stored else ''}"


@contextmanager
def _progress(what: str) -> Iterator[Progress | None]:
    """A bar on a terminal while something is made; nothing elsewhere."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn(what), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)

        def tell(done: int, total: int) -> None:
            bar.update(task, completed=done, total=total)

        yield tell
