"""Catalogues of phrases: one YAML file a language, English behind every gap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import yaml

_SHELF = Path(__file__).parent
ENGLISH = "en"
MANY = "many"
_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass(frozen=True)
class Wording:
    """The phrases of one language by their keys, such as `pages.contents`."""

    language: str
    phrases: Mapping[str, str]

    def __getitem__(self, key: str) -> str:
        """A phrase as the catalogue has it; raises KeyError where there is none."""
        return self.phrases[key]

    def __contains__(self, key: str) -> bool:
        return key in self.phrases

    def say(self, key: str, **values: object) -> str:
        """A phrase with its `{names}` filled in."""
        return self.phrases[key].format(**values)

    def count(self, key: str, count: int, **values: object) -> str:
        """A phrase in the form that a number takes, `key.one` or `key.many`, with `{count}` filled in."""
        form = f"{key}.{self.plural(count)}"
        return self.phrases[form if form in self.phrases else f"{key}.{MANY}"].format(count=count, **values)

    def plural(self, number: int) -> str:
        """The form that a number takes: `one`, or whatever this language's `plurals` list it under; else `many`."""
        return self._plurals.get(str(number), MANY)

    @cached_property
    def _plurals(self) -> Mapping[str, str]:
        """For each number that takes a form of its own that form."""
        listed = [(key, numbers) for key, numbers in self.phrases.items() if key.startswith("plurals.")]
        # Of two forms that list a number the first counts.
        return {
            number: key.removeprefix("plurals.") for key, numbers in reversed(listed) for number in numbers.split()
        }


@cache
def wording(language: str) -> Wording:
    """The phrases of a language (`de`, `de-AT`); what it lacks is English."""
    phrases: dict[str, str] = {}
    for name in falling_back(language):
        phrases |= _read(name)
    return Wording(language, phrases)


def falling_back(language: str) -> tuple[str, ...]:
    """The catalogues that a language is read from, each laid over those before: `en`, `de`, `de-at`."""
    return tuple(dict.fromkeys((ENGLISH, language.split("-")[0].lower(), language.lower())))


def languages() -> tuple[str, ...]:
    """The languages that have a catalogue."""
    return tuple(sorted(file.stem for file in _SHELF.glob("*.yaml")))


@cache
def _read(name: str) -> Mapping[str, str]:
    if name not in languages():
        return {}
    text = (_SHELF / f"{name}.yaml").read_text(encoding="utf-8")
    return dict(_flat("", yaml.load(text, Loader=_LOADER)))


def _flat(prefix: str, tree: Mapping[str, object]) -> Iterator[tuple[str, str]]:
    for key, value in tree.items():
        if isinstance(value, dict):
            yield from _flat(f"{prefix}{key}.", value)
        else:
            yield f"{prefix}{key}", str(value)
