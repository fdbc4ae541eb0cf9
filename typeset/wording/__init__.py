"""Everything the program prints, by language."""

from .catalogue import Wording, wording

__all__ = ["Wording", "wording"]
