"""Steps on which sound a stroke plays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from ..draft import Draft
from ..limb import Limb
from ..selection import Selection
from ..sentence import Pairs, Sentence
from ..sound import Sound
from .step import DraftStep, Example, Heard, StepError, alone, refuse_unplayable, step


@step
@dataclass(frozen=True)
class Voice(DraftStep):
    """Say what each limb plays."""

    key = "voice"
    about = "say what each limb plays"
    says = {"plain": "{sounds}."}
    example = Example(
        "R L K",
        "{R: hi-hat, L: cross-stick}",
        "R(hi-hat) L(cross-stick) K R(hi-hat)",
        meter="2/4",
        grid="8ths",
    )

    sounds: tuple[tuple[Limb, Sound], ...] = alone()

    def __post_init__(self) -> None:
        for limb, sound in self.sounds:
            refuse_unplayable(limb, sound, "sounds", limb.value)

    def words(self) -> Mapping[str, Any]:
        return {"sounds": Pairs(self.sounds)}

    def sentence_for(self, heard: Heard) -> Sentence:
        """The same without limbs that play nothing."""
        playing = tuple((limb, sound) for limb, sound in self.sounds if limb in heard.limbs)
        return Sentence(self.key, self.form, self.says[self.form], {"sounds": Pairs(playing or self.sounds)})

    def change(self, draft: Draft) -> Draft:
        new = dict(self.sounds)
        slots = draft.pattern.slots
        voiced = {
            slot: tuple(stroke.on(new.get(stroke.limb, stroke.sound)) for stroke in slot) for slot in set(slots)
        }
        voices = tuple({**dict(draft.voices), **new}.items())
        return replace(draft, pattern=draft.pattern.with_slots([voiced[slot] for slot in slots]), voices=voices)


@step
@dataclass(frozen=True)
class Move(DraftStep):
    """Move chosen strokes to another sound, or to several in turn."""

    key = "move"
    about = (
        "move the chosen strokes to a sound, or to a list of sounds in turn; the feet's strokes are passed "
        "over unless limb names the foot"
    )
    says = {"one": "Move {chosen} to {to}.", "in turn": "Move {chosen} to {to}, in turn."}
    example = Example(
        "R L R L",
        "{at: [2, 2&], to: [high-tom, mid-tom]}",
        "R L R(high-tom) L(mid-tom)",
        meter="2/4",
        grid="8ths",
    )

    chosen: Selection
    to: tuple[Sound, ...]

    def __post_init__(self) -> None:
        limbs = self.chosen.limb if self.chosen.names_a_foot else (Limb.RIGHT, Limb.LEFT)
        for index, sound in enumerate(self.to):
            for limb in limbs:
                refuse_unplayable(limb, sound, "to", index)

    @property
    def form(self) -> str:
        return "one" if len(self.to) == 1 else "in turn"

    def words(self) -> Mapping[str, Any]:
        """Where sounds go round, a reader has to know that feet do not count."""
        if self.form == "one" or self.chosen.limb:
            return super().words()
        return {**super().words(), "chosen": replace(self.chosen, limb=(Limb.RIGHT, Limb.LEFT))}

    def change(self, draft: Draft) -> Draft:
        spots = draft.choose(self.chosen, hands_only=not self.chosen.names_a_foot)
        return draft.with_strokes(spots, lambda stroke, number: stroke.on(self.to[number % len(self.to)]))


@step
@dataclass(frozen=True)
class Spread(DraftStep):
    """Spread chosen strokes over several sounds, in a round or out and back."""

    key = "spread"
    about = (
        "spread the hands' strokes, or the chosen ones, over sounds one after the other: in a round (a b c a b "
        "c), or out and back (a b c b a b c)"
    )
    says = {
        "round": "Spread {chosen} over {over}, round and round.",
        "out-and-back": "Spread {chosen} over {over}, out and back.",
    }
    example = Example(
        "R L",
        "{over: [snare, high-tom, floor-tom], way: out-and-back}",
        "R L(high-tom) R(floor-tom) L(high-tom) R L(high-tom)",
        meter="3/4",
        grid="8ths",
    )

    over: tuple[Sound, ...]
    chosen: Selection = Selection(limb=(Limb.RIGHT, Limb.LEFT))
    way: Literal["round", "out-and-back"] = "round"

    def __post_init__(self) -> None:
        if len(self.over) < 2:
            raise StepError("name two sounds or more to spread over", "over")
        for index, sound in enumerate(self.over):
            refuse_unplayable(Limb.RIGHT, sound, "over", index)

    @property
    def form(self) -> str:
        return self.way

    def change(self, draft: Draft) -> Draft:
        sounds = self.over if self.way == "round" else (*self.over, *self.over[-2:0:-1])
        spots = draft.choose(self.chosen, hands_only=True)
        return draft.with_strokes(spots, lambda stroke, number: stroke.on(sounds[number % len(sounds)]))
