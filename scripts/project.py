"""Set up and run the project: the one place where `make`, CI and a desktop without make meet.

    python scripts/project.py demo | app [FOLDER] | test | bench [GROUP] | reference
                              | gallery [COMPONENT ...] | lock [--upgrade] | clean

Needs nothing but Python 3.11 or newer and its venv module. Everything is installed into `.venv`,
from a lock file with hashes, once: a stamp in `.venv` says for which lock, and is believed as long
as lock, `pyproject.toml`, interpreter and folder stay the same.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
OLDEST_PYTHON = (3, 11)

RUN_LOCK = ROOT / "requirements" / "run.lock"
TEST_LOCK = ROOT / "requirements" / "test.lock"
LOCK_TOOL = "uv==0.13.9"  # writes locks for every platform at once; never installed in .venv

DEMO_DESIGN = "examples/kiln-dress"
DEMO_OUT = "out/kiln-dress"
GALLERY_OUT = "out/gallery"
REFERENCE, PICTURES = "docs/reference", "docs/pictures/components"
PICTURES_OF_APP = "src/clothwise/app/static/components"
FINDINGS, PAGES_OF_FINDINGS = "docs/reference/findings", "src/clothwise/data/findings/pages.txt"

# Tests of the app drive this browser; CLOTHWISE_BROWSER names another one of its family.
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
BROWSER_PACKAGE = "chromium"

# Cheapest first, pytest last, because its closing line is what CI reads.
CHECKS: list[tuple[str, list[str]]] = [
    ("format", ["ruff", "format", "--check", "."]),
    ("lint", ["ruff", "check", "."]),
    ("imports", ["lint-imports", "--no-logo"]),
    ("types", ["mypy", "--strict", "src"]),
    # Files stay together on one worker, so what a file's tests share is computed once; they are
    # handed out in the order of `tests/conftest.py`, the longest first.
    (
        "tests",
        [
            *("pytest", "-n", "2", "--dist", "loadfile", "--no-loadscope-reorder"),
            *("--durations", "5"),
        ],
    ),
]


def main(arguments: list[str]) -> int:
    """Run one task; return the exit code: 0 fine, 1 something failed, 2 not a task."""
    if sys.version_info < OLDEST_PYTHON:
        return fail(
            f"Python {sys.version.split()[0]} at {sys.executable} is too old (3.11 or newer).",
            "Run this with a newer one, for example `python3.12 scripts/project.py demo`.",
        )
    os.chdir(ROOT)
    # Tests start programs by the hundred: each would compile all of the code anew.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    task, *rest = arguments or [""]
    if task == "demo" and not rest:
        return demo()
    if task == "app" and len(rest) <= 1:
        return app(rest)
    if task == "test" and not rest:
        return test()
    if task == "bench" and len(rest) <= 1:
        return bench(rest)
    if task == "gallery":
        return gallery(rest)
    if task == "reference" and not rest:
        return reference()
    if task == "lock" and rest in ([], ["--upgrade"]):
        return lock(rest)
    if task == "clean" and not rest:
        return clean()
    print(__doc__, file=sys.stderr)
    return 2


def demo() -> int:
    """Install what running needs and pack the example dress."""
    if not installed(RUN_LOCK):
        return 1
    return run([BIN / "clothwise", "pack", DEMO_DESIGN, "--out", DEMO_OUT])


def app(folder: list[str]) -> int:
    """Install what running needs and open the app, on the designs in a folder or the usual one."""
    if not installed(RUN_LOCK):
        return 1
    return run([BIN / "clothwise", "open", *folder])


def test() -> int:
    """Install what tests need and run every check, also when an earlier one has failed."""
    if not installed(TEST_LOCK):
        return 1
    find_browser()
    failed = []
    for name, (tool, *options) in CHECKS:
        print(f"== {name}: {' '.join([tool, *options])}", flush=True)
        started = time.monotonic()
        if run([BIN / tool, *options]) != 0:
            failed.append(name)
        print(f"   {time.monotonic() - started:.1f} s", flush=True)
    if failed:
        return fail(f"Failed: {', '.join(failed)}.", "Look above, at each heading named here.")
    return 0


def bench(group: list[str]) -> int:
    """Measure what is in `benchmarks/`, all of it or one group."""
    if not installed(TEST_LOCK):
        return 1
    return run([PYTHON, "benchmarks/run.py", *group])


def gallery(components: list[str]) -> int:
    """Draw the contact sheets of all components, or of some."""
    if not installed(TEST_LOCK):
        return 1
    return run([PYTHON, "scripts/gallery.py", GALLERY_OUT, *components])


def reference() -> int:
    """Write the pages of `docs/reference/` that follow from the code, and their pictures."""
    if not installed(RUN_LOCK):
        return 1
    return (
        run([PYTHON, "-m", "clothwise.components.reference", REFERENCE])
        or run([PYTHON, "-m", "clothwise.packet.gallery", PICTURES])
        or copied(PICTURES, PICTURES_OF_APP)
        or run([PYTHON, "-m", "clothwise.app.contract", f"{REFERENCE}/api.json"])
        or run([PYTHON, "-m", "clothwise.app.beginnings"])
        or joined(FINDINGS, PAGES_OF_FINDINGS)
    )


def copied(folder: str, into: str) -> int:
    """Let a folder hold the same files as another."""
    shutil.rmtree(ROOT / into)
    shutil.copytree(ROOT / folder, ROOT / into)
    return 0


def joined(folder: str, into: str) -> int:
    """Let a file hold the pages of a folder but its index, in order of their names."""
    pages = sorted(page for page in (ROOT / folder).glob("*.md") if page.stem != "README")
    text = "\n".join(page.read_text(encoding="utf-8") for page in pages)
    (ROOT / into).write_text(text, encoding="utf-8", newline="\n")
    return 0


def lock(options: list[str]) -> int:
    """Rewrite both lock files; versions stay as they are unless `--upgrade` is given."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        tools = Path(folder) / BIN.name
        if run([tools / PYTHON.name, "-m", "pip", "install", "--quiet", LOCK_TOOL]) != 0:
            return 1
        common = [
            *(tools / "uv", "pip", "compile", "pyproject.toml", "requirements/build.in"),
            *("--constraint", "requirements/limits.in", "--universal", "--python-version", "3.11"),
            *("--fork-strategy", "fewest", "--generate-hashes", "--quiet"),
            *("--custom-compile-command", "make lock"),
            *options,
        ]
        again = ["--constraint", RUN_LOCK.relative_to(ROOT), "--extra", "test"]
        return run([*common, "--output-file", RUN_LOCK.relative_to(ROOT)]) or run(
            [*common, *again, "--output-file", TEST_LOCK.relative_to(ROOT)]
        )


