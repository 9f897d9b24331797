"""For whom a make is: a size of the chart, a person, own measurements, or a size with some own.

What is chosen is looked at first; only Keep writes it into the make, as one step that undo takes
back.
"""

from __future__ import annotations

from collections.abc import Mapping
from posixpath import dirname, relpath
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from clothwise.app.attachments import saved_as
from clothwise.app.jobs.for_whom import (
    OWN,
    PERSON,
    SIZE,
    BodyFileOf,
    ForWhomOf,
    ForWhomShown,
    ReadBody,
)
from clothwise.app.measured_texts import (
    Typed,
    place_words,
    refuse_unreadable,
    reworded,
    with_unit,
)
from clothwise.app.pages import address, after_commit, fragment, opened, page
from clothwise.app.refused_fields import refused_fields
from clothwise.app.rooms.of_make import addressed, asked, makes_in
from clothwise.app.work import ask
from clothwise.errors import DocumentError, Misuse
from clothwise.pattern.commands import SetMake
from clothwise.pattern.measurements import MEASUREMENTS, REQUIRED

__all__ = ["ROUTES"]

_ROOMS = ("cut", "sew", "print", "pack")
"""Where the size of a make can be changed by one button; it leads back there."""

MOST_BYTES = 20_000
"""Of a file of measurements; 40 times the longest honest one. Our own choice."""

MOST_LETTERS = 200
"""Of a field that is sent to be looked at; what is kept is held shorter."""


async def room(request: Request) -> Response:
    """Show for whom the make is."""
    shown = await _shown(request, request.query_params.get("start", "")[:120])
    return page(request, "for_whom.html", room="measure", **_data(request, shown))


async def looked_at(request: Request) -> Response:
    """The form as it would be with another beginning, or as it is; nothing is kept."""
    fields = request.query_params
    typed = {name: fields[name][:MOST_LETTERS] for name in MEASUREMENTS if name in fields}
    start = fields.get("start", "")[:120]
    shown = await _shown(request, start, typed if start else None)
    return fragment(request, "_for_whom.html", **_data(request, shown))


async def keep(request: Request) -> Response:
    """Write it into the make; what is as it was shown stays as it was written."""
    async with request.form(max_fields=len(MEASUREMENTS) + 10) as form:
        sent = {key: " ".join(text.split()) for key, text in form.items() if isinstance(text, str)}
    shown = await _shown(request)
    design = opened(request)
    try:
        fields = await _fields(request, shown, sent)
        if not fields:
            return _back(request, {})
        base, command = sent.get("base") or design.history.head, SetMake(shown.document, fields)
        entry = await run_in_threadpool(design.history.commit, base, command)
    except DocumentError as error:
        return refused_fields(request, reworded(error, shown.title))
    except Misuse as error:
        return refused_fields(request, error)
    return _back(request, after_commit(request, entry))


async def saved(request: Request) -> Response:
    """The measurements of whom the make is for, as a file that can be brought elsewhere."""
    of = asked(request)
    text: str = await ask(BodyFileOf(of["documents"], of["make"], of["unit"]))
    headers = saved_as(f"{request.path_params['make']}-measurements.yaml")
    return Response(text, media_type="application/yaml; charset=utf-8", headers=headers)


async def brought(request: Request) -> Response:
    """Take over measurements from a file: they become those of the make, and nothing else is."""
    shown = await _shown(request)
    design = opened(request)
    async with request.form(max_part_size=MOST_BYTES) as form:
        file, base = form.get("file"), form.get("base")
        if not isinstance(file, UploadFile) or not file.filename:
            raise Misuse(
                "there are no measurements to read",
                where=shown.title,
                what_to_do="Choose a file that was saved here, or a list in YAML or CSV.",
            )
        name, content = file.filename[-60:], await file.read(MOST_BYTES + 1)
    measured: dict[str, str] = await ask(ReadBody(name, _text_of(name, content)))
    own = {row.name for row in shown.rows if row.own}
    fields = {name: "" for name, old in (("size", shown.size), ("body", shown.body)) if old}
    fields |= {f"measurements.{name}": "" for name in own - measured.keys()}
    fields |= {f"measurements.{name}": text for name, text in measured.items()}
    command = SetMake(shown.document, fields)
    base = base if isinstance(base, str) and base else design.history.head
    entry = await run_in_threadpool(design.history.commit, base, command)
    return _back(request, after_commit(request, entry))


def _text_of(name: str, content: bytes) -> str:
    """The text of a file that was sent.

    Raises:
        Misuse: it is too large, or no text.
    """
    try:
        if len(content) <= MOST_BYTES:
            return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        pass
    raise Misuse(
        "this is no list of measurements",
        where=name,
        how_much=f"a text of at most {MOST_BYTES // 1000} kB is read",
        what_to_do="Choose a file that was saved here, or a list in YAML or CSV.",
    )


