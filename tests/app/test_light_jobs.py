"""A server holds jobs without loading what they use; the quick worker never loads what is slow."""

from __future__ import annotations

import ast
import importlib
import inspect
import json
import pkgutil
import subprocess
import sys
import textwrap

import clothwise.app.jobs
from clothwise.app.work import Job

HEAVY = ("cutting", "packet", "work", "sizing")  # layers that take long to load
ENGINES = ("numpy", "scipy", "numba", "cv2", "reportlab", "typst", "shapely")


def loaded_by(*modules: str) -> set[str]:
    """What a new process has loaded once it has imported some modules."""
    program = (
        f"import json, sys\nfor m in {modules!r}: __import__(m)\nprint(json.dumps([*sys.modules]))"
    )
    answer = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert answer.returncode == 0, answer.stderr
    return set(json.loads(answer.stdout))


def job_modules() -> list[str]:
    found = pkgutil.iter_modules(clothwise.app.jobs.__path__, "clothwise.app.jobs.")
    return [each.name for each in found if not each.name.rpartition(".")[2].startswith("_")]


def test_job_modules_load_no_engine_and_no_slow_layer() -> None:
    loaded = loaded_by(*job_modules())
    assert not {each for each in ENGINES if each in loaded}
    assert not {each for each in HEAVY if f"clothwise.{each}" in loaded}


def test_what_the_quick_worker_does_loads_no_slow_layer() -> None:
    imported: set[str] = set()
    for name in job_modules():
        for job in vars(importlib.import_module(name)).values():
            if not (inspect.isclass(job) and issubclass(job, Job) and job.__module__ == name):
                continue
            if job.worker == "draft" and "run" in vars(job):
                imported |= _imports(textwrap.dedent(inspect.getsource(job.run)))
    assert "clothwise.app.jobs._drafting" in imported
    loaded = loaded_by(*sorted(imported))
    assert not {each for each in HEAVY if f"clothwise.{each}" in loaded}


def _imports(source: str) -> set[str]:
    nodes = ast.walk(ast.parse(source))
    return {each.module for each in nodes if isinstance(each, ast.ImportFrom) and each.module}
