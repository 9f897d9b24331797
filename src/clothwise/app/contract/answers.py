"""What scripts are answered: the shape of every answer that is data, each a class."""

from __future__ import annotations

from typing import NotRequired, TypedDict

from clothwise.app.jobs.findings import Found
from clothwise.app.jobs.ways import Way


class OnShelf(TypedDict):
    """A design in the workspace; `design` is its name in addresses."""

    design: str
    title: str
    makes: list[str]


class Shelf(TypedDict):
    """All designs, the one changed last first."""

    designs: list[OnShelf]
    archived: list[OnShelf]


class Named(TypedDict):
    """The design that was made, changed or moved."""

    design: str


class NamedMake(TypedDict):
    """The make that was made."""

    make: str


class Step(TypedDict):
    """One state of a design's documents, and what led to it."""

    id: str
    at: str
    words: str
    kind: str


class Steps(TypedDict):
    """The history of a design: what led to the head, oldest first, and what was undone."""

    head: str
    entries: list[Step]
    undone: list[Step]


class Moved(TypedDict):
    """Where the history stands now, and what was done."""

    head: str
    words: str


class Row(TypedDict):
    """One measurement: its value in every size, as text with the unit of the row."""

    unit: str
    values: list[str]
    estimated: list[bool]


class ChartFinding(TypedDict):
    """What is odd about a chart."""

    severity: str
    size: str
    measurement: str
    message: str
    remedy: str


class Drawn(TypedDict):
    """A piece as a `g` of SVG in its own coordinates; `box` is left, top, width, height in mm."""

    svg: str
    box: str


class Lost(TypedDict):
    """An edit that is not made, and what to do."""

    message: str
    remedy: str


class NoPattern(TypedDict):
    """Why there is no pattern."""

    what: str
    where: str
    how_much: str
    what_to_do: str


class NotMade(TypedDict):
    """Why a change that waits cannot be made, and ways to what stands against it."""

    what: str
    what_to_do: str
    ways: list[Way]


class Waiting(TypedDict):
    """A change that the board shows and that waits for a yes; `words` are those of the history."""

    words: str
    lost: NotMade | None


class Board(TypedDict):
    """The pieces of a pattern; `places` are where their origins lie, mm, y downward.

    `lying` names the pieces that lie on one another there. Where there is no pattern, `ways` lead
    to what mends it, and the pieces may be those of another size, `instead`.
    """

    version: str
    pieces: dict[str, Drawn]
    order: list[str]
    gone: list[str]
    places: dict[str, list[float]]
    extent: str
    size: str
    choices: dict[str, str]
    lying: list[str]
    lost: list[Lost]
    refused: NoPattern | None
    ways: list[Way]
    instead: str
    pending: Waiting | None


class Chart(TypedDict):
    """The size chart of a design."""

    head: str
    document: str
    title: str
    unit: str
    base_size: str
    sizes: list[str]
    people: list[str]
    measurements: dict[str, Row]
    findings: list[ChartFinding]


class FoundAll(TypedDict):
    """All findings."""

    findings: list[Found]


class RangeChecked(TypedDict):
    """How far the check of every view in every size is; ask for the findings to have them."""

    running: bool
    stopped: bool
    done: int
    total: int
    message: str
    error: dict[str, str | list[str]] | None


class StopOfWalk(TypedDict):
    """A place where both sides of a seam lie on each other."""

    kind: str
    title: str
    words: str
    is_off: bool


class Walk(TypedDict):
    """A seam walked from its start to its end."""

    seam: str
    title: str
    sides: list[str]
    summary: str
    is_off: bool
    stops: list[StopOfWalk]


class Cut(TypedDict):
    """Where a copy lies on its cloth."""

    copy: str
    along: str
    across: str


class Laid(TypedDict):
    """One fabric as it is laid out; `searched`: the length is that of a search, else of rows."""

    fabric: str
    length_mm: float
    buy: str
    cost: float | None
    currency: str
    searched: bool
    cuts: list[Cut]


class NotLaid(TypedDict):
    """A fabric that cannot be laid out, and why."""

    fabric: str
    what: str


class Layouts(TypedDict):
    """All fabrics of a make."""

    fabrics: list[Laid]
    refused: list[NotLaid]
    costs: list[str]


