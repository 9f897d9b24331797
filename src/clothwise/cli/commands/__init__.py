"""The commands: thin, they parse, call and show. Each loads what it needs when it runs."""

from __future__ import annotations

import click

from clothwise import __version__
from clothwise.cli.commands.buy import buy
from clothwise.cli.commands.check import check
from clothwise.cli.commands.compare import compare
from clothwise.cli.commands.cut import cut
from clothwise.cli.commands.draft import draft
from clothwise.cli.commands.measure import measure
from clothwise.cli.commands.new import new
from clothwise.cli.commands.open_ import open_
from clothwise.cli.commands.pack import pack
from clothwise.cli.commands.print_ import print_
from clothwise.cli.commands.remnants import remnants
from clothwise.cli.commands.set_ import edit, set_, swap
from clothwise.cli.commands.sew import sew
from clothwise.cli.commands.trace import trace
from clothwise.cli.commands.tune import tune
from clothwise.cli.commands.undo import history, redo, undo
from clothwise.errors import Misuse, did_you_mean

_ORDER = (
    *(open_, new, measure, draft, set_, swap, edit, undo, redo, history, check, cut, buy, compare),
    *(tune, trace, remnants, sew, print_, pack),
)
"""In the order in which a garment comes about."""


class _InOrder(click.Group):
    """Lists its commands in the order of the work, and suggests what a wrong name meant."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order in which a garment comes about."""
        return [str(each.name) for each in _ORDER]

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command.

        Raises:
            Misuse: there is none of that name.
        """
        name = args[0]
        if self.get_command(ctx, name) is None and not name.startswith("-"):
            raise Misuse(
                f"there is no command {name[:40]!r}",
                what_to_do=did_you_mean(name, self.list_commands(ctx), of_what="commands"),
            )
        return super().resolve_command(ctx, args)


HELP = (
    "From one description of a garment to a packet somebody can sew from.\n\n"
    "\b\n"  # what follows is shown line by line
    "clothwise open                         the whole job, in your browser\n"
    "clothwise new kiln-dress my-dress      a folder of your own, to change\n"
    "clothwise check my-dress               does everything still go together?\n"
    "clothwise pack my-dress --out packet   booklet, pattern, cutting list\n\n"
    "Most commands want a TARGET: the folder of a design, or a make in it. A design says what the "
    "garment is; a make says which view, size and fabrics are sewn this time."
)


@click.group(
    help=HELP,
    cls=_InOrder,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="clothwise")
def commands() -> None:
    """Parse nothing; the commands below do the work."""


for _each in _ORDER:
    commands.add_command(_each)
