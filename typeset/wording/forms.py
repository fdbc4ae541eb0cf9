"""Words and their forms: what a language's grammar makes of one entry, such as its cases or genders.

An entry of a catalogue is a phrase, or phrases by form: `{acc: die Snare, dat: der Snare}`. A template asks for
a form after a colon, `{sound:dat}`; without one, or for one that an entry lacks, it gets the entry's first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

Entry = str | Mapping[str, str]
"""A phrase, or phrases by form."""


def form_of(entry: Entry, form: str = "") -> str:
    """An entry in one of its forms."""
    if isinstance(entry, Mapping):
        return str(entry.get(form) or next(iter(entry.values())))
    return str(entry)


@dataclass(frozen=True, slots=True)
class Formed:
    """A value on its way into a template, which `say` puts into words in the form that the template asks for."""

    say: Callable[[str], str]

    def __format__(self, form: str) -> str:
        return self.say(form)


def formed(entry: Entry) -> Formed:
    """An entry on its way into a template."""
    return Formed(lambda form: form_of(entry, form))


def filled(template: str, values: Mapping[str, Formed | str]) -> str:
    """A template with its `{names}` and `{names:forms}` filled in. Raises KeyError for a name without a value."""
    return template.format_map(values)


def by_ending(entries: Mapping[str, Entry], number: int) -> Entry:
    """The entry for the longest ending of a number's figures: `2` for 22, `12` for 112, else the empty one."""
    return entries[max((ending for ending in entries if str(number).endswith(ending)), key=len)]
