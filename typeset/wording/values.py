"""One language's words for the values of the music: limbs, sounds, places, selections, whole orders."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from ..pattern.counts import Place
from ..pattern.grid import Grid
from ..pattern.limb import Limb
from ..pattern.meter import Meter
from ..pattern.selection import Selection
from ..pattern.sentence import Bars, Beginning, Each, Ordinal, Pairs, Parts, Slots, Strokes, Times, Written
from ..pattern.sound import Sound
from ..pattern.steps import Source
from .catalogue import MANY, Wording, falling_back, wording
from .forms import Entry, Formed, by_ending, filled, form_of, formed
from .lettering import AS_WRITTEN, Lettering

_FOLDER = Path(__file__).parent / "sentences"
_OBVIOUS = {(Limb.KICK, "kick"), (Limb.HAT, "hi-hat-foot")}


@lru_cache
def words_of(language: str, lettering: Lettering = AS_WRITTEN) -> Words:
    """A language's words for the music, in a style's lettering; what its catalogue lacks is English."""
    entries: dict[str, Any] = {}
    for name in falling_back(language):
        entries = _laid_over(entries, _entries(name))
    return Words(entries, wording(language), lettering)


def _entries(name: str) -> dict[str, Any]:
    """A catalogue; empty where there is none."""
    file = _FOLDER / f"{name}.yaml"
    if not file.exists():
        return {}
    with file.open(encoding="utf-8") as catalogue:
        entries: dict[str, Any] = yaml.load(catalogue, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    return entries


_OF_ITS_OWN = {"limbs", "sounds", "grids"}
"""Sections whose entries have forms of each language's own, so that one is never filled from another language."""

_WHOLE = {"ordinal-beyond"}
"""Sections that belong together as a whole."""


def _laid_over(below: dict[str, Any], above: dict[str, Any]) -> dict[str, Any]:
    """A catalogue with the gaps of another filled."""
    laid = {**below, **above}
    for key in (below.keys() & above.keys()) - _WHOLE:
        if isinstance(below[key], dict) and isinstance(above[key], dict):
            laid[key] = {**below[key], **above[key]} if key in _OF_ITS_OWN else _laid_over(below[key], above[key])
    return laid


