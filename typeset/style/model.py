"""What a style says. Lengths are millimetres, type sizes points, greys percent of ink (100 is black).

A key of a style's YAML is an attribute's name here with hyphens for underscores.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PrivateAttr, model_validator

from ..pattern.limb import Limb

# The last of each says its unit in the reference.
Millimetres = Annotated[float, Field(ge=0, le=2000, allow_inf_nan=False), "mm"]
Length = Annotated[float, Field(gt=0, le=2000, allow_inf_nan=False), "mm"]
PageSide = Annotated[float, Field(ge=60, le=1000, allow_inf_nan=False), "mm"]
Points = Annotated[float, Field(ge=4, le=144, allow_inf_nan=False), "pt"]
Ink = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False), "% ink"]
Family = Literal["source-serif", "source-sans", "lato"]
Letter = Annotated[str, Field(min_length=1, max_length=3)]
Syllable = Annotated[str, Field(min_length=1, max_length=5)]


def _alone(value: Any) -> Any:
    """One value may stand where a list is expected."""
    return (value,) if isinstance(value, str) else value


def _hyphened(attribute: str) -> str:
    return attribute.replace("_", "-")


Syllables = Annotated[tuple[Syllable, ...], BeforeValidator(_alone)]


class Part(BaseModel):
    """A part of a style: frozen, and nothing in it that is not declared."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=_hyphened,
        populate_by_name=True,
        use_attribute_docstrings=True,
    )


class Staff(Part):
    """The few keys that touch the engraved staff; engraving depends on these and on no others."""

    height: Length = 6.2
    """from the lowest to the highest staff line"""
    stems: Literal["up", "split"] = "up"
    """all stems up, or those of the hands up and those of the feet down"""
    repeated_bars: bool = False
    """print a bar that repeats the one before as a repeat sign"""


class Spacing(Part):
    """How much room music gets. A bar that does not fit at the narrowest slot is an error of the book."""

    measure: Length = 170.0
    """the width of the music and of the text block"""
    lead: Length = 16.0
    """from the staff's left end to the first note: clef, meter and repeat sign stand there"""
    tail: Millimetres = 1.6
    """from the end of the last slot to the end of the staff"""
    slot: Length = 3.8
    """the comfortable width of a slot: a line takes fewer bars before slots become narrower"""
    least_slot: Length = 3.0
    """the narrowest slot, for a bar that has a line to itself"""
    shared_slot: Length = 3.0
    """the narrowest slot for two exercises of one bar each that share a line; a large number keeps all apart"""
    gap: Millimetres = 6.0
    """between two exercises that share a line"""

    _staff_space: float = PrivateAttr(default=6.2 / 4)

    @property
    def staff_space(self) -> float:
        """How far two staff lines are apart: the style says so for its staff."""
        return self._staff_space

    def on(self, staff: Staff) -> Spacing:
        """The same spacing of music on a staff."""
        made = self.model_copy()
        made._staff_space = staff.height / 4
        return made


