"""A player who is simulated: no formula, only a walk through the slots with a clock."""

import random
from dataclasses import dataclass, field
from itertools import pairwise

from typeset.judge.ceiling import ceiling
from typeset.judge.kit import Kit
from typeset.judge.player import LimbTimes, Player
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import Pattern
from typeset.pattern.limb import Limb
from typeset.pattern.mirror import mirrored
from typeset.pattern.stroke import Ornament, Slot, Stroke
from typeset.pattern.swing import EIGHTH, SIXTEENTH, Swing, swung
from typeset.pattern.tempo import FASTEST

OTHER = {Limb.RIGHT: Limb.LEFT, Limb.LEFT: Limb.RIGHT, Limb.KICK: Limb.HAT, Limb.HAT: Limb.KICK}
GRAIN = 6720
"""Half of every slot there is, and so a diddle, is a whole number of these to a whole note."""


@dataclass
class Memory:
    """What a limb remembers: its last strike, the pause before that, whether its other one struck since."""

    at: int | None = None
    sound: str = ""
    how: frozenset[str] = frozenset()
    pause: int | None = None
    free: bool = True
    other_since: bool = False


@dataclass
class SimulatedPlayer:
    """Its clock ticks so that a microsecond, at the tempo that is played, is `tick` of them."""

    player: Player
    kit: Kit
    tick: int = 1
    limbs: dict[Limb, Memory] = field(default_factory=lambda: {limb: Memory() for limb in Limb})

    def keeps_up(self, pattern: Pattern, tempo: int, rounds: int, swing: Swing | None = None) -> bool:
        unit = pattern.bars[0].meter.tempo_unit
        self.tick = tempo * unit.numerator * GRAIN
        clock = 0
        for _ in range(rounds):
            for bar in pattern.bars:
                times = swung(bar, swing)
                for slot, (start, end) in zip(bar.slots, pairwise(times), strict=True):
                    slot_time = int(60_000_000 * unit.denominator * ((end - start) * GRAIN))
                    if slot and not self.plays(slot, clock, slot_time):
                        return False
                    clock += slot_time
        return True

    def plays(self, slot: Slot, clock: int, slot_time: int) -> bool:
        strikes = {stroke.limb: (stroke.sound.name, said_of(stroke)) for stroke in slot}
        seconds = {}
        for stroke in slot:
            if stroke.ornament is Ornament.DIDDLE:
                seconds[stroke.limb] = (stroke.sound.name, said_of(stroke) & {"ghost"})
            helper = OTHER[stroke.limb]
            if stroke.ornament in (Ornament.FLAM, Ornament.DRAG) and stroke.limb.is_hand and helper not in strikes:
                strikes[helper] = (stroke.sound.name, frozenset({"grace", stroke.ornament.value}))
        return self.strikes(strikes, clock) and self.strikes(seconds, clock + slot_time // 2)

    def strikes(self, strikes: dict[Limb, tuple[str, frozenset[str]]], clock: int) -> bool:
        for limb, (sound, how) in strikes.items():
            memory = self.limbs[limb]
            if memory.at is not None:
                pause = clock - memory.at
                if pause < self.tick * self.needed(limb, memory, pause, sound, how):
                    return False
                memory.pause, memory.free = pause, memory.other_since
            memory.at, memory.sound, memory.how = clock, sound, how
        for limb in strikes:
            self.limbs[limb].other_since = False
        for limb in strikes:
            if OTHER[limb] not in strikes:
                self.limbs[OTHER[limb]].other_since = True
        return True

    def needed(self, limb: Limb, memory: Memory, pause: int, sound: str, how: frozenset[str]) -> int:
        times = self.times(limb)
        bits = self.kit.ways[memory.sound][sound].bits
        way = self.player.reach + round(self.player.bit * bits) if bits > 0 else 0
        rested = memory.free or memory.pause is None or memory.pause >= 2 * pause
        plain = times.rebound if rested and way == 0 else times.repeated
        needs = [times.alternating if memory.other_since else plain]
        if "accent" in memory.how and "ghost" in how:
            needs.append(times.ghost)
        if "grace" in memory.how | how:
            needs.append(self.player.grace)
        if {"grace", "drag"} <= how:
            needs.append(self.player.drag)
        if "buzz" in memory.how:
            needs.append(self.player.buzz)
        return max(needs) + way

    def times(self, limb: Limb) -> LimbTimes:
        return {Limb.KICK: self.player.kick, Limb.HAT: self.player.hat}.get(limb, self.player.hand)


def said_of(stroke: Stroke) -> frozenset[str]:
    return frozenset({stroke.dynamic.value, "buzz" if stroke.ornament is Ornament.BUZZ else ""})


def test_a_simulated_player_keeps_up_at_the_ceiling_and_not_above(random_pattern) -> None:
    """Ten thousand random patterns; a loop is walked three times, so that its end has led to its start."""
    figures = standard_figures()
    players, kits = list(figures.players.values()), list(figures.kits.values())
    dice = random.Random(1954)
    for _ in range(10_000):
        pattern, loops = random_pattern(dice), dice.random() < 0.7
        player, kit = dice.choice(players), dice.choice(kits)
        tempo = ceiling(pattern, loops, player, kit).tempo
        rounds = 3 if loops else 1
        assert SimulatedPlayer(player, kit).keeps_up(pattern, tempo, rounds), pattern
        if tempo < FASTEST:
            assert not SimulatedPlayer(player, kit).keeps_up(pattern, tempo + 1, rounds), pattern


def test_nor_does_one_who_swings(random_pattern) -> None:
    figures = standard_figures()
    dice = random.Random(1932)
    for _ in range(600):
        pattern, loops = random_pattern(dice), dice.random() < 0.7
        swing = Swing(*dice.choice([(2, 1), (3, 1), (3, 2)]), note=dice.choice([EIGHTH, SIXTEENTH]))
        tempo = ceiling(pattern, loops, figures.player, figures.kit, swing).tempo
        rounds = 3 if loops else 1
        assert SimulatedPlayer(figures.player, figures.kit).keeps_up(pattern, tempo, rounds, swing), pattern
        if tempo < FASTEST:
            sped_up = SimulatedPlayer(figures.player, figures.kit)
            assert not sped_up.keeps_up(pattern, tempo + 1, rounds, swing), pattern


def test_a_mirrored_pattern_on_the_mirrored_kit_has_the_same_ceiling(random_pattern) -> None:
    figures = standard_figures()
    dice = random.Random(1600)
    for _ in range(500):
        pattern = random_pattern(dice)
        right = ceiling(pattern, True, figures.player, figures.kit)
        left = ceiling(mirrored(pattern), True, figures.player, figures.kit.mirrored())
        assert left.tempo == right.tempo
