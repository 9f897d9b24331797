"""What each code of a finding means: the pages of `docs/reference/findings/`, for showing.

The library carries one file with the text of all pages, which a test holds to be those pages.
Links and code marks are taken out: what is left can be read aloud.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from clothwise.errors import Misuse, did_you_mean

PAGES_FILE = "pages.txt"
"""In `data/findings/`: all pages but the index, one after the other, in order of their codes."""

_PAGE = re.compile(r"^# (?P<code>[A-Z-]+): (?P<title>.+)$", re.MULTILINE)
_SECTION = re.compile(r"^\*\*(?P<heading>[^*.:]+)[.:]\*\* (?P<text>.+)$", re.DOTALL)
_LINK = re.compile(r"\[([^\]]+)\]\([^)]+\)")
_SLANTED = re.compile(r"(?<!\*)\*([^*\s](?:[^*]*[^*\s])?)\*(?!\*)")
_FENCE = re.compile(r"(?:^[^\n]+:\n\n)?^```.*?^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Explanation:
    """A code of a finding explained.

    Attributes:
        code: such as `SEAM-LENGTH`.
        title: it in words.
        sections: headings with their text, such as "What it means".
    """

    code: str
    title: str
    sections: tuple[tuple[str, str], ...]


def explanation(code: str) -> Explanation:
    """Return what a code means.

    Raises:
        Misuse: there is no such code.
    """
    known = _explanations()
    if code not in known:
        raise Misuse(
            f"there is no finding called {code[:40]!r}",
            what_to_do=did_you_mean(code[:40], known, of_what="codes"),
        )
    return known[code]


@cache
def _explanations() -> dict[str, Explanation]:
    text = (files("clothwise") / "data" / "findings" / PAGES_FILE).read_text(encoding="utf-8")
    heads = list(_PAGE.finditer(text))
    ends = [*(head.start() for head in heads[1:]), len(text)]
    found = {}
    for head, end in zip(heads, ends, strict=True):
        body = text[head.end() : end]
        found[head["code"]] = Explanation(head["code"], head["title"], tuple(_sections(body)))
    return found


def _sections(body: str) -> list[tuple[str, str]]:
    sections: list[tuple[str, str]] = []
    for paragraph in _FENCE.sub("", body).split("\n\n"):
        plain = _plain(paragraph)
        found = _SECTION.match(plain)
        if found:
            sections.append((found["heading"], found["text"]))
        elif plain and sections:
            heading, before = sections[-1]
            sections[-1] = (heading, f"{before} {plain}")
    return sections


def _plain(text: str) -> str:
    return " ".join(_SLANTED.sub(r"\1", _LINK.sub(r"\1", text)).replace("`", "").split())
