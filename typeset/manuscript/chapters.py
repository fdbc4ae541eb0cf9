"""Reading a chapter: its own keys, its sequences, and its exercises each by itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ..pattern.order import Order, SequenceError, read_order
from ..problem import Problem
from .exercise import ExerciseText, Settings, TextBlock
from .models import Chapter, ChapterHead, Item, Sequence
from .plain import Wrong, as_list, read_name, read_text
from .reader import Reader, TooMuch
from .series import Each, SeriesText
from .tasks import TaskText
from .written import KEY, UNREADABLE, Step, WrittenMap, mark_in, shown

MOST_ENTRIES = 10_000
"""The most exercises, series, tasks and texts that a book may have."""

ITEMS: dict[str, type[ExerciseText] | type[SeriesText] | type[TaskText] | type[TextBlock]] = {
    "id": ExerciseText,
    "series": SeriesText,
    "task": TaskText,
    "text": TextBlock,
}
"""What an entry under `exercises` is, by the key that it begins with."""


def read_chapter(reader: Reader, root: WrittenMap) -> Chapter:
    """A chapter, piece by piece, so that an error in one piece hides no other."""
    head = reader.part(ChapterHead, root, root, chapter=root.file.stem)
    settings = Settings()
    if "set" in root and root["set"] is not UNREADABLE:
        settings = reader.part(Settings, root["set"], root, "set")
    return Chapter(
        head,
        tuple(_read_sequences(reader, root)),
        settings,
        tuple(_read_items(reader, root)),
        root.file,
        root.mark,
    )


def _read_sequences(reader: Reader, root: WrittenMap) -> Iterator[Sequence]:
    """The named orders of a chapter."""
    named = root.get("sequences", UNREADABLE)
    if named is UNREADABLE:
        return
    if not isinstance(named, WrittenMap):
        what = f"names with sequences are expected here, as in stairs: R L R K L, not {shown(named)}"
        reader.problems.append(Problem(mark_in(root, ["sequences"]), what))
        return
    for name, text in named.items():
        mark = mark_in(named, [name, KEY])
        try:
            read_name(name)
        except Wrong as error:
            reader.problems.append(Problem(mark, str(error)))
        yield Sequence(name, str(text), _read_sequence(reader, named, name), mark)


def _read_sequence(reader: Reader, named: WrittenMap, name: str) -> Order | None:
    """One order; None where it cannot be read, which is noted."""
    text = named[name]
    if text is UNREADABLE:
        return None
    try:
        return read_order(read_text(text))
    except (SequenceError, Wrong) as error:
        reader.problems.append(Problem(mark_in(named, [name], getattr(error, "offset", 0)), str(error)))
        return None


def _read_items(reader: Reader, root: WrittenMap) -> Iterator[Item]:
    """The exercises of a chapter, and what stands between them, each by itself."""
    items = root.get("exercises", UNREADABLE)
    if items is UNREADABLE:
        return
    for index, written in enumerate(as_list(items)):
        reader.entries += 1
        if reader.entries > MOST_ENTRIES:
            what = f"a book has at most {MOST_ENTRIES:,} entries under exercises; divide it into several"
            raise TooMuch(mark_in(root, ["exercises", index]), what)
        if written is UNREADABLE:
            continue
        item = _read_item(reader, written, root, "exercises", index)
        if item is not None:
            yield item


def _read_item(reader: Reader, written: Any, root: WrittenMap, *way: Step) -> Item | None:
    """One exercise or text, as much of it as can be read."""
    model = _model_of(written)
    if model is None:
        if not (isinstance(written, WrittenMap) and written.cut):
            what = f"an entry begins with {_listed(ITEMS)}, not with {_first(written)}"
            reader.problems.append(Problem(mark_in(root, way), what))
        return None
    if model is TextBlock:
        return reader.part(TextBlock, written, root, *way, text="")
    if model is TaskText:
        return reader.part(TaskText, written, root, *way, task="", of=())
    if model is SeriesText:
        return reader.part(SeriesText, written, root, *way, series="", start="", each=Each.model_construct())
    return reader.part(ExerciseText, written, root, *way, id="", start="")


def _model_of(written: Any) -> type[Item] | None:
    """What an entry under `exercises` is, by its keys."""
    if not isinstance(written, WrittenMap):
        return None
    found = next((model for key, model in ITEMS.items() if key in written), None)
    return found or (ExerciseText if {"title", "start", "phrase", "steps"} & set(written) else None)


def _listed(keys: Iterable[str]) -> str:
    return " or ".join(f"{key}:" for key in keys)


def _first(written: Any) -> str:
    return f"'{next(iter(written), '')}'" if isinstance(written, WrittenMap) else shown(written)
