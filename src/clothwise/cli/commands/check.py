"""`clothwise check`: whether everything goes together."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from clothwise.cli.commands.options import CHOICE, FINDINGS, JSON, SIZE, TARGET, VIEW
from clothwise.errors import Misuse

if TYPE_CHECKING:
    from clothwise.cli.many import Tried

MOST_REFUSED_SHOWN = 20


@click.command()
@TARGET
@VIEW
@SIZE
@CHOICE
@click.option(
    "--bodies",
    default="",
    metavar="FILE",
    help="Check on the bodies of this file (a list of testers as CSV or XLSX, one row each, or one "
    "body), or of all files in this folder, instead of the sizes; "
    "`survey` stands for the women of the open survey that comes with Clothwise.",
)
@click.option(
    "--workers",
    type=click.IntRange(1, 256),
    default=None,
    help="With --bodies: how many processes share the work; without it, one for each core.",
)
@click.option(
    "--cluster",
    default="",
    metavar="ADDRESS",
    help="With --bodies: give the work to this Dask scheduler, such as tcp://192.0.2.7:8786.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    help="Also write into this folder a truing sheet of all seams, and the findings drawn on the "
    "pieces (PDF).",
)
@JSON
def check(
    target: Path,
    view: str,
    size: str,
    choices: tuple[str, ...],
    bodies: str,
    workers: int | None,
    cluster: str,
    out: Path | None,
    json_: bool,
) -> int:
    """Check that everything goes together.

    Looks at every size and view of a design, or at what one make asks for: lengths of seams that
    are sewn together, notches, darts, corners, hems, and that nothing is left out. A folder that
    holds several folders with designs is a catalog: all of them are checked.
    """
    from clothwise.cli import show
    from clothwise.cli.many import require_bodies_only
    from clothwise.cli.targets import chosen
    from clothwise.packet.tables import finding_data
    from clothwise.packet.whole_check import check_target
    from clothwise.pattern import Severity

    require_bodies_only(size, workers, cluster, bodies)
    if bodies and out is not None:
        raise Misuse(
            "sheets are drawn for the sizes, not for bodies",
            how_much=f"--bodies {bodies} --out {out}",
            what_to_do="Leave one of them out.",
        )
    if bodies:
        return _check_bodies(target, view, chosen(choices), bodies, workers, cluster, json_)
    with show.ProgressBar() as bar:
        found = check_target(target, view, size, chosen(choices), bar.at)
    files: tuple[tuple[Path, str], ...] = ()
    if out is not None:
        from clothwise.cli.reporting import write_report

        files = write_report(found, out)
    if json_:
        show.as_json([finding_data(finding) for finding in found.findings])
    else:
        show.finding_groups(found.groups)
        click.echo(f"Checked {', '.join(found.words)}: {show.finding_counts(found.findings)}.")
        for path, what in files:
            click.echo(f"{path}: {what}")
    return FINDINGS if any(each.severity is Severity.ERROR for each in found.findings) else 0


def _check_bodies(
    target: Path,
    view: str,
    choices: dict[str, str],
    bodies: str,
    workers: int | None,
    cluster: str,
    json_: bool,
) -> int:
    from clothwise.cli import many, show
    from clothwise.packet.opening import require
    from clothwise.pattern import Severity

    require(target)
    garments = many.garments_at(target, view, choices)
    people = many.bodies_named(bodies)
    with show.ProgressBar() as bar:
        tried = many.try_on(
            garments,
            people,
            workers=workers,
            cluster=cluster,
            progress=lambda at: bar.at(at.done, at.total, "drafts checked"),
        )
    with_errors = many.bodies_with(tried, Severity.ERROR)
    if json_:
        show.as_json(many.as_data(tried, len(people)))
    else:
        _show_summary(tried)
        refused = many.refusals(tried)
        titles = ", ".join(garment.title for garment in garments)
        with_warnings = many.bodies_with(tried, Severity.WARNING)
        click.echo(
            f"Checked {titles} on {len(people)} bodies: {len(refused)} refused, {with_errors} "
            f"with errors (refused ones too), {with_warnings} with warnings."
        )
    return FINDINGS if with_errors else 0


def _show_summary(tried: Sequence[Tried]) -> None:
    from clothwise.cli import many, show

    rows = list(many.summary_rows(tried))
    if rows:
        header = ("", "finding", "bodies", "worst case", "on", "in")
        show.table(header, rows, right=(2,))
    refused = many.refusals(tried)
    for body, reasons in refused[:MOST_REFUSED_SHOWN]:
        for reason in reasons:
            click.echo(f"Refused {body}: {reason.message} {reason.remedy}")
    if len(refused) > MOST_REFUSED_SHOWN:
        more = len(refused) - MOST_REFUSED_SHOWN
        click.echo(f"{more} more are refused; --json names them all.")