class Garment(TypedDict):
    """What a make is cut from: its fabrics by their fields, and the fabric of each copy."""

    title: str
    fabrics: list[dict[str, str]]
    copies: dict[str, str]


class Done(TypedDict):
    """The entry of the history that a change made, and its words."""

    id: str
    words: str


class Searching(TypedDict):
    """How far a search for shorter layouts is; `lengths_mm` are the shortest found, by fabric."""

    running: bool
    share: float
    message: str
    lengths_mm: dict[str, float]
    error: str


class FromStash(TypedDict):
    """What a make can be cut from of what is at hand: an answer, and sentences about it."""

    running: bool
    remnants: list[str]
    answer: str
    sentences: list[str]
    error: str


class AmountsOfCloth(TypedDict):
    """How much of a cloth to buy, one amount for each size."""

    cloth: str
    detail: str
    amounts: list[str]


class ToBuy(TypedDict):
    """What to buy in every size; without lines as long as it was not worked out."""

    running: bool
    share: float
    error: str
    title: NotRequired[str]
    unit: NotRequired[str]
    sizes: NotRequired[list[str]]
    lines: NotRequired[list[AmountsOfCloth]]
    notes: NotRequired[list[str]]


class SmallChanges(TypedDict):
    """What small changes save; `rows` are change, cloth, how much, and how sure that is."""

    running: bool
    share: float
    error: str
    sentences: list[str]
    rows: list[list[str]]
    saves: dict[str, str]


class SewStep(TypedDict):
    """A step of the work; `step` names it for good, `done` says when it was checked off."""

    step: str
    number: int
    title: str
    text: str
    station: str
    minutes: float
    pieces: list[str]
    cautions: list[str]
    done: str


class Sitting(TypedDict):
    """Steps that are sewn in one go."""

    number: int
    stations: str
    steps: list[SewStep]


class Work(TypedDict):
    """The order of work of a make."""

    title: str
    fit: str
    sittings: list[Sitting]


class SewMoment(TypedDict):
    """A step of a sew-along: what to come close to, what to warn of."""

    number: int
    title: str
    show: list[str]
    say_aloud: list[str]


class Chapter(TypedDict):
    """What is filmed or taught in one go."""

    number: int
    title: str
    minutes: float
    time: str
    at_hand: list[str]
    cautions: list[str]
    steps: list[SewMoment]


class Outline(TypedDict):
    """A sew-along in chapters."""

    title: str
    fit: str
    minutes: float
    time: str
    throughout: list[str]
    chapters: list[Chapter]


class Print(TypedDict):
    """What would be printed: names of pages, of places left out, and the pages of each piece."""

    title: str
    subtitle: str
    paper: str
    pages: list[str]
    page_mm: list[float]
    across: int
    down: int
    left_out: list[str]
    pages_of: dict[str, list[int]]
    sizes: list[str]


class PacketFile(TypedDict):
    """What a file of a packet will hold."""

    name: str
    what: str
    holds: list[str]


class Contents(TypedDict):
    """What will be in a packet, and what speaks against building it."""

    files: list[PacketFile]
    errors: list[str]
    warnings: list[str]


class BuiltFile(TypedDict):
    """A file of a packet."""

    name: str
    what: str
    bytes: int


class Packet(TypedDict):
    """A packet that was built, from the state `head` of the documents."""

    number: int
    at: str
    head: str
    files: list[BuiltFile]


class Building(TypedDict):
    """How far a packet is, and those that were built."""

    running: bool
    share: float
    message: str
    error: dict[str, str] | None
    packets: list[Packet]


class OngoingWork(TypedDict):
    """A long work; `kind` is search, stash, table, tune, packet or check."""

    work: str
    kind: str
    design: str
    make: str
    words: str
    share: float
    message: str


class Ongoing(TypedDict):
    """What runs or waits for its turn, in all designs."""

    ongoing: list[OngoingWork]


class Refusal(TypedDict):
    """Four parts, all faults of a document, and what became of the work."""

    what: str
    where: str
    how_much: str
    what_to_do: str
    faults: list[str]
    work: str


class Refused(TypedDict):
    """What every refusal looks like."""

    error: Refusal


class Alive(TypedDict):
    """Who answers."""

    app: NotRequired[str]
