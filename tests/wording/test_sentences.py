"""Sentences in the letters of a style and in the forms of a language."""

import pytest

from typeset.pattern.counts import Place
from typeset.pattern.limb import Limb
from typeset.pattern.order import read_order
from typeset.pattern.selection import Selection
from typeset.pattern.sentence import Each, Parts, Sentence, Written
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import Source
from typeset.pattern.steps.dynamics import Ghost
from typeset.pattern.steps.layering import Ornamented
from typeset.pattern.steps.voicing import Move
from typeset.style import load_style
from typeset.style.music import Counts, Letters
from typeset.wording.lettering import AS_WRITTEN, Lettering
from typeset.wording.sentences import say, say_value

FRENCH = Lettering(("D", "G", "GC", "CH"), ("i", "et", "a", "ri", "ole"))
ONE = Selection(at=(Place.parse("2|4"),))
TWO = Selection(at=(Place.parse("1"), Place.parse("3&")))
TOMS = (SOUNDS["high-tom"], SOUNDS["floor-tom"])


def test_an_order_is_written_in_the_style_s_letters() -> None:
    assert FRENCH.order_alone(read_order("R l R!+K . H")) == "D g D!+GC – CH"
    assert say_value(Each("orders", read_order("R L K")), "fr", FRENCH) == "D G GC"


def test_so_are_orders_in_a_sentence_where_they_are_not_called_anything() -> None:
    orders = (Source("R L", read_order("R L")), Source("x", read_order("L"), "the flam"), Source("y", number="1.2"))
    sentence = Sentence("join", "plain", "", {"orders": Written(orders)})
    assert say(sentence, "de", FRENCH) == "Spiel nacheinander: D G, den Flam, Nr. 1.2."


def test_a_count_has_the_style_s_syllable_where_that_is_one() -> None:
    places = tuple(map(Place.parse, ("1", "2e", "3&", "4trip", "3.2")))
    assert say_value(places, "fr", FRENCH) == "1, 2i, 3et, 4ri et 3.2"
    in_figures = Lettering(syllables=("2", "&", "4", ".", "."))
    assert say_value(places, "fr", in_figures) == "1, 2e, 3&, 4trip et 3.2"


def places(*written: str) -> tuple[Place, ...]:
    return tuple(map(Place.parse, written))


@pytest.mark.parametrize(
    ("language", "of_one_bar", "of_two"),
    [
        ("en", "3e, 3& and 3a in bar 2", "1 and 3 in bar 1, and 4 in bar 2"),
        ("de", "3e, 3& und 3a in Takt 2", "1 und 3 in Takt 1 sowie 4 in Takt 2"),
        ("es", "el 3e, el 3& y el 3a del compás 2", "el 1 y el 3 del compás 1, y el 4 del compás 2"),
        ("fr", "3e, 3& et 3a de la mesure 2", "1 et 3 de la mesure 1 ainsi que 4 de la mesure 2"),
        ("pt", "3e, 3& e 3a do compasso 2", "1 e 3 do compasso 1, e 4 do compasso 2"),
    ],
)
def test_places_of_a_bar_are_listed_with_the_bar_said_once(language: str, of_one_bar: str, of_two: str) -> None:
    assert say_value(places("2|3e", "2|3&", "2|3a"), language) == of_one_bar
    assert say_value(places("1|1", "2|4", "1|3"), language) == of_two


def test_a_place_in_every_bar_is_told_from_one_in_a_bar_of_its_own() -> None:
    assert say_value(places("1", "2|3")) == "1 in every bar and 3 in bar 2"
    assert say_value(places("1", "3")) == "1 and 3"


def test_lettering_is_read_off_a_style() -> None:
    style = load_style("a4-workbook")
    assert Lettering.of(style) == AS_WRITTEN
    own = {
        "letters": Letters(right="D"),
        "counts": Counts.model_validate({"16ths": ("i", "et", "a"), "8ths": ("et",)}),
    }
    assert Lettering.of(style.model_copy(update=own)) == Lettering(
        ("D", "L", "K", "H"), ("i", "et", "a", "trip", "let")
    )


@pytest.mark.parametrize(
    ("language", "one", "many"),
    [
        ("de", "als Ghost Note.", "als Ghost Notes."),
        ("es", "como nota fantasma.", "como notas fantasma."),
        ("fr", "en note fantôme.", "en notes fantômes."),
        ("pt", "como nota fantasma.", "como notas fantasma."),
    ],
)
def test_a_sentence_agrees_with_how_many_strokes_it_is_about(language: str, one: str, many: str) -> None:
    assert say(Ghost(ONE).sentence(), language).endswith(one)
    assert say(Ghost(TWO).sentence(), language).endswith(many)
    assert say(Ghost(Selection(limb=(Limb.LEFT,), every=3)).sentence(), language).endswith(one)


@pytest.mark.parametrize(
    ("language", "moved", "dragged"),
    [
        ("de", "auf das hohe Tom und das Standtom.", "Setze einen Drag vor den Schlag auf 4 in Takt 2."),
        ("es", "al tom agudo y al tom base, por turno.", "Pon un drag antes del golpe en el 4 del compás 2."),
        (
            "fr",
            "vers le tom aigu et le tom basse, à tour de rôle.",
            "Mettez un ra avant la frappe sur 4 de la mesure 2.",
        ),
        ("pt", "para o tom agudo e o tom de chão, à vez.", "Ponha um drag antes do golpe em 4 do compasso 2."),
    ],
)
def test_cases_and_prepositions_are_those_of_the_language(language: str, moved: str, dragged: str) -> None:
    assert say(Move(TWO, TOMS).sentence(), language).endswith(moved)
    assert say(Ornamented(ONE, "drag").sentence(), language) == dragged


def test_a_part_of_a_phrase_has_the_case_that_its_sentence_asks_for() -> None:
    first_bar = Parts((("1.1", 1, 1),))
    phrase = Sentence("phrase", "plain", "", {"parts": first_bar})
    endings = Sentence("endings", "plain", "", {"before": (first_bar,), "last": Parts((("1.2", None, 1),))})
    assert say(phrase, "de") == "Spiel den ersten Takt von Nr. 1.1."
    assert (
        say(endings, "de") == "Schließe beim ersten Mal mit dem ersten Takt von Nr. 1.1, beim zweiten mit Nr. 1.2."
    )


def test_a_title_in_a_heading_has_no_article() -> None:
    called = Source("x", (), "the samba feet")
    own = Source("x", (), "the long way round")
    assert [say_value(Each("sequence", one)) for one in (called, own)] == ["samba feet", "long way round"]
    assert say_value(Each("sequence", called), "de") == "Sambafüße"
