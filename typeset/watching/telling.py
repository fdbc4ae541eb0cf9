"""What the page is told, as plain data: the list, the problems, where exercises stand, how one is played."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from ..compose.book import Chapter, Exercise
from ..page.notes import Head
from ..problem import Problem, Weight
from ..sound.performance import Performance, times_of
from ..sound.rounds import Rounds, Stretch, rounds_of
from .pictures import DOTS
from .state import Good, State

_EXACT = 5
"""Places after the point that seconds and points of a page are told with."""


def told(state: State, folder: Path) -> dict[str, Any]:
    """A state as the page shows it; files are named from the book's folder."""
    return {
        "number": state.number,
        "earlier": state.is_earlier,
        "trouble": state.trouble,
        "problems": [_problem(problem, state.lines.get(problem.mark, ""), folder) for problem in state.problems],
        "book": _book(state.good) if state.good else None,
    }


def _problem(problem: Problem, source: str, folder: Path) -> dict[str, Any]:
    file = problem.mark.file
    return {
        "file": file.relative_to(folder).as_posix() if folder in file.parents else str(file),
        "line": problem.mark.line,
        "column": problem.mark.column,
        "what": problem.what,
        "warning": problem.weight is Weight.WARNING,
        "source": source,
    }


def _book(good: Good) -> dict[str, Any]:
    book, pages = good.book, good.pages
    heads = {head.exercise: head for head in pages.heads}
    return {
        "title": book.title,
        "language": book.language,
        "made": good.made,
        "dots": DOTS,
        "pages": list(pages.keys),
        "width": round(pages.width, _EXACT),
        "height": round(pages.height, _EXACT),
        "chapters": [_chapter(chapter, heads) for chapter in book.chapters],
    }


def _chapter(chapter: Chapter, heads: dict[str, Head]) -> dict[str, Any]:
    return {
        "number": chapter.number,
        "title": chapter.title,
        "exercises": [_exercise(one, heads[one.id]) for one in chapter.exercises if one.id in heads],
    }


def _exercise(exercise: Exercise, head: Head) -> dict[str, Any]:
    tempo = exercise.tempo
    return {
        "id": exercise.id,
        "number": exercise.number,
        "title": exercise.title,
        "level": exercise.level,
        "ceiling": exercise.ceiling,
        "limitedBy": exercise.limited_by,
        "madeHardBy": exercise.made_hard_by,
        "tempo": {"start": tempo.start, "goal": tempo.goal} if tempo else None,
        "unit": str(exercise.tempo_unit),
        "loops": exercise.plays_on,
        "page": head.page,
        "x": round(head.x, _EXACT),
        "y": round(head.y, _EXACT),
    }


def played(good: Good, exercise: Exercise, tempo: int | None) -> dict[str, Any]:
    """How an exercise sounds, and where its notes stand: times in seconds, places in points."""
    performance = Performance(tempo=tempo)
    rounds: Rounds = rounds_of(exercise, performance)
    return {
        "id": exercise.id,
        "tempo": rounds.tempo,
        "times": 1 if exercise.pattern.endings else times_of(exercise, performance),
        "countIn": _stretch(rounds.count_in),
        "pickup": _stretch(rounds.pickup),
        "round": _stretch(rounds.round),
        "systems": [
            {
                "page": system.page,
                "first": system.first,
                "slots": _rounded(system.slots),
                "top": round(system.top, _EXACT),
                "bottom": round(system.bottom, _EXACT),
            }
            for system in good.pages.systems
            if system.exercise == exercise.id
        ],
    }


def _stretch(stretch: Stretch) -> dict[str, Any]:
    """Sounds as (seconds, General MIDI key, how hard), slots as (seconds, number)."""
    return {
        "drums": [(round(one.time, _EXACT), one.key, one.velocity) for one in stretch.drums],
        "clicks": [(round(one.time, _EXACT), one.key, one.velocity) for one in stretch.clicks],
        "reached": [(round(one.time, _EXACT), one.slot) for one in stretch.reached],
        "lasts": stretch.lasts,
    }


def _rounded(numbers: Iterable[float]) -> list[float]:
    return [round(number, _EXACT) for number in numbers]
