"""The commands that make something: a new book, a printed one, handouts, recordings, a chapter from a score."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .completing import editions_or_all, exercise_names, style_names, words_of
from .options import (
    BookPath,
    Click,
    Cluster,
    CountIn,
    Fresh,
    Jobs,
    Ladder,
    SwingRatio,
    Times,
    existing,
    performance_of,
)
from .terminal import HAS_ERRORS, progress, refuse, say, tell, tell_made

# Everything else is imported where it is used, so that --help answers at once.
if TYPE_CHECKING:
    from ..problem import Problem

AUDIO = ("opus", "wav")


def new(folder: Annotated[Path, typer.Argument(metavar="DIR", help="A new folder, or an empty one.")]) -> None:
    """Write a small book to start from, with remarks that teach the format."""
    from ..starting import NotEmpty, start_book

    try:
        files = start_book(folder)
    except NotEmpty as error:
        refuse(str(error))
    for file in files:
        say(f"{file} written")
    say(f"next: shedbook build {shlex.quote(str(folder))}")


def build(
    book: BookPath,
    edition: Annotated[
        str | None,
        typer.Option(
            metavar="E|all",
            help="One of the book's editions, or the book and all of them.",
            autocompletion=editions_or_all,
        ),
    ] = None,
    out: Annotated[Path, typer.Option(metavar="DIR", help="Where the PDFs go.")] = Path("build"),
    jobs: Jobs = 0,
    cluster: Cluster = None,
    fresh: Fresh = False,
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
    from .. import building
    from ..built import Run
    from ..pdf.output import asked_output

    asked = [name for name, is_asked in (("press", press), ("booklet", booklet), ("two-up", two_up)) if is_asked]
    try:
        output = asked_output(asked, flip, sheet, profile)
    except ValueError as error:
        refuse(str(error))
    with progress("engraving") as advance:
        run = Run(jobs, fresh, advance, cluster)
        files = building.build(existing(book, wants_book=False), out, edition, run, output)
    tell_made(files)


def sheet(
    book: BookPath,
    exercises: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="ID...", help="Exercises by id or number, in this order.", autocompletion=exercise_names
        ),
    ] = None,
    title: Annotated[str | None, typer.Option(metavar="T", help="What stands over the sheet.")] = None,
    name: Annotated[str | None, typer.Option("--for", metavar="NAME", help="Who it is for.")] = None,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Where it goes; with --roster, the folder they go to.")
    ] = None,
    style: Annotated[
        str | None,
        typer.Option(metavar="STYLE", help="Another style than the usual one.", autocompletion=style_names),
    ] = None,
    roster: Annotated[
        Path | None, typer.Option(metavar="CSV", help="A table of students: a sheet for each, and one to print.")
    ] = None,
    left_handed: Annotated[bool, typer.Option("--left-handed", help="For a left-handed player.")] = False,
    two_sided: Annotated[
        bool, typer.Option("--two-sided", help="Of a roster, no two students share a sheet of paper.")
    ] = False,
    jobs: Jobs = 0,
    cluster: Cluster = None,
    fresh: Fresh = False,
) -> None:
    """Make a handout of chosen exercises, or one for each student of a roster."""
    from .. import building
    from ..built import Run, SheetOrder

    if roster is None and not exercises:
        refuse("a handout has exercises; name them by their ids or numbers, or give a roster with --roster")
    if roster is not None and (name is not None or left_handed):
        refuse("a roster says who its sheets are for; leave out --for and --left-handed, or --roster")
    if roster is not None and not roster.is_file():
        refuse(f"there is no roster at {roster}")
    order = SheetOrder(tuple(dict.fromkeys(exercises or ())), title, name, style, left_handed, two_sided)
    problems: Sequence[Problem] = ()
    with progress("engraving") as advance:
        run = Run(jobs, fresh, advance, cluster)
        if roster is None:
            files = building.build_sheet(existing(book), out, order, run)
        else:
            files, problems = building.build_roster(existing(book), out, order, roster, run)
    tell_made(files)
    if problems:
        tell(problems)
        sys.exit(HAS_ERRORS)


def sound(
    book: BookPath,
    form: Annotated[
        str, typer.Option("--as", metavar="|".join(AUDIO), help="The form.", autocompletion=words_of(*AUDIO))
    ] = AUDIO[0],
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
    from .. import pipeline, playalongs
    from ..built import Run

    if form not in AUDIO:
        refuse(f"there are no recordings as '{form}'; there are {', '.join(AUDIO)}")
    performance = performance_of(None, ladder, times, swing, click, count_in)
    manuscript, sound_book, _ = pipeline.check(existing(book)).to_set()
    folder = out or Path("build") / f"{manuscript.name}-sound"
    with progress("recording") as advance:
        recorded = playalongs.record(sound_book, folder, form, performance, Run(jobs, fresh, advance))
    say(f"{recorded.folder}: {recorded.made} recordings made, {recorded.kept} as they were")
    if recorded.strays:
        say(f"{recorded.folder}: no exercise has the number of {', '.join(recorded.strays)} any more", err=True)


def take(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A drum part: .mid, .musicxml or .mxl.")],
    out: Annotated[
        Path | None, typer.Option(metavar="FILE.yaml", help="Where the chapter goes; else to standard output.")
    ] = None,
) -> None:
    """Write a chapter from a drum part in a MIDI file or a MusicXML score."""
    from .. import building
    from ..taking import take as take_from

    if not file.is_file():
        refuse(f"there is no file {file}")
    if out and out.exists():
        refuse(f"{out} is there already, and what was written in it would be lost; choose another name")
    taken = take_from(file)
    tell(taken.left_out)
    if out is None:
        sys.stdout.buffer.write(taken.text.encode())
    else:
        building.write_whole(out, taken.text.encode())
        say(f"{out} written, with {taken.exercises} exercise{'' if taken.exercises == 1 else 's'}")
