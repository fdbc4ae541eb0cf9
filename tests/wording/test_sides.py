from typeset.wording.sides import sided, with_sides


def test_sides_are_words_with_a_capital_where_a_sentence_begins() -> None:
    assert with_sides("{right} first. {left}, then the {right}.", "right", "left") == (
        "Right first. Left, then the right."
    )
    assert with_sides("*the* {right} hand", "left", "right") == "*the* left hand"


def test_in_a_left_handed_copy_they_change_places() -> None:
    assert sided("The {right} hand leads.", "en", is_mirrored=False) == "The right hand leads."
    assert sided("The {right} hand leads.", "en", is_mirrored=True) == "The left hand leads."