def clean() -> int:
    """Remove what can be made again: the environment, packed output, caches."""
    for name in (
        *(".venv", "out", ".hypothesis", ".import_linter_cache"),
        *(".mypy_cache", ".pytest_cache", ".ruff_cache"),
    ):
        shutil.rmtree(ROOT / name, ignore_errors=True)
    return 0


def installed(lock_file: Path) -> bool:
    """Bring `.venv` in line with `lock_file` and the package; say so only if there was work."""
    if not ((works(PYTHON) and is_at_home()) or created()):
        return False
    # The lock for tests holds all of the other at the same versions, so it serves for both.
    if is_stamped(lock_file) or is_stamped(TEST_LOCK):
        return True
    print(f"Installing what {lock_file.relative_to(ROOT)} pins into .venv (once) ...", flush=True)
    pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    # Wheels only: nothing that was downloaded is executed before its hash is known.
    locked = ["--require-hashes", "--only-binary", ":all:", "--requirement", lock_file]
    package = ["--no-build-isolation", "--no-deps", "--editable", "."]
    if run([*pip, *locked]) != 0 or run([*pip, *package]) != 0:
        fail(
            "The packages could not be installed; pip says why above.",
            "Is the package registry within reach? Then the same command goes on where it was.",
        )
        return False
    stamp_of(lock_file).write_text(fingerprint(lock_file), encoding="utf-8")
    return True


