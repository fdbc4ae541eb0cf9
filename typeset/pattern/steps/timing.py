"""Steps that set an order in time, or move it there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from ..again import set_again
from ..counts import Place
from ..draft import MOST_BARS, Draft, Setting, displace
from ..grid import Grid
from ..meter import Meter
from ..sentence import Bars, Sentence, Slots
from .step import DraftStep, Example, Heard, Phase, StepError, alone, step

Fitting = Literal["trimming", "restarting", "resting", "exactly", "resolving"]


@step
@dataclass(frozen=True)
class Fit(DraftStep):
    """Set the order in so many bars."""

    key = "fit"
    phase = Phase.TIME
    about = (
        "set the order in so many bars: trimming repeats it and cuts what is left over, restarting begins "
        "again at each bar, resting plays it once, exactly refuses a remainder, resolving repeats it until "
        "its end meets a barline; from leaves silence before a count of bar 1"
    )
    says = {
        "trimming": "Repeat the order to fill {bars}.",
        "restarting": "Repeat the order to fill {bars}, beginning again at each bar.",
        "resting": "Play the order once in {bars}, then rest.",
        "exactly": "Repeat the order; it fills {bars} exactly.",
        "resolving": "Repeat the order until its end meets a barline.",
        "trimming from": "Begin on {from} and repeat the order to fill {bars}.",
        "restarting from": "Begin on {from}; repeat the order to fill {bars}, beginning again at each bar.",
        "resting from": "Play the order once, beginning on {from}, then rest.",
        "exactly from": "Begin on {from} and repeat the order; it fills {bars} exactly.",
        "resolving from": "Begin on {from} and repeat the order until its end meets a barline.",
        "once": "Play the order once; it fills {bars} exactly.",
        "once from": "Begin on {from} and play the order once; it fills {bars} exactly.",
        "cut": "Play as much of the order as fills {bars}.",
        "cut from": "Begin on {from} and play as much of the order as fills {bars}.",
    }
    example = Example("R L R K L", "{bars: 1, by: restarting}", "R L R K L R L R K L R L R K L R")

    bars: int | None = alone(default=None)
    by: Fitting = "trimming"
    from_: Place | None = None

    def __post_init__(self) -> None:
        if self.bars is not None and not 1 <= self.bars <= MOST_BARS:
            raise StepError(f"an exercise has 1 to {MOST_BARS} bars", "bars")

    @property
    def form(self) -> str:
        return f"{self.by} from" if self.from_ else self.by

    def words(self) -> Mapping[str, Any]:
        return {"bars": Bars(self.bars), "from": self.from_}

    def sentence_for(self, heard: Heard) -> Sentence:
        """The same without talk of repeating where nothing is repeated, nor of each bar where there is one."""
        words = {**self.words(), "bars": Bars(heard.bars)}
        form: str = "trimming" if self.by == "restarting" and heard.bars == 1 else self.by
        if form in ("trimming", "exactly", "resolving") and heard.passes is not None and heard.passes <= 1:
            form = "once" if heard.passes == 1 else "cut"
        form = f"{form} from" if self.from_ else form
        return Sentence(self.key, form, self.says[form], words)

    @property
    def setting(self) -> Setting:
        """How it sets an order in time."""
        return Setting(self.bars, self.by, self.from_)

    def change(self, draft: Draft) -> Draft:
        return set_again(draft, draft.meter, draft.grid, self.setting)


@step
@dataclass(frozen=True)
class Displace(DraftStep):
    """Move everything later by so many slots, round the end."""

    key = "displace"
    phase = Phase.TIME
    about = "move everything so many slots later, round the end; a number below 0 moves it earlier"
    says = {"later": "Move everything {slots} later.", "earlier": "Move everything {slots} earlier."}
    example = Example("R L R K", "1", "K R L R K R L R K R L R K R L R", first="fit: {bars: 1}")

    by: int = alone()

    @property
    def form(self) -> str:
        return "later" if self.by >= 0 else "earlier"

    def words(self) -> Mapping[str, Any]:
        return {"slots": Slots(abs(self.by))}

    def change(self, draft: Draft) -> Draft:
        return displace(draft, self.by)


@step
@dataclass(frozen=True)
class Regrid(DraftStep):
    """Set the order again on another grid, in as many bars."""

    key = "regrid"
    phase = Phase.TIME
    about = (
        "set the order again on another grid, in as many bars; what was said on strokes travels with them, "
        "layers are laid anew"
    )
    says = {"plain": "Play it in {grid}."}
    example = Example("R! L L R", "triplets", "R! L L R R! L", meter="2/4", grid="8ths")

    grid: Grid = alone()

    def change(self, draft: Draft) -> Draft:
        return set_again(draft, draft.meter, self.grid, _in_as_many_bars(draft))


@step
@dataclass(frozen=True)
class Remeter(DraftStep):
    """Set the order again in another meter, in as many bars."""

    key = "remeter"
    phase = Phase.TIME
    about = (
        "set the order again in another meter, in as many bars; what was said on strokes travels with them, "
        "layers are laid anew"
    )
    says = {"plain": "Play it in {meter}."}
    example = Example("R! L L R", "3/4", "R! L L R R! L", meter="2/4", grid="8ths")

    meter: Meter = alone()

    def change(self, draft: Draft) -> Draft:
        return set_again(draft, self.meter, draft.grid, _in_as_many_bars(draft))


def _in_as_many_bars(draft: Draft) -> Setting:
    by = "trimming" if draft.setting.by == "resolving" else draft.setting.by
    return Setting(len(draft.pattern.bars), by, draft.setting.start)
