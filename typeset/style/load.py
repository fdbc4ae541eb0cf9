"""From a style's name to a Style: finding the files, laying one over another, checking the keys."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, get_args

from pydantic import ValidationError

from ..book_files import ENDINGS
from ..nearest import near
from ..problem import BookError, Mark, Problem
from ..shipped import shelf
from ..text_file import leads_out, short
from .model import Style
from .part import Part
from .reading import Route, Tree, read_tree

BASED_ON = "based-on"


def load_style(name_or_path: str | Path, beside: Path | None = None, asked_at: Mark | None = None) -> Style:
    """Load a style by its name, or by the path of its file.

    A name is looked up in `beside`, the book's folder, then among the shipped styles. `asked_at` is where
    the style was named, for the message when there is none. Raises BookError with everything that is
    wrong.
    """
    wanted = str(name_or_path)
    # What the command asks for may lie anywhere; what a book asks for lies in its folder.
    file = _find(wanted, beside, asked_at or Mark(Path(wanted)), keeps_inside=asked_at is not None)
    tree = _read(file, beside, ())
    tree.data["name"] = file.stem
    try:
        return Style.model_validate(tree.data)
    except ValidationError as error:
        raise BookError(sorted(_problems(error, tree, file), key=lambda problem: problem.mark)) from None


def style_names(beside: Path | None = None) -> tuple[str, ...]:
    """The names of the styles that can be asked for: the shipped ones and those in a book's folder."""
    folders = [shelf("styles"), *([beside] if beside else [])]
    return tuple(sorted({file.stem for folder in folders for file in folder.glob("*.yaml")}))


def _find(wanted: str, beside: Path | None, asked_at: Mark, *, keeps_inside: bool = True) -> Path:
    """The file of a style; raises BookError that names the styles there are."""
    is_file = wanted.endswith(ENDINGS)
    for folder in (beside,) if is_file else (beside, shelf("styles")):
        file = (folder or Path()) / (wanted if is_file else f"{wanted}.yaml")
        if _is_there(file):
            if folder and keeps_inside and leads_out(file, folder):
                what = (
                    f"'{short(wanted)}' leads out of the book's folder; a style stands in it, or is a shipped one"
                )
                raise BookError([Problem(asked_at, what)])
            return file
    if is_file:
        raise BookError([Problem(asked_at, f"there is no style file {short(wanted)}")])
    shipped = style_names()
    close = near(wanted, style_names(beside))
    meant = f"did you mean {close}?" if close else f"there are {', '.join(shipped)}"
    raise BookError([Problem(asked_at, f"there is no style '{short(wanted)}'; {meant}")])


def _is_there(file: Path) -> bool:
    try:
        return file.is_file()
    except (OSError, ValueError):
        return False


def _read(file: Path, beside: Path | None, above: tuple[Path, ...]) -> Tree:
    """A style's tree, laid over the one it is based on."""
    tree, problems = read_tree(file)
    if tree is None or problems:
        raise BookError(problems)
    base = tree.data.pop(BASED_ON, None)
    if base is None:
        return tree
    mark = tree.mark_of_value((BASED_ON,)) or Mark(file)
    if not isinstance(base, str):
        raise BookError([Problem(mark, f"{BASED_ON} names one style")])
    below = _find(base, file.parent, mark)
    if below.resolve() in [one.resolve() for one in (*above, file)]:
        raise BookError([Problem(mark, f"'{base}' is itself based on this style")])
    return tree.over(_read(below, beside, (*above, file)))


def _problems(error: ValidationError, tree: Tree, file: Path) -> list[Problem]:
    problems = []
    for wrong in error.errors():
        route = tuple(key for key in wrong["loc"])
        on_key = wrong["type"] == "extra_forbidden"
        mark = (tree.mark_of_key(route) if on_key else tree.mark_of_value(route)) or Mark(file)
        problems.append(Problem(mark, _words(wrong, route)))
    return problems


def _words(wrong: Any, route: Route) -> str:
    """What is wrong, in plain words."""
    kind, context = wrong["type"], wrong.get("ctx", {})
    key = next((part for part in reversed(route) if isinstance(part, str)), "style")
    said = short(str(wrong["input"]))
    if kind == "extra_forbidden":
        return _unknown(key, _keys_at(route[:-1]))
    if kind == "literal_error":
        choices = context["expected"].replace(" or ", ", ").replace("'", "")
        return f"{key}: '{said}' is not one of {choices}"
    if kind in ("float_parsing", "float_type", "int_parsing", "int_type", "int_from_float"):
        return f"{key}: '{said}' is no number; lengths are millimetres, type is points, no unit"
    if kind in ("bool_parsing", "bool_type"):
        return f"{key}: say yes or no, not '{said}'"
    if kind.startswith(("greater_than", "less_than")):
        bound = next(iter(context.values()))
        word = {
            "greater_than": "more than",
            "greater_than_equal": "at least",
            "less_than": "less than",
            "less_than_equal": "at most",
        }[kind]
        return f"{key}: {said} is out of reach; it is {word} {bound:g}"
    if kind == "value_error":
        return str(context["error"])
    if kind == "model_type":
        return f"{key} holds keys of its own: {', '.join(_keys_at(route))}"
    return f"{key}: {wrong['msg'][:1].lower()}{wrong['msg'][1:]}"


def _unknown(key: str, known: Sequence[str]) -> str:
    close = near(key, known)
    meant = f"did you mean {close}?" if close else f"there are {', '.join(known)}"
    return f"'{short(key)}' is no key here; {meant}"


def _keys_at(route: Route) -> list[str]:
    """The YAML keys of the part of a style that a route leads to."""
    part: type[Part] = Style
    for key in route:
        found = next((info for info in part.model_fields.values() if info.alias == key), None)
        kind = found.annotation if found else None
        candidates = [kind, *get_args(kind)]
        part = next((one for one in candidates if isinstance(one, type) and issubclass(one, Part)), Part)
    keys = [info.alias or name for name, info in part.model_fields.items()]
    return [BASED_ON, *(key for key in keys if key != "name")] if part is Style else keys
