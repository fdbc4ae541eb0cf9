"""The commands that tell something: problems, exercises, one exercise in many forms, the steps."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .columns import table
from .completing import edition_names, exercise_names, schema_kinds, step_names, words_of
from .options import BookPath, Click, CountIn, Ladder, SwingRatio, Tempo, Times, existing, performance_of
from .terminal import HAS_ERRORS, refuse, say, tell

# Everything else is imported where it is used, so that --help answers at once.
if TYPE_CHECKING:
    from ..compose.book import Exercise
    from ..problem import Problem

FORMS = ("text", "json", "midi", "wav", "opus", "musicxml", "mxl", "pdf", "png", "svg")
READABLE = ("text", "json", "musicxml", "svg")


def check(
    book: BookPath,
    json: Annotated[
        bool, typer.Option("--json", help="Problems and exercises as a JSON object, for other programs.")
    ] = False,
) -> None:
    """Tell every problem of a book, then list its exercises with level and ceiling; of a curriculum, its terms."""
    from .. import curricula, pipeline

    if curricula.is_curriculum(existing(book, wants_book=False)):
        _check_curriculum(book, json)
        return
    checked = pipeline.check(book)
    if json:
        _tell_json(checked.problems, checked.book.exercises if checked.book else ())
        return
    sound = checked.sound_book()
    tell(checked.problems)
    say(table(sound.exercises))


def _check_curriculum(path: Path, json: bool) -> None:
    from ..curricula import check_curriculum
    from ..exchange.curriculum import curriculum_text

    checked = check_curriculum(path)
    if json:
        _tell_json(checked.problems)
        return
    sound = checked.sound_curriculum()
    tell(checked.problems)
    say(curriculum_text(sound))


def _tell_json(problems: Sequence[Problem], exercises: Sequence[Exercise] = ()) -> None:
    """Problems and exercises as JSON; the exit status is what it is without."""
    from ..exchange.json import check_json
    from ..problem import errors_of

    say(check_json(problems, exercises))
    if errors_of(problems):
        sys.exit(HAS_ERRORS)


def list_exercises(
    book: BookPath, json: Annotated[bool, typer.Option("--json", help="As a JSON array.")] = False
) -> None:
    """List a book's exercises."""
    if json:
        from ..building import listed

        say(listed(existing(book)))
        return
    from .. import pipeline

    say(table(pipeline.check(existing(book)).sound_book().exercises))


def show(
    book: BookPath,
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="ID",
            help="An exercise's id or number; in musicxml a chapter's number, or nothing.",
            autocompletion=exercise_names,
        ),
    ] = None,
    form: Annotated[
        str, typer.Option("--as", metavar="|".join(FORMS), help="The form.", autocompletion=words_of(*FORMS))
    ] = "text",
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Where it goes; else to standard output.")
    ] = None,
    edition: Annotated[
        str | None,
        typer.Option(
            metavar="E",
            help="As one of the book's editions has it, such as left-handed.",
            autocompletion=edition_names,
        ),
    ] = None,
    tempo: Tempo = None,
    ladder: Ladder = None,
    times: Times = None,
    swing: SwingRatio = None,
    click: Click = True,
    count_in: CountIn = True,
) -> None:
    """Show one exercise; in musicxml also a chapter or the whole book."""
    from .. import building, pipeline

    if form not in FORMS:
        refuse(f"there is no form '{form}'; there are {', '.join(FORMS)}")
    if out and (form, out.suffix) == ("musicxml", ".mxl"):
        form = "mxl"
    if name is None and form not in ("musicxml", "mxl"):
        refuse(f"as {form} there is one exercise at a time; say which, by its id or its number")
    if form not in READABLE and out is None and sys.stdout.isatty():
        refuse(f"{form} is no text for a terminal; say where it goes with --out FILE")
    performance = performance_of(tempo, ladder, times, swing, click, count_in)
    shown = pipeline.show(existing(book), name, form, performance, edition)
    if out is None:
        sys.stdout.buffer.write(shown)
    else:
        building.write_whole(out, shown)
        say(f"{out} written")


def schema(
    kind: Annotated[
        str | None,
        typer.Argument(
            metavar="KIND",
            help="book, chapter, curriculum, sequences, style, kit, players or levels.",
            autocompletion=schema_kinds,
        ),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(metavar="DIR", help="A folder that the schemas of all kinds go to.")
    ] = None,
) -> None:
    """Print the JSON Schema of a kind of file, by which an editor completes keys and underlines mistakes."""
    from ..schemas import kinds, schema_text, write_schemas

    if out is not None and kind is None:
        for file in write_schemas(out):
            say(f"{file} written")
        return
    if kind is None:
        refuse(f"say of which kind of file: {', '.join(kinds())}; or where all of them go, with --out DIR")
    if out is not None:
        refuse("--out DIR takes the schemas of all kinds; leave the kind out")
    if kind not in kinds():
        refuse(f"there is no kind of file '{kind}'; there are {', '.join(kinds())}")
    typer.echo(schema_text(kind), nl=False)


def steps(
    name: Annotated[str | None, typer.Argument(metavar="NAME", help="One step.", autocompletion=step_names)] = None,
) -> None:
    """Explain the steps that an exercise can take."""
    from .. import reference

    if name is None:
        say(reference.all_steps())
        return
    try:
        say(reference.one_step(name))
    except KeyError as error:
        refuse(str(error.args[0]))
