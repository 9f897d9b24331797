"""Runs a command and tells, in words, whatever goes wrong."""

from __future__ import annotations

import io
import sys
import tempfile
import traceback
from pathlib import Path

import click

from clothwise.cli.commands import commands
from clothwise.errors import ClothwiseError

MISUSE = 2
STOPPED = 130


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and end the process with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # terminals that know few characters
    sys.exit(run(sys.argv[1:] if arguments is None else arguments))


def run(arguments: list[str]) -> int:
    """Run one command; return its exit code. No traceback is shown."""
    try:
        return int(commands.main(arguments, prog_name="clothwise", standalone_mode=False) or 0)
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except click.ClickException as error:
        error.show()
        return MISUSE
    except ClothwiseError as error:
        click.echo(str(error), err=True)
        return MISUSE
    except (click.Abort, KeyboardInterrupt):
        click.echo(
            "Stopped. Files that were finished are whole; nothing is half-written.", err=True
        )
        return STOPPED
    except (BrokenPipeError, SystemExit):  # click turns the one into the other
        return 0  # whoever read our answer has seen enough
    except Exception as error:  # the last resort: no traceback reaches a user
        click.echo(_fault(error), err=True)
        return MISUSE


def _fault(error: Exception) -> str:
    """A sentence for a fault of ours; the details go to a file that can be sent to us."""
    text = "".join(traceback.format_exception(error))
    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="clothwise-fault-", suffix=".txt", delete=False, encoding="utf-8"
        ) as file:
            file.write(text)
        where = f" The details are in {Path(file.name)}."
    except OSError:
        where = ""
    kind = type(error).__name__
    return (
        f"This is a fault in Clothwise, not in your files ({kind}: {error}). "
        f"Nothing you saved is lost.{where} Please report it."
    )
