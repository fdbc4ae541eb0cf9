"""Composes a manuscript into a book."""

from .compose import Composition, compose

__all__ = ["Composition", "compose"]
