"""The steps: importing this package enters every family of steps into the table."""

from . import dynamics, order, shape, timing, voicing
from .step import STEPS, DraftStep, Example, OrderStep, Phase, Source, Step, StepError, bind

__all__ = [
    "STEPS",
    "DraftStep",
    "Example",
    "OrderStep",
    "Phase",
    "Source",
    "Step",
    "StepError",
    "bind",
    "dynamics",
    "order",
    "shape",
    "timing",
    "voicing",
]
