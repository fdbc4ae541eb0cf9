"""Puts what a step says into the words of a language."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from ..pattern.counts import Place
from ..pattern.grid import Grid
from ..pattern.limb import Limb
from ..pattern.order import write_order
from ..pattern.selection import Selection
from ..pattern.sentence import Bars, Each, Ordinal, Pairs, Parts, Sentence, Slots, Strokes, Times, Written
from ..pattern.sound import Sound
from ..pattern.steps import Source
from ..pattern.stroke import Dynamic, Slot, Stroke

_FOLDER = Path(__file__).parent / "sentences"
_OBVIOUS = {(Limb.KICK, "kick"), (Limb.HAT, "hi-hat-foot")}


def say(sentence: Sentence, language: str = "en") -> str:
    """A step's sentence in a language, with a capital at its start; in English where that language lacks it."""
    words = _Words.of(language)
    template = words.entries["steps"].get(sentence.step, {}).get(sentence.form, sentence.english)
    said = template.format_map({name: words.say(value) for name, value in sentence.values.items()})
    return f"{said[0].upper()}{said[1:]}"


def say_value(value: Any, language: str = "en") -> str:
    """A value of the music in words, as it would stand in a sentence."""
    return _Words.of(language).say(value)


def task_words(kind: str, language: str = "en") -> dict[str, str]:
    """What a kind of task is called, asks and accepts."""
    return dict(_Words.of(language).entries["tasks"][kind])


def say_change(before: Slot, after: Slot, language: str = "en") -> tuple[str, str]:
    """What is played in one slot before and after a change, in words; how loud only where that matters."""
    words = _Words.of(language)
    how = any(stroke.dynamic is not Dynamic.PLAIN for stroke in (*before, *after))
    return words.slot(before, how), words.slot(after, how)


def limb_name(limb: Limb, language: str = "en") -> str:
    """What a limb is called."""
    return str(_Words.of(language).entries["limbs"][limb.value])


def sound_word(sound: Sound, language: str = "en") -> str:
    """What a sound is called, without an article."""
    return str(_Words.of(language).entries["selection"]["sound"][sound.name]).strip()


