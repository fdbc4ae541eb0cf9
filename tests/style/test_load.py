"""Loading styles, and what is said about a wrong one."""

from pathlib import Path

import pytest

from typeset.problem import BookError, Mark
from typeset.shipped import shelf
from typeset.style import Style, load_style, style_names


def said_about(folder: Path, text: str) -> list[str]:
    (folder / "mine.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(BookError) as error:
        load_style("mine", folder)
    return [str(problem).removeprefix(f"{folder}/") for problem in error.value.problems]


@pytest.mark.parametrize("file", sorted(shelf("styles").glob("*.yaml")), ids=lambda file: file.stem)
def test_a_shipped_style_loads(file: Path) -> None:
    assert load_style(file.stem).name == file.stem


def test_a_name_is_found_beside_the_book_before_the_shipped_ones(tmp_path: Path) -> None:
    (tmp_path / "a4-workbook.yaml").write_text("spacing: {measure: 150}\n")
    assert load_style("a4-workbook", tmp_path).spacing.measure == 150
    assert load_style("a4-workbook").spacing.measure == 164


def test_a_style_based_on_another_changes_only_what_it_says(tmp_path: Path) -> None:
    text = "based-on: a4-workbook\nspacing: {slot: 4}\nlines: {counting: none}\n"
    (tmp_path / "mine.yaml").write_text(text)
    mine, base = load_style("mine", tmp_path), load_style("a4-workbook")
    assert mine.spacing.slot == 4 and mine.spacing.measure == base.spacing.measure
    assert mine.lines.counting == "none" and mine.lines.sticking == "below"


def test_hyphened_keys_and_text_become_attributes_and_numbers(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("staff: {repeated-bars: yes, height: '7.5'}\ncounts: {8ths: und}\n")
    style = load_style("mine", tmp_path)
    assert style.staff.repeated_bars is True
    assert style.staff.height == 7.5
    assert style.counts.eighths == ("und",)


def test_a_style_is_hashable_and_cannot_be_changed() -> None:
    style = load_style("a4-workbook")
    assert hash(style) == hash(load_style("a4-workbook"))
    with pytest.raises(ValueError):
        style.staff.height = 3  # type: ignore[misc]


def test_all_mistakes_come_at_once_with_their_places(tmp_path: Path) -> None:
    text = "papre: a4\nstaff:\n  height: tall\n  stem: up\nlines: {sticking: left}\n"
    assert said_about(tmp_path, text) == [
        "mine.yaml:1:1: 'papre' is no key here; did you mean paper?",
        "mine.yaml:3:11: height: 'tall' is no number; lengths are millimetres, type is points, no unit",
        "mine.yaml:4:3: 'stem' is no key here; did you mean stems?",
        "mine.yaml:5:19: sticking: 'left' is not one of below, above, none",
    ]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("paper: a44\n", "1:8: 'a44' is no paper; say a3, a4, a5, letter, tabloid, or a width and a height"),
        ("staff: 7\n", "1:8: staff holds keys of its own: height, stems, repeated-bars"),
        ("staff:\n", "1:1: 'staff' has no value; give one or leave it out"),
        ("staff: {height: 7}\nstaff: {height: 8}\n", "2:1: 'staff' is here a second time"),
        ("staff: {height: -1}\n", "1:17: height: -1 is out of reach; it is more than 0"),
        (
            "lines: {counting: !none x}\n",
            "1:19: '!none' is a YAML tag; put quotes round it to mean it as text",
        ),
        ("staff: {repeated-bars: maybe}\n", "1:24: repeated-bars: say yes or no, not 'maybe'"),
        ("based-on: a4-workbok\n", "1:11: there is no style 'a4-workbok'; did you mean a4-workbook?"),
        ("based-on: mine\n", "1:11: 'mine' is itself based on this style"),
        (
            "staff: [\n",
            "2:1: this is no YAML (expected the node content, but found '<stream end>'); look at the quotes, colons and indents here",
        ),
        ("- a4\n", "1:1: keys with values are expected here, as in paper: a4"),
        (
            "counts: {16ths: [e, und]}\n",
            "1:9: 4 slots to a number have 3 between the numbers, not the 2 of [e, und]",
        ),
        (
            "spacing: {measure: 200}\n",
            "1:1: inner and outer margin, the widest gutter and the measure take 240 mm; the paper is 210 mm wide",
        ),
    ],
)
def test_a_mistake_is_named_with_its_remedy(tmp_path: Path, text: str, message: str) -> None:
    assert said_about(tmp_path, text) == [f"mine.yaml:{message}"]


def test_a_mistake_in_the_base_is_placed_in_the_base(tmp_path: Path) -> None:
    (tmp_path / "below.yaml").write_text("staff:\n  height: no\n")
    assert said_about(tmp_path, "based-on: below\n")[0].startswith("below.yaml:2:11: ")


def test_an_unknown_style_is_reported_where_it_was_asked_for() -> None:
    with pytest.raises(BookError) as error:
        load_style("a5-nothing", asked_at=Mark(Path("book.yaml"), 7, 8))
    assert str(error.value.problems[0]).startswith("book.yaml:7:8: there is no style 'a5-nothing'")


def test_the_names_are_the_shipped_ones_and_those_beside_the_book(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("paper: a5\n")
    assert {"mine", "a4-workbook", "letter-workbook"} <= set(style_names(tmp_path))


def test_the_gutter_grows_with_the_book_up_to_its_most() -> None:
    gutter = Style(name="x").margins.gutter
    assert [gutter.of(pages) for pages in (0, 49, 50, 100, 1000)] == [0, 0, 1, 2, 8]


def test_the_spacing_knows_its_staff(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("staff: {height: 8}\n")
    assert load_style("mine", tmp_path).spacing.staff_space == 2
    assert load_style("a4-workbook").spacing.staff_space == 6.2 / 4
