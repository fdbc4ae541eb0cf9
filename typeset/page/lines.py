"""The sticking line and the counting line of a system: letters and counts, each centred under its slot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

from ..compose.engraving import System
from ..compose.reach import BETWEEN_GRACES, GRACE
from ..pattern.bar import Bar, Beat
from ..pattern.counts import Count, counts_of
from ..pattern.limb import Limb
from ..pattern.meter import Meter
from ..pattern.stroke import SILENCE, Stroke
from ..style.music import Counts
from .faces import cap_height, width_of
from .marks import Dot, Mark, Words
from .setting import Setting, points

_APART = 0.14
"""Ems between the letters of neighbours at least,"""

_CLOSE = 0.1
"""and between a stroke's letter and that of its grace note."""

_GRACE = 0.8
"""The size of a grace note's letter against that of its stroke, but never below the smallest of the style."""

_DOT = "."
_DOT_RADIUS = 0.07


class Letter(NamedTuple):
    """What stands under a slot in one row; `text` may be a dot. `slot` counts the system's slots.

    `left` is how many points before the slot's middle its own stands, as a grace note's does.
    """

    slot: int
    text: str
    font: str
    size: float
    ink: float
    left: float = 0.0

    @property
    def width(self) -> float:
        """Its width in points."""
        return 2 * _DOT_RADIUS * self.size if self.text == _DOT else width_of(self.text, self.font, self.size)

    def mark(self, middle: float, baseline: float, scale: float) -> Words | Dot:
        """The letter before its slot's middle, or round it."""
        size, middle = self.size * scale, middle - self.left
        if self.text == _DOT:
            rise = size * cap_height(self.font) * 0.36
            return Dot(middle, baseline - rise, _DOT_RADIUS * size, self.ink)
        return Words(middle - self.width * scale / 2, baseline, self.text, self.font, size, self.ink)


Row = tuple[Letter, ...]
Kind = Literal["sticking", "counting"]


@dataclass(frozen=True, slots=True)
class LineOfRows:
    """One line under or over the staff: its rows from the top, and their height in points."""

    kind: Kind
    rows: tuple[Row, ...]
    cap: float
    leading: float

    @property
    def height(self) -> float:
        """From the top of the first row's capitals to the last row's baseline."""
        return self.cap + self.leading * (len(self.rows) - 1)

    def marks(self, middles: Sequence[float], top: float, scale: float) -> Iterable[Mark]:
        """Every letter of the line, whose capitals reach up to `top`."""
        for index, row in enumerate(self.rows):
            baseline = top + self.cap + index * self.leading
            for letter in row:
                yield letter.mark(middles[letter.slot], baseline, scale)

    def scale(self, middles: Sequence[float]) -> float:
        """How much its letters have to shrink so that neighbours stay apart: 1 where they need not."""
        scale = 1.0
        for row in self.rows:
            widths = [letter.width for letter in row]
            for (left, right), (left_width, right_width) in zip(pairwise(row), pairwise(widths), strict=True):
                if left.slot == right.slot:
                    continue
                room = middles[right.slot] - right.left - middles[left.slot] + left.left
                need = (left_width + right_width) / 2 + _APART * max(left.size, right.size)
                scale = min(scale, room / need)
        return scale


def under_signs(system: System, setting: Setting) -> frozenset[int]:
    """The slots that a repeat sign stands for, under which nothing is printed."""
    if not setting.style.staff.repeated_bars or system.blank:
        return frozenset()
    ends = list(accumulate(len(bar.slots) for bar in system.every_bar))
    before = len(system.every_bar) - len(system.bars)
    return frozenset(
        slot for number in system.same for slot in range(ends[before + number - 1], ends[before + number])
    )


def sticking(system: System, setting: Setting) -> LineOfRows:
    """The letters of the limbs; strokes that sound together stand over one another, or joined.

    What is higher on the staff is higher in the line: who plays it changes in a left-handed copy, not where
    it stands.
    """
    style, font = setting.style, setting.letters.strong
    size, ink = style.type.sticking, style.greys.text
    rows: list[list[Letter]] = [[]]
    hidden = under_signs(system, setting)
    for slot, strokes in enumerate(slot for bar in system.every_bar for slot in bar.slots):
        if not strokes or slot in hidden:
            continue
        from_the_top = sorted(strokes, key=_height) if len(strokes) > 1 else strokes
        letters = [style.letters.of(stroke.limb) for stroke in from_the_top]
        graces = [stroke.graces if stroke.ornament else () for stroke in from_the_top]
        if style.lines.together == "joined":
            letters, graces = ["".join(letters)], [sum(graces, ())]
        for index, (letter, limbs) in enumerate(zip(letters, graces, strict=True)):
            if index == len(rows):
                rows.append([])
            own = Letter(slot, letter, font, size, ink)
            rows[index] += [*_graces(own, limbs, setting), own] if limbs else [own]
    return LineOfRows("sticking", tuple(map(tuple, rows)), size * cap_height(font), size * 0.98)