class Words:
    """One language's words for the values of the music."""

    def __init__(self, entries: Mapping[str, Any], counts: Wording, lettering: Lettering) -> None:
        self.entries = entries
        self.counts = counts
        self.lettering = lettering

    def fill(self, entry: Entry, values: Mapping[str, Any]) -> str:
        """A template with values of the music; where it has forms by number, the one that its strokes take."""
        numbers = (self.number_of(value) for value in values.values() if isinstance(value, Selection))
        words = {name: self.formed(value) for name, value in values.items()}
        return filled(form_of(entry, next(numbers, "")), words)

    def formed(self, value: Any) -> Formed:
        """A value on its way into a template."""
        return Formed(lambda form: self.say(value, form))

    def say(self, value: Any, form: str = "") -> str:
        """One value of a sentence in words, in one of its forms where it has several."""
        entries = self.entries
        match value:
            case Selection():
                return self.selection(value, form)
            case Sound():
                return form_of(entries["sounds"][value.name], form)
            case Limb():
                return form_of(entries["limbs"][value.value], form)
            case Place():
                return self.places((value,))
            case (Place(), *_):
                return self.places(value)
            case Ordinal():
                return self.ordinal(value.number, form)
            case Times():
                return self.times(value.number, form)
            case Bars(number=None):
                return form_of(entries["bars"]["open"], form)
            case Bars() | Slots() | Strokes():
                return self.counted(entries[type(value).__name__.lower()], value.number or 0, form)
            case Grid():
                return self.listed(form_of(entries["grids"][name], form) for name in value.names)
            case Meter():
                return self.meter(value)
            case Pairs():
                return self.pairs(value)
            case Parts():
                return str(entries["phrase"]["next"]).join(self.exercise(*part, form) for part in value.parts)
            case Beginning():
                return self.beginning(value)
            case Each():
                return self.each(value)
            case Written():
                return str(entries["list"]["comma"]).join(self.say(order, form) for order in value.orders)
            case Source():
                return self.source(value, form)
            case tuple():
                return self.listed(self.say(each, form) for each in value)
            case int() if not isinstance(value, bool):
                return self.number(value, form)
        return str(value)

    def meter(self, meter: Meter) -> str:
        """A meter, with its groups where an author has stated them."""
        entry = self.entries["meter"]["grouped" if meter.stated else "plain"]
        groups = "+".join(map(str, meter.groups))
        return filled(entry, {"time": f"{meter.top}/{meter.bottom}", "groups": groups})

    def source(self, source: Source, form: str) -> str:
        """Music that is used by name: an exercise's number, what a sequence is called, or its strokes."""
        if source.number:
            return self.exercise(source.number, form=form)
        if source.said in self.entries["sequences"]:
            return form_of(self.entries["sequences"][source.said], form)
        called = source.said or self.lettering.order(source.order)
        return self.bare(called) if form == "name" else called

    def bare(self, title: str) -> str:
        """A title as it stands in a heading, without the article that a sentence needs."""
        articles = (f"{article} " for article in self.entries["articles"])
        return next((title.removeprefix(one) for one in articles if title.startswith(one)), title)

    def exercise(self, number: str, bars: int | None = None, times: int = 1, form: str = "") -> str:
        """An exercise by its number, or so many of its bars, so many times."""
        forms = self.entries["phrase"]
        entry = forms["all" if bars is None else "first-bar" if bars == 1 else "first-bars"]
        said = filled(form_of(entry, form), {"number": number, "bars": self.formed(bars or 0)})
        return said if times == 1 else said + filled(str(forms["times"]), {"times": self.formed(Times(times))})

    def each(self, each: Each) -> str:
        """What makes a member of a series differ."""
        forms, value = self.entries["each"], each.value
        match each.key:
            case "accents":
                form = forms["accents"][self.number_of(value)]
                return filled(str(form), {"value": self.selection_parts(value)["at"]})
            case "orders":
                said: Any = self.lettering.order(value)
            case "voice":
                said = Pairs(value.sounds)
            case "displace":
                if value == 0:
                    return str(forms["not-displaced"])
                said = Slots(value)
            case _:
                said = value
        return self.fill(forms[each.key], {"value": said})

    def beginning(self, begins: Beginning) -> str:
        """The number of the stroke that an order begins at, and how long before it where that is silence."""
        if not begins.silent:
            return str(begins.stroke)
        said: dict[str, Formed | str] = {"stroke": str(begins.stroke), "places": self.formed(Slots(begins.silent))}
        return filled(self.entries["each"]["rotate-silence"], said)

    def number(self, number: int, form: str = "") -> str:
        """A number, in words while it is small."""
        words = self.entries["numbers"]
        return form_of(words[number], form) if 0 <= number < len(words) else str(number)

    def ordinal(self, number: int, form: str = "") -> str:
        """Which one of a row: in words while the number is small."""
        words = self.entries["ordinals"]
        if number < len(words):
            return form_of(words[number], form)
        return form_of(by_ending(self.entries["ordinal-beyond"], number), form).format(n=number)

    def times(self, number: int, form: str = "") -> str:
        """How often."""
        words = self.entries["times"]
        if number < len(words):
            return form_of(words[number], form)
        return filled(form_of(self.entries["times-beyond"], form), {"number": self.formed(number)})

    def counted(self, forms: Mapping[str, Entry], number: int, form: str = "") -> str:
        """So many of something."""
        entry = forms.get(self.counts.plural(number), forms[MANY])
        return filled(form_of(entry, form), {"number": self.formed(number)})

    def listed(self, values: Iterable[str], joints: str = "list") -> str:
        """Several things, one after the other, with 'and' before the last."""
        *before, last = values
        if not before:
            return last
        comma, joint = self.entries[joints]["comma"], self.entries[joints]["last"]
        return f"{comma.join(before)}{joint}{last}"

    def places(self, places: Sequence[Place]) -> str:
        """Places as they are counted, those of a bar together with the bar said once."""
        bars = tuple(dict.fromkeys(place.bar for place in places))
        if bars == (None,):
            return self.listed(map(self.lettering.count, places))
        said = [self.places_in(bar, [place for place in places if place.bar == bar]) for bar in bars]
        return self.listed(said, "list" if len(bars) == len(places) else "groups")

    def places_in(self, bar: int | None, places: Iterable[Place]) -> str:
        """Places of one bar, or of every bar."""
        entry = self.entries["count-in-bar"]
        counts = self.listed(filled(entry, {"count": self.lettering.count(place)}) for place in places)
        key = "places-in-every-bar" if bar is None else "places-in-bar"
        return filled(self.entries[key], {"counts": counts, "bar": str(bar)})

    def pairs(self, pairs: Pairs) -> str:
        """Who plays what, or whose strokes go to whom."""
        forms = self.entries["pairs"]
        if isinstance(pairs.pairs[0][1], Limb):
            return self.listed(self.fill(forms["limb"], {"first": a, "second": b}) for a, b in pairs.pairs)
        comma: str = self.entries["list"]["comma"]
        return comma.join(self.playing(who, sound) for who, sound in self.players(pairs))

    def playing(self, who: Entry, sound: Sound) -> str:
        """Who plays and on what."""
        return filled(self.entries["pairs"]["sound"], {"limb": formed(who), "sound": self.formed(sound)})

    def players(self, pairs: Pairs) -> list[tuple[Entry, Sound]]:
        """Who plays what, both hands together where they play the same, the obvious left unsaid."""
        said = [pair for pair in pairs.pairs if pairs.full or (pair[0], pair[1].name) not in _OBVIOUS]
        said = said or list(pairs.pairs)
        sounds = dict(said)
        players: list[tuple[Entry, Sound]] = []
        together = Limb.RIGHT in sounds and sounds.get(Limb.RIGHT) == sounds.get(Limb.LEFT)
        if together:
            players.append((self.entries["both-hands"], sounds[Limb.RIGHT]))
        for limb, sound in said:
            if not (together and limb.is_hand):
                players.append((self.entries["limbs"][limb.value], sound))
        return players

    def kind_of(self, chosen: Selection) -> str:
        """Which of the templates a selection takes: `all`, `one`, `many`, `every`."""
        places = chosen.strokes or chosen.in_bars
        if chosen.every and chosen.every > 1:
            return "every"
        if not (chosen.dynamic or chosen.limb or chosen.sound or chosen.at or chosen.run or places):
            return "all"
        return "one" if len(chosen.at) == 1 or len(chosen.strokes) == 1 else "many"

    def number_of(self, chosen: Selection) -> str:
        """The form that a sentence about these strokes takes: `one` for one of them, or for one in so many."""
        return "one" if self.kind_of(chosen) in ("one", "every") else MANY

    def selection(self, chosen: Selection, form: str = "") -> str:
        """Which strokes are meant."""
        every = chosen.every or 1
        parts = {**self.selection_parts(chosen), "nth": self.formed(Ordinal(every)), "number": self.formed(every)}
        return filled(form_of(self.entries["selection"][self.kind_of(chosen)], form), parts)

    def selection_parts(self, chosen: Selection) -> dict[str, Formed]:
        """What may be said of strokes, each with a space before it, or nothing where it is not said."""
        forms = self.entries["selection"]
        run = forms["run-alone" if chosen.run == 1 else "run"] if chosen.run else ""
        bars = forms["bars"]["one" if len(chosen.in_bars) == 1 else MANY] if chosen.in_bars else ""
        limbs = self.adjectives(self.part(forms["limb"], limb=limb) for limb in chosen.limb)
        hands = set(chosen.limb) == {Limb.RIGHT, Limb.LEFT}
        return {
            "dynamic": self.adjectives(self.part(forms["dynamic"][dynamic.value]) for dynamic in chosen.dynamic),
            "limb": self.part(forms["hands"]) if hands else limbs,
            "sound": self.adjectives(self.part(forms["sound"], sound=sound) for sound in chosen.sound),
            "at": self.part(forms["at"] if chosen.at else "", places=chosen.at),
            "run": self.part(run, number=chosen.run),
            "strokes": self.part(forms["strokes"] if chosen.strokes else ""),
            "nths": self.adjectives(self.formed(Ordinal(number)) for number in chosen.strokes),
            "bars": self.part(bars, numbers=tuple(map(str, chosen.in_bars))),
        }

    def part(self, entry: Entry, **values: Any) -> Formed:
        """A template with its values, whose form is asked for later."""
        words = {name: self.formed(value) for name, value in values.items()}
        return Formed(lambda form: filled(form_of(entry, form), words))

    def adjectives(self, values: Iterable[Formed]) -> Formed:
        """A list of words that may each begin with a space, as one that begins with a space; '' for none."""
        listed = tuple(values)
        return Formed(lambda form: f" {self.listed(format(one, form).strip() for one in listed)}" if listed else "")
