"""The outline of a sew-along: chapters to film or to teach, what to show, what to have at hand.

A chapter is a sitting of the order of work. What is shown in it is read from the seam graph: the
pieces, the notches that meet, ease and gathers, hems, and what happens at the iron.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from clothwise.packet.making import Making
from clothwise.pattern import Finish, FinishKind, Notion, Pattern, Placement, Pressing, Seam
from clothwise.pattern import SeamKind as Kind
from clothwise.pattern.operation import Caution
from clothwise.units import LengthUnit
from clothwise.work import (
    NotionLine,
    OrderMode,
    Step,
    cautions_of,
    notion_line,
    sessions,
    spoken_length,
    spoken_minutes,
    thread_line,
    thread_need,
)
from clothwise.work.tools import tools_of
from clothwise.work.wording import ease_of, notches_of

CHAPTER_MIN = 60.0
"""How long a chapter is at most, if nothing else is asked; our own choice."""

_SHOWN_EASE_MM = 3.0  # less is spread without anybody seeing how


@dataclass(frozen=True)
class Shot:
    """One step as it is shown: `show` are the moments to come close to, `aloud` what to warn of."""

    step: Step
    show: tuple[str, ...]
    aloud: tuple[Caution, ...]


@dataclass(frozen=True)
class Chapter:
    """A part of the sew-along that is filmed or taught in one go.

    `pieces` are those that come in with it, with how often they are cut; `goes_on` tells whether
    it works on what was sewn before. `wait` is what must pass before it.
    """

    number: int
    title: str
    shots: tuple[Shot, ...]
    pieces: tuple[str, ...]
    goes_on: bool
    notions: tuple[NotionLine, ...]
    tools: tuple[str, ...]
    cautions: tuple[Caution, ...]
    wait: str = ""

    @property
    def minutes(self) -> float:
        """What sewing takes; showing it takes longer."""
        return sum(shot.step.minutes for shot in self.shots)

    @property
    def steps(self) -> str:
        """Its steps in words: `steps 4 to 7`."""
        first, last = self.shots[0].step.number, self.shots[-1].step.number
        return f"step {first}" if first == last else f"steps {first} to {last}"


@dataclass(frozen=True)
class Outline:
    """A whole sew-along; `throughout` are notions that every chapter needs."""

    title: str
    fit: str
    chapters: tuple[Chapter, ...]
    throughout: tuple[NotionLine, ...]

    @property
    def minutes(self) -> float:
        """What sewing takes in all."""
        return sum(chapter.minutes for chapter in self.chapters)


def outline(
    making: Making,
    *,
    mode: OrderMode = OrderMode.TEACHING,
    chapter_min: float = CHAPTER_MIN,
) -> Outline:
    """The outline of a make, in chapters of at most so many minutes of sewing.

    A step that is longer makes a chapter of its own.

    Raises:
        Misuse: chapters of no length; or as `Making.steps`.
    """
    steps = making.steps(mode)
    parts = [each.steps for each in sessions(steps, chapter_min)]
    names = _numbered_titles([_title(part) for part in parts])
    placed = _placed_notions(making.pattern, parts)
    known: set[str] = set()
    chapters = []
    for number, (part, name) in enumerate(zip(parts, names, strict=True), start=1):
        used = dict.fromkeys(chain.from_iterable(step.pieces for step in part))
        come_in = [piece for piece in used if piece not in known]
        chapters.append(
            Chapter(
                number,
                name,
                tuple(_shot(making.pattern, step, making.unit) for step in part),
                _piece_words(making, come_in),
                goes_on=len(come_in) < len(used),
                notions=tuple(
                    notion_line(notion, making.unit) for notion in placed.get(number - 1, ())
                ),
                tools=tools_of(part),
                wait=part[0].operation.wait,
                cautions=cautions_of(tuple(step.operation for step in part)),
            )
        )
        known.update(used)
    throughout = [notion_line(each, making.unit) for each in placed.get(-1, ())]
    need = thread_need(making.pattern)
    thread = (thread_line(need),) if need.stitchings else ()
    return Outline(making.title, making.fit, tuple(chapters), (*throughout, *thread))


def outline_text(found: Outline) -> str:
    """The outline as plain text, to be printed or pasted."""
    lines = [f"{found.title}, {found.fit}", f"Sew-along in {len(found.chapters)} chapters"]
    lines.append(f"About {spoken_minutes(found.minutes)} of sewing; showing takes longer.")
    if found.throughout:
        lines += ["", "For all of it:", *(f"  - {_notion(each)}" for each in found.throughout)]
    for chapter in found.chapters:
        lines += ["", *_chapter_lines(chapter)]
    return "\n".join(lines) + "\n"


def _chapter_lines(chapter: Chapter) -> Iterator[str]:
    time = spoken_minutes(chapter.minutes)
    yield f"{chapter.number}. {chapter.title} ({chapter.steps}, about {time})"
    yield "   At hand:"
    for line in at_hand(chapter):
        yield f"   - {line}"
    for shot in chapter.shots:
        yield f"   {shot.step.number}. {shot.step.title}"
        for moment in shot.show:
            yield f"      - {moment}"
        if shot.aloud:
            yield f"      - say aloud: {', '.join(each.value for each in shot.aloud)}"


def at_hand(chapter: Chapter) -> tuple[str, ...]:
    """Everything that lies ready when a chapter begins, one line each."""
    first = f" (first {chapter.wait})" if chapter.wait else ""
    so_far = (f"what was sewn so far{first}",) if chapter.goes_on else ()
    bought = (_notion(each) for each in chapter.notions)
    return (*so_far, *chapter.pieces, *bought, *chapter.tools)


def outline_data(found: Outline) -> dict[str, object]:
    """The outline as JSON values."""
    return {
        "title": found.title,
        "fit": found.fit,
        "minutes": round(found.minutes, 1),
        "time": spoken_minutes(found.minutes),
        "throughout": [_notion(each) for each in found.throughout],
        "chapters": [
            {
                "number": chapter.number,
                "title": chapter.title,
                "minutes": round(chapter.minutes, 1),
                "time": spoken_minutes(chapter.minutes),
                "at_hand": list(at_hand(chapter)),
                "cautions": [each.value for each in chapter.cautions],
                "steps": [
                    {
                        "number": shot.step.number,
                        "title": shot.step.title,
                        "show": list(shot.show),
                        "say_aloud": [each.value for each in shot.aloud],
                    }
                    for shot in chapter.shots
                ],
            }
            for chapter in found.chapters
        ],
    }


def _notion(line: NotionLine) -> str:
    return f"{line.name}: {', '.join(filter(None, (line.amount, line.detail)))}"


# Titles


def _title(part: Sequence[Step]) -> str:
    """The parts of the garment that most of a chapter's time goes to, at most three."""
    time: dict[str, float] = {}
    for step in part:
        time[step.component] = time.get(step.component, 0.0) + step.minutes
    most = sorted(time, key=lambda name: -time[name])[:3]
    words = [_spoken(name) for name in time if name in most and name]
    text = " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
    return text[:1].upper() + text[1:] if text else part[0].title


