"""Shedbook: one short order of strokes, worked out, judged, engraved and bound as a printed drum book."""

__version__ = "0.1.0"
