"""The seed corpus: chapters that are right, as trees of YAML in which every scalar is text."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import yaml

from typeset.pattern.steps import STEPS

Tree = dict[str, Any]

_TOP = Path(__file__).parents[2]
_FILES = ("books/*/[0-9]*.yaml", "shared/new-book/[0-9]*.yaml")

_EVERYTHING = """
chapter: Everything
intro: "Paragraphs with *emphasis*, **strong** and [words](https://yard.example/)."
sequences: {stairs: R L R K L, gap: . ., together: R+K L r! K}
set: {meter: 4/4, grid: 16ths, tempo: 60-100, feel: straight}
exercises:
  - {id: plain, title: On one surface, start: stairs, steps: [fit: {bars: 2, by: trimming}]}
  - {id: groove, start: plain, steps: [voice: {R: hi-hat, L: snare, K: kick}, accent: [1, 3&], ghost: {sound: snare, dynamic: plain}]}
  - {id: fill, start: groove, play: once, steps: [move: {at: [3&, 3a], to: [high-tom, mid-tom]}, plain: [1], stop: 2|4]}
  - {id: four, phrase: [{use: groove, bars: 1, times: 3}, {use: fill, bars: 1}], tempo: 80}
  - {id: ended, start: plain, times: 2, endings: [{use: groove, bars: 1}, {use: fill, bars: 1}]}
  - {id: picked, start: (R L K)x3, pickup: R L, note: For the teacher., say: "{right} first, then {left}."}
  - {id: seven, start: R L L, meter: 7/8 (3+2+2), grid: 16ths, linear: yes, new-page: yes}
  - {id: mixed, start: R L R K, meter: 3/4, grid: [16ths, triplets, sextuplets], feel: straight}
  - {series: turned, title: "From stroke {rotate}", start: stairs, each: {rotate: all}, keep: {distinct: order}, limit: 3}
  - {series: accented, title: "{what}", start: R L R L, steps: [fit: 1], each: {accents: {choose: 1, among: {limb: L}}}, order: easiest-first, limit: 2}
  - {series: made, each: {orders: {length: 3, limbs: [R, L], longest-run: 2, distinct: rotation}, grid: [8ths, triplets]}}
  - {task: write-the-sticking, of: groove}
  - {task: spot-the-change, of: [plain, groove]}
  - {task: find-the-accents, of: groove, title: Where are they, say: Ring them.}
  - text: |
      A paragraph.

      - an item
      - another
"""


@cache
def seeds() -> tuple[Tree, ...]:
    """The demo books' chapters, one with every kind of entry, and one for each step."""
    files = [file for pattern in _FILES for file in sorted(_TOP.glob(pattern))]
    texts = [*(file.read_text(encoding="utf-8") for file in files), _EVERYTHING]
    return (*(yaml.load(text, Loader=yaml.BaseLoader) for text in texts), *_steps())


def _steps() -> list[Tree]:
    """A chapter for each step: its own example."""
    chapters: list[Tree] = []
    for key, step in STEPS.items():
        shown = step.example
        before = yaml.load(f"[{shown.first}]", Loader=yaml.BaseLoader)
        value = yaml.load(shown.value, Loader=yaml.BaseLoader)
        exercise = {"id": "a", "start": shown.start, "meter": shown.meter, "grid": shown.grid}
        chapters.append({"chapter": key, "exercises": [{**exercise, "steps": [*before, {key: value}]}]})
    return chapters