def _spoken(component: str) -> str:
    return component.replace("-", " ").replace("_", " ")


def _numbered_titles(titles: Sequence[str]) -> tuple[str, ...]:
    """Titles that come several times tell which part each is."""
    found, seen = [], dict.fromkeys(titles, 0)
    for title in titles:
        seen[title] += 1
        several = titles.count(title) > 1
        found.append(f"{title}, part {seen[title]}" if several else title)
    return tuple(found)


# At hand


def _piece_words(making: Making, pieces: Sequence[str]) -> tuple[str, ...]:
    """Pieces with their numbers and how often they are cut, from every fabric they are cut from."""
    words = []
    for piece in pieces:
        lines = [line for line in making.cutting_list if line.piece == piece]
        number, title = making.numbers[piece], making.pattern.pieces[piece].title
        cut = "; ".join(f"{line.amount}, {making.fabric_titles[line.fabric]}" for line in lines)
        words.append(f"{number} {title}: {cut}" if cut else f"{number} {title}")
    return tuple(words)


def _placed_notions(
    pattern: Pattern, parts: Sequence[Sequence[Step]]
) -> Mapping[int, tuple[Notion, ...]]:
    """Notions by the chapter they are used in: the first step of their component that names them.

    One that no step names belongs where its component begins; without steps, to all (-1).
    """
    found: dict[int, tuple[Notion, ...]] = {}
    for notion in pattern.notions:
        of_component = [
            (place, step)
            for place, part in enumerate(parts)
            for step in part
            if step.component == notion.component
        ]
        naming = [place for place, step in of_component if _names(step, notion)]
        places = naming or [place for place, _ in of_component] or [-1]
        found[places[0]] = (*found.get(places[0], ()), notion)
    return found


