"""The pack room: what a packet will hold; packets are built, kept by number, and downloaded."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import Route

from clothwise.app.jobs.cut_efforts import EFFORT_WORDS, EFFORTS
from clothwise.app.jobs.pack import ContentsOf, PacketShown, PackOf
from clothwise.app.packets import Packet, Packets
from clothwise.app.pages import fragment, opened, page, shop, wants_json
from clothwise.app.print_choices import LEFT_OUT, WHICH
from clothwise.app.rooms.of_make import (
    addressed,
    asked,
    entry,
    makes_in,
    print_choices,
    usual_paper,
)
from clothwise.app.rooms.pack_builds import Build, builds
from clothwise.app.told_errors import refused_size
from clothwise.app.work import Shown, ask
from clothwise.errors import Misuse
from clothwise.pattern.commands import is_make_name
from clothwise.pattern.document.make import PAPERS

__all__ = ["ROUTES"]


async def _page(request: Request) -> Response:
    design = opened(request)
    make = design.make_document(request.path_params["make"])
    return page(
        request,
        "pack.html",
        shown=Shown(design.name, design.history.head, make=make),
        makes=makes_in(request, "pack"),
        **_addresses(request),
    )


async def _contents(request: Request) -> Response:
    found: PacketShown = await ask(ContentsOf(**asked(request), **_chosen(request)))
    if wants_json(request):
        files = [{"name": name, "what": what, "holds": holds} for name, what, holds in found.files]
        return JSONResponse({"files": files, "errors": found.errors, "warnings": found.warnings})
    which = print_choices(request).which if found.own_size else WHICH[0]
    return fragment(
        request,
        "_pack_contents.html",
        packet=found,
        which=which,
        no_rectangles=print_choices(request).leaves_out_rectangles,
        **_addresses(request),
    )


async def _choose(request: Request) -> Response:
    """Remember how the pattern is printed, and tell what the packet then holds."""
    async with request.form() as form:
        paper, which = str(form.get("paper", ""))[:40], str(form.get("which", ""))
        was, are_shown = str(form.get("paper_was", "")), "sizes_shown" in form
        sizes = [str(each)[:40] for each in form.getlist("sizes")]
        rectangles = str(form.get("rectangles", "")) if "rectangles_shown" in form else None
    kept = print_choices(request)
    _packets(request)  # refuses names that are none of its makes
    if paper not in PAPERS:
        raise Misuse(
            f"there is no paper named {paper!r}",
            where="paper of the pattern pages",
            what_to_do=f"Choose one of {', '.join(PAPERS)}.",
        )
    if paper != was:
        kept.keep_paper(request.path_params["make"], paper)
    if which in WHICH:
        kept.keep_sizes(sizes if are_shown else kept.sizes, which)
    if rectangles is not None:
        kept.keep_rectangles(leaves_out=rectangles == LEFT_OUT)
    return await _contents(request)


def _chosen(request: Request) -> dict[str, Any]:
    kept = print_choices(request)
    return {
        "paper": usual_paper(request),
        "which": kept.which,
        "sizes": kept.sizes,
        "no_rectangles": kept.leaves_out_rectangles,
    }


async def _state(request: Request) -> Response:
    return _answered(request)


async def _build(request: Request) -> Response:
    """Begin a packet; while one is built already, that one goes on."""
    async with request.form() as form:
        effort = str(form.get("effort", "good"))
    if effort not in EFFORTS:
        raise Misuse(
            f"there is no search called {effort[:20]!r}",
            what_to_do=f"Choose one of {', '.join(EFFORTS)}.",
        )
    job = PackOf(
        **asked(request),
        **_chosen(request),
        into=str(_packets(request).folder),
        head=opened(request).history.head,
        effort=effort,
    )
    builds().begin(*_key(request), job)
    return _answered(request)


async def _cancel(request: Request) -> Response:
    builds().cancel(*_key(request))
    return _answered(request)


async def _file(request: Request) -> Response:
    path = _packets(request).file(request.path_params["number"], request.path_params["file"])
    return FileResponse(path, filename=path.name)


async def _zip(request: Request) -> Response:
    number, packets = request.path_params["number"], _packets(request)
    content = await run_in_threadpool(packets.zipped, number)
    name = f"{opened(request).name} {request.path_params['make']} {number}.zip"
    shown = name.encode("ascii", "ignore").decode().replace('"', "")
    return Response(
        content,
        media_type="application/zip",
        headers={"Content-Disposition": f'attachment; filename="{shown}"'},
    )


def _answered(request: Request) -> Response:
    packets, build = _packets(request), builds().latest(*_key(request))
    found = packets.all()
    if wants_json(request):
        return JSONResponse(_data(found, build, _refused(request, build)))
    later = {each.number: _later(request, each) for each in found}
    return fragment(
        request,
        "_pack_state.html",
        packets=found,
        since={number: _since(words) for number, words in later.items()},
        later=(later[found[0].number] if found else ()) or (),
        build=build,
        refused=_refused(request, build),
        refused_size=refused_size(build.error if build else None),
        place=packets.place,
        efforts=EFFORT_WORDS,
        effort=build.effort if build else "good",
        is_now=bool(found) and later[found[0].number] == (),
        **_addresses(request),
    )


def _refused(request: Request, build: Build | None) -> dict[str, str] | None:
    """Why a build ended without a packet, with paths as they stand in the workspace."""
    if build is None or build.error is None:
        return None
    error, folder = build.error, f"{shop(request).workspace.folder.resolve()}/"
    told = {
        "what": error.what,
        "where": error.where,
        "how_much": error.how_much,
        "what_to_do": error.what_to_do,
    }
    return {part: words.replace(folder, "") for part, words in told.items()}


def _since(later: tuple[str, ...] | None) -> str:
    """What became of the design after a packet was built, in words."""
    if later is None:
        return "made from another state of the design"
    if not later:
        return "made from the design as it is now"
    return f"{len(later)} {'change' if len(later) == 1 else 'changes'} made since"


def _later(request: Request, packet: Packet) -> tuple[str, ...] | None:
    """Lines of the history that concern a packet and are newer than it, the latest first.

    What changed another make only does not concern it. None: its state was undone, or is not known.
    """
    design = opened(request)
    own, entries = design.make_document(request.path_params["make"]), design.history.entries
    place = next((at for at, each in enumerate(entries) if each.id == packet.head), None)
    if place is None:
        return None
    files = [
        {name: key for name, key in each.files.items() if name == own or not is_make_name(name)}
        for each in entries[place:]
    ]
    if files[0] == files[-1]:
        return ()
    changed = zip(entries[place + 1 :], files[1:], files, strict=False)
    return tuple(each.words for each, now, before in changed if now != before)[::-1]


def _packets(request: Request) -> Packets:
    design = opened(request)
    design.make_document(request.path_params["make"])  # refuses names that are none of its makes
    return Packets(shop(request).workspace.folder, design.name, request.path_params["make"])


def _key(request: Request) -> tuple[str, str]:
    return opened(request).name, request.path_params["make"]


def _addresses(request: Request) -> dict[str, Any]:
    parts = ("contents", "choose", "state", "build", "cancel")
    found = {f"to_{part}": addressed(request, "pack", part) for part in parts}
    return {**found, "to_pack": addressed(request, "pack"), "to_print": addressed(request, "print")}


def _data(
    found: tuple[Packet, ...], build: Build | None, refused: dict[str, str] | None
) -> dict[str, Any]:
    return {
        "running": build is not None and build.is_running,
        "share": round(build.share, 3) if build else 0.0,
        "message": build.message.replace("\n", ": ") if build else "",
        "error": refused,
        "packets": [
            {
                "number": each.number,
                "at": each.at,
                "head": each.head,
                "files": [
                    {"name": file.name, "what": file.what, "bytes": file.size_bytes}
                    for file in each.files
                ],
            }
            for each in found
        ],
    }


_AT = "/d/{design}/m/{make}/pack"
ROUTES = [
    Route("/d/{design}/pack", entry("pack")),
    Route(_AT, _page),
    Route(f"{_AT}/contents", _contents),
    Route(f"{_AT}/choose", _choose, methods=["POST"]),
    Route(f"{_AT}/state", _state),
    Route(f"{_AT}/build", _build, methods=["POST"]),
    Route(f"{_AT}/cancel", _cancel, methods=["POST"]),
    Route(f"{_AT}/{{number}}.zip", _zip),
    Route(f"{_AT}/{{number}}/{{file}}", _file),
]
