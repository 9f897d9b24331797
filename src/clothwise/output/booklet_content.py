"""What a booklet says: plain texts, tables and drawings, ready to be set.

    Booklet ── Figure        a drawing with the words for those who cannot see it
            ├─ Table
            ├─ ClothPages    a cloth: what is cut from it and how it is laid
            ├─ WorkStep      a step of the order of work with its figure
            ├─ Sitting       which steps to sew in one go
            └─ Care          what to mind

Drawings are set at their own size, and made smaller only where they do not fit; draw them to the
rooms named here. Every text is taken literally: no letter in it has a meaning to the typesetter.
"""

from __future__ import annotations

from dataclasses import dataclass

from clothwise.output.drawing import Color, Drawing

TEXT_WIDTH_MM = 170.0
"""Width of the text on A4 and on Letter."""
COVER_ROOM_MM = (83.0, 128.0)
"""Width and height for each of the two drawings on the cover."""
LAYOUT_WIDTH_MM = TEXT_WIDTH_MM
"""Width of a cutting layout."""
KEY_WIDTH_MM = TEXT_WIDTH_MM
"""Width of the key to the pictures of the steps."""
STEP_ROOM_MM = (82.0, 58.0)
"""Width and height for the picture of a step."""


@dataclass(frozen=True)
class Figure:
    """A drawing; `caption` is set below it, `description` is read to those who cannot see it."""

    drawing: Drawing
    caption: str = ""
    description: str = ""


@dataclass(frozen=True)
class Table:
    """Rows of texts under a header. Columns named in `flush_right` (from 0) hold numbers.

    An empty header is left out. Rows shorter than the longest are filled up.
    """

    header: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    flush_right: tuple[int, ...] = ()
    note: str = ""

    @property
    def columns(self) -> int:
        """How many columns there are."""
        return max((len(row) for row in (self.header, *self.rows)), default=0)


@dataclass(frozen=True)
class ClothPages:
    """A cloth: its name, its color in the drawings, facts about it, what is cut and how it lies.

    `facts` are pairs such as `("Buy", "2.6 m")`. `swatch` is a small PNG of the cloth, or empty.
    """

    name: str
    tint: Color
    facts: tuple[tuple[str, str], ...] = ()
    pieces: Table = Table()
    layouts: tuple[Figure, ...] = ()
    notes: tuple[str, ...] = ()
    swatch: bytes = b""


@dataclass(frozen=True)
class WorkStep:
    """A step: never parted from its figure. `cautions` are a few words each (`hot iron`)."""

    number: int
    title: str
    text: str
    station: str = ""
    time: str = ""
    cautions: tuple[str, ...] = ()
    figure: Figure | None = None


@dataclass(frozen=True)
class Sitting:
    """Steps to do in one go: such as `Session 1`, `steps 1 to 7`, `1 h 25 min`, `iron, machine`."""

    title: str
    steps: str
    time: str
    stations: str = ""
    ends_with: str = ""


@dataclass(frozen=True)
class Care:
    """What to mind at work that can hurt."""

    title: str
    text: str


@dataclass(frozen=True)
class Booklet:
    """All that a booklet says, in the order in which it is set; what is empty is left out.

    `language` is a code of ISO 639 such as `en`. `facts` on the cover are pairs such as
    `("Size", "38")`. `flats` are one or two drawings of the garment. `edition` says which printing
    it is, on the cover and at the foot of each page.
    """

    title: str
    subtitle: str = ""
    edition: str = ""
    description: str = ""
    language: str = "en"
    facts: tuple[tuple[str, str], ...] = ()
    flats: tuple[Figure, ...] = ()
    unit_note: str = ""
    body: Table = Table()
    finished: Table = Table()
    requirement: Table = Table()
    notions: Table = Table()
    before_cutting: tuple[str, ...] = ()
    cloths: tuple[ClothPages, ...] = ()
    before_sewing: tuple[str, ...] = ()
    key: Drawing | None = None
    steps: tuple[WorkStep, ...] = ()
    cares: tuple[Care, ...] = ()
    care_footer: str = ""
    sittings: tuple[Sitting, ...] = ()
    sittings_note: str = ""
    credits: tuple[str, ...] = ()
