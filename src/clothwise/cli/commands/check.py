"""`clothwise check`: whether everything goes together."""

from __future__ import annotations

from pathlib import Path

import click

from clothwise.cli.commands.options import CHOICE, FINDINGS, JSON, SIZE, TARGET, VIEW


@click.command()
@TARGET
@VIEW
@SIZE
@CHOICE
@JSON
def check(target: Path, view: str, size: str, choices: tuple[str, ...], json_: bool) -> int:
    """Check that everything goes together.

    Looks at every size and view of a design, or at what one make asks for: lengths of seams that
    are sewn together, notches, darts, corners, hems, and that nothing is left out.
    """
    from clothwise.cli import show
    from clothwise.cli.checking import check_target
    from clothwise.cli.targets import chosen
    from clothwise.packet.tables import finding_data
    from clothwise.pattern import Severity

    line = show.ProgressLine()
    done, found = check_target(target, view, size, chosen(choices), line.say)
    line.done()
    if json_:
        show.as_json([finding_data(finding) for finding in found])
    else:
        show.findings(found)
        click.echo(f"Checked {', '.join(done)}: {show.finding_counts(found)}.")
    return FINDINGS if any(finding.severity is Severity.ERROR for finding in found) else 0