def _entries(language: str) -> dict[str, Any]:
    """A language's catalogue; empty where there is none, so that English is printed."""
    file = _FOLDER / f"{language}.yaml"
    if not file.exists():
        return {}
    with file.open(encoding="utf-8") as catalogue:
        entries: dict[str, Any] = yaml.load(catalogue, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return entries


def _laid_over(below: dict[str, Any], above: dict[str, Any]) -> dict[str, Any]:
    """A catalogue with the gaps of another filled."""
    laid = {**below, **above}
    for key in below.keys() & above.keys():
        if isinstance(below[key], dict) and isinstance(above[key], dict):
            laid[key] = _laid_over(below[key], above[key])
    return laid


class _Words:
    """One language's words for the values of the music."""

    def __init__(self, entries: Mapping[str, Any]) -> None:
        self.entries = entries

    @classmethod
    @lru_cache
    def of(cls, language: str) -> _Words:
        entries = _entries("en")
        return cls(entries if language == "en" else _laid_over(entries, _entries(language)))

    def say(self, value: Any) -> str:
        """One value of a sentence in words."""
        match value:
            case Selection():
                return self.selection(value)
            case Sound():
                return str(self.entries["sounds"][value.name])
            case Limb():
                return str(self.entries["limb"]).format(limb=self.entries["limbs"][value.value])
            case Place():
                return self.place(value)
            case Ordinal():
                return self.ordinal(value.number)
            case Times():
                return self.times(value.number)
            case Bars(number=None):
                return str(self.entries["bars"]["open"])
            case Bars() | Slots() | Strokes():
                forms = self.entries[type(value).__name__.lower()]
                return self.counted(forms, value.number or 0)
            case Grid():
                return self.listed(str(self.entries["grids"][name]) for name in value.names)
            case Pairs():
                return self.pairs(value)
            case Parts():
                return str(self.entries["phrase"]["next"]).join(self.part(*part) for part in value.parts)
            case Each():
                return self.each(value)
            case Written():
                return str(self.entries["list"]["comma"]).join(value.orders)
            case Source():
                return value.said or write_order(value.order)
            case tuple():
                return self.listed(self.say(each) for each in value)
            case int() if not isinstance(value, bool):
                return self.number(value)
        return str(value)

    def part(self, number: str, bars: int | None, times: int) -> str:
        """A part of a phrase."""
        forms = self.entries["phrase"]
        form = "all" if bars is None else "first-bar" if bars == 1 else "first-bars"
        said = str(forms[form]).format(number=number, bars=self.number(bars or 0))
        return said if times == 1 else said + forms["times"].format(times=self.times(times))

    def each(self, each: Each) -> str:
        """What makes a member of a series differ."""
        forms, value = self.entries["each"], each.value
        match each.key:
            case "rotate":
                said = str(value + 1)
            case "accents":
                form = forms["accents"]["one" if len(value.at) == 1 else "many"]
                return str(form).format(value=self.selection_parts(value)["at"])
            case "orders":
                said = write_order(value)
            case "voice":
                said = self.say(Pairs(value.sounds))
            case "displace":
                if value == 0:
                    return str(forms["not-displaced"])
                said = self.counted(self.entries["slots"], value)
            case _:
                said = self.say(value)
        return str(forms[each.key]).format(value=said)

    def slot(self, slot: Slot, how: bool) -> str:
        """Every stroke of a slot: whose, on what, and how where that is asked for."""
        forms = self.entries["tasks"]
        return str(forms["together"]).join(self.stroke(stroke, how) for stroke in slot) or str(forms["silence"])

    def stroke(self, stroke: Stroke, how: bool) -> str:
        """One stroke: whose, on what, and how where that is asked for."""
        said = str(self.entries["pairs"]["sound"]).format(
            limb=self.entries["limbs"][stroke.limb.value], sound=self.say(stroke.sound)
        )
        return f"{said}, {self.entries['tasks'][stroke.dynamic.value]}" if how else said

    def number(self, number: int) -> str:
        """A number, in words while it is small."""
        words = self.entries["numbers"]
        return str(words[number] if 0 <= number < len(words) else number)

    def ordinal(self, number: int) -> str:
        words = self.entries["ordinals"]
        return str(words[number] if number < len(words) else self.entries["ordinal-beyond"].format(n=number))

    def times(self, number: int) -> str:
        words = self.entries["times"]
        if number < len(words):
            return str(words[number])
        return str(self.entries["times-beyond"]).format(number=self.number(number))

    def counted(self, forms: Mapping[str, str], number: int) -> str:
        return forms["one"] if number == 1 else forms["many"].format(number=self.number(number))

    def listed(self, values: Iterable[str]) -> str:
        """Several things, one after the other, with 'and' before the last."""
        *before, last = values
        if not before:
            return last
        comma, joint = self.entries["list"]["comma"], self.entries["list"]["last"]
        return f"{comma.join(before)}{joint}{last}"

    def place(self, place: Place) -> str:
        if place.bar is None:
            return place.count
        return str(self.entries["place-in-bar"]).format(count=place.count, bar=place.bar)

    def pairs(self, pairs: Pairs) -> str:
        if isinstance(pairs.pairs[0][1], Limb):
            limbs = self.entries["limbs"]
            form = self.entries["pairs"]["limb"]
            return self.listed(form.format(first=limbs[a.value], second=limbs[b.value]) for a, b in pairs.pairs)
        form = self.entries["pairs"]["sound"]
        comma: str = self.entries["list"]["comma"]
        return comma.join(form.format(limb=who, sound=self.say(sound)) for who, sound in self.players(pairs))

    def players(self, pairs: Pairs) -> list[tuple[str, Sound]]:
        """Who plays what, both hands together where they play the same, the obvious left unsaid."""
        said = [pair for pair in pairs.pairs if pairs.full or (pair[0], pair[1].name) not in _OBVIOUS]
        said = said or list(pairs.pairs)
        sounds = dict(said)
        players: list[tuple[str, Sound]] = []
        together = Limb.RIGHT in sounds and sounds.get(Limb.RIGHT) == sounds.get(Limb.LEFT)
        if together:
            players.append((self.entries["both-hands"], sounds[Limb.RIGHT]))
        for limb, sound in said:
            if not (together and limb.is_hand):
                players.append((self.entries["limbs"][limb.value], sound))
        return players

    def selection(self, chosen: Selection) -> str:
        """Which strokes are meant."""
        forms = self.entries["selection"]
        parts = self.selection_parts(chosen)
        if not any(parts.values()) and (chosen.every or 1) == 1:
            return str(forms["all"])
        if chosen.every and chosen.every > 1:
            return str(forms["every"].format(nth=self.ordinal(chosen.every), **parts))
        single = len(chosen.at) == 1 or len(chosen.strokes) == 1
        return str(forms["one" if single else "many"].format(**parts))

    def selection_parts(self, chosen: Selection) -> dict[str, str]:
        forms = self.entries["selection"]
        run = ""
        if chosen.run:
            run = forms["run-alone"] if chosen.run == 1 else forms["run"].format(number=self.number(chosen.run))
        return {
            "dynamic": self.adjectives(forms["dynamic"][dynamic.value] for dynamic in chosen.dynamic),
            "limb": self.limbs(chosen.limb),
            "sound": self.adjectives(forms["sound"][sound.name] for sound in chosen.sound),
            "at": forms["at"].format(places=self.listed(map(self.place, chosen.at))) if chosen.at else "",
            "run": run,
            "strokes": forms["strokes"] if chosen.strokes else "",
            "nths": self.adjectives(map(self.ordinal, chosen.strokes)),
            "bars": self.numbered(forms["bars"], chosen.in_bars),
        }

    def limbs(self, limbs: tuple[Limb, ...]) -> str:
        """Whose strokes are meant; both hands have a word of their own."""
        forms = self.entries["selection"]
        if set(limbs) == {Limb.RIGHT, Limb.LEFT}:
            return str(forms["hands"])
        return self.adjectives(forms["limb"][limb.value] for limb in limbs)

    def adjectives(self, values: Iterable[str]) -> str:
        """A list of words that each begin with a space, as one that begins with a space; '' for none."""
        words = [value.strip() for value in values]
        return f" {self.listed(words)}" if words else ""

    def numbered(self, forms: Mapping[str, str], numbers: tuple[int, ...]) -> str:
        if not numbers:
            return ""
        return forms["one" if len(numbers) == 1 else "many"].format(numbers=self.listed(map(str, numbers)))
