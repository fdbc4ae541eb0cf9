"""Reading: an author's files in, validated values with their places out, and every problem at once."""

from .exercise import ExerciseText, Part, Settings, TextBlock
from .models import Chapter, Edition, Item, Manuscript, Sequence
from .read import Reading, read
from .steps import Parameter, StepLine, parameters_of

__all__ = [
    "Chapter",
    "Edition",
    "ExerciseText",
    "Item",
    "Manuscript",
    "Parameter",
    "Part",
    "Reading",
    "Sequence",
    "Settings",
    "StepLine",
    "TextBlock",
    "parameters_of",
    "read",
]
