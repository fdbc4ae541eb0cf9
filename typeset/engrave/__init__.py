"""Pattern to Abjad score to LilyPond: one block for each system. Blocks are stored and found again."""

from .stage import Engraved, engrave
from .store import Store, default_folder

__all__ = ["Engraved", "Store", "default_folder", "engrave"]
