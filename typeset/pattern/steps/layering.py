"""Steps that add to what is played: a layer for another limb, an ornament on a stroke."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from ..counts import Place
from ..draft import Draft
from ..layer import Layer, lay
from ..limb import Limb
from ..selection import Selection
from ..sound import Sound, first_sound
from ..stroke import Ornament
from .step import DraftStep, Example, Source, StepError, refuse_unplayable, step

Everywhere = Literal["beats", "8ths", "quarters", "offbeats"]


@step
@dataclass(frozen=True)
class LayerStep(DraftStep):
    """Lay a line for a free limb over the music."""

    key = "layer"
    about = (
        "lay a line for a free limb over the music: on the beats, the 8ths, the quarters or the offbeats (the "
        "& of every number), on counts, or as a sequence of its own from the first bar on"
    )
    says = {
        "beats": "Add {limb} on {sound}, on every beat.",
        "8ths": "Add {limb} on {sound}, in eighths.",
        "quarters": "Add {limb} on {sound}, in quarters.",
        "offbeats": "Add {limb} on {sound}, on every offbeat.",
        "counts": "Add {limb} on {sound}, on {at}.",
        "sequence": "Add {sequence} under it, over and over.",
    }
    example = Example("R L K .", "{limb: H, at: beats}", "R+H L K+H .", meter="2/4", grid="8ths")

    limb: Limb | None = None
    sound: Sound | None = None
    at: Everywhere | tuple[Place, ...] | None = None
    sequence: Source | None = None
    where_missing: Literal["error", "skip"] = "error"

    def __post_init__(self) -> None:
        if self.sequence is None and self.limb is None:
            raise StepError("say which limb plays: limb: H, or a sequence of its own")
        if self.sequence is not None and self.at is not None:
            raise StepError("a layer is laid at places or is a sequence of its own, not both", "at")
        if self.limb and self.sound:
            refuse_unplayable(self.limb, self.sound, "sound")
        if self.sequence is not None and self.sound and self.limb is None:
            raise StepError("say whose sound this is: limb: and the limb", "sound")

    @property
    def form(self) -> str:
        if self.sequence is not None:
            return "sequence"
        return "counts" if isinstance(self.at, tuple) else self.at or "beats"

    def words(self) -> Mapping[str, Any]:
        sound = self.sound or (first_sound(self.limb) if self.limb else None)
        return {"limb": self.limb, "sound": sound, "at": self.at, "sequence": self.sequence}

    def change(self, draft: Draft) -> Draft:
        order = self.sequence.order if self.sequence else None
        skips = self.where_missing == "skip"
        return lay(draft, Layer(self.limb, self.sound, self.at, order, skips))


@step
@dataclass(frozen=True)
class Ornamented(DraftStep):
    """Put an ornament on the chosen strokes."""

    key = "ornament"
    about = (
        "play the chosen strokes as a flam, a drag, a buzz or a diddle (two strokes in the time of one); the "
        "feet's strokes are passed over unless limb names the foot, and a foot plays diddles alone"
    )
    says = {
        "flam": "Flam {chosen}.",
        "drag": "Put a drag before {chosen}.",
        "buzz": "Buzz {chosen}.",
        "diddle": "Play {chosen} as a diddle, two strokes in the time of one.",
    }
    example = Example("R L R L", "{at: [1, 2], as: flam}", "R(flam) L R(flam) L", meter="2/4", grid="8ths")

    chosen: Selection
    as_: Literal["flam", "drag", "buzz", "diddle"]

    def __post_init__(self) -> None:
        if self.chosen.names_a_foot and self.as_ != "diddle":
            raise StepError(f"a foot plays diddles, and no {self.as_}", "as")

    @property
    def form(self) -> str:
        return self.as_

    def change(self, draft: Draft) -> Draft:
        spots = draft.choose(self.chosen, hands_only=not self.chosen.names_a_foot)
        if self.as_ in ("flam", "drag"):
            for index, _ in spots:
                if sum(stroke.limb.is_hand for stroke in draft.pattern.slots[index]) > 1:
                    raise StepError(f"a {self.as_} takes both hands, and here both play already")
        return draft.with_strokes(spots, lambda stroke, _: stroke.carrying(Ornament(self.as_)))
