"""Puts what a step says into the words of a language."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from ..pattern.limb import Limb
from ..pattern.sentence import Sentence
from ..pattern.sound import Sound
from ..pattern.stroke import Dynamic, Slot, Stroke
from .forms import form_of
from .lettering import AS_WRITTEN, Lettering
from .values import Words, words_of


def say(sentence: Sentence, language: str = "en", lettering: Lettering = AS_WRITTEN) -> str:
    """A step's sentence in a language, with a capital at its start; in English where that language lacks it."""
    values = tuple(sentence.values.items())
    return _said(sentence.step, sentence.form, sentence.english, values, language, lettering)


@lru_cache(maxsize=4096)
def _said(
    step: str, form: str, english: str, values: tuple[tuple[str, Any], ...], language: str, lettering: Lettering
) -> str:
    """A sentence in words: a book says many of them again and again."""
    words = words_of(language, lettering)
    template = words.entries["steps"].get(step, {}).get(form, english)
    said = words.fill(template, dict(values))
    return f"{said[0].upper()}{said[1:]}"


def say_value(value: Any, language: str = "en", lettering: Lettering = AS_WRITTEN) -> str:
    """A value of the music in words, as it would stand in a sentence."""
    return words_of(language, lettering).say(value)


def task_words(kind: str, language: str = "en") -> dict[str, str]:
    """What a kind of task is called, asks and accepts."""
    return dict(words_of(language).entries["tasks"][kind])


def say_change(before: Slot, after: Slot, language: str = "en") -> tuple[str, str]:
    """What is played in one slot before and after a change, in words; how loud only where that matters."""
    words = words_of(language)
    how = any(stroke.dynamic is not Dynamic.PLAIN for stroke in (*before, *after))
    return _slot(before, how, words), _slot(after, how, words)


def limb_name(limb: Limb, language: str = "en") -> str:
    """What a limb is called."""
    return form_of(words_of(language).entries["limbs"][limb.value], "name")


def sound_word(sound: Sound, language: str = "en") -> str:
    """What a sound is called, without an article."""
    return form_of(words_of(language).entries["sounds"][sound.name], "name")


def _slot(slot: Slot, how: bool, words: Words) -> str:
    """Every stroke of a slot: whose, on what, and how where that is asked for."""
    forms = words.entries["tasks"]
    return str(forms["together"]).join(_stroke(stroke, how, words) for stroke in slot) or str(forms["silence"])


def _stroke(stroke: Stroke, how: bool, words: Words) -> str:
    said = words.playing(words.entries["limbs"][stroke.limb.value], stroke.sound)
    return f"{said}, {words.entries['tasks'][stroke.dynamic.value]}" if how else said
