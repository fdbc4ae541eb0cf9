"""What the judge found, in English: for the table that `check` prints."""

from __future__ import annotations

from ..pattern.limb import Limb
from ..pattern.sound import Sound, first_sound
from .ceiling import Transition
from .collisions import Clash, Collision
from .level import Level, Weights

LIMB_WORDS = {
    Limb.RIGHT: "right hand",
    Limb.LEFT: "left hand",
    Limb.KICK: "kick foot",
    Limb.HAT: "hi-hat foot",
}


def cause_in_words(cause: Transition | None) -> str:
    """What limits a tempo, such as `left hand, snare to floor tom, 3e to 3&`."""
    if cause is None:
        return "nothing at the tempos offered"
    return ", ".join([LIMB_WORDS[cause.limb], *_sounds(cause), _places(cause)])


_FEATURE_WORDS = {
    "density": "{0:g} strokes a quarter",
    "limbs": "{0} limbs",
    "changes": "{0} changes of limb",
    "longest_run": "{0} in a row by one limb",
    "off_beat": "{0:.2g} a quarter off the beat",
    "independence": "{0} that part company",
    "distance": "{0:.0f} cm a quarter",
    "meter": "uneven meter",
    "grid": "threes, fives or sevens",
    "mixing": "grids mixed",
    "dynamics": "{0:.2g} changes of dynamic a quarter",
    "ornaments": "{0:.2g} ornaments a quarter",
}


def level_in_words(level: Level, weights: Weights, most: int = 3) -> str:
    """What an exercise's level is made of: its largest shares, the largest first."""
    shares = {name: share for name, share in weights.shares_of(level.features).items() if share > 0}
    largest = sorted(shares, key=shares.__getitem__, reverse=True)[:most]
    return ", ".join(_FEATURE_WORDS[name].format(getattr(level.features, name)) for name in largest)


def _sounds(cause: Transition) -> list[str]:
    """Where from and where to; one name where it stays, none where a foot stays on its own pedal."""
    start, end = cause.start_sound, cause.end_sound
    if start != end:
        return [f"{_sound(start.name)} to {_sound(end.name)}"]
    return [] if start == first_sound(cause.limb) and not start.by_hand else [_sound(start.name)]


def _places(cause: Transition) -> str:
    if cause.within:
        return f"the diddle on {cause.start}"
    start = f"the {cause.grace_start.value} on {cause.start}" if cause.grace_start else str(cause.start)
    end = f"the {cause.grace_end.value} on {cause.end}" if cause.grace_end else str(cause.end)
    return f"{start} round to {end}" if cause.wraps else f"{start} to {end}"


def collision_in_words(collision: Collision) -> str:
    """What collides and where: `1: right hand on hi-hat, left hand on snare: the hands cross by 50 cm`."""
    pairs = zip(collision.limbs, collision.sounds, strict=True)
    strokes = ", ".join(f"{LIMB_WORDS[limb]} on {_struck(limb, sound)}" for limb, sound in pairs)
    return f"{collision.place}: {strokes}: {_clash(collision)}"


def _struck(limb: Limb, sound: Sound) -> str:
    """What a limb strikes; the hi-hat foot has its own name in common with its sound."""
    return "its pedal" if limb is Limb.HAT and sound == first_sound(limb) else _sound(sound.name)


def _clash(collision: Collision) -> str:
    return {
        Clash.ONE_LIMB_TWICE: "one limb cannot be in two places",
        Clash.THREE_HANDS: "that takes three hands",
        Clash.TOGETHER: "strokes together in a linear exercise",
        Clash.CROSSED_HANDS: f"the hands cross by {collision.cm} cm",
        Clash.SMALL_SOUND: "two sticks have no room there",
        Clash.OPEN_AND_SHUT: "the foot shuts what is to sound open",
        Clash.SHUT_TWICE: "the stick covers what the foot plays",
    }[collision.clash]


def _sound(name: str) -> str:
    """A sound's name as it stands in a sentence; only the hi-hat keeps its hyphen."""
    return name.replace("-", " ").replace("hi hat", "hi-hat")
