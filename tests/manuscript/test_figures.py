import shutil
from pathlib import Path

import pytest

from typeset.manuscript.figures import KITS, PLAYERS, read_figures, standard_figures
from typeset.pattern.sound import SOUNDS
from typeset.problem import BookError, Mark
from typeset.shipped import shelf


@pytest.fixture
def beside(tmp_path: Path) -> Path:
    """A book's folder with its own copy of the shipped figures."""
    for name in ("players.yaml", "levels.yaml"):
        shutil.copy(shelf("shared") / name, tmp_path)
    shutil.copytree(shelf("shared") / "kits", tmp_path / "kits")
    return tmp_path


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def complaint(beside: Path) -> str:
    with pytest.raises(BookError) as caught:
        read_figures(beside)
    (problem,) = caught.value.problems
    return f"{problem.mark.file.name}:{problem.mark.line}:{problem.mark.column}: {problem.what}"


def line_of(file: Path, text: str) -> int:
    """The line that a text first stands in, counted from 1."""
    return file.read_text(encoding="utf-8").partition(text)[0].count("\n") + 1


def test_the_shipped_figures_hold_three_players_and_three_kits() -> None:
    figures = standard_figures()
    assert tuple(figures.players) == PLAYERS
    assert set(figures.kits) == set(KITS)
    assert figures.player is figures.players["intermediate"]
    assert figures.kit is figures.kits["five-piece"]


def test_milliseconds_become_microseconds() -> None:
    assert standard_figures().players["beginner"].hand.alternating == 318_000


def test_every_figure_of_a_better_player_is_shorter() -> None:
    beginner, intermediate, advanced = standard_figures().players.values()
    for limb in ("hand", "kick", "hat"):
        for name in ("alternating", "rebound", "repeated", "ghost"):
            times = [getattr(getattr(one, limb), name) for one in (beginner, intermediate, advanced)]
            assert times == sorted(set(times), reverse=True)
    for name in ("grace", "drag", "buzz", "reach", "bit"):
        times = [getattr(one, name) for one in (beginner, intermediate, advanced)]
        assert times == sorted(set(times), reverse=True)


def test_the_page_about_levels_quotes_the_shipped_figures() -> None:
    page = (Path(__file__).parents[2] / "docs" / "levels.md").read_text(encoding="utf-8")
    rows = {
        cells[0].strip(): cells[2:] for line in page.splitlines() if len(cells := line.strip("| ").split("|")) == 5
    }
    figures = standard_figures()
    for name in ("alternating", "rebound", "repeated", "ghost", "grace", "drag", "buzz"):
        for quoted, player in zip(rows[name], figures.players.values(), strict=True):
            assert int(quoted.strip(" ms")) * 1000 == getattr(player, name, getattr(player.hand, name, None))
    for name, share in figures.weights.shares.items():
        quoted = [float(cell) for cell in rows[name.replace("_", "-")]]
        assert quoted == [share.begins, share.full, share.weight]
    assert all(f"{begins:g}" in page for begins in figures.weights.sums)


def test_what_a_kit_lacks_is_played_on_something_else() -> None:
    three = standard_figures().kits["three-piece"]
    assert set(three.targets) == set(SOUNDS)
    assert three.targets["high-tom"] == three.targets["floor-tom"]


def test_figures_beside_the_book_take_the_place_of_the_shipped_ones(beside) -> None:
    change(beside / "players.yaml", "beginner: 318", "beginner: 400.5")
    change(beside / "kits" / "five-piece.yaml", "crossing: 45", "crossing: 30")
    figures = read_figures(beside)
    assert figures.players["beginner"].hand.alternating == 400_500
    assert figures.kit.crossing == 30


def test_a_book_without_figures_of_its_own_has_the_shipped_ones(tmp_path) -> None:
    assert read_figures(tmp_path) == standard_figures()


def test_a_kit_of_another_name_joins_the_shipped_ones(tmp_path) -> None:
    (tmp_path / "kits").mkdir()
    shutil.copy(shelf("shared") / "kits" / "four-piece.yaml", tmp_path / "kits" / "practice-pads.yaml")
    assert set(read_figures(tmp_path).kits) == {*KITS, "practice-pads"}


def test_a_figure_that_is_no_number_is_marked(beside) -> None:
    change(beside / "players.yaml", "beginner: 318", "beginner: quick")
    line = line_of(beside / "players.yaml", "quick")
    assert complaint(beside) == f"players.yaml:{line}:15: beginner: 'quick' is no number"


def test_a_figure_without_its_source_is_marked(beside) -> None:
    change(beside / "players.yaml", "    from: >-\n      One hand", "    because: >-\n      One hand")
    with pytest.raises(BookError, match="'from' is missing here") as caught:
        read_figures(beside)
    figure, key = (line_of(beside / "players.yaml", text) for text in ("    beginner: 318", "    because"))
    assert [problem.mark.line for problem in caught.value.problems] == [figure, key]


def test_an_unknown_key_is_marked(beside) -> None:
    change(beside / "players.yaml", "usual: intermediate", "usual: intermediate\nspeed: high")
    line = line_of(beside / "players.yaml", "speed: high")
    assert complaint(beside) == f"players.yaml:{line}:1: 'speed' is no key here"


def test_a_player_that_does_not_exist_is_refused(beside) -> None:
    change(beside / "players.yaml", "usual: intermediate", "usual: expert")
    line = line_of(beside / "players.yaml", "usual: expert")
    assert complaint(beside).startswith(f"players.yaml:{line}:8: usual: 'expert' is not one of beginner,")


def test_a_kit_that_lacks_a_sound_is_refused(beside) -> None:
    change(beside / "kits" / "four-piece.yaml", "  kick:  ", "  kicks: ")
    assert "'kicks' is no sound" in complaint(beside)


def test_a_sound_played_on_one_without_a_place_is_refused(beside) -> None:
    change(beside / "kits" / "five-piece.yaml", "open-hi-hat:  hi-hat", "open-hi-hat:  bell")
    assert "'open-hi-hat' is played on 'bell', which has no place of its own" in complaint(beside)


def test_weights_that_fall_are_refused(beside) -> None:
    change(
        beside / "levels.yaml",
        "{begins: 1,   full: 6,   weight: 2.0}",
        "{begins: 6,   full: 1,   weight: 2.0}",
    )
    assert "full above that" in complaint(beside)


def test_a_file_that_is_not_yaml_is_marked(beside) -> None:
    (beside / "levels.yaml").write_text("shares: [", encoding="utf-8")
    assert complaint(beside).startswith("levels.yaml:")


def test_all_that_is_wrong_comes_at_once(beside) -> None:
    change(beside / "players.yaml", "usual: intermediate", "usual: expert")
    change(beside / "levels.yaml", "sums: [0.9,", "sums: [none,")
    with pytest.raises(BookError) as caught:
        read_figures(beside)
    assert [problem.mark.file.name for problem in caught.value.problems] == ["players.yaml", "levels.yaml"]


def test_a_book_may_be_for_another_kit() -> None:
    figures = standard_figures().at_kit("three-piece", Mark(Path("book.yaml"), 3, 6))
    assert figures.kit.targets["crash"] == figures.kit.targets["ride"]


def test_a_kit_that_nobody_declared_is_told_where_it_is_named() -> None:
    with pytest.raises(BookError) as told:
        standard_figures().at_kit("four-pice", Mark(Path("book.yaml"), 3, 6))
    assert str(told.value.problems[0]) == (
        "book.yaml:3:6: 'four-pice' is no kit; there are three-piece, four-piece, five-piece; did you mean 'four-piece'?"
    )
