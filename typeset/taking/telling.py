"""From a pattern to an order and steps that make it, in as few words as can be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from ..pattern.bar import Bar, Pattern, empty_bar
from ..pattern.counts import place_of
from ..pattern.draft import Draft
from ..pattern.grid import Grid
from ..pattern.limb import Limb
from ..pattern.lineage import play_steps
from ..pattern.meter import Meter
from ..pattern.order import Order, write_order
from ..pattern.selection import Selection, Spot
from ..pattern.sound import Sound, first_sound
from ..pattern.steps import Passage
from ..pattern.steps.dynamics import Accent, Ghost
from ..pattern.steps.layering import Ornamented
from ..pattern.steps.shape import Splice
from ..pattern.steps.step import DraftStep, Step
from ..pattern.steps.voicing import Move, Voice
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke, plain_stroke
from .choosing import Chooser
from .fitting import ways_to_fit
from .swells import swell_steps
from .writing import step_text

_IN_LETTERS = 30
"""How many letters longer a step that says accents or ghosts may be than the order that has them itself."""

_EACH_STEP = 8

_HANDS = (Limb.RIGHT, Limb.LEFT)


@dataclass(frozen=True)
class Told:
    """An exercise: the order that it starts from, its meter and grid, its steps."""

    order: Order
    meter: Meter
    grid: Grid
    steps: tuple[Step, ...]

    @property
    def spliced(self) -> tuple[Grid, ...]:
        """The grids of bars that stand on another one."""
        return tuple(step.grid for step in self.steps if isinstance(step, Splice) and step.grid)

    @property
    def ends(self) -> bool:
        """True where its steps let it end, so that it is not a loop unless that is said."""
        return self.play(None).ends

    def play(self, play: str | None) -> Draft:
        """The music that it makes. Raises AssertionError where it makes none."""
        played = play_steps(self.order, self.meter, self.grid, self.steps, play)
        assert played.draft is not None and not played.stumbles  # what is told can be played
        return played.draft


def tell(pattern: Pattern, grids: Sequence[Grid], loops: bool) -> Told:
    """An order and steps that make a pattern, whose bars are in one meter, on these grids.

    A bar on another grid than most is spliced in.
    """
    used = Counter(grid for grid, bar in zip(grids, pattern.bars, strict=True) if any(bar.slots))
    base = used.most_common(1)[0][0]
    length, best = _told(pattern, grids, base, loops, ())
    saying = {Dynamic.GHOST: Ghost, Dynamic.ACCENT: Accent}
    said = [kind for kind, step in saying.items() if any(isinstance(one, step) for one in best.steps)]
    for size in range(1, len(said) + 1):
        for letters in combinations(said, size):
            steps = [step for step in best.steps if isinstance(step, tuple(saying[kind] for kind in letters))]
            # Letters never make the order shorter, so they can save no more than these steps are long.
            if _length((), steps) > _IN_LETTERS * size:
                other = _told(pattern, grids, base, loops, letters)
                length, best = min((length, best), other, key=lambda one: one[0])
    return best


def _told(
    pattern: Pattern, grids: Sequence[Grid], base: Grid, loops: bool, letters: Collection[Dynamic]
) -> tuple[int, Told]:
    """The shortest way where these dynamics stand in the order itself, and how long it is."""
    meter = pattern.bars[0].meter
    frame = Pattern(tuple(empty_bar(meter, base) for _ in pattern.bars))
    line = [
        slot
        for bar, grid in zip(pattern.bars, grids, strict=True)
        for slot in (_bare(bar, letters) if grid == base else [None] * len(frame.bars[0].slots))
    ]
    fitted = min(ways_to_fit(line, frame, loops), key=lambda one: _length(one.order, one.steps))
    steps = [*fitted.steps, *_splices(pattern, grids, base, letters)]
    draft = Told(fitted.order, meter, base, tuple(steps)).play(None)
    finished = _Finishing(pattern, draft)
    finished.finish()
    told = Told(fitted.order, meter, base, (*steps, *finished.steps))
    return _length(told.order, told.steps) + _IN_LETTERS * len(letters), told


def _bare(bar: Bar, letters: Collection[Dynamic]) -> list[Slot]:
    """A bar's slots as a sequence is written: limbs, and the dynamics that stand in its letters."""
    return [
        tuple(
            plain_stroke(stroke.limb, stroke.dynamic if stroke.dynamic in letters else Dynamic.PLAIN)
            for stroke in slot
        )
        for slot in bar.slots
    ]


def _splices(pattern: Pattern, grids: Sequence[Grid], base: Grid, letters: Collection[Dynamic]) -> Iterator[Splice]:
    start = 0
    for bar, grid in zip(pattern.bars, grids, strict=True):
        if grid != base:
            order = tuple(_bare(bar, letters))
            yield Splice(place_of(pattern, start), Passage(write_order(order), order), grid)
        start += len(bar.slots)


def _length(order: Order, steps: Sequence[Step]) -> int:
    return len(write_order(order)) + sum(len(step_text(step)) + _EACH_STEP for step in steps)


