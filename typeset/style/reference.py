"""The reference of styles, put together from what the models declare.

`python -m typeset.style.reference > docs/styles.md` writes it anew; a test holds the page to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import takewhile
from typing import Literal, get_args, get_origin

from annotated_types import Ge, Gt, Le
from pydantic.fields import FieldInfo

from ..shipped import shelf
from .load import BASED_ON, load_style, style_names
from .model import Style
from .part import Part
from .remarks import remarks

_OPENING = """\
# Styles

<!-- Written by `python -m typeset.style.reference`; change the models in typeset/style/ instead. -->

A style is a YAML file that says how a book looks: `style: a4-workbook` in `book.yaml` names one, and so does
`style:` in an edition. It is looked for beside the book first, then among those that travel with the program.
What a style leaves out is as below; with `based-on:` it is as in the style named there. So a style of your own
can be two lines:

```yaml
# house.yaml, beside the book; book.yaml says style: house
based-on: a4-workbook
letters: {right: D, left: G}
```

Lengths are millimetres, type sizes are points, inks percent (100 is black). A key that there is not, a value of
the wrong kind, margins that leave no room for the measure: each is an error with its line and column.

The **measure** is the one width that music is set to. Margins and gutter move the text block and never resize it,
so that no line of music changes when a book gets thicker. What fits is worked out from `spacing` before anything
is engraved: bars go on a line as long as every slot keeps the width `slot`; a bar that has a line to itself may go
down to `least-slot`; a bar that is wider even then is an error of the book, with the line where it is written.
What a page prints in words comes from the catalogue of the book's language and not from its style.
"""


def reference() -> str:
    """The whole page, in Markdown."""
    return "\n".join([_OPENING, *_shipped(), *_groups()]) + "\n"


def _shipped() -> Iterator[str]:
    yield from ("## The styles that travel with the program", "")
    yield from ("| style | paper in mm | measure in mm | staff in mm | text in pt | what it is |", _rule(6))
    for name in style_names():
        style = load_style(name)
        paper = f"{style.paper.width:g} × {style.paper.height:g}"
        figures = f"{style.spacing.measure:g} | {style.staff.height:g} | {style.type.body:g}"
        yield f"| `{name}` | {paper} | {figures} | {_about(name)} |"
    yield ""


def _about(name: str) -> str:
    """What a style's file says of itself: the remark that it opens with."""
    lines = (shelf("styles") / f"{name}.yaml").read_text(encoding="utf-8").splitlines()
    return " ".join(line.removeprefix("#").strip() for line in takewhile(lambda line: line[:1] == "#", lines))


def _groups() -> Iterator[str]:
    yield from ("## Keys", "")
    yield f"`{BASED_ON}`: the style that this one starts from, by its name."
    yield ""
    for name, info in Style.model_fields.items():
        part = info.annotation
        if isinstance(part, type) and issubclass(part, Part):
            yield from _group(info.alias or name, part)


def _group(key: str, part: type[Part]) -> Iterator[str]:
    yield from (f"### {key}", "", " ".join((part.__doc__ or "").split()), "")
    yield from ("| key | what it may be | unless said | what it does |", _rule(4))
    yield from (_row(key, info, about) for key, info, about in _keys(part))
    yield ""


def _keys(part: type[Part], around: str = "") -> Iterator[tuple[str, FieldInfo, str]]:
    """The keys of a part and of the parts in it, each with its field and what it is for."""
    about = remarks(part)
    for name, info in part.model_fields.items():
        key, inner = f"{around}{info.alias or name}", info.annotation
        if isinstance(inner, type) and issubclass(inner, Part):
            yield from _keys(inner, f"{key}: ")
        else:
            yield key, info, about.get(name, "")


def _row(key: str, info: FieldInfo, about: str) -> str:
    return f"| `{key}` | {_kind(info)} | {_value(info.default)} | {about} |"


def _kind(info: FieldInfo) -> str:
    """What a value may be, in words."""
    kind = info.annotation
    if get_origin(kind) is Literal:
        return ", ".join(f"`{choice}`" for choice in get_args(kind))
    if kind is bool:
        return "`yes`, `no`"
    if kind is str:
        return "letters"
    if get_origin(kind) is tuple:
        return "a list of syllables"
    return _bounds(info)


def _bounds(info: FieldInfo) -> str:
    """A number's unit and the values that it may have."""
    unit = next((f" {one}" for one in info.metadata if isinstance(one, str)), "")
    whole = "whole, " if info.annotation is int else ""
    low = next(
        f"above {one.gt:g}" if isinstance(one, Gt) else f"{one.ge:g}"
        for one in info.metadata
        if isinstance(one, Gt | Ge)
    )
    high = next(f"{one.le:g}" for one in info.metadata if isinstance(one, Le))
    return f"{whole}{low} to {high}{unit}"


def _value(value: object) -> str:
    """A value as an author writes it."""
    if isinstance(value, bool):
        return "`yes`" if value else "`no`"
    if isinstance(value, tuple):
        listed = ", ".join(map(str, value))
        return f"`[{listed}]`" if len(value) > 1 else f"`{listed}`"
    return f"`{value:g}`" if isinstance(value, int | float) else f"`{value}`"


def _rule(columns: int) -> str:
    return "| --- " * columns + "|"


if __name__ == "__main__":
    print(reference(), end="")
