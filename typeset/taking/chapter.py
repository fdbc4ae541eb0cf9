"""A chapter in YAML, as an author would write it: what all share under `set`, orders by names, short steps."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from .entries import Entry, Parts
from .names import Names
from .sequences import Sequences
from .telling import Told
from .writing import WIDEST, folded, order_lines, step_text

_UNQUOTED = re.compile(r"[A-Za-z](?:[A-Za-z0-9 ,.()/'-]*[A-Za-z0-9).])?")
_WORDS = {"yes", "no", "true", "false", "on", "off", "null"}


def chapter_yaml(title: str, source: str, left_out: Sequence[str], entries: Sequence[Entry], names: Names) -> str:
    """The text of a chapter's file. Above everything stands what it was taken from, and what was left out."""
    sequences = Sequences.of([(entry.told.order, entry.title) for entry in entries if entry.told], names)
    common = _common(entries)
    lines = [line for remark in _head(source, left_out, entries) for line in _comment(remark, "")]
    lines.append(f"chapter: {quoted(title)}")
    lines += ["sequences:", *_sequences(sequences, entries)]
    lines += ["set:", *(f"  {key}: {value}" for key, value in common.items())]
    lines.append("exercises:")
    for number, entry in enumerate(entries):
        lines += ["", *_entry(entry, sequences, common)] if number else _entry(entry, sequences, common)
    return "\n".join(lines) + "\n"


def _head(source: str, left_out: Sequence[str], entries: Sequence[Entry]) -> Iterator[str]:
    yield f"Taken from {' '.join(source.split())}. A remark that says what could also be is worth a look."
    told = [entry.told for entry in entries if entry.told]
    grids = dict.fromkeys(str(grid) for one in told for grid in (one.grid, *one.spliced))
    yield f"Grids, worked out from where the strokes stand: {', '.join(grids)}."
    for what in left_out:
        yield f"Left out: {what}."


def quoted(text: str) -> str:
    """Text as YAML and its readers take it for what it is."""
    is_plain = _UNQUOTED.fullmatch(text) and text.lower() not in _WORDS
    return text if is_plain else json.dumps(text, ensure_ascii=False)


def _common(entries: Sequence[Entry]) -> dict[str, str]:
    """What most exercises share: meter and grid; where all have a tempo, and many the same, that too."""
    told = [entry.told for entry in entries if entry.told]
    common = {"meter": _most(str(one.meter) for one in told), "grid": _most(str(one.grid) for one in told)}
    tempos = [str(entry.tempo) for entry in entries if entry.tempo]
    if len(tempos) == len(entries) and 3 * tempos.count(_most(tempos)) >= len(tempos):
        common["tempo"] = _most(tempos)
    feels = {entry.feel for entry in entries}
    if feels != {"straight"}:
        common["feel"] = _most(entry.feel for entry in entries)
    return common


def _most(values: Iterable[str]) -> str:
    return Counter(values).most_common(1)[0][0]


def _sequences(sequences: Sequences, entries: Sequence[Entry]) -> Iterator[str]:
    sizes = {entry.told.order: _sizes(entry.told) for entry in entries if entry.told}
    for order, name in sequences.names.items():
        written = order_lines(order, sizes.get(order, []))
        if len(written) == 1 and len(written[0]) + len(name) < WIDEST - 6:
            yield f"  {name}: {written[0]}"
        else:
            yield f"  {name}: >-"
            yield from (f"    {line}" for line in written)


def _sizes(told: Told) -> list[int]:
    """How many slots of the order stand in each bar, where it fills whole bars of one size."""
    size = len(told.play(None).pattern.bars[0].slots)
    return [size] * (len(told.order) // size) if len(told.order) % size == 0 else []


def _entry(entry: Entry, sequences: Sequences, common: dict[str, str]) -> list[str]:
    lines = [f"  - id: {entry.id}", f"    title: {quoted(entry.title)}"]
    lines += [f"    {line}" for doubt in entry.doubts for line in _comment(doubt, "    ")]
    steps = list(entry.steps)
    if entry.told:
        name, rotation = sequences.start(entry.told.order)
        lines.append(f"    start: {name}")
        steps = [*rotation, *entry.told.steps]
        own = {"meter": str(entry.told.meter), "grid": str(entry.told.grid)}
    else:
        lines.append(f"    {folded(f'phrase: {_parts(entry.parts)}', '    ')}")
        own = {}
    own |= {"tempo": str(entry.tempo)} if entry.tempo else {}
    own |= {"feel": entry.feel} if entry.feel != common.get("feel", "straight") else {}
    lines += [f"    {key}: {value}" for key, value in own.items() if common.get(key) != value or key == "feel"]
    endings = _parts(entry.endings) if entry.endings else None
    said = {"play": entry.play, "times": entry.times, "pickup": entry.pickup, "endings": endings}
    lines += [f"    {key}: {value}" for key, value in said.items() if value]
    if steps:
        lines += ["    steps:", *(f"      - {folded(step_text(step), '      ')}" for step in steps)]
    return lines


def _parts(parts: Parts) -> str:
    """Exercises one after the other, as a phrase or endings name them."""
    return f"[{', '.join(f'{{use: {name}, times: {times}}}' if times > 1 else name for name, times in parts)}]"


def _comment(text: str, indent: str) -> list[str]:
    """A remark, on as many lines as it takes."""
    lines = ["#"]
    for word in " ".join(text.split()).split(" "):
        if len(lines[-1]) + len(word) + len(indent) > WIDEST:
            lines.append("#")
        lines[-1] += f" {word}"
    return lines
