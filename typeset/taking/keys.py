"""General MIDI's percussion keys: what they are called, and which of our sounds stands for each.

The names are those of the General MIDI 1 percussion key map (MIDI Manufacturers Association, 1991).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from ..pattern.sound import SNARE, SOUNDS, Sound

FIRST_KEY = 35
NAMES = (
    "acoustic bass drum", "bass drum 1", "side stick", "acoustic snare", "hand clap", "electric snare",
    "low floor tom", "closed hi-hat", "high floor tom", "pedal hi-hat", "low tom", "open hi-hat",
    "low-mid tom", "hi-mid tom", "crash cymbal 1", "high tom", "ride cymbal 1", "chinese cymbal",
    "ride bell", "tambourine", "splash cymbal", "cowbell", "crash cymbal 2", "vibraslap", "ride cymbal 2",
    "hi bongo", "low bongo", "mute hi conga", "open hi conga", "low conga", "high timbale", "low timbale",
    "high agogo", "low agogo", "cabasa", "maracas", "short whistle", "long whistle", "short guiro",
    "long guiro", "claves", "hi wood block", "low wood block", "mute cuica", "open cuica", "mute triangle",
    "open triangle",
)  # fmt: skip
"""The names of keys 35 to 81, in order."""

_TOMS = (50, 48, 47, 45, 43, 41)
"""The toms from the highest to the lowest."""

_OUR_TOMS = (SOUNDS["high-tom"], SOUNDS["mid-tom"], SOUNDS["floor-tom"])
_ELECTRIC_SNARE = 40

# A second drum or cymbal of a kind is played as the first.
_NEIGHBOURS = {35: "kick", 41: "floor-tom", 45: "mid-tom", 48: "high-tom", 57: "crash", 59: "ride"}
_SOUNDS: Mapping[int, Sound] = {sound.midi: sound for sound in SOUNDS.values()} | {
    key: SOUNDS[name] for key, name in _NEIGHBOURS.items()
}


def key_name(key: int) -> str:
    """What General MIDI calls a key: `hand clap (key 39)`."""
    named = FIRST_KEY <= key < FIRST_KEY + len(NAMES)
    return f"{NAMES[key - FIRST_KEY]} (key {key})" if named else f"key {key}"


def sounds_of(keys: Collection[int]) -> dict[int, Sound]:
    """Which sound each of the keys of one file is; a key that nothing of ours stands for is left out.

    Three toms or fewer are high, mid and floor tom from the highest down where two of them would otherwise be
    one. An electric snare is the snare where there is no other, else the rim-shot.
    """
    found = {key: _SOUNDS[key] for key in sorted(keys) if key in _SOUNDS}
    toms = [key for key in _TOMS if key in keys]
    if len({found[key] for key in toms}) < len(toms) <= len(_OUR_TOMS):
        found.update(zip(toms, _OUR_TOMS, strict=False))
    if _ELECTRIC_SNARE in keys and SNARE.midi not in keys:
        found[_ELECTRIC_SNARE] = SNARE
    return found


def doubts_on(keys: Collection[int]) -> Iterator[str]:
    """What keys of one file could also be than what `sounds_of` takes them for."""
    if _ELECTRIC_SNARE in keys:
        other = "snare" if SNARE.midi in keys else "rim-shot"
        yield f"the electric snare (key {_ELECTRIC_SNARE}) could also be the {other}"
    toms = [key for key in _TOMS if key in keys]
    if len(toms) > len(_OUR_TOMS):
        yield f"{len(toms)} toms are played here on {len(_OUR_TOMS)}; some could also be others"