def _graces(own: Letter, limbs: Sequence[Limb], setting: Setting) -> list[Letter]:
    """The small letters before a stroke's own, each under its grace note or as far left of it as it needs."""
    style = setting.style
    size = max(style.type.sticking * _GRACE, style.type.small)
    space = points(style.spacing.staff_space)
    made: list[Letter] = []
    clear = own.width / 2
    for index, limb in enumerate(reversed(limbs)):
        letter = Letter(own.slot, style.letters.of(limb).lower(), own.font, size, own.ink)
        half = letter.width / 2
        left = max((GRACE + index * BETWEEN_GRACES) * space, clear + _CLOSE * size + half)
        made.insert(0, letter._replace(left=left))
        clear = left + half
    return made


def _height(stroke: Stroke) -> tuple[int, str, int]:
    """Where a stroke comes among those that sound with it, from the top of the staff down."""
    return -stroke.sound.place, stroke.sound.name, stroke.limb.rank


def counting(system: System, setting: Setting) -> LineOfRows:
    """The counts; those of slots without a stroke are lighter."""
    hidden = under_signs(system, setting)
    row = tuple(letter for letter in counting_letters(system.every_bar, setting) if letter.slot not in hidden)
    cap = setting.style.type.count * cap_height(setting.letters.regular)
    return LineOfRows("counting", (row,), cap, 0.0)


def counting_letters(bars: Iterable[Bar], setting: Setting, *, lit: bool = False) -> Row:
    """The counts of bars; all of them dark where `lit`, else only those with a stroke."""
    greys = setting.style.greys
    row: list[Letter] = []
    for bar in bars:
        for (text, is_number), strokes in zip(texts_of(bar, setting.style.counts), bar.slots, strict=True):
            ink = greys.text if strokes or lit else greys.silent
            row.append(_count(len(row), text, ink, is_number, setting))
    return tuple(row)


def texts_of(bar: Bar, counts: Counts) -> tuple[tuple[str, bool], ...]:
    """What is printed for each slot of a bar, and whether it is one of the numbers."""
    return _texts(bar.meter, tuple((beat.length, len(beat.slots)) for beat in bar.beats), counts)


@lru_cache(maxsize=4096)
def _texts(meter: Meter, beats: tuple[tuple[Fraction, int], ...], counts: Counts) -> tuple[tuple[str, bool], ...]:
    """The same, by nothing but the shape of the bar, of which a book has few."""
    bar = Bar(meter, tuple(Beat(length, (SILENCE,) * slots) for length, slots in beats))
    return tuple(
        (said(count, length / meter.pulse, counts), count.nth == 1)
        for count, length in zip(counts_of(bar), bar.slot_lengths, strict=True)
    )


def _count(slot: int, text: str, ink: float, is_number: bool, setting: Setting) -> Letter:
    style = setting.style
    # Not the light cut: it would look like the grey of a count without a stroke.
    font = setting.letters.strong if is_number else setting.letters.regular
    size = style.type.between if text.isdigit() and not is_number else style.type.count
    return Letter(slot, text, font, size, ink)


def said(count: Count, share: Fraction, counts: Counts) -> str:
    """What is printed for a count: the number, the style's syllable, a figure, or a dot.

    `share` is the slot's length as a share of what the numbers count.
    """
    if count.nth == 1:
        return str(count.number)
    slots = int(1 / share)
    listed = counts.by_slots.get(slots) if count.of == slots else None
    unnamed = count.syllable is None
    # Four slots to an eighth are named only in the middle; `e` and `a` belong to quarters.
    if listed and not (unnamed and slots == 4):
        return listed[count.nth - 2]
    if count.syllable:
        return _syllable(count.syllable, counts)
    return _DOT if slots & (slots - 1) == 0 else str(count.nth)


def _syllable(syllable: str, counts: Counts) -> str:
    """The style's word for what players call `e & a` or `trip let`."""
    first, middle, last = counts.sixteenths
    named = {"e": first, "&": middle, "a": last, "trip": counts.triplets[0], "let": counts.triplets[1]}
    return named[syllable]
