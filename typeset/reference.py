"""The reference of steps, put together from their declarations."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from difflib import get_close_matches

from .manuscript.steps import Parameter, parameters_of
from .pattern.steps import STEPS, Phase, Step

_WIDTH = 88
_PHASES = {
    Phase.ORDER: "On the order, before it is set in time",
    Phase.TIME: "Setting it in time",
    Phase.REST: "On what stands in the bars",
}


def all_steps() -> str:
    """Every step in a line, by the phase in which it acts."""
    lines: list[str] = []
    width = max(map(len, STEPS))
    for phase, title in _PHASES.items():
        lines += [title, ""]
        for key, step in STEPS.items():
            if step.phase is phase:
                lines += _hanging(f"  {key:<{width}}  ", step.about)
        lines.append("")
    lines.append("shedbook steps NAME tells what a step takes, and shows it before and after.")
    return "\n".join(lines)


def one_step(name: str) -> str:
    """All about one step. Raises KeyError that names the nearest for a step that there is not."""
    if name not in STEPS:
        near = get_close_matches(name, STEPS, n=1)
        meant = f"did you mean '{near[0]}'?" if near else f"there are {', '.join(STEPS)}"
        raise KeyError(f"there is no step '{name}'; {meant}")
    step = STEPS[name]
    lines = [*_hanging(f"{name}: ", step.about), "", f"{_PHASES[step.phase]}.", ""]
    lines += _parameters(step)
    lines += ["", "For example", ""]
    lines += [f"  {line}" for line in _example(step)]
    return "\n".join(lines)


def _parameters(step: type[Step]) -> Iterator[str]:
    """What an author writes after the step's key."""
    said = [parameter for parameter in parameters_of(step) if not parameter.selects]
    selecting = [parameter for parameter in parameters_of(step) if parameter.selects]
    width = max(len(parameter.name) for parameter in (*said, *selecting))
    for parameter in said:
        yield from _hanging(f"  {parameter.name:<{width}}  ", _what(parameter))
    if selecting:
        yield "  which strokes: all of these that are given have to hold"
    for parameter in selecting:
        yield from _hanging(f"  {parameter.name:<{width}}  ", _what(parameter))


def _what(parameter: Parameter) -> str:
    said = parameter.kind
    if parameter.required:
        said += "; has to be said"
    if parameter.alone:
        said += "; can stand alone after the step's name"
    return said


def _example(step: type[Step]) -> Iterator[str]:
    example = step.example
    yield f"start: {example.start}"
    yield "steps:"
    if example.first:
        yield f"  - {example.first}"
    yield f"  - {step.key}: {example.value}"
    yield ""
    yield f"gives {example.after}"


def _hanging(label: str, text: str) -> list[str]:
    """A label with text beside it, wrapped under itself."""
    return textwrap.wrap(text, _WIDTH, initial_indent=label, subsequent_indent=" " * len(label))
