"""Care: cautions for ears, hands, backs and cables; clinicians and local rules have the last word."""

from __future__ import annotations

from collections.abc import Sequence

from ..compose.book import Book
from ..wording import Wording
from .breaking import Piece
from .flow import body_look, kept, text_pieces, title_piece
from .leaf import Section
from .marks import Mark, Rule, Words
from .rows import beside, heading_row, right_width
from .setting import Setting

CARE = "page care"

# NIOSH publication 98-126, Criteria for a Recommended Standard: Occupational Noise Exposure (1998): a
# recommended limit of 85 dBA over 8 hours with a 3 dB exchange rate.
LIMIT_DBA, LIMIT_HOURS, EXCHANGE_DB = 85, 8, 3
LEVELS = (85, 88, 91, 94, 97, 100, 103, 106)


def longest_exposure(level: int) -> float:
    """How many minutes a day's exposure to a level in dBA may last."""
    return float(60 * LIMIT_HOURS * 2 ** ((LIMIT_DBA - level) / EXCHANGE_DB))


def time_words(minutes: float, words: Wording) -> str:
    """Minutes as a reader says them: `8 hours`, `2 hours 31 minutes`; a part of a minute is cut off."""
    hours, rest = divmod(int(minutes + 1e-9), 60)
    said: list[str] = []
    if hours:
        said.append(words.count("pages.care.hours", hours))
    if rest:
        said.append(words.count("pages.care.minutes", rest))
    return " ".join(said) or words["pages.care.less"]


def care(book: Book, setting: Setting) -> Section:
    """The page of cautions, with the table of levels and times: those that the book names, or the usual ones."""
    key = "pages.care."
    title = setting.words[f"{key}title"]
    pieces = [title_piece(title, CARE, setting)]
    intro = text_pieces(setting.words[f"{key}intro"], body_look(setting), setting)
    pieces += [*kept(intro), Piece(setting.unit * 4, (), keeps=True)]
    for part in ("hearing", "hands", "back", "cables"):
        heading, text = setting.words[f"{key}{part}-title"], setting.words[f"{key}{part}"]
        pieces.append(heading_row(heading, text, setting))
        if part == "hearing":
            pieces.append(_table(book.sound_levels or LEVELS, setting))
            pieces.append(heading_row("", setting.words[f"{key}table-note"], setting))
    return Section(title, tuple(pieces))


def _table(levels: Sequence[int], setting: Setting) -> Piece:
    """Levels over the times they may last, in as many columns as there are levels."""
    key = "pages.care."
    style = setting.style
    font, strong = setting.letters.regular, setting.letters.strong
    size, ink = style.type.instruction, style.greys.text
    width = right_width(setting)
    leading = max(setting.unit * 4, size * 1.3)
    marks: list[Mark] = []
    y = leading
    edge = width * 0.5
    for head, x in ((setting.words[f"{key}level-head"], 0.0), (setting.words[f"{key}time-head"], edge)):
        marks.append(Words(x, y, head, strong, size, ink))
    marks.append(Rule(0, y + 4, width, y + 4, 0.5, style.greys.rule))
    y += leading * 1.25
    for level in levels:
        marks.append(Words(0, y, setting.words.say(f"{key}level", level=level), font, size, ink))
        marks.append(Words(edge, y, time_words(longest_exposure(level), setting.words), font, size, ink))
        y += leading
    return beside(marks, y - leading + size * 0.4, setting)
