"""Lines of text: no wider than they may be, and no short word left over."""

from hypothesis import given
from hypothesis import strategies as st

from typeset.page.faces import width_of
from typeset.page.families import CUTS
from typeset.page.marks import Link, Words
from typeset.page.paragraph import Look, lines_of, title_lines, words_of
from typeset.wording.markup import Span, plain, spans

LOOK = Look(CUTS["source-serif"], 10.0, 13.0)
TEXT = "Play every line until the hands have forgotten that there is a line, and only then go on to the next one."


def said(lines: object) -> list[str]:
    return [
        " ".join("".join(part.words for part in word.fragments) for word in line.words)
        for line in lines  # type: ignore[attr-defined]
    ]


@given(st.text(max_size=300), st.floats(40, 400))
def test_no_line_is_wider_than_it_may_be(text: str, width: float) -> None:
    for line in lines_of(words_of(plain(text), LOOK), width):
        assert line.width <= width + 0.1


@given(st.lists(st.text("abcdefg", min_size=1, max_size=8), min_size=1, max_size=60), st.floats(80, 400))
def test_no_word_is_lost_or_moved(words: list[str], width: float) -> None:
    lines = lines_of(words_of(plain(" ".join(words)), LOOK), width)
    assert " ".join(said(lines)).split() == words


def test_lines_are_alike_in_length_and_the_last_is_not_one_short_word() -> None:
    for width in range(120, 400, 10):
        lines = lines_of(words_of(plain(TEXT), LOOK), width)
        if len(lines) > 1:
            assert len(lines[-1].words) > 1


def test_no_line_begins_with_a_count_that_is_read_with_the_word_before_it() -> None:
    text = (
        "Begin on 1 and cut at the barline, and the left hand falls exactly on 2 and on 4. It rests on the & of 3."
    )
    for width in range(180, 400, 5):
        lines = lines_of(words_of(plain(text), LOOK), width)
        assert not {"1", "2", "4.", "&", "3."} & {line.split()[0] for line in said(lines)}


def test_the_first_line_leaves_room_for_a_label() -> None:
    lines = lines_of(words_of(plain(TEXT), LOOK), 200, first=60)
    assert lines[0].width <= 140 < lines[1].width


def test_a_word_wider_than_the_line_is_cut_and_stays_whole_in_sum() -> None:
    lines = lines_of(words_of(plain("x" * 200), LOOK), 100)
    assert len(lines) > 1
    assert "".join(said(lines)).replace(" ", "") == "x" * 200


def test_no_break_spaces_hold_words_together() -> None:
    lines = lines_of(words_of(plain("one no.\u00a01.2 two"), LOOK), 60)
    assert any("no.\u00a01.2" in line for line in said(lines))


def test_words_that_look_alike_are_drawn_in_one_run() -> None:
    (line,) = lines_of(words_of(spans("a b *c* d"), LOOK), 300)
    assert [mark.words for mark in line.marks(0, 0) if isinstance(mark, Words)] == ["a b", "c", "d"]


def test_a_link_covers_its_words() -> None:
    (line,) = lines_of(words_of(spans("see [two words](https://example.org)."), LOOK), 300)
    (link,) = (mark for mark in line.marks(0, 10) if isinstance(mark, Link))
    assert link.outside
    assert abs(link.x1 - link.x0 - width_of("two words", "SourceSerifPro-Regular", 10)) < 0.01


def test_an_address_that_is_no_web_address_leads_inside_the_book() -> None:
    (line,) = lines_of(words_of(spans("[x](javascript:alert)"), LOOK), 300)
    assert [mark.outside for mark in line.marks(0, 0) if isinstance(mark, Link)] == [False]


def test_a_title_has_a_line_even_when_it_is_empty() -> None:
    assert [line.width for line in title_lines("  ", LOOK, 100)] == [0.0]
    assert words_of([Span("")], LOOK) == ()