def find_browser() -> None:
    """See to it that tests of the app find a browser; without one they are left out, and say so."""
    if os.environ.get("CLOTHWISE_BROWSER") or any(map(shutil.which, BROWSERS)):
        return
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print(f"Installing {BROWSER_PACKAGE} for the tests of the app (once) ...", flush=True)
        install = ["apt-get", "install", "--yes", "--quiet=2", "--no-install-recommends"]
        quiet = {
            "stdout": subprocess.DEVNULL,
            "env": {**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        }
        for command in (["apt-get", "update", "--quiet=2"], [*install, BROWSER_PACKAGE]):
            subprocess.run(command, **quiet)
        if any(map(shutil.which, BROWSERS)):
            return
    print(
        f"There is no {BROWSER_PACKAGE} here, so the tests that need a browser are left out.\n"
        f"To run them, install it (on Debian and Ubuntu: sudo apt-get install {BROWSER_PACKAGE}), "
        "or name one of its family with CLOTHWISE_BROWSER=/path/to/it.",
        file=sys.stderr,
        flush=True,
    )


def created() -> bool:
    """Make `.venv` with this interpreter."""
    print(f"Creating .venv with Python {sys.version.split()[0]} ...", flush=True)
    if VENV.is_symlink():
        VENV.unlink()  # `clear` would empty the folder it leads to, which somebody else may use
    try:
        venv.create(VENV, clear=True, with_pip=True)
    except (OSError, subprocess.CalledProcessError) as error:
        fail(
            f"No virtual environment could be created at {VENV}: {error}",
            "On Debian and Ubuntu install the package python3-venv; else check that the folder "
            "can be written and the disk is not full.",
        )
        return False
    return True


def stamp_of(lock_file: Path) -> Path:
    """Return where it is noted that `lock_file` is installed."""
    return VENV / f"{lock_file.stem}.stamp"


def is_stamped(lock_file: Path) -> bool:
    """Tell whether `.venv` was installed for just this lock, package and place."""
    try:
        return stamp_of(lock_file).read_text(encoding="utf-8") == fingerprint(lock_file)
    except FileNotFoundError:
        return False


def fingerprint(lock_file: Path) -> str:
    """Return what `.venv` must have been installed for."""
    digest = hashlib.sha256()
    for path in (lock_file, ROOT / "pyproject.toml"):
        digest.update(path.read_bytes())
    digest.update(f"{ROOT}\n{PYTHON.resolve()}\n".encode())
    return digest.hexdigest()


def works(python: Path) -> bool:
    """Tell whether this interpreter is there, starts, and is new enough."""
    question = f"import pip, sys; sys.exit(sys.version_info < {OLDEST_PYTHON})"
    try:
        return subprocess.run([python, "-c", question], capture_output=True).returncode == 0
    except OSError:
        return False


def is_at_home() -> bool:
    """Tell whether `.venv` was made in this very folder; its commands do not survive a move."""
    try:
        return f" {VENV}\n" in (VENV / "pyvenv.cfg").read_text(encoding="utf-8")
    except FileNotFoundError:
        return False


def run(command: list[str | Path]) -> int:
    """Run a command in the foreground and return its exit code."""
    try:
        return subprocess.run([str(word) for word in command]).returncode
    except OSError as error:
        return fail(
            f"{command[0]} did not start: {error}",
            "`make clean`, then the same command again, sets everything up anew.",
        )


def fail(what: str, remedy: str) -> int:
    """Say what went wrong and what to do; return the exit code for it."""
    print(f"{what}\n{remedy}", file=sys.stderr, flush=True)
    return 1


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)  # what was running got the same Ctrl-C