async def _fields(request: Request, shown: ForWhomShown, sent: Mapping[str, str]) -> dict[str, str]:
    """What is to be written, as `SetMake` has it; nothing if all is as it was shown.

    Raises:
        Misuse, DocumentError: what was sent cannot be written.
    """
    start = sent.get("start", shown.start)
    of_start = shown if start == shown.start else await _shown(request, start)
    changed = [
        Typed(row.name, sent[row.name], shown.title, row.spoken)
        for row in of_start.rows
        if row.name in sent and sent[row.name] != row.own
    ]
    refuse_unreadable(changed)
    if start == OWN:
        own = {row.name: row.own for row in shown.rows}
        _refuse_too_few(shown, own | {each.name: each.text for each in changed})
    fields = _start_fields(shown, start)
    for each in changed:
        fields[f"measurements.{each.name}"] = with_unit(each.name, each.text, shown.unit)
    if sent.get("seed", str(shown.seed)) != str(shown.seed):
        fields["seed"] = sent["seed"]
    return fields


def _start_fields(shown: ForWhomShown, start: str) -> dict[str, str]:
    """What is written for another beginning.

    Raises:
        Misuse: there is no such size or person.
    """
    if start == shown.start:
        return {}
    if not any(
        start in group for name, group in shown.starts.items() if name != "Not there any more"
    ):
        raise Misuse(
            "there is no such size or person",
            where=start.partition(":")[2][:40],
            what_to_do="Choose one from the list, or load the page anew.",
        )
    size = start.removeprefix(SIZE) if start.startswith(SIZE) else ""
    person = start.removeprefix(PERSON) if start.startswith(PERSON) else ""
    body = relpath(person, dirname(shown.document) or ".") if person else ""
    wanted = {"size": (size, shown.size), "body": (body, shown.body)}
    return {name: new for name, (new, old) in wanted.items() if new != old}


def _refuse_too_few(shown: ForWhomShown, own: Mapping[str, str]) -> None:
    """Without a size or a person, some measurements must be there.

    Raises:
        Misuse: one of them is missing.
    """
    missing = [name for name in REQUIRED if not own.get(name)]
    if missing:
        *all_but_last, last = (MEASUREMENTS[name].label for name in missing)
        told = f"{', '.join(all_but_last)} and {last}" if all_but_last else last
        raise Misuse(
            f"own measurements alone need {told}",
            where=place_words(missing[0], shown.title),
            how_much=f"{len(missing)} of {len(REQUIRED)} are missing",
            what_to_do="Write them in, or begin with the nearest size: then only what differs "
            "from it has to be measured.",
        )


def _back(request: Request, headers: dict[str, str]) -> Response:
    """The page follows by itself; without scripts it is shown anew, or the room that asked is."""
    if "HX-Request" in request.headers and "back" not in request.query_params:
        return Response(status_code=204, headers=headers)
    back = request.query_params.get("back", "")
    room = back if back in _ROOMS else "for-whom"
    return RedirectResponse(addressed(request, room), 303, headers)


async def _shown(
    request: Request, start: str = "", typed: Mapping[str, str] | None = None
) -> ForWhomShown:
    of = asked(request)
    job = ForWhomOf(of["documents"], of["make"], of["unit"], start, typed)
    found: ForWhomShown = await ask(job)
    return found


def _data(request: Request, shown: ForWhomShown) -> dict[str, Any]:
    design, make = opened(request).name, request.path_params["make"]
    return {
        "whom": shown,
        "make": make,
        "makes": makes_in(request, "for-whom"),
        "needed": [row for row in shown.rows if row.is_required],
        "others": (others := [row for row in shown.rows if not row.is_required]),
        "others_own": any(row.own for row in others),
        "own_alone": shown.start == OWN,
        "to_save": addressed(request, "for-whom", "body.yaml"),
        "to_bring": addressed(request, "for-whom", "bring"),
        "to_keep": addressed(request, "for-whom"),
        "to_look": addressed(request, "for-whom", "form"),
        "to_check": f"{address('d', design, 'check')}?of=make:{make}",
        "to_measure": address("d", design, "measure"),
        "to_cut": addressed(request, "cut"),
    }


_AT = "/d/{design}/m/{make}/for-whom"
ROUTES = [
    Route(_AT, room),
    Route(_AT, keep, methods=["POST"]),
    Route(f"{_AT}/form", looked_at),
    Route(f"{_AT}/body.yaml", saved),
    Route(f"{_AT}/bring", brought, methods=["POST"]),
]
