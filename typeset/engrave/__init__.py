"""Pattern to Abjad score to LilyPond: one block for each system. Blocks are stored and found again."""

from .stage import Engraved, NotEngraved, engrave
from .store import Store, default_folder
from .workers import Executor, LocalThreads, started_ahead

__all__ = [
    "Engraved",
    "Executor",
    "LocalThreads",
    "NotEngraved",
    "Store",
    "default_folder",
    "engrave",
    "started_ahead",
]
