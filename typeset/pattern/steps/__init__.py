"""The steps: importing this package enters every family of steps into the table."""

from . import dynamics, layering, order, shape, timing, voicing
from .step import STEPS, DraftStep, Example, Heard, OrderStep, Passage, Phase, Source, Step, StepError, bind

__all__ = [
    "STEPS",
    "DraftStep",
    "Example",
    "Heard",
    "OrderStep",
    "Passage",
    "Phase",
    "Source",
    "Step",
    "StepError",
    "bind",
    "dynamics",
    "layering",
    "order",
    "shape",
    "timing",
    "voicing",
]
