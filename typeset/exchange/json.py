"""An exercise as JSON, for other programs; the contract's own shape."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from ..compose.book import Exercise
from ..pattern.bar import Bar, Beat, Pattern
from ..pattern.counts import place_of
from ..pattern.stroke import Stroke
from ..pattern.swell import Swell
from ..problem import Problem


def exercise_json(exercise: Exercise) -> str:
    """One exercise with its music, as indented JSON."""
    return json.dumps(exercise_record(exercise), ensure_ascii=False, indent=1)


def list_json(exercises: Iterable[Exercise]) -> str:
    """A line of facts for each exercise, as a JSON array."""
    return json.dumps([summary(exercise) for exercise in exercises], ensure_ascii=False, indent=1)


def check_json(problems: Iterable[Problem], exercises: Iterable[Exercise]) -> str:
    """What is wrong in a book, and what its exercises are judged to be; an object of two arrays."""
    judged = [{**summary(one), "limited-by": one.limited_by, "made-hard-by": one.made_hard_by} for one in exercises]
    return json.dumps({"problems": [*map(_problem, problems)], "exercises": judged}, ensure_ascii=False, indent=1)


def _problem(problem: Problem) -> dict[str, Any]:
    mark = problem.mark
    return {
        "file": str(mark.file),
        "line": mark.line,
        "column": mark.column,
        "weight": problem.weight.value,
        "what": problem.what,
    }


def summary(exercise: Exercise) -> dict[str, Any]:
    """What a list says of an exercise."""
    return {
        **_named(exercise),
        "level": exercise.level,
        "ceiling": exercise.ceiling,
        "bars": len(exercise.pattern.bars),
    }


def _named(exercise: Exercise) -> dict[str, Any]:
    """How an exercise is called, and what it grew out of."""
    return {
        "id": exercise.id,
        "number": exercise.number,
        "title": exercise.title,
        "series": exercise.series,
        "from": exercise.parent,
    }


def exercise_record(exercise: Exercise) -> dict[str, Any]:
    """All of an exercise as plain data; lengths are fractions of a whole note, written `1/4`.

    `pickup` is there only where one is; its beats, the first of them perhaps a part of one, end at bar 1.
    So are `endings`, how many of the last bars each has, and `swells`, from place to place.
    """
    tempo, pattern = exercise.tempo, exercise.pattern
    return {
        **_named(exercise),
        "steps": list(exercise.steps),
        "tempo": {"start": tempo.start, "goal": tempo.goal} if tempo else None,
        "play": "loop" if exercise.plays_on else "once",
        "level": exercise.level,
        "ceiling": exercise.ceiling,
        **({"pickup": _bar(pattern.pickup)} if pattern.pickup else {}),
        "bars": [_bar(bar) for bar in pattern.bars],
        **({"endings": list(pattern.endings)} if pattern.endings else {}),
        **({"swells": [_swell(swell, pattern) for swell in pattern.swells]} if pattern.swells else {}),
    }


def _swell(swell: Swell, pattern: Pattern) -> dict[str, str]:
    start, end = (str(place_of(pattern, pattern.onsets.index(moment))) for moment in (swell.start, swell.end))
    return {"from": start, "to": end, "way": "louder" if swell.louder else "softer"}


def _bar(bar: Bar) -> dict[str, Any]:
    return {"meter": str(bar.meter), "beats": [_beat(beat) for beat in bar.beats]}


def _beat(beat: Beat) -> dict[str, Any]:
    return {
        "length": f"{beat.length.numerator}/{beat.length.denominator}",
        "slots": [[_stroke(stroke) for stroke in slot] for slot in beat.slots],
    }


def _stroke(stroke: Stroke) -> dict[str, Any]:
    return {
        "limb": stroke.limb.value,
        "sound": stroke.sound.name,
        "dynamic": stroke.dynamic.value,
        "ornament": stroke.ornament.value if stroke.ornament else None,
    }
