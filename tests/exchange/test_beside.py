from dataclasses import replace

from tests.exchange.test_text import GROOVE
from typeset.exchange.beside import beside_text
from typeset.pattern.stroke import Dynamic


def test_only_the_beats_that_differ_are_read_the_parent_first() -> None:
    first, *others = GROOVE.pattern.slots
    softer = tuple(replace(stroke, dynamic=Dynamic.GHOST) for stroke in first)
    child = replace(GROOVE, number="1.9", pattern=GROOVE.pattern.with_slots((softer, *others)))
    lines = beside_text(GROOVE, child).splitlines()
    assert lines[1] == f"Bar 1, what differs from {GROOVE.number}"
    assert lines[2].startswith(f"  {GROOVE.number}: beat 1")
    assert lines[3].startswith("  1.9: beat 1") and "ghost" in lines[3]
    assert len(lines) == 4


def test_two_that_play_the_same_are_said_to() -> None:
    assert beside_text(GROOVE, GROOVE) == f"\nThe strokes are those of {GROOVE.number}.\n"