class _Finishing:
    """Adds the steps that turn a draft with the right limbs into the pattern."""

    def __init__(self, pattern: Pattern, draft: Draft) -> None:
        self.draft = draft
        self.steps: list[Step] = []
        self.target: Mapping[Spot, Stroke] = {
            (index, stroke.limb): stroke for index, slot in enumerate(pattern.slots) for stroke in slot
        }
        self.pattern = pattern

    def finish(self) -> None:
        """Voices, moves, ghosts, accents, ornaments, swells, in the order in which a teacher would say them."""
        voices = self._voices()
        said = self._said(voices)
        if said:
            self._add(Voice(said))
        self._move({spot: one.sound for spot, one in self.target.items() if one.sound != voices[spot[1]]})
        self._dynamics(Ghost, Dynamic.GHOST, also=Dynamic.ACCENT)
        self._dynamics(Accent, Dynamic.ACCENT)
        for ornament in Ornament:
            carried = {spot for spot, one in self.target.items() if one.ornament is ornament}
            for chosen in self._chosen(carried, hands=True):
                self._add(Ornamented(chosen, ornament.value))
        self.steps += swell_steps(self.pattern)

    def _add(self, step: DraftStep) -> None:
        self.steps.append(step)
        self.draft = step.change(self.draft)

    def _chosen(self, wanted: Collection[Spot], may: Collection[Spot] = (), hands: bool = False) -> list[Selection]:
        return Chooser(self.draft).selections(wanted, may, hands)

    def _voices(self) -> dict[Limb, Sound]:
        """What each limb mostly plays; what it plays in a pickup, where nothing can be moved."""
        played: dict[Limb, Counter[Sound]] = {}
        for spot, stroke in self.target.items():
            played.setdefault(spot[1], Counter())[stroke.sound] += 1
        before = [stroke for slot in self.pattern.pickup.slots for stroke in slot] if self.pattern.pickup else []
        voices = {limb: sounds.most_common(1)[0][0] for limb, sounds in played.items()}
        return voices | {stroke.limb: stroke.sound for stroke in reversed(before)}

    def _said(self, voices: Mapping[Limb, Sound]) -> tuple[tuple[Limb, Sound], ...]:
        """The voices that do not go without saying; where one hand's is said, both are."""
        hands = any(voices.get(limb, first_sound(limb)) != first_sound(limb) for limb in _HANDS)
        return tuple(
            (limb, voices[limb])
            for limb in Limb
            if limb in voices and (voices[limb] != first_sound(limb) or (limb.is_hand and hands))
        )

    def _move(self, moved: Mapping[Spot, Sound]) -> None:
        feet = {spot: sound for spot, sound in moved.items() if not spot[1].is_hand}
        hands = {spot: sound for spot, sound in moved.items() if spot[1].is_hand}
        for spots in (hands, feet):
            one_by_one = self._moves(spots)
            in_turn = self._in_turn(spots)
            for step in in_turn if in_turn and _length((), in_turn) < _length((), one_by_one) else one_by_one:
                self._add(step)

    def _moves(self, moved: Mapping[Spot, Sound]) -> list[Move]:
        """A move for each sound, those with the most strokes first; what is moved again later may come along."""
        draft = self.draft
        steps: list[Move] = []
        waiting = dict(moved)
        for sound, _ in Counter(moved.values()).most_common():
            wanted = [spot for spot, to in waiting.items() if to == sound]
            others = [spot for spot, to in waiting.items() if to != sound]
            for chosen in Chooser(draft).selections(wanted, others, hands=True):
                steps.append(Move(chosen, (sound,)))
                draft = steps[-1].change(draft)
            waiting = {spot: to for spot, to in waiting.items() if to != sound}
        return steps

    def _in_turn(self, moved: Mapping[Spot, Sound]) -> list[Move]:
        """One move of all of them to several sounds in turn; none where that cannot be said, or followed."""
        order = sorted(moved, key=lambda spot: (spot[0], spot[1].rank))
        sounds = [moved[spot] for spot in order]
        if len(sounds) < 2 or any(first == second for first, second in pairwise(sounds)):
            return []
        chosen = self._chosen(moved, hands=True)
        if len(chosen) != 1:
            return []
        size = next(
            size
            for size in range(1, len(sounds) + 1)
            if all(sound == sounds[place % size] for place, sound in enumerate(sounds))
        )
        return [Move(chosen[0], tuple(sounds[:size]))]

    def _dynamics(self, step: type[Accent] | type[Ghost], dynamic: Dynamic, also: Dynamic | None = None) -> None:
        """Say one dynamic; strokes that are to be `also` and are not yet may come along, for that is said next."""
        slots = enumerate(self.draft.pattern.slots)
        now = {(index, one.limb): one.dynamic for index, slot in slots for one in slot}
        wanted = [spot for spot, one in self.target.items() if one.dynamic is dynamic and now[spot] is not dynamic]
        may = [spot for spot, one in self.target.items() if one.dynamic is dynamic]
        may += [spot for spot, one in self.target.items() if one.dynamic is also and now[spot] is not also]
        for chosen in self._chosen(wanted, may):
            self._add(step(chosen))
