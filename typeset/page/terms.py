"""Laying a curriculum out: its map, then a plan for each term."""

from __future__ import annotations

from ..compose.curriculum import Curriculum
from ..style.model import Style
from ..wording import wording
from .leaf import in_order, pageful_of
from .map import curriculum_map
from .pages import Pages
from .plan import term_plan
from .plates import pages_of
from .setting import Setting


def lay_out_curriculum(curriculum: Curriculum, style: Style) -> Pages:
    """Set the map of a curriculum and the plan of each of its terms in a style.

    Raises DoesNotFit where something is taller than a page, OutsideError where a typeface is missing.
    """
    setting = Setting(style, wording(curriculum.language), {})
    plans = (term_plan(curriculum, number, setting) for number in range(1, len(curriculum.terms) + 1))
    sections = (curriculum_map(curriculum, setting), *plans)
    return pages_of(curriculum, in_order(pageful_of(section, setting) for section in sections), setting)
