"""House styles: what a style says, and loading one by its name."""

from .load import load_style, style_names
from .model import Style

__all__ = ["Style", "load_style", "style_names"]
