from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from typeset import pipeline
from typeset.built import Run
from typeset.problem import BookError, NotThere

STAIRS = """\
chapter: First steps
sequences: {stairs: R L R K L}
set: {tempo: 60-100}
exercises:
  - id: plain
    title: On one surface
    start: stairs
    steps:
      - fit: {bars: 2, by: trimming}
  - id: groove
    title: As a groove
    start: plain
    steps:
      - voice: {R: hi-hat, L: snare, K: kick}
      - accent: [1, 3&]
"""

TEN_MISTAKES = """\
chapter: First steps
sequences: {stairs: R L R X L}
set: {meter: 4/5}
exercises:
  - id: one
    start: stars
  - id: two
    start: R L
    steps:
      - rotat: 2
      - fit: {bars: none}
      - voice: {R: kick}
  - id: three
    start: R L
    tempo: quick
    steps:
      - accent: [7]
      - move: {at: [1], to: high-tum}
  - id: three
    start: R L
    colour: red
"""


@pytest.fixture
def chapter(tmp_path: Path) -> Path:
    file = tmp_path / "first-steps.yaml"
    file.write_text(STAIRS)
    return file


def test_a_chapter_alone_is_a_book(chapter: Path) -> None:
    book = pipeline.check(chapter).sound_book()
    assert [exercise.number for exercise in book.exercises] == ["1.1", "1.2"]


def test_an_exercise_as_json_has_the_contract_s_shape(chapter: Path) -> None:
    shown = json.loads(pipeline.show(chapter, "groove", "json"))
    assert list(shown) == [
        "id",
        "number",
        "title",
        "series",
        "from",
        "steps",
        "tempo",
        "play",
        "level",
        "ceiling",
        "bars",
    ]
    assert shown["from"] == "plain"
    assert shown["tempo"] == {"start": 60, "goal": 100}
    assert shown["bars"][0]["meter"] == "4/4"
    assert shown["bars"][0]["beats"][0] == {
        "length": "1/4",
        "slots": [
            [{"limb": "R", "sound": "hi-hat", "dynamic": "accent", "ornament": None}],
            [{"limb": "L", "sound": "snare", "dynamic": "plain", "ornament": None}],
            [{"limb": "R", "sound": "hi-hat", "dynamic": "plain", "ornament": None}],
            [{"limb": "K", "sound": "kick", "dynamic": "plain", "ornament": None}],
        ],
    }


def test_an_exercise_is_shown_by_its_number_too(chapter: Path) -> None:
    assert pipeline.show(chapter, "1.2", "json") == pipeline.show(chapter, "groove", "json")


@pytest.fixture
def with_editions(chapter: Path) -> Path:
    book = chapter.parent / "book.yaml"
    editions = "{left-handed: {mirror: yes}, large: {style: a4-large}}"
    book.write_text(f"title: Steps\nstyle: a4-workbook\nchapters: [{chapter.name}]\neditions: {editions}\n")
    return chapter.parent


@pytest.mark.parametrize(
    ("form", "hand"),
    [("json", rb'"limb": "([RL])"'), ("text", rb"1: (right|left) hand"), ("musicxml", rb"<fingering[^>]*>([RL])<")],
)
def test_an_exercise_is_shown_as_an_edition_has_it(with_editions: Path, form: str, hand: bytes) -> None:
    usual, turned = (
        re.findall(hand, pipeline.show(with_editions, "groove", form, edition=name))
        for name in (None, "left-handed")
    )
    assert usual[0][:1].lower() == b"r" and turned[0][:1].lower() == b"l"
    assert len(usual) == len(turned)


def test_on_paper_it_has_the_edition_s_style(with_editions: Path) -> None:
    usual, large = (
        PdfReader(BytesIO(pipeline.show(with_editions, "groove", "pdf", edition=name))).pages[0].mediabox
        for name in (None, "large")
    )
    assert large.height > usual.height


def test_it_sounds_alike_in_a_left_handed_copy(with_editions: Path) -> None:
    turned = pipeline.show(with_editions, "groove", "midi", edition="left-handed")
    assert turned == pipeline.show(with_editions, "groove", "midi")


def test_an_edition_that_there_is_not_is_refused_as_in_a_build(with_editions: Path) -> None:
    with pytest.raises(NotThere) as refused:
        pipeline.show(with_editions, "groove", "text", edition="left")
    assert str(refused.value).startswith("there is no edition 'left' in ")
    with pytest.raises(NotThere) as same:
        pipeline.make(with_editions, "left", Run())
    assert str(same.value) == str(refused.value)


def test_an_exercise_that_there_is_not_lists_those_there_are(chapter: Path) -> None:
    with pytest.raises(NotThere, match="plain, groove"):
        pipeline.show(chapter, "nothing", "text")


def test_ten_mistakes_give_ten_messages_with_their_lines(tmp_path: Path) -> None:
    file = tmp_path / "mistakes.yaml"
    file.write_text(TEN_MISTAKES)
    with pytest.raises(BookError) as caught:
        pipeline.make(file, None, Run())
    lines = [problem.mark.line for problem in caught.value.problems]
    assert lines == [2, 3, 6, 10, 11, 12, 15, 18, 19, 21]


def test_a_made_book_is_a_pdf_with_its_facts(chapter: Path) -> None:
    (built,) = pipeline.make(chapter, None, Run(jobs=1))
    assert built.pdf.startswith(b"%PDF-")
    assert (built.name, built.exercises) == ("first-steps", 2)
    assert built.engraved + built.stored > 0


def test_the_same_book_is_the_same_bytes(chapter: Path) -> None:
    first = pipeline.make(chapter, None, Run(jobs=1, fresh=True))[0].pdf
    second = pipeline.make(chapter, None, Run(jobs=2))[0].pdf
    assert first == second


def test_one_exercise_is_a_page_cut_to_it(chapter: Path) -> None:
    assert pipeline.show(chapter, "groove", "pdf").startswith(b"%PDF-")
    assert pipeline.show(chapter, "groove", "png").startswith(b"\x89PNG")


def test_one_exercise_that_no_page_holds_is_told_as_in_a_build(tmp_path: Path) -> None:
    file = tmp_path / "long.yaml"
    file.write_text(f"chapter: C\nexercises:\n  - id: a\n    start: R L\n    say: {'word ' * 2500}\n")
    for make in (lambda: pipeline.show(file, "a", "pdf"), lambda: pipeline.make(file, None, Run(jobs=1))):
        with pytest.raises(BookError, match="words and a line of music are taller than a page"):
            make()


def test_a_name_that_may_stand_in_a_chapter_that_cannot_be_read_is_told_as_such(tmp_path: Path) -> None:
    (tmp_path / "book.yaml").write_text("title: x\nchapters: [a.yaml, gone.yaml]\n")
    (tmp_path / "a.yaml").write_text(
        "chapter: A\nexercises:\n  - {id: one, start: there, meter: 5/5}\n  - {id: two, start: there}\n"
        "  - {id: three, phrase: [there]}\n  - {task: write-the-sticking, of: there}\n"
        "  - {id: four, start: R L, steps: [{layer: {limb: K, sequence: there}}]}\n"
    )
    told = [str(problem) for problem in pipeline.check(tmp_path).problems]
    missed = [
        one for one in told if "no sequence or exercise 'there' outside the chapter that cannot be read" in one
    ]
    assert "book.yaml:2:20: there is no file 'gone.yaml'" in told[0] and any("5/5" in one for one in told)
    assert len(missed) == 5 == len(told) - 2
