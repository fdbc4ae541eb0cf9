"""A curriculum worked out, and what its teacher is told of it."""

from collections.abc import Callable
from pathlib import Path

import pytest

from typeset.compose import compose
from typeset.compose.curriculum import CurriculumComposition, compose_curriculum
from typeset.manuscript.figures import standard_figures
from typeset.manuscript.read_curriculum import read_curriculum
from typeset.problem import Weight
from typeset.style.music import Spacing

ALL_SOUNDS = (
    "cross-stick, rim-shot, hi-hat, open-hi-hat, hi-hat-foot, ride, ride-bell, crash, splash, china, high-tom, "
    "mid-tom, floor-tom, cowbell"
)
EASY = """\
chapter: Easy
sequences: {steps: R L}
set: {grid: 8ths, tempo: 60-80}
exercises:
  - {id: first, start: steps}
  - {id: second, start: steps, meter: 3/4}
"""
HARD = """\
chapter: Hard
sequences: {race: R+K L R+K L R K}
set: {grid: 32nds, tempo: 60-80}
exercises:
  - id: fast
    start: race
    steps:
      - voice: {R: ride, L: floor-tom}
      - accent: [2, 3&]
"""

Curricula = Callable[..., CurriculumComposition]


@pytest.fixture
def worked_out(tmp_path: Path) -> Curricula:
    """Works a curriculum out, whose books are chapters given by name; a term is a list of books' names."""

    def make(chapters: dict[str, str], terms: list[str], keys: str = "", weeks: int = 6) -> CurriculumComposition:
        for name, text in chapters.items():
            (tmp_path / f"{name}.yaml").write_text(text)
        written = "".join(
            f"  - {{term: Term {number}, weeks: {weeks}, chapters: [{names}]}}\n"
            for number, names in enumerate(terms, start=1)
        )
        books = ", ".join(f"{name}.yaml" for name in chapters)
        file = tmp_path / "curriculum.yaml"
        file.write_text(f"title: C\nbooks: [{books}]\n{keys}terms:\n{written}")
        reading = read_curriculum(file)
        assert not reading.problems and reading.text is not None
        manuscripts = {book.name: book.manuscript for book in reading.text.books}
        made = {
            name: compose(manuscript, Spacing(), standard_figures()).book
            for name, manuscript in manuscripts.items()
            if manuscript
        }
        return compose_curriculum(reading.text, made)

    return make


def told(composition: CurriculumComposition) -> list[str]:
    """What is told, sounds that no one plays apart."""
    assert all(one.weight is Weight.WARNING for one in composition.problems)
    return [
        f"{one.mark.file.name}:{one.mark.line}:{one.mark.column}: {one.what}"
        for one in composition.problems
        if not one.what.startswith("no exercise plays")
    ]


def highest_levels(composition: CurriculumComposition) -> list[int]:
    """The level of the hardest exercise of each book."""
    return [max(one.level for one in volume.book.exercises) for volume in composition.curriculum.volumes]


def test_chapters_have_their_terms_and_their_weeks(worked_out: Curricula) -> None:
    curriculum = worked_out({"easy": EASY, "hard": HARD}, ["easy"]).curriculum
    assert [volume.terms for volume in curriculum.volumes] == [(1,), (None,)]
    assert curriculum.exercises == 2
    (stretch,) = curriculum.terms[0].stretches
    assert (stretch.volume, stretch.chapter, stretch.first_week, stretch.last_week) == ("easy", 1, 1, 5)


def test_a_chapter_that_begins_too_far_above_everything_before_it_is_told(worked_out: Curricula) -> None:
    found = worked_out({"easy": EASY, "hard": HARD}, ["easy, hard"], "at-once: 9\n")
    low, high = highest_levels(found)
    assert told(found) == [
        f"curriculum.yaml:5:47: chapter 1 of 'hard' begins at level {high}; nothing before it in the curriculum is "
        f"above {low}"
    ]


def test_a_term_that_stays_too_far_below_the_one_before_is_told(worked_out: Curricula) -> None:
    found = worked_out({"hard": HARD, "easy": EASY}, ["hard", "easy"])
    high, low = highest_levels(found)
    assert told(found) == [
        f"curriculum.yaml:5:12: 'Term 2' goes up to level {low}, and 'Term 1' before it up to {high}"
    ]


