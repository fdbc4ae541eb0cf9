"""What can be asked for on a command line, and what does not go together."""

from __future__ import annotations

from pathlib import Path

import pytest

from typeset.pdf.output import AS_BOOK, Flip, Kind, Output, asked_output
from typeset.pdf.profile import grey_profile


def test_nothing_asked_for_is_a_book() -> None:
    assert asked_output([], "short", None, None) == AS_BOOK
    assert AS_BOOK.ending == ""


@pytest.mark.parametrize("kind", ["press", "booklet", "two-up"])
def test_what_is_asked_for_stands_in_the_file_s_name(kind: str) -> None:
    assert asked_output([kind], "short", None, None).ending == f"-{kind}"


def test_a_booklet_has_its_sheet_and_its_edge() -> None:
    assert asked_output(["booklet"], "long", "a3", None) == Output(Kind.BOOKLET, sheet="a3", flip=Flip.LONG)


def test_a_profile_is_read(tmp_path: Path) -> None:
    file = tmp_path / "house.icc"
    file.write_bytes(grey_profile())
    assert asked_output(["press"], "short", None, file).profile == grey_profile()


@pytest.mark.parametrize(
    ("kinds", "flip", "sheet", "profile", "why"),
    [
        (["press", "booklet"], "short", None, None, "two files"),
        ([], "sideways", None, None, "short or long"),
        ([], "short", "a3", None, "--booklet or --two-up"),
        (["booklet"], "short", "a33", None, "no paper 'a33'"),
        (["booklet"], "short", None, Path("house.icc"), "goes with --press"),
        (["press"], "short", None, Path("nowhere.icc"), "cannot be read"),
        (["press"], "short", None, Path(__file__), "no ICC profile"),
    ],
)
def test_what_does_not_go_together_is_told(
    kinds: list[str], flip: str, sheet: str | None, profile: Path | None, why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        asked_output(kinds, flip, sheet, profile)


@pytest.mark.parametrize(("kind", "sheets"), [(Kind.BOOK, 0), (Kind.PRESS, 0), (Kind.BOOKLET, 5), (Kind.TWO_UP, 5)])
def test_four_pages_go_on_a_sheet(kind: Kind, sheets: int) -> None:
    assert Output(kind).sheets(18) == sheets
