"""Which exercise grew out of which."""

from typeset.compose.book import Exercise
from typeset.page.faces import width_of
from typeset.page.family import family, trees
from typeset.page.marks import Link, Rule, Words

from .made import a_book, a_chapter, a_setting, an_exercise


def grown(number: str, parent: str | None = None) -> Exercise:
    return an_exercise(number, parent=f"no-{parent}" if parent else None, parent_number=parent)


ALL = (grown("1.1"), grown("1.2", "1.1"), grown("1.3", "1.1"), grown("1.4", "1.2"), grown("1.5"))


def test_a_tree_lists_descendants_under_their_parents() -> None:
    (tree,) = trees(ALL)
    assert [(member.exercise.number, member.lines) for member in tree] == [
        ("1.1", ()),
        ("1.2", (True,)),
        ("1.4", (True, False)),
        ("1.3", (False,)),
    ]


def test_an_exercise_alone_and_one_whose_parent_is_not_printed_are_no_tree() -> None:
    assert trees([grown("1.1"), grown("1.2", "9.9")]) == ()


def test_the_page_names_each_member_with_its_page_and_leads_there() -> None:
    book = a_book(a_chapter(1, ALL))
    section = family(book, {"no-1.4": 12}, a_setting(book))
    marks = [mark for piece in section.pieces for mark in piece.marks]
    words = [mark.words for mark in marks if isinstance(mark, Words)]
    assert "1.4" in words and "12" in words and "1.5" not in words
    assert [mark.to for mark in marks if isinstance(mark, Link)] == ["no-1.1", "no-1.2", "no-1.4", "no-1.3"]
    assert sum(isinstance(mark, Rule) for mark in marks) == 7


def test_a_long_line_of_descent_stays_in_the_measure() -> None:
    chain = [grown("1.1"), *(grown(f"1.{number}", f"1.{number - 1}") for number in range(2, 41))]
    setting = a_setting(book := a_book(a_chapter(1, chain)))
    section = family(book, {}, setting)
    words = [mark for piece in section.pieces for mark in piece.marks if isinstance(mark, Words)]
    assert max(mark.x + width_of(mark.words, mark.font, mark.size) for mark in words) <= setting.text_width + 0.01
    assert max(piece.height for piece in section.pieces[3:]) < setting.unit * 16, "titles have room"


def test_descent_may_be_deeper_than_python_nests_calls() -> None:
    chain = [grown("1.1"), *(grown(f"1.{number}", f"1.{number - 1}") for number in range(2, 1500))]
    (tree,) = trees(chain)
    assert len(tree) == 1499
