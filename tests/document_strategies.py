"""Draws designs and makes in the form that reading gives them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from clothwise.pattern.document.cutting_entry import (
    BIAS_SOURCES,
    METHODS,
    CuttingEntry,
    PinEntry,
)
from clothwise.pattern.document.design import (
    STANDARD_ROLES,
    ComponentEntry,
    Condition,
    Design,
    FabricRole,
    Option,
    View,
)
from clothwise.pattern.document.fabric_entry import LAYERS, NAPS, YES_OR_NO, FabricEntry
from clothwise.pattern.document.flaw_entry import FlawEntry
from clothwise.pattern.document.limit import ValueLimit
from clothwise.pattern.document.make import PAPERS, Make
from clothwise.pattern.document.match_entry import DIRECTIONS, MATCH_RULES, MatchEntry
from clothwise.pattern.document.remnant_entry import RemnantEntry
from clothwise.pattern.document.repeat_entry import RepeatEntry
from clothwise.pattern.document.role_cloth import NAPS_ASKED, RoleCloth
from clothwise.pattern.document.stash import Stash
from clothwise.pattern.document.stated_corner import StatedCorner
from clothwise.pattern.document.value import ALWAYS, BY, OTHERWISE, ByOption, Requirement, Value
from clothwise.pattern.measurements import MEASUREMENTS
from clothwise.units import LengthUnit

_WORDS = ["yes", "no", "true", "null", "~", "1", "0", "0x1F", "1e3", "on", "mid-calf", "A", "n"]
NAMES = st.one_of(
    st.sampled_from([word for word in _WORDS if word[0].isalnum()]),
    st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_-]{0,8}", fullmatch=True),
)
_CHARACTERS = st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cf", "Zl", "Zp", "Cn"))
LINES = st.one_of(
    st.sampled_from([*_WORDS, "- a", "# a", "a: b", "a #b", "'", '"', "[", "&x", "*x", "!x", "|"]),
    st.text(_CHARACTERS, min_size=1, max_size=120).map(lambda text: " ".join(text.split())),
).filter(bool)
PROSE = st.lists(st.one_of(LINES, st.just("")), min_size=1, max_size=4).map(
    lambda lines: "\n".join(lines).strip()
)
FORMULAS = st.sampled_from(
    ["0.5", "2.5cm", "3/8in", "1 5/8in", '2"', "18deg", "waist_to_knee + 25cm", "2", "-1mm", "50%"]
)


STRETCHES = st.sampled_from(["", "0", "30%", "0.4", "12,5 %", "200%"])


def texts_or_none(texts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.one_of(st.just(""), texts)


@st.composite
def options(draw: st.DrawFn) -> tuple[Option, ...]:
    found = []
    for name in draw(st.lists(NAMES, max_size=3, unique=True)):
        choices = draw(
            st.dictionaries(
                NAMES.filter(lambda each: each not in (BY, OTHERWISE)),
                LINES,
                min_size=1,
                max_size=3,
            )
        )
        found.append(Option(name, draw(LINES), choices, draw(st.sampled_from([*choices]))))
    return tuple(found)


def values(leaf: st.SearchStrategy[str], among: tuple[Option, ...]) -> st.SearchStrategy[Value]:
    if not among:
        return leaf
    return st.one_of(leaf, by_options(leaf, among))


@st.composite
def by_options(
    draw: st.DrawFn, leaf: st.SearchStrategy[str], among: tuple[Option, ...]
) -> ByOption:
    option = draw(st.sampled_from(among))
    inner = values(leaf, tuple(each for each in among if each is not option))
    listed = draw(st.sets(st.sampled_from([*option.choices])))
    cases = {choice: draw(inner) for choice in option.choices if choice in listed}
    rest = draw(inner) if len(cases) < len(option.choices) else None
    return ByOption(option.name, cases, rest)


@st.composite
def requirements(draw: st.DrawFn, among: tuple[Option, ...]) -> Requirement:
    def alternative() -> dict[str, tuple[str, ...]]:
        chosen = draw(st.sets(st.sampled_from([option.name for option in among]), min_size=1))
        return {
            option.name: tuple(
                draw(st.lists(st.sampled_from([*option.choices]), min_size=1, unique=True))
            )
            for option in among
            if option.name in chosen
        }

    return Requirement(tuple(alternative() for _ in range(draw(st.integers(1, 2)))))


@st.composite
def corners(draw: st.DrawFn, among: tuple[Option, ...]) -> StatedCorner:
    return StatedCorner(
        f"{draw(st.sampled_from(['', '-']))}{draw(NAMES)}.{draw(NAMES)}",
        draw(LINES),
        draw(st.sampled_from(["", "150deg", "300 deg", "90deg + 45deg"])),
        draw(requirements(among)) if among and draw(st.booleans()) else ALWAYS,
    )


@st.composite
def limits(draw: st.DrawFn, among: tuple[Option, ...]) -> tuple[ValueLimit, ...]:
    keys = st.from_regex(r"q_[a-z]{1,6}", fullmatch=True)
    amounts = [
        ValueLimit(name, draw(texts_or_none(LINES)), *draw(st.sampled_from(_AMOUNTS)))
        for name in draw(st.lists(keys, max_size=2, unique=True))
    ]
    choices = [
        ValueLimit(
            option.name,
            choices=tuple(
                draw(st.lists(st.sampled_from([*option.choices]), min_size=1, unique=True))
            ),
        )
        for option in among
        if draw(st.booleans())
    ]
    return (*amounts, *choices)


_AMOUNTS = [("2cm", "", ""), ("", "3/8in", "2mm"), ("5%", "0.1", "1%"), ("0", "3deg", ""), ("1",)]


@st.composite
def role_cloths(draw: st.DrawFn) -> RoleCloth:
    """Draw what is asked for a role in a requirement table; mostly nothing."""
    if draw(st.integers(0, 2)):
        return RoleCloth()
    widths = st.lists(st.sampled_from(["90cm", "115 cm", "44in", "58 1/2in"]), unique=True)
    return RoleCloth(
        tuple(draw(widths)),
        draw(st.sampled_from(["", *NAPS_ASKED])),
        draw(st.sampled_from(["", *LAYERS])),
        *(draw(st.sampled_from(["", "4%", "0.02"])) for _ in range(2)),
    )


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """Draw designs whose kinds and parameters the registry need not know."""
    among = draw(options())
    roles = tuple(
        FabricRole(
            name, draw(LINES), draw(texts_or_none(LINES)), draw(STRETCHES), draw(role_cloths())
        )
        for name in draw(st.lists(NAMES, max_size=2, unique=True))
    )
    role_names = st.sampled_from([role.name for role in (*roles, *STANDARD_ROLES)])
    role = values(role_names, among)
    formula = values(FORMULAS.filter(lambda text: "%" not in text), among)
    keys = st.from_regex(r"q_[a-z]{1,6}", fullmatch=True)
    components = tuple(
        ComponentEntry(
            name,
            draw(LINES),
            draw(st.dictionaries(keys, values(LINES, among), max_size=3)),
            draw(role),
            draw(role),
            draw(st.dictionaries(LINES, role, max_size=2)),
            draw(requirements(among)) if among and draw(st.booleans()) else ALWAYS,
            tuple(draw(corners(among)) for _ in range(draw(st.integers(0, 2)))),
        )
        for name in draw(st.lists(NAMES, min_size=1, max_size=3, unique=True))
    )
    design = Design(
        title=draw(LINES),
        size_chart=draw(st.sampled_from(["sizes.csv", "a b.csv", "charts/null"])),
        base_size=draw(LINES),
        components=components,
        description=draw(texts_or_none(PROSE)),
        unit=draw(st.sampled_from([LengthUnit.MILLIMETER, LengthUnit.INCH])),
        seam_allowance=draw(st.sampled_from(["15mm", "5/8in", "1cm + 2mm"])),
        fabric_roles=roles,
        values=draw(st.dictionaries(keys, formula, max_size=2)),
        options=among,
        limits=draw(limits(among)),
        matches=draw(MATCHES),
    )
    defaults = design.default_choices
    conditions = [
        Condition(draw(requirements(among)), draw(requirements(among)), draw(LINES))
        for _ in range(draw(st.integers(0, 2)) if among else 0)
    ]
    sound = tuple(
        each for each in conditions if not each.when.holds(defaults) or each.needs.holds(defaults)
    )
    views = tuple(
        View(name, draw(LINES), draw(st.sampled_from([{}, defaults])), draw(texts_or_none(PROSE)))
        for name in draw(st.lists(NAMES, max_size=2, unique=True))
    )
    return replace(design, conditions=sound, views=views)


@st.composite
def fabrics(draw: st.DrawFn, name: str) -> FabricEntry:
    return FabricEntry(
        name=name,
        width=draw(st.sampled_from(["140cm", '60"', "1 1/2 yd"])),
        title=draw(texts_or_none(LINES)),
        usable_width=draw(st.sampled_from(["", "134cm"])),
        shrinkage_along=draw(st.sampled_from(["", "4%", "0.04", "2,5 %"])),
        shrinkage_across=draw(st.sampled_from(["", "0", "25%"])),
        stretch=draw(STRETCHES),
        nap=draw(st.sampled_from(NAPS)),
        layers=draw(st.sampled_from(LAYERS)),
        price=draw(st.sampled_from(["", "18.50 EUR/m", "$12/yd", "9,90 € / m", "7/m"])),
        fiber=draw(texts_or_none(LINES)),
        color=draw(st.sampled_from(["", "#aabbcc", "#001122"])),
        pattern=draw(texts_or_none(LINES)),
        length=draw(st.sampled_from(["", "1.8m", "2 3/8 yd"])),
        repeat=draw(REPEATS),
        thickness=draw(st.sampled_from(["", "0.4mm", "1/16 in"])),
        wrong_side_usable=draw(st.sampled_from(YES_OR_NO)),
        grainless=draw(st.sampled_from(YES_OR_NO)),
        off_grain=draw(st.sampled_from(["", "2deg", "0 deg"])),
        flaws=tuple(draw(st.lists(FLAWS, max_size=2))),
        photo=draw(st.sampled_from(["", "linen.jpg", "photos/a b.PNG"])),
        photo_width=draw(st.sampled_from(["", "30cm", "4 1/2in"])),
    )


REPEATS = st.sampled_from(
    [
        RepeatEntry(),
        RepeatEntry(along="6cm"),
        RepeatEntry(across="2 1/2in", start_across="0"),
        RepeatEntry("64cm", "10mm", "12cm", "4mm"),
        RepeatEntry(along="30cm", border="8cm"),
    ]
)
FLAWS = st.sampled_from(
    [
        FlawEntry("1m", "0", "3cm", "1/2in"),
        FlawEntry(outline=(("10cm", "10cm"), ("20cm", "0"), ("1 1/2 yd", "12in"))),
    ]
)


@st.composite
def stash_fabrics(draw: st.DrawFn, name: str) -> FabricEntry:
    """Entries that name a cloth of a stash and may leave everything to it."""
    entry = draw(fabrics(name))
    words = {"nap": NAPS, "layers": LAYERS, "wrong_side_usable": YES_OR_NO, "grainless": YES_OR_NO}
    left_open = {key: "" for key in words if draw(st.booleans())}
    width = draw(st.sampled_from(["", entry.width]))
    return replace(entry, width=width, stash=draw(NAMES), **left_open)


PINS = st.builds(
    PinEntry,
    st.sampled_from(["0", "12.5cm"]),
    st.sampled_from(["3in", "40mm"]),
    st.sampled_from(["", "180deg"]),
    st.sampled_from(YES_OR_NO),
)


OWN_MATCHES = st.builds(
    MatchEntry,
    NAMES.map(lambda name: f"own-{name}"),
    st.sampled_from(["", *DIRECTIONS]),
    st.dictionaries(LINES, LINES, min_size=1, max_size=2),
    st.sampled_from(["", "0", "50%"]),
    st.sampled_from(["", "0.25"]),
)
RULES = st.builds(
    MatchEntry,
    st.sampled_from(MATCH_RULES),
    st.sampled_from(DIRECTIONS),
    st.just({}),
    st.sampled_from(["", "12,5 %"]),
)
MATCHES = st.lists(
    st.one_of(OWN_MATCHES, RULES), max_size=3, unique_by=lambda entry: entry.name
).map(tuple)


SHAPES: list[dict[str, Any]] = [
    {"length": "60cm", "width": "1/2 yd"},
    {"outline": (("0", "0"), ("80cm", "2cm"), ("31 1/2in", "40cm"), ("1cm", "38cm"))},
]


@st.composite
def remnants(draw: st.DrawFn, name: str) -> RemnantEntry:
    return RemnantEntry(
        name=name,
        title=draw(texts_or_none(LINES)),
        **draw(st.sampled_from(SHAPES)),
        holes=tuple(draw(st.lists(HOLES, max_size=2))),
        flaws=tuple(draw(st.lists(HOLES, max_size=2))),
        shrinkage_along=draw(st.sampled_from(["", "4%"])),
        shrinkage_across=draw(st.sampled_from(["", "0.02"])),
        nap=draw(st.sampled_from(NAPS)),
        wrong_side_usable=draw(st.sampled_from(YES_OR_NO)),
        grainless=draw(st.sampled_from(YES_OR_NO)),
        roles=tuple(draw(st.lists(NAMES, max_size=2, unique=True))),
        fiber=draw(texts_or_none(LINES)),
        color=draw(st.sampled_from(["", "#aabbcc"])),
        pattern=draw(texts_or_none(LINES)),
        photo=draw(st.sampled_from(["", "scrap.jpg"])),
    )


HOLES = st.sampled_from(
    [
        FlawEntry("10cm", "0", "3cm", "1/2in"),
        FlawEntry(outline=(("10cm", "10cm"), ("20cm", "0"), ("30cm", "12in"))),
    ]
)


@st.composite
def stashes(draw: st.DrawFn) -> Stash:
    names = draw(st.lists(NAMES, max_size=4, unique=True))
    half = len(names) // 2
    return Stash(
        draw(texts_or_none(LINES)),
        tuple(draw(fabrics(name)) for name in names[half:]),
        tuple(draw(remnants(name)) for name in names[:half]),
    )


@st.composite
def makes(draw: st.DrawFn) -> Make:
    names = draw(st.lists(NAMES, min_size=1, max_size=3, unique=True))
    cut_from = st.dictionaries(LINES, st.sampled_from(names), max_size=3)
    lengths = [name for name in MEASUREMENTS if name != "shoulder_slope"]
    stash = draw(texts_or_none(LINES))
    each_fabric = (
        draw(stash_fabrics(name) if stash and draw(st.booleans()) else fabrics(name))
        for name in names
    )
    return Make(
        title=draw(texts_or_none(LINES)),
        design=draw(texts_or_none(LINES)),
        view=draw(texts_or_none(NAMES)),
        choices=draw(st.dictionaries(NAMES, LINES, max_size=2)),
        size=draw(texts_or_none(LINES)),
        measurements=draw(
            st.dictionaries(st.sampled_from(lengths), st.sampled_from(["92cm", '36 1/2"']))
        ),
        body=draw(texts_or_none(LINES)),
        adjust=draw(
            st.dictionaries(
                st.from_regex(r"q_[a-z]{1,6}", fullmatch=True),
                st.sampled_from(["-8mm", "+1/8in", "2deg", "-5%"]),
                max_size=2,
            )
        ),
        stash=stash,
        fabrics=tuple(each_fabric),
        roles=draw(cut_from),
        copies=draw(cut_from),
        cutting=CuttingEntry(
            draw(st.sampled_from(METHODS)),
            draw(st.sampled_from(["", "0", "5mm"])),
            draw(st.sampled_from(["", "1cm"])),
            draw(st.sampled_from(BIAS_SOURCES)),
        ),
        pins=draw(st.dictionaries(LINES, PINS, max_size=2)),
        matches=draw(MATCHES),
        unit=draw(st.sampled_from([None, LengthUnit.CENTIMETER, LengthUnit.INCH])),
        paper=draw(st.sampled_from(PAPERS)),
        seed=draw(st.integers(0, 2**31 - 1)),
    )