def _names(step: Step, notion: Notion) -> bool:
    said = f"{step.title} {step.text}".lower().replace("buttonhole", "")
    words = [word.strip(",").removesuffix("s") for word in notion.name.lower().split()]
    return any(word in said for word in words if len(word) > 2)


# What to show


def _shot(pattern: Pattern, step: Step, unit: LengthUnit) -> Shot:
    moments: dict[str, None] = {}
    titles = [pattern.pieces[name].title for name in step.pieces if name in pattern.pieces]
    if titles:
        moments[f"laid out: {', '.join(titles)}"] = None
    for name in step.operation.does:
        use = pattern.use(name)
        if isinstance(use, Seam):
            moments.update(dict.fromkeys(_of_seam(pattern, use, unit)))
        elif isinstance(use, Finish):
            moments.update(dict.fromkeys(_of_finish(use, unit)))
        else:
            moments.update(dict.fromkeys(_of_placement(pattern, use)))
    own = step.cautions
    return Shot(step, tuple(moments), tuple(each for each in Caution if each in own))


def _of_seam(pattern: Pattern, seam: Seam, unit: LengthUnit) -> Iterator[str]:
    sewn = spoken_length(pattern.run_length(seam.layers[0].run), unit)
    if seam.kind is Kind.DART:
        yield f"close up: the {seam.title}, pinned along its legs"
    elif seam.kind is Kind.GATHERED:
        yield f"close up: the {seam.title}, gathers drawn in to {sewn} and spread evenly"
    elif seam.kind is Kind.PLEATED:
        yield f"close up: the {seam.title}, pleats folded on their marks"
    else:
        if notches_of(seam):
            yield f"close up: the {notches_of(seam)} of the {seam.title} meet"
        if ease_of(seam) >= _SHOWN_EASE_MM:
            yield f"close up: {spoken_length(ease_of(seam), unit)} eased into the {seam.title}"
    yield f"pressed: the {seam.title}, {_pressed(pattern, seam)}"


def _pressed(pattern: Pattern, seam: Seam) -> str:
    if seam.kind is Kind.DART:
        return "from both sides"
    if seam.pressing is Pressing.OPEN:
        return "allowances open"
    if seam.pressing is Pressing.TURNED:
        return "turned, the seam on the edge"
    if len(seam.layers) > 2:
        return "allowances to one side"
    layer = seam.layers[0 if seam.pressing is Pressing.TOWARD_FIRST else -1]
    return f"allowances toward the {pattern.pieces[layer.run.edges[0].piece].title.lower()}"


def _of_finish(finish: Finish, unit: LengthUnit) -> Iterator[str]:
    depth, turn = spoken_length(finish.depth_mm, unit), spoken_length(finish.turn_mm, unit)
    if finish.kind is FinishKind.DOUBLE_HEM:
        yield f"close up: the {finish.title}, turned by {turn}, then by {depth}"
    elif finish.kind is FinishKind.SINGLE_HEM:
        yield f"close up: the {finish.title}, turned up by {depth}"
    elif finish.kind is FinishKind.BOUND:
        yield f"close up: the {finish.title}, binding folded over the edge"
    elif finish.kind is FinishKind.OVERLOCKED:
        yield f"close up: the {finish.title}, neatened"
    else:
        yield f"close up: the {finish.title}, opened and closed"


def _of_placement(pattern: Pattern, placement: Placement) -> Iterator[str]:
    piece, host = pattern.pieces[placement.piece].title, pattern.pieces[placement.host].title
    yield f"close up: {piece} pinned on its placement line on {host}"
