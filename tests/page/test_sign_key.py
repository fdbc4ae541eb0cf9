"""The key of signs: what is on a handout and nothing else, in a few lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from typeset.compose.book import Exercise, Sign
from typeset.compose.sheet import Sheet
from typeset.compose.specimens import specimens_of
from typeset.page.marks import Music, Words
from typeset.page.setting import Setting
from typeset.page.sign_key import SignKey, sign_key
from typeset.pattern.stroke import Dynamic
from typeset.style import Style, load_style
from typeset.wording import wording

from .made import an_exercise, bars_of, fake_block, system_of

STYLE = load_style("a4-handout")
EVERY_ROOM = 1000.0


def a_sheet(exercises: Sequence[Exercise], signs: Sequence[Sign] = ()) -> Sheet:
    shown = specimens_of(exercises)
    return Sheet("", None, tuple(exercises), "", None, "en", None, specimens=shown, signs=tuple(signs))


def key_of(
    sheet: Sheet, style: Style = STYLE, room: float = EVERY_ROOM, language: str = "en", **lines: str
) -> SignKey | None:
    style = style.model_copy(update={"lines": style.lines.model_copy(update=lines)})
    blocks = {one: fake_block(one) for one in sheet.engravings}
    return sign_key(sheet, room, Setting(style, wording(language), blocks))


def said(key: SignKey | None) -> list[str]:
    assert key is not None
    return [mark.words for mark in key.marks if isinstance(mark, Words)]


def with_accents(exercise: Exercise) -> Exercise:
    pattern = exercise.pattern
    loud = [tuple(replace(stroke, dynamic=Dynamic.ACCENT) for stroke in slot) for slot in pattern.slots]
    return replace(exercise, pattern=pattern.with_slots(loud))


def test_it_has_the_letters_the_sounds_and_the_signs_of_the_sheet_and_no_others() -> None:
    plain = an_exercise("1.1", "R R L .")
    assert said(key_of(a_sheet([plain]))) == [
        "Key", "R", "right hand", "L", "left hand", "a", "counted, not played", "snare",
    ]  # fmt: skip
    accented = with_accents(an_exercise("1.2", "K"))
    key = key_of(a_sheet([accented]))
    assert said(key) == ["Key", "K", "kick foot", "bass drum", "accent"]
    assert key and sum(isinstance(mark, Music) for mark in key.marks) == 2


def test_what_the_style_does_not_print_is_not_explained() -> None:
    sheet = a_sheet([an_exercise("1.1", "R L .")])
    assert said(key_of(sheet, sticking="none", counting="none")) == ["Key", "snare"]


def test_counts_that_are_all_of_one_grey_are_not_told_apart() -> None:
    greys = STYLE.greys.model_copy(update={"silent": STYLE.greys.text})
    sheet = a_sheet([an_exercise("1.1", "R L .")])
    assert "counted, not played" not in said(key_of(sheet, STYLE.model_copy(update={"greys": greys})))


def test_signs_and_marks_of_change_are_named() -> None:
    changed = an_exercise("1.1", "R L", changed=(1,))
    endings = Sign("endings", system_of(bars_of("R L")))
    assert said(key_of(a_sheet([changed], [endings])))[-3:] == ["e", "new here", "endings, each on its own pass"]


def test_where_there_is_little_room_signs_are_left_out_then_sounds_and_then_all_of_it() -> None:
    endings = Sign("endings", system_of(bars_of("R L")))
    sheet = a_sheet([with_accents(an_exercise("1.1", "R L K H R+K L . H"))], [endings])
    whole = key_of(sheet)
    assert whole is not None and said(whole)[-2:] == ["accent", "endings, each on its own pass"]
    less = key_of(sheet, room=whole.height - 1)
    assert less is not None and "snare" in said(less) and said(less)[-1] == "accent"
    least = key_of(sheet, room=less.height - 1)
    assert least is not None and "snare" not in said(least) and said(least)[-1] == "accent"
    assert key_of(sheet, room=least.height - 1) is None


def test_it_is_in_the_language_of_the_sheet() -> None:
    key = key_of(a_sheet([with_accents(an_exercise("1.1", "R"))]), language="de")
    assert said(key) == ["Legende", "R", "rechte Hand", "Snare (kleine Trommel)", "Akzent"]


def test_its_lines_stay_within_the_measure() -> None:
    sheet = a_sheet([with_accents(an_exercise("1.1", "R L K H . R+K+H"))])
    setting = Setting(STYLE, wording("en"), {})
    key = key_of(sheet)
    assert key is not None
    assert (
        len({mark.y for mark in key.marks if isinstance(mark, Words) and mark.font == setting.letters.regular}) > 1
    )
    assert all(mark.x < setting.measure for mark in key.marks if isinstance(mark, Words))
