"""An order in letters."""

from typeset.page.orders import letters_of
from typeset.style import load_style

from .made import slot


def test_an_order_is_its_letters_with_a_plus_for_together_and_a_dash_for_silence() -> None:
    letters = load_style("a4-workbook").letters
    assert letters_of([slot("R"), slot("."), slot("R+K")], letters) == ("R", "–", "R+K")
