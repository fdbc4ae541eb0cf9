"""Reading: an author's files in, validated values with their places out, and every problem at once."""

from .models import Chapter, Edition, ExerciseText, Item, Manuscript, Part, Sequence, Settings, TextBlock
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
