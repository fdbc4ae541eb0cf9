"""An exercise made to be heard: as MIDI, and as audio."""
