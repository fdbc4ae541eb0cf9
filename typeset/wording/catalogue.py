"""Catalogues of phrases: one YAML file a language, English behind every gap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

_SHELF = Path(__file__).parent
ENGLISH = "en"


@dataclass(frozen=True, slots=True)
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


@cache
def wording(language: str) -> Wording:
    """The phrases of a language (`de`, `de-AT`); what it lacks is English."""
    phrases = dict(_read(ENGLISH))
    for name in (language.split("-")[0].lower(), language.lower()):
        if name != ENGLISH:
            phrases |= _read(name)
    return Wording(language, phrases)


def languages() -> tuple[str, ...]:
    """The languages that have a catalogue."""
    return tuple(sorted(file.stem for file in _SHELF.glob("*.yaml")))


@cache
def _read(name: str) -> Mapping[str, str]:
    if name not in languages():
        return {}
    text = (_SHELF / f"{name}.yaml").read_text(encoding="utf-8")
    return dict(_flat("", yaml.load(text, Loader=yaml.BaseLoader)))


def _flat(prefix: str, tree: Mapping[str, object]) -> Iterator[tuple[str, str]]:
    for key, value in tree.items():
        if isinstance(value, dict):
            yield from _flat(f"{prefix}{key}.", value)
        else:
            yield f"{prefix}{key}", str(value)
