"""The plan of a term on its pages."""

from collections.abc import Sequence

from typeset.compose.curriculum import Curriculum, Stretch, Term, Volume
from typeset.compose.plan import Planned, weeks_of
from typeset.page.leaf import pageful_of
from typeset.page.marks import Words
from typeset.page.plan import term_plan
from typeset.page.setting import Setting
from typeset.pattern.tempo import Tempo
from typeset.wording import wording

from .made import a_book, a_chapter, a_style, an_exercise


def a_curriculum(
    books: Sequence[str], each: int, weeks: int, minutes: int = 20, title: str = "A step"
) -> Curriculum:
    """A term with so many exercises of each book."""
    exercises = [an_exercise(f"1.{number}", title=title, tempo=Tempo(60, 100)) for number in range(1, each + 1)]
    volumes = tuple(Volume(name, a_book(a_chapter(1, exercises), title=name.title()), (1,)) for name in books)
    planned = [Planned(name, one) for name in books for one in exercises]
    stretches = tuple(Stretch(name, 1, 1, weeks) for name in books)
    term = Term("Autumn", "Slow is a tempo too.", minutes, 5, weeks_of(planned, weeks, minutes), stretches)
    return Curriculum("A Year", None, None, None, "en", volumes, (term,))


def pages_of(curriculum: Curriculum) -> list[list[Words]]:
    setting = Setting(a_style(), wording("en"), {})
    leaves = pageful_of(term_plan(curriculum, 1, setting), setting).leaves
    return [[mark for mark in leaf.marks if isinstance(mark, Words)] for leaf in leaves]


def said(words: Sequence[Words]) -> list[str]:
    return [one.words for one in words if one.words]


def test_a_line_has_number_title_minutes_and_tempos_beside_what_settles() -> None:
    (page,) = pages_of(a_curriculum(["rooms"], 4, 3))
    lines: dict[float, list[Words]] = {}
    for word in page:
        lines.setdefault(round(word.y, 3), []).append(word)
    rows = [said(sorted(line, key=lambda word: word.x)) for line in lines.values()]
    assert ["2", "1.3", "A step", "7 min", "60–80", "1.1", "A step", "4 min", "80–100"] in rows
    assert ["3", "Nothing new. Play the term through once more.", "1.3", "A step", "10 min", "80–100"] in rows


def test_a_term_says_how_long_it_is_and_which_book_it_practises() -> None:
    (page,) = pages_of(a_curriculum(["rooms"], 4, 6))
    assert {"6 weeks, 20 minutes a day, 5 days a week", "Rooms", "Slow is a tempo too."} <= set(said(page))


def test_with_several_books_each_exercise_stands_under_its_book() -> None:
    (page,) = pages_of(a_curriculum(["rooms", "doors"], 2, 3))
    assert said(page).count("Rooms") == said(page).count("Doors") == 2  # once to learn and once to settle


def test_exercises_without_minutes_of_their_own_take_turns() -> None:
    (page,) = pages_of(a_curriculum(["rooms"], 12, 2, minutes=8))
    assert "8 minutes, the exercises in turn" in said(page)
    assert not [word for word in said(page) if word.endswith(" min")]


def test_a_week_stays_whole_and_the_table_s_head_comes_again() -> None:
    pages = pages_of(a_curriculum(["rooms"], 120, 14, minutes=60))
    assert len(pages) > 1 and all({"Week", "Learn", "Settle"} <= set(said(page)) for page in pages)
    weeks = [word for page in pages for word in said(page) if word.isdigit()]
    assert weeks == [str(number) for number in range(1, 15)]
    for page in pages[1:]:
        first = min(word.y for word in page if word.words.isdigit())
        assert all(word.y >= first - 1 for word in page if word.words.startswith("1."))


def test_a_week_that_no_page_can_hold_runs_on() -> None:
    pages = pages_of(a_curriculum(["rooms"], 150, 1, title="A step that has quite a long way to go " * 3))
    numbers = [word for page in pages for word in said(page) if word.startswith("1.")]
    assert len(pages) > 2 and len(numbers) == 150


def test_in_large_type_what_settles_stands_under_what_is_learnt() -> None:
    curriculum = a_curriculum(["rooms"], 2, 3)
    large = a_style(type={"small": 16, "body": 16, "instruction": 16, "leading": 20})
    setting = Setting(large, wording("en"), {})
    pageful = pageful_of(term_plan(curriculum, 1, setting), setting)
    words = [mark for leaf in pageful.leaves for mark in leaf.marks if isinstance(mark, Words)]
    assert "Settle" in said(words)
    assert len({mark.x for mark in words if mark.words == "1.1"}) == 1