# ISO 216 (A sizes) and ANSI/ASME Y14.1 (letter, and tabloid as its size B), in millimetres.
PAPERS = {
    "a3": (297.0, 420.0),
    "a4": (210.0, 297.0),
    "a5": (148.0, 210.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}


class Paper(Part):
    """The trimmed page: a name (`a3`, `a4`, `a5`, `letter`, `tabloid`), or a width and a height."""

    width: PageSide = 210.0
    """across the page"""
    height: PageSide = 297.0
    """from the page's head to its foot"""
    fitted: bool = False
    """cut every page to what stands on it and the margins; width and height are the most it may be"""

    @model_validator(mode="before")
    @classmethod
    def _by_name(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        if value.lower() not in PAPERS:
            raise ValueError(f"'{value}' is no paper; say {', '.join(PAPERS)}, or a width and a height")
        width, height = PAPERS[value.lower()]
        return {"width": width, "height": height}


class Gutter(Part):
    """How far the text block moves out of the spine as the book gets thicker."""

    every: Annotated[int, Field(ge=1, le=1000)] = 50
    """how many pages it takes for the gutter to grow,"""
    adds: Millimetres = 1.0
    """by this much each time,"""
    most: Millimetres = 8.0
    """and the most that it comes to"""

    def of(self, pages: int) -> float:
        """The gutter of a book of so many pages, in millimetres."""
        return min(self.most, pages // self.every * self.adds)


class Margins(Part):
    """Where the text block stands on the page. Margins and gutter move it; they never resize it."""

    top: Length = 24.0
    """from the page's head to the text block"""
    bottom: Length = 24.0
    """from the text block to the page's foot"""
    inner: Length = 20.0
    """from the spine to the music, before the gutter"""
    outer: Length = 12.0
    """the least that may be left on the other side; what is left is what paper, inner and measure leave"""
    gutter: Gutter = Gutter()
    """what a thick book needs besides"""


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


class Lines(Part):
    """The lines that go with the staff: where each stands, and how far away."""

    sticking: Literal["below", "above", "none"] = "below"
    """where the letters of the limbs stand"""
    counting: Literal["below", "above", "none"] = "below"
    """where the counts stand"""
    distance: Millimetres = 2.9
    """from the staff's outer line to the nearest letters, more where notes need it"""
    apart: Millimetres = 1.5
    """between the sticking and the counting line"""
    together: Literal["stacked", "joined"] = "stacked"
    """letters of strokes that sound together: one over the other, or side by side"""


class Letters(Part):
    """What the sticking line prints for each limb."""

    right: Letter = "R"
    """the right hand"""
    left: Letter = "L"
    """the left hand"""
    kick: Letter = "K"
    """the kick foot"""
    hat: Letter = "H"
    """the hi-hat foot"""

    def of(self, limb: Limb) -> str:
        """The letter of a limb."""
        letter: str = getattr(self, limb.name.lower())
        return letter


class Counts(Part):
    """What is counted between two printed numbers, by how many slots a number has.

    The keys are the grids as they are in x/4. Where a number counts an eighth or a half, the list with the
    same division is used. A figure is printed smaller, and `.` is printed as a dot. Common practice, no
    source.
    """

    eighths: Syllables = Field(default=("&",), alias="8ths")
    """after a number of two slots"""
    triplets: Syllables = ("trip", "let")
    """after a number of three"""
    sixteenths: Syllables = Field(default=("e", "&", "a"), alias="16ths")
    """after a number of four"""
    quintuplets: Syllables = ("2", "3", "4", "5")
    """after a number of five"""
    sextuplets: Syllables = ("2", "3", "4", "5", "6")
    """after a number of six"""
    septuplets: Syllables = ("2", "3", "4", "5", "6", "7")
    """after a number of seven"""
    thirty_seconds: Syllables = Field(default=(".", "e", ".", "&", ".", "a", "."), alias="32nds")
    """after a number of eight"""

    @model_validator(mode="after")
    def _are_complete(self) -> Counts:
        for slots, syllables in self.by_slots.items():
            if len(syllables) != slots - 1:
                raise ValueError(
                    f"{slots} slots to a number have {slots - 1} between the numbers, "
                    f"not the {len(syllables)} of [{', '.join(syllables)}]"
                )
        return self

    @property
    def by_slots(self) -> dict[int, tuple[str, ...]]:
        """The syllables between two numbers, by how many slots there are to a number."""
        lists = (
            self.eighths,
            self.triplets,
            self.sixteenths,
            self.quintuplets,
            self.sextuplets,
            self.septuplets,
            self.thirty_seconds,
        )
        return dict(enumerate(lists, start=2))


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


class Press(Part):
    """What a printing house needs around the trimmed pages, and how many of them."""

    bleed: Millimetres = 0.0
    """how far a page reaches over its trim"""
    crop_marks: bool = False
    """lines outside of the trim that show where to cut"""
    pages_multiple: Annotated[int, Field(ge=1, le=64)] = 1
    """the number of pages is a multiple of this; blank ones at the end make it so"""


SheetName = Literal["a3", "a4", "a5", "letter", "tabloid"]


class Booklet(Part):
    """Two pages side by side on a sheet, and a booklet folded from such sheets."""

    sheet: SheetName = "a4"
    """the sheet in the printer, laid on its long side; pages that are too large for it are scaled down"""
    thickness: Annotated[float, Field(ge=0, le=1, allow_inf_nan=False), "mm"] = 0.1
    """of one sheet; it moves the pages of inner sheets to the fold, for a booklet that is trimmed"""


class Style(Part):
    """A house style, complete."""

    name: str
    """the name of its file"""
    paper: Paper = Paper()
    margins: Margins = Margins()
    spacing: Spacing = Spacing()
    staff: Staff = Staff()
    type: Type = Type()
    lines: Lines = Lines()
    letters: Letters = Letters()
    counts: Counts = Counts()
    greys: Greys = Greys()
    running: Running = Running()
    chapters: ChapterLook = ChapterLook()
    exercises: ExerciseLook = ExerciseLook()
    press: Press = Press()
    booklet: Booklet = Booklet()

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
