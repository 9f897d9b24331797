"""The project keeps its own promises: what its pages, locks and settings say is so."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

import clothwise
import clothwise.pattern

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "src" / "clothwise"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
RUN_LOCK = ROOT / "requirements" / "run.lock"
TEST_LOCK = ROOT / "requirements" / "test.lock"

# Written in two parts so that this file does not hold what it looks for.
REGISTRY_ADDRESSES = re.compile(
    "|".join(
        [
            "pypi" + r"\.org",
            "pythonhosted" + r"\.org",
            "npmjs" + r"\.(org|com)",
            "yarnpkg" + r"\.com",
            "crates" + r"\.io",
            "proxy" + r"\.golang",
            "deb" + r"\.debian\.org",
            "https?://" + r"[^ \"]*(/simple\b|registry)",
            "--(extra-)?" + "index-url",
            "--find" + "-links",
            '"resolved"' + ":",
        ]
    )
)

# Engines are exchangeable because one layer alone knows each (docs/decisions/).
LAYER_OF_ENGINE = {
    "argon2": "app",
    "click": "cli",
    "cv2": "cutting",
    "jinja2": "app",
    "kurbopy": "geometry",
    "numba": "cutting",
    "pikepdf": "output",
    "reportlab": "output",
    "rich": "cli",
    "scipy": "cutting",
    "starlette": "app",
    "typst": "output",
    "uvicorn": "app",
}


# Version and changelog


def test_package_and_project_have_the_same_version() -> None:
    assert clothwise.__version__ == PROJECT["version"]


def test_changelog_has_a_section_for_this_version() -> None:
    changelog = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    assert re.search(rf"^## {re.escape(clothwise.__version__)}\b", changelog, re.MULTILINE)


# Pages


def test_architecture_page_names_every_folder() -> None:
    """Of `data/` it names what kinds of data there are, not the folders within one kind."""
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    folders = [
        folder.relative_to(PACKAGE)
        for folder in PACKAGE.rglob("*")
        if folder.is_dir() and "__pycache__" not in folder.parts
    ]
    named = [folder for folder in folders if folder.parts[0] != "data" or len(folder.parts) <= 2]
    assert named
    assert [str(folder) for folder in named if f"`{folder.as_posix()}/`" not in page] == []


def test_glossary_explains_every_public_class_of_pattern() -> None:
    words = set(glossary_words())
    classes = set(public_classes("clothwise.pattern"))
    assert "SeamKind" in classes
    unexplained = sorted(spelled_out(name) for name in classes if spelled_out(name) not in words)
    assert unexplained == [], f"add to docs/glossary.md: {', '.join(unexplained)}"


def test_glossary_explains_no_word_twice() -> None:
    words = list(glossary_words())
    assert sorted({word for word in words if words.count(word) > 1}) == []


def glossary_words() -> Iterator[str]:
    """Entries of all tables of the glossary; a row may explain several, set apart by commas."""
    for line in (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8").splitlines():
        if line.startswith("| ") and not line.startswith(("| word |", "| --- |")):
            yield from line.split("|")[1].strip().split(", ")


def public_classes(layer: str) -> Iterator[str]:
    """Classes that the layer's packages export, and any that other layers import past them.

    Exceptions are left out: their names tell an event.
    """
    package = importlib.import_module(layer)
    found = [(package, name) for name in package.__all__]
    for info in pkgutil.walk_packages(package.__path__, f"{layer}."):
        if info.ispkg:
            module = importlib.import_module(info.name)
            found += [(module, name) for name in module.__all__]
    for module_name, name in names_imported_from(layer):
        found.append((importlib.import_module(module_name), name))
    for module, name in found:
        value = getattr(module, name)
        if inspect.isclass(value) and not issubclass(value, BaseException):
            yield name


def names_imported_from(layer: str) -> Iterator[tuple[str, str]]:
    """Each module of a layer, and each name in it, that a module outside the layer imports."""
    inside = PACKAGE.parent / layer.replace(".", "/")
    for path in sorted(PACKAGE.rglob("*.py")):
        if inside in path.parents:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and f"{node.module}.".startswith(f"{layer}."):
                yield from ((str(node.module), alias.name) for alias in node.names)


def spelled_out(class_name: str) -> str:
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", " ", class_name).lower()


def test_every_link_between_pages_leads_somewhere() -> None:
    broken = []
    for page in tracked_files():
        if page.suffix == ".md":
            for target in re.findall(r"\]\(([^)\s]+)\)", page.read_text(encoding="utf-8")):
                path = target.partition("#")[0]
                if "://" not in target and path and not (page.parent / path).exists():
                    broken.append(f"{page.relative_to(ROOT)}: {target}")
    assert broken == []


TARGETS = ["demo", "app", "test", "bench", "gallery", "reference", "lock"]


@pytest.mark.parametrize("target", TARGETS)
def test_make_and_script_know_the_same_commands(target: str) -> None:
    """Contributors without make type the second of these."""
    page = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    assert f"`make {target}" in page
    assert f"`python3 scripts/project.py {target}" in page
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    assert re.search(rf"^{target}: ## .+\n\t\$\(PROJECT\) {target}\b", makefile, re.MULTILINE)


def test_script_refuses_an_unknown_command_with_exit_code_2() -> None:
    script = [sys.executable, ROOT / "scripts" / "project.py", "dmeo"]
    answer = subprocess.run(script, capture_output=True, text=True, check=False)
    assert answer.returncode == 2
    assert "demo | app [FOLDER] | test | bench" in answer.stderr


# Packages


def test_no_tracked_file_names_a_package_registry() -> None:
    found = []
    for path in tracked_files():
        text = path.read_bytes().decode("utf-8", errors="ignore")
        for number, line in enumerate(text.splitlines(), start=1):
            if REGISTRY_ADDRESSES.search(line):
                found.append(f"{path.relative_to(ROOT)}:{number}")
    assert found == []


def tracked_files() -> list[Path]:
    """Files under version control; all but what .gitignore leaves out where git is not at hand."""
    try:
        listed = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
        ).stdout.split("\0")
    except (OSError, subprocess.CalledProcessError):
        left_out = {".git", ".venv", "__pycache__", "out"}
        listed = [
            str(path.relative_to(ROOT))
            for path in ROOT.rglob("*")
            if not left_out & set(path.relative_to(ROOT).parts)
        ]
    return [ROOT / name for name in listed if name and (ROOT / name).is_file()]


@pytest.mark.parametrize("lock", [RUN_LOCK, TEST_LOCK], ids=lambda path: path.name)
def test_lock_pins_every_package_with_hashes(lock: Path) -> None:
    entries = lock_entries(lock)
    assert entries
    for name, entry in entries.items():
        assert re.match(r"[a-z0-9-]+==[\w.]+( ; [^\\]+)? \\\n", entry), name
        assert re.search(r"--hash=sha256:[0-9a-f]{64}\b", entry), name


def test_lock_for_running_holds_what_the_project_declares() -> None:
    assert declared("dependencies") <= set(lock_entries(RUN_LOCK))


def test_lock_for_tests_holds_all_of_the_other_and_what_tests_declare() -> None:
    """One environment serves both, so that `make test` tests what `make demo` runs.

    What running needs on some machines only, tests may need on all.
    """
    run, test = lock_entries(RUN_LOCK), lock_entries(TEST_LOCK)
    for name, entry in run.items():
        needed = version(entry)
        assert version(test[name]) in (needed, needed.partition(" ;")[0]), name
    assert declared("test") <= set(test)


def test_every_package_has_its_reason_and_license_recorded() -> None:
    pages = (ROOT / "docs" / "decisions").glob("[0-9]*.md")
    rows = "\n".join(page.read_text(encoding="utf-8") for page in pages)
    recorded = {normalized(name) for name in re.findall(r"^\| ([\w.-]+) \| .+\|", rows, re.M)}
    assert sorted((declared("dependencies") | declared("test")) - recorded) == []


def test_every_decision_is_listed_once() -> None:
    folder = ROOT / "docs" / "decisions"
    listed = re.findall(r"\]\((\d{4}-[^)]+)\)", (folder / "README.md").read_text("utf-8"))
    assert sorted(listed) == sorted(path.name for path in folder.glob("[0-9]*.md"))
    assert len({name[:4] for name in listed}) == len(listed)


def lock_entries(lock: Path) -> dict[str, str]:
    """Each entry with its hashes, by package."""
    text = re.sub(r"^ *#.*\n", "", lock.read_text(encoding="utf-8"), flags=re.MULTILINE)
    entries = re.split(r"^(?=\S)", text, flags=re.MULTILINE)[1:]
    return {entry.partition("==")[0]: entry for entry in entries}


def version(entry: str) -> str:
    return entry.partition("\\")[0].strip()


def declared(group: str) -> set[str]:
    """Packages that `pyproject.toml` asks for, `dependencies` or those of an extra."""
    wanted = PROJECT.get(group) or PROJECT["optional-dependencies"][group]
    return {normalized(re.split(r"[<>=~! \[;]", item)[0]) for item in wanted}


def normalized(name: str) -> str:
    """The way package tools compare names."""
    return re.sub(r"[-_.]+", "-", name).lower()


# Imports


OF_EXTRA = {"cluster.py": "cluster"}
"""Modules that import what only an extra installs, when it is asked for."""


def test_every_import_is_of_a_declared_package() -> None:
    """What an extra brings may be imported by the one module that can do without it."""
    always, packages = declared("dependencies"), packages_distributions()
    undeclared = [
        f"{path.relative_to(ROOT)} imports {module}"
        for path, module in third_party_imports(PACKAGE)
        if not {normalized(name) for name in packages.get(module, [])}
        & (always | declared(OF_EXTRA[path.name]) if path.name in OF_EXTRA else always)
    ]
    assert undeclared == []


def test_each_engine_is_known_to_one_layer_only() -> None:
    strays = [
        f"{path.relative_to(ROOT)} imports {module}"
        for path, module in third_party_imports(PACKAGE)
        if module in LAYER_OF_ENGINE
        and path.relative_to(PACKAGE).parts[0] != LAYER_OF_ENGINE[module]
    ]
    assert strays == []


def test_tests_import_only_what_the_lock_for_tests_holds() -> None:
    """What else happens to be installed here is missing where everything is installed anew."""
    locked, packages = set(lock_entries(TEST_LOCK)), packages_distributions()
    folders = [ROOT / "tests", ROOT / "benchmarks", ROOT / "scripts"]
    own = {path.stem for folder in folders for path in folder.iterdir()} | {"tests"}
    strays = [
        f"{path.relative_to(ROOT)} imports {module}"
        for folder in folders
        for path, module in third_party_imports(folder)
        if module not in own
        and not {normalized(name) for name in packages.get(module, [])} & locked
    ]
    assert strays == []


def third_party_imports(folder: Path) -> list[tuple[Path, str]]:
    """Each module of ours with each foreign top-level module it imports, also inside functions."""
    found = []
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names: list[str] = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
                names = [node.module]
            for module in {name.partition(".")[0] for name in names}:
                if module != "clothwise" and module not in sys.stdlib_module_names:
                    found.append((path, module))
    return found


# The wheel


def test_wheel_holds_every_file_of_the_package(tmp_path: Path) -> None:
    """Fonts and tables travel too, also from folders that are no Python packages."""
    source = tmp_path / "source"
    shutil.copytree(
        PACKAGE, source / "src" / "clothwise", ignore=shutil.ignore_patterns("__pycache__")
    )
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    probe = source / "src" / "clothwise" / "data" / "probe" / "deeper" / "probe.ttf"
    probe.parent.mkdir(parents=True)
    probe.write_bytes(b"stands for a font")
    build = "from setuptools.build_meta import build_wheel; print(build_wheel('..'))"
    done = subprocess.run(
        [sys.executable, "-c", build], cwd=source, capture_output=True, text=True, check=True
    )
    with zipfile.ZipFile(tmp_path / done.stdout.split()[-1]) as wheel:
        packed = set(wheel.namelist())
    expected = {
        path.relative_to(source / "src").as_posix()
        for path in (source / "src" / "clothwise").rglob("*")
        if path.is_file()
    }
    assert "clothwise/data/probe/deeper/probe.ttf" in expected
    assert expected - packed == set()
