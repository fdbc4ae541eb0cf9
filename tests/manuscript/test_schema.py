"""Schemas accept what the program accepts, and refuse mistakes where they stand.

Read by `jsonschema`, an independent reader of JSON Schema, over what an editor's YAML reader makes of the files:
PyYAML's, both as YAML 1.1 has it (`yes` is true) and as YAML 1.2 does (`yes` is text).
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from typeset.manuscript.schema import kinds, schema_of
from typeset.pattern.steps import STEPS
from typeset.pattern.steps.step import Step

ROOT = Path(__file__).parents[2]


class Older(yaml.SafeLoader):
    """YAML 1.1, but dates stay text, as they do in JSON."""


class Newer(yaml.SafeLoader):
    """YAML 1.2: only true and false are truth values; no dates, no sexagesimals."""


def _without(loader: type[yaml.SafeLoader], *tags: str) -> None:
    loader.yaml_implicit_resolvers = {
        first: [(tag, rule) for tag, rule in rules if tag not in tags]
        for first, rules in loader.yaml_implicit_resolvers.items()
    }


_BOOL, _INT = "tag:yaml.org,2002:bool", "tag:yaml.org,2002:int"
_without(Older, "tag:yaml.org,2002:timestamp")
_without(Newer, "tag:yaml.org,2002:timestamp", _BOOL, _INT)
Newer.add_implicit_resolver(_BOOL, re.compile("^(?:true|false)$"), list("tf"))
Newer.add_implicit_resolver(_INT, re.compile(r"^[-+]?\d+$"), list("-+0123456789"))

CHECKERS = {kind: Draft202012Validator(schema_of(kind)) for kind in kinds()}


def complaints(kind: str, text: str, loader: type[yaml.SafeLoader] = Newer) -> list[str]:
    """Where a schema complains, as ways from the top: exercises/0/steps/1/accent."""
    data: Any = yaml.load(text, loader)
    return ["/".join(map(str, error.absolute_path)) for error in CHECKERS[kind].iter_errors(data)]


def kind_of(file: Path) -> str:
    return {
        "book.yaml": "book",
        "curriculum.yaml": "curriculum",
        "players.yaml": "players",
        "levels.yaml": "levels",
    }.get(file.name, {"kits": "kit", "sequences": "sequences", "styles": "style"}.get(file.parent.name, "chapter"))


FILES = sorted(file for folder in ("books", "shared", "styles") for file in (ROOT / folder).rglob("*.yaml"))


@pytest.mark.parametrize("kind", kinds())
def test_every_schema_is_one(kind: str) -> None:
    Draft202012Validator.check_schema(schema_of(kind))


@pytest.mark.parametrize("loader", [Older, Newer])
@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(ROOT)))
def test_every_file_that_travels_with_the_program_is_accepted(file: Path, loader: type[yaml.SafeLoader]) -> None:
    assert complaints(kind_of(file), file.read_text(encoding="utf-8"), loader) == []


@pytest.mark.parametrize("step", STEPS.values(), ids=list(STEPS))
def test_every_steps_example_is_accepted(step: type[Step]) -> None:
    example = step.example
    steps = "\n".join(
        f"      - {line}" for line in filter(None, [*example.first.splitlines(), f"{step.key}: {example.value}"])
    )
    assert (
        complaints(
            "chapter", f"chapter: A\nexercises:\n  - id: a\n    start: '{example.start}'\n    steps:\n{steps}\n"
        )
        == []
    )


HEAD = "chapter: A\nsequences: {stairs: R L R K L}\nexercises:\n"
EXERCISE = HEAD + "  - id: a\n    start: stairs\n"
STEP = EXERCISE + "    steps:\n      - "
IN_STEP = "exercises/0/steps/0"

BROKEN = [
    ("book", "title: A\n", ""),
    ("book", "chapters: [a.yaml]\n", ""),
    ("book", "title: A\nchapters: [a.yaml]\ncolour: red\n", ""),
    ("book", "title: A\nchapters: {a: b}\n", "chapters"),
    ("book", "title: A\nchapters: [a.yaml]\nlanguage: it\n", "language"),
    ("book", "title: A\nchapters: [a.yaml]\ndate: 1.9.2026\n", "date"),
    ("book", "title: A\nchapters: [a.yaml]\nfront: [title]\n", "front/0"),
    ("book", "title: A\nchapters: [a.yaml]\nback: glossary\n", "back"),
    ("book", "title: A\nchapters: [a.yaml]\nplayer: expert\n", "player"),
    ("book", "title: A\nchapters: [a.yaml]\nsound-levels: [85, 500]\n", "sound-levels/1"),
    ("book", "title: A\nchapters: [a.yaml]\neditions: {left: {mirror: maybe}}\n", "editions/left/mirror"),
    ("book", "title: A\nchapters: [a.yaml]\neditions: {teacher: {answers: beside}}\n", "editions/teacher/answers"),
    ("book", "title: A\nchapters: [a.yaml]\neditions: {teacher: {note: yes}}\n", "editions/teacher"),
    ("book", "title: {a: b}\nchapters: [a.yaml]\n", "title"),
    ("chapter", "intro: A paragraph.\n", ""),
    ("chapter", "chapter: A\nsequences: {stairs: R L Q}\n", "sequences/stairs"),
    ("chapter", "chapter: A\nsequences: [R L]\n", "sequences"),
    ("chapter", "chapter: A\nset: {meter: four}\n", "set/meter"),
    ("chapter", "chapter: A\nset: {grid: 12ths}\n", "set/grid"),
    ("chapter", "chapter: A\nset: {tempo: fast}\n", "set/tempo"),
    ("chapter", "chapter: A\nset: {speed: 80}\n", "set"),
    ("chapter", HEAD + "  - id: two words\n    start: stairs\n", "exercises/0/id"),
    ("chapter", HEAD + "  - title: No name\n    start: stairs\n", "exercises/0"),
    ("chapter", EXERCISE + "    colour: red\n", "exercises/0"),
    ("chapter", EXERCISE + "    play: forever\n", "exercises/0/play"),
    ("chapter", EXERCISE + "    times: many\n", "exercises/0/times"),
    ("chapter", EXERCISE + "    feel: shuffled\n", "exercises/0/feel"),
    ("chapter", EXERCISE + "    new-page: perhaps\n", "exercises/0/new-page"),
    ("chapter", EXERCISE + "    grid: [16ths, 17ths]\n", "exercises/0/grid/1"),
    ("chapter", EXERCISE + "    phrase: [{use: b, bar: 1}]\n", "exercises/0/phrase/0"),
    ("chapter", STEP + "turn: 2\n", IN_STEP),
    ("chapter", STEP + "rotate: two\n", IN_STEP + "/rotate"),
    ("chapter", STEP + "{rotate: 2, double: {limb: R}}\n", IN_STEP),
    ("chapter", STEP + "accent: [3x]\n", IN_STEP + "/accent/0"),
    ("chapter", STEP + "accent: {sound: tuba}\n", IN_STEP + "/accent/sound"),
    ("chapter", STEP + "accent: {limb: [R, X]}\n", IN_STEP + "/accent/limb/1"),
    ("chapter", STEP + "accent: {}\n", IN_STEP + "/accent"),
    ("chapter", STEP + "voice: {R: hihat}\n", IN_STEP + "/voice/R"),
    ("chapter", STEP + "voice: {Q: snare}\n", IN_STEP + "/voice"),
    ("chapter", STEP + "fit: {bars: 2, by: cutting}\n", IN_STEP + "/fit/by"),
    ("chapter", STEP + "swap: {R: left}\n", IN_STEP + "/swap/R"),
    ("chapter", STEP + "regrid: 12ths\n", IN_STEP + "/regrid"),
    ("chapter", STEP + "ornament: {at: [1], as: trill}\n", IN_STEP + "/ornament/as"),
    ("chapter", STEP + "move: {at: [1]}\n", IN_STEP + "/move"),
    ("chapter", HEAD + "  - series: a\n    start: stairs\n    each: {turn: all}\n", "exercises/0/each"),
    ("chapter", HEAD + "  - series: a\n    start: stairs\n    each: {rotate: some}\n", "exercises/0/each/rotate"),
    (
        "chapter",
        HEAD + "  - series: a\n    start: stairs\n    each: {rotate: all}\n    order: random\n",
        "exercises/0/order",
    ),
    ("chapter", HEAD + "  - task: guess\n    of: a\n", "exercises/0/task"),
    ("chapter", HEAD + "  - task: write-the-count\n", "exercises/0"),
    ("chapter", HEAD + "  - text: a\n    id: b\n", "exercises/0"),
    ("style", "based-on: a4-workbook\nstaff: {height: tall}\n", "staff/height"),
    ("style", "based-on: a4-workbook\nstaff: {heigth: 6}\n", "staff"),
    ("style", "based-on: a4-workbook\npaper: a9\n", "paper"),
    ("curriculum", "title: A\nbooks: [a]\nterms: [{term: one, weeks: 99, chapters: a}]\n", "terms/0/weeks"),
    ("curriculum", "title: A\nbooks: [a]\nterms: [{term: one, chapters: a}]\n", "terms/0"),
    ("sequences", "one: R L X\n", "one"),
    ("sequences", "one: {order: R L, flam: 1}\n", "one"),
    ("kit", "crossing: 5\nsmall: []\nplaces: {snare: {x: 0, y: 0, z: 0}}\n", "places/snare"),
]


@pytest.mark.parametrize(("kind", "text", "way"), BROKEN, ids=lambda one: repr(one)[-40:])
def test_a_mistake_is_refused_where_it_stands(kind: str, text: str, way: str) -> None:
    assert set(complaints(kind, text)) == {way}


def test_each_key_says_what_it_is_for() -> None:
    properties = schema_of("chapter")["$defs"]["exercise"]["properties"]
    assert all(one.get("description") for one in properties.values())


def test_a_step_says_what_it_does() -> None:
    properties = schema_of("chapter")["$defs"]["step"]["properties"]
    assert list(properties) == list(STEPS)
    assert all(STEPS[key].about in one["description"] for key, one in properties.items())
