"""A whole style: its paper, its music, its type, and how chapters and exercises look."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from .music import Counts, Letters, Lines, Spacing, Staff
from .paper import Booklet, Gutter, Margins, Paper, Press
from .part import Ink, Length, Millimetres, Part, Points, as_usual

Family = Literal["source-serif", "source-sans", "lato"]


class Type(Part):
    """Faces, and their sizes in points."""

    text: Family = "source-serif"
    """the face of running text and titles"""
    letters: Family = "source-sans"
    """the face of sticking, counts, numbers and running heads"""
    body: Points = 10.5
    """text between exercises, and the front and back pages"""
    leading: Points = 14.0
    """from one line of text to the next; a quarter of it is the step of the page's rhythm"""
    intro: Points = 11.5
    """a chapter's opening text"""
    instruction: Points = 9.5
    """the sentences over an exercise"""
    exercise: Points = 11.5
    """an exercise's title and number"""
    chapter: Points = 26.0
    """a chapter's title, and the titles of front and back pages"""
    title: Points = 40.0
    """the book's title on its title page"""
    small: Points = 8.0
    """running heads, page numbers, labels"""
    sticking: Points = 9.5
    """the letters of the sticking line; where slots are too narrow for them a line is set smaller"""
    count: Points = 8.5
    """the numbers and syllables of the counting line"""
    between: Points = 7.5
    """figures counted on between the printed numbers: 2 *2 3 4 5*; they are lighter than those"""
    hyphens: bool = True
    """part words where the lines of a text would be very uneven without"""
    text_width: Length = 118.0
    """the longest line of running text in millimetres"""


class Greys(Part):
    """How much ink: 100 is black, 0 is paper."""

    text: Ink = 100.0
    """words, letters and counts"""
    quiet: Ink = 62.0
    """running heads, labels, lineage"""
    silent: Ink = 42.0
    """a counted slot without a stroke"""
    rule: Ink = 35.0
    """rules and leaders"""
    tint: Ink = 14.0
    """the band behind the letters of a note that changed"""


class Running(Part):
    """Running heads and page numbers, mirrored on left and right pages."""

    left: Literal["title", "chapter", "author", "none"] = "title"
    """what the head of a left-hand page says"""
    right: Literal["title", "chapter", "author", "none"] = "chapter"
    """what the head of a right-hand page says"""
    head: Length = 13.0
    """from the page's head to the running head's line"""
    foot: Length = 13.0
    """from the page's foot to the page number's line"""
    numbers: bool = True
    """print page numbers"""


class ChapterLook(Part):
    """How a chapter begins."""

    begins: Literal["next-page", "right-hand-page"] = "next-page"
    """on the next page, or on the next right-hand page after a blank one where needed"""
    sink: Millimetres = 16.0
    """white above the chapter's number"""


class ExerciseLook(Part):
    """How an exercise looks, and how exercises stand on a page."""

    number: Literal["hanging", "inline"] = "hanging"
    """in the margin beside the title, or before it"""
    level: bool = False
    """print the level"""
    lineage: bool = True
    """say which exercise it grew out of, as `from 1.2`"""
    changes: Literal["mark", "tint", "none"] = "mark"
    """mark each note that differs from that one: a short bar under its count, or a grey band behind its letters"""
    tempo: bool = True
    """print the tempo mark"""
    care_above: Annotated[int, Field(ge=20, le=400)] = 160
    """remind the reader to stay loose where a goal is faster than so many quarters a minute"""
    ladder: bool = False
    """print a box to tick for each tempo on the way to the goal"""
    recordings: bool = True
    """print a code that leads to its recording, where the book says where its recordings are"""
    code: Annotated[float, Field(ge=15, le=40, allow_inf_nan=False), "mm"] = 15.0
    """the side of that code without the white round it; a long address makes it larger"""
    systems: Millimetres = 5.0
    """between the systems of one exercise"""
    space: Length = 9.0
    """between exercises, before a page is filled evenly"""
    most_space: Length = 22.0
    """the widest that filling a page may make it; a page that this does not fill ends where it ends"""
    answers: Annotated[float, Field(ge=0.4, le=1, allow_inf_nan=False)] = 0.72
    """the size of the music of an answer, against that of an exercise"""


class Style(Part):
    """A house style, complete."""

    name: str
    """the name of its file"""
    paper: Paper = as_usual(Paper)
    margins: Margins = as_usual(Margins)
    spacing: Spacing = as_usual(Spacing)
    staff: Staff = as_usual(Staff)
    type: Type = as_usual(Type)
    lines: Lines = as_usual(Lines)
    letters: Letters = as_usual(Letters)
    counts: Counts = as_usual(Counts)
    greys: Greys = as_usual(Greys)
    running: Running = as_usual(Running)
    chapters: ChapterLook = as_usual(ChapterLook)
    exercises: ExerciseLook = as_usual(ExerciseLook)
    press: Press = as_usual(Press)
    booklet: Booklet = as_usual(Booklet)

    @model_validator(mode="after")
    def _fits_its_paper(self) -> Style:
        across = self.margins.inner + self.spacing.measure + self.margins.outer + self.margins.gutter.most
        if across > self.paper.width:
            raise ValueError(
                f"inner and outer margin, the widest gutter and the measure take {across:g} mm; "
                f"the paper is {self.paper.width:g} mm wide"
            )
        if self.margins.top + self.margins.bottom + 40 > self.paper.height:
            high = self.paper.height
            raise ValueError(f"the margins leave less than 40 mm of the paper's {high:g} mm for text")
        # A style is frozen from here on.
        self.__dict__["spacing"] = self.spacing.on(self.staff)
        return self

    def shrunk(self) -> Style:
        """This style for one exercise alone: the page is cut to it, and nothing else stands there."""
        return self.model_copy(
            update={
                "paper": self.paper.model_copy(update={"fitted": True}),
                "margins": Margins(top=6, bottom=6, inner=self.margins.outer, outer=6, gutter=Gutter(most=0)),
                "running": Running(left="none", right="none", numbers=False),
                "press": Press(),
            }
        )
