"""An author's few marks, and everything else as it was written."""

import pytest

from typeset.wording.markup import Span, one_line, paragraphs, plain, spans, unmarked


def test_emphasis_strong_and_links_are_read() -> None:
    assert spans("a *b* **c** [d e](https://example.org)") == (
        Span("a "),
        Span("b", emphasis=True),
        Span(" "),
        Span("c", strong=True),
        Span(" "),
        Span("d e", address="https://example.org"),
    )


def test_without_its_marks_a_text_is_what_is_read_aloud() -> None:
    assert unmarked("*Slow*, then **quick** ([more](https://example.org)):\n- 2 * 3") == (
        "Slow, then quick (more (https://example.org)): 2 * 3"
    )


def test_strong_inside_emphasis_is_both() -> None:
    assert spans("*a **b***")[1] == Span("b", strong=True, emphasis=True)


def test_blank_lines_part_paragraphs_and_line_ends_are_spaces() -> None:
    read = paragraphs("one\ntwo\n\n \nthree")
    assert [paragraph.spans for paragraph in read] == [(Span("one two"),), (Span("three"),)]


def test_a_dash_begins_an_item_that_may_go_on_in_the_next_line() -> None:
    read = paragraphs("before:\n- one\n  more\n- two")
    assert [(paragraph.is_item, paragraph.spans[0].words) for paragraph in read] == [
        (False, "before:"),
        (True, "one more"),
        (True, "two"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "2 * 3 * 4",
        "a * b",
        "*",
        "**",
        "****",
        "* *",
        "<b>bold</b>",
        '<img src="/etc/passwd"/>',
        '<font color="[[].__class__ for _ in (1,)]">x</font>',
        "&lt;b&gt; & &amp;",
        "{this} {0} {a.b}",
        "[no address]",
        "[x] (y)",
        "%s \\n \\u0041 $x$ `code` # head",
        "<para>&#65;</para>",
    ],
)
def test_everything_else_prints_as_itself(text: str) -> None:
    assert "".join(span.words for span in spans(text)) == text
    assert not any(span.strong or span.emphasis or span.address for span in spans(text))


def test_a_value_is_plain_words_whatever_it_holds() -> None:
    assert spans("see {what}", {"what": "*this*"}) == (Span("see *this*"),)


def test_control_characters_become_spaces() -> None:
    assert plain("a\x00b\x1bc\td") == (Span("a b c d"),)
    assert one_line(" a\n\n b\x07 c ") == "a b c"


def test_many_marks_are_read_in_good_time() -> None:
    assert spans("*" * 20_000)
    assert spans("[" * 20_000)
    assert spans("**a" * 5_000)
