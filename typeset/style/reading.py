"""YAML as text: every scalar stays what the author wrote, and everything knows its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from ..problem import Mark, Problem
from ..text_file import FileTrouble, text_of, unseen

Key = str | int
Route = tuple[Key, ...]

DEEPEST = 8
"""How deep keys may stand inside each other; a style needs three."""

_FAST: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

LARGEST = 256 * 1024
"""The most bytes of a style, or of another file of figures."""


@dataclass(frozen=True, slots=True)
class Tree:
    """A YAML file: mappings, lists and text, with the mark of each by the keys that lead there.

    `keys` holds where a key stands, `values` where its value does.
    """

    data: dict[str, object]
    keys: dict[Route, Mark] = field(default_factory=dict)
    values: dict[Route, Mark] = field(default_factory=dict)

    def mark_of_key(self, path: Route) -> Mark | None:
        """Where the key that a path ends in stands, or the nearest thing above it."""
        return _nearest(self.keys, path)

    def mark_of_value(self, path: Route) -> Mark | None:
        """Where the value that a path leads to stands, or the nearest thing above it."""
        return _nearest(self.values, path)

    def over(self, base: Tree) -> Tree:
        """This tree laid over another: its mappings are merged, everything else replaces."""
        return Tree(_merged(base.data, self.data), {**base.keys, **self.keys}, {**base.values, **self.values})


def _nearest(marks: dict[Route, Mark], path: Route) -> Mark | None:
    for length in range(len(path), -1, -1):
        if path[:length] in marks:
            return marks[path[:length]]
    return None


def _merged(under: dict[str, object], over: dict[str, object]) -> dict[str, object]:
    merged = dict(under)
    for key, value in over.items():
        below = merged.get(key)
        merged[key] = _merged(below, value) if isinstance(below, dict) and isinstance(value, dict) else value
    return merged


def read_tree(file: Path, within: Path | None = None) -> tuple[Tree | None, list[Problem]]:
    """Read a file that holds one mapping, and that lies `within` a folder where that is said.

    What is wrong with it as YAML comes back as problems.
    """
    top = Mark(file)
    try:
        text = text_of(file, most=LARGEST, within=within)
        node = _composed(text, file)
    except FileTrouble as trouble:
        return None, [trouble.problem]
    except yaml.MarkedYAMLError as error:
        at = error.problem_mark
        mark = Mark(file, at.line + 1, at.column + 1) if at else top
        what = f"this is no YAML ({error.problem}); look at the quotes, colons and indents here"
        return None, [Problem(mark, what)]
    except yaml.YAMLError as error:
        return None, [Problem(top, f"this is no YAML ({error})")]
    if isinstance(node, Problem):
        return None, [node]
    if not isinstance(node, yaml.MappingNode):
        return None, [Problem(top, "keys with values are expected here, as in paper: a4")]
    tree = Tree({})
    problems = list(_fill(tree, tree.data, node, (), file))
    return tree, problems


@lru_cache(maxsize=16)
def _composed(text: str, file: Path) -> yaml.Node | Problem | None:
    """What a text says, or what goes beyond a list of keys and values.

    The figures that travel with the program are asked for with every state of a watched book. Raises
    YAMLError, in the words of YAML's own reader, which says more than the fast one.
    """
    try:
        return _beyond(text, file, _FAST) or yaml.compose(text, Loader=_FAST)
    except yaml.YAMLError:
        return _beyond(text, file, yaml.SafeLoader) or yaml.compose(text, Loader=yaml.SafeLoader)


def _beyond(text: str, file: Path, loader: Any) -> Problem | None:
    """What goes beyond a list of keys and values: nesting without end, aliases, what nobody would see.

    Raises YAMLError.
    """
    depth = 0
    for event in yaml.parse(text, Loader=loader):
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > DEEPEST:
                return Problem(_mark(event, file), f"keys stand inside each other more than {DEEPEST} deep")
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        elif isinstance(event, yaml.AliasEvent):
            return Problem(
                _mark(event, file), f"'*{event.anchor}' repeats what stands elsewhere; write it out here"
            )
        elif isinstance(event, yaml.ScalarEvent):
            found = unseen(event.value)
            if found is not None:
                return Problem(_mark(event, file), f"an invisible character ({found[1]}) stands here; take it out")
    return None


def _fill(
    tree: Tree, into: dict[str, object], node: yaml.MappingNode, path: Route, file: Path
) -> Iterator[Problem]:
    for key_node, value_node in node.value:
        if not isinstance(key_node, yaml.ScalarNode):
            yield Problem(_mark(key_node, file), "a key is one word")
            continue
        key = key_node.value
        if key in into:
            yield Problem(_mark(key_node, file), f"'{key}' is here a second time")
            continue
        here = (*path, key)
        tree.keys[here] = _mark(key_node, file)
        tree.values[here] = _mark(value_node, file)
        value, problems = _value(tree, value_node, here, file)
        yield from problems
        if value is not None:
            into[key] = value


def _value(tree: Tree, node: yaml.Node, path: Route, file: Path) -> tuple[object, list[Problem]]:
    """A node's text, list or mapping; None where there is nothing of use."""
    mark = _mark(node, file)
    if _is_tagged(node):
        return None, [Problem(mark, f"'{node.tag}' is a YAML tag; put quotes round it to mean it as text")]
    if isinstance(node, yaml.MappingNode):
        mapping: dict[str, object] = {}
        return mapping, list(_fill(tree, mapping, node, path, file))
    if isinstance(node, yaml.SequenceNode):
        values: list[object] = []
        problems: list[Problem] = []
        for index, child in enumerate(node.value):
            tree.values[(*path, index)] = _mark(child, file)
            value, wrong = _value(tree, child, (*path, index), file)
            values.append(value)
            problems += wrong
        return values, problems
    assert isinstance(node, yaml.ScalarNode)
    if node.value == "" and not node.style:
        where = tree.mark_of_key(path) or mark
        return None, [Problem(where, f"'{path[-1]}' has no value; give one or leave it out")]
    return node.value, []


def _is_tagged(node: yaml.Node) -> bool:
    return not node.tag.startswith("tag:yaml.org,2002:")


def _mark(node: Any, file: Path) -> Mark:
    return Mark(file, node.start_mark.line + 1, node.start_mark.column + 1)