def test_too_many_new_ideas_at_once_are_told_but_somebody_has_to_begin(worked_out: Curricula) -> None:
    found = told(worked_out({"easy": EASY, "hard": HARD}, ["easy", "hard"], "at-once: 5\n"))
    assert found[1] == (
        "hard.yaml:5:5: 'fast' of 'hard' brings 6 new ideas at once, and 5 is the most here: the step voice, "
        "32nds, the sound ride, the sound kick, the sound floor-tom, the step accent"
    )
    assert not [one for one in found if "'first'" in one]


FLAMS = """\
chapter: Flams
sequences: {steps: R L}
exercises:
  - {id: plain, start: steps}
  - id: pair
    phrase: [plain, flammed]
  - task: find-the-accents
    of: loud
  - id: flammed
    start: steps
    steps: [{ornament: [1], as: flam}]
  - id: loud
    start: steps
    steps: [{accent: [1]}]
"""


def test_what_a_phrase_or_a_task_takes_over_has_to_be_introduced_before(worked_out: Curricula) -> None:
    flams = FLAMS.replace("ornament: [1], as: flam", "ornament: {at: [1], as: flam}")
    assert told(worked_out({"flams": flams}, ["flams"])) == [
        "flams.yaml:5:5: 'pair' of 'flams' uses the ornament flam before an exercise introduces it: it is made "
        "from 'flammed', which comes later",
        "flams.yaml:7:5: 'task 1' of 'flams' uses the step accent before an exercise introduces it: it is about "
        "'loud', which comes later",
    ]


def test_what_grows_out_of_a_chapter_that_is_left_out_is_told(tmp_path: Path, worked_out: Curricula) -> None:
    book = tmp_path / "book"
    book.mkdir()
    (book / "book.yaml").write_text("title: B\nchapters: [one.yaml, two.yaml]\n")
    (book / "one.yaml").write_text("chapter: One\nexercises: [{id: one, start: R L, steps: [{rotate: 1}]}]\n")
    (book / "two.yaml").write_text(
        "chapter: Two\nexercises:\n  - {id: own, start: R L}\n  - {id: two, start: one, steps: [{accent: [1]}]}\n"
    )
    file = tmp_path / "curriculum.yaml"
    file.write_text("title: C\nbooks: [book]\nterms: [{term: T, weeks: 4, chapters: {book: 2}}]\n")
    text = read_curriculum(file).text
    assert text is not None and text.books[0].manuscript is not None
    made = compose(text.books[0].manuscript, Spacing(), standard_figures()).book
    assert told(compose_curriculum(text, {"book": made})) == [
        "two.yaml:4:5: 'two' of 'book' uses the step rotate before an exercise introduces it: it is made from "
        "'one', which is not in the curriculum before it"
    ]


UNUSED = """\
chapter: Some
sequences:
  used: R L
  laid: H .
  made-of: R L K
  spliced: R R L L
  idle: L R
exercises:
  - {id: one, start: used}
  - id: two
    start: used
    steps:
      - layer: {limb: H, sequence: laid}
      - splice: {from: 3, use: spliced}
  - series: three
    each: {sequence: [made-of]}
"""


def test_a_sequence_that_no_exercise_uses_is_told_where_it_is_named(worked_out: Curricula) -> None:
    assert told(worked_out({"some": UNUSED}, ["some"])) == [
        "some.yaml:7:3: the sequence 'idle' is never practised in the curriculum; use it, take it out, or name "
        "some/idle under leave-out"
    ]
    assert told(worked_out({"some": UNUSED}, ["some"], "leave-out: some/idle\n")) == []


def test_the_sounds_that_no_exercise_plays_are_told_at_once(worked_out: Curricula) -> None:
    (problem,) = worked_out({"easy": EASY}, ["easy"], f"leave-out: [kick, {ALL_SOUNDS[:-9]}]\n").problems
    assert str(problem).endswith(
        "curriculum.yaml:3:12: warning: no exercise plays cowbell; name under leave-out what is left out on purpose"
    )


def test_a_book_that_no_term_takes_up_is_told(worked_out: Curricula) -> None:
    assert told(worked_out({"easy": EASY, "hard": HARD}, ["easy"])) == [
        "curriculum.yaml:2:20: no term takes up 'hard'"
    ]


def test_a_term_with_too_little_time_is_told_once(worked_out: Curricula) -> None:
    keys = "minutes: 5\n"
    chapter = EASY + "".join(f"  - {{id: more-{number}, start: steps}}\n" for number in range(6))
    assert told(worked_out({"easy": chapter}, ["easy"], keys, weeks=2)) == [
        "curriculum.yaml:5:27: in week 1 of 'Term 1' 4 exercises share 5 minutes and have to take turns; give the "
        "term more weeks or minutes, or fewer chapters"
    ]
