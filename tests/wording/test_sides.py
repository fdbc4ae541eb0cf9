import pytest

from typeset.wording import wording
from typeset.wording.sides import sided, with_sides

ENGLISH = wording("en")


def test_sides_are_words_with_a_capital_where_a_sentence_begins() -> None:
    assert with_sides("{right} first. {left}, then the {right}.", ENGLISH, is_mirrored=False) == (
        "Right first. Left, then the right."
    )
    assert with_sides("*the* {right} hand", ENGLISH, is_mirrored=True) == "*the* left hand"


def test_in_a_left_handed_copy_they_change_places() -> None:
    assert sided("The {right} hand leads.", "en", is_mirrored=False) == "The right hand leads."
    assert sided("The {right} hand leads.", "en", is_mirrored=True) == "The left hand leads."


@pytest.mark.parametrize(
    ("language", "text", "said"),
    [
        ("de", "Die {right}e Hand, dann {left} mit der {left}en.", "Die rechte Hand, dann links mit der linken."),
        ("es", "La {right}, y el pie {left}o.", "La derecha, y el pie izquierdo."),
        ("fr", "La {right}, du côté {left}.", "La droite, du côté gauche."),
        ("pt", "Mão {left}, pé {left}o.", "Mão esquerda, pé esquerdo."),
        ("en", "{right}-handed, {right}wards.", "Right-handed, rightwards."),
    ],
)
def test_an_ending_joins_the_stem(language: str, text: str, said: str) -> None:
    assert sided(text, language, is_mirrored=False) == said
