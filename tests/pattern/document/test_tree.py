"""YAML as it is taken: texts with lines; everything that could do harm is refused."""

from __future__ import annotations

import time

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from clothwise.errors import DocumentError, Fault
from clothwise.pattern.document.tree import (
    MAX_DOCUMENT_CHARACTERS,
    Branch,
    Leaf,
    NodeList,
    child_path,
    parse_tree,
)


def faults_of(text: str) -> tuple[Fault, ...]:
    try:
        return parse_tree(text, "x.yaml")[1]
    except DocumentError as error:
        return error.faults


def test_scalars_are_the_texts_as_written() -> None:
    root, faults = parse_tree("a: yes\nb: 0.50\nc: 038\nd: 1 5/8in\ne:\nf: '7'\n", "x")
    assert faults == ()
    texts = [entry.node.text for entry in root.entries if isinstance(entry.node, Leaf)]
    assert texts == ["yes", "0.50", "038", "1 5/8in", "", "7"]


def test_lines_count_from_one_and_are_the_keys() -> None:
    root, _ = parse_tree("# remark\na:\n  b: 1\n  c:\n    - 2\n", "x")
    (a,) = root.entries
    assert isinstance(a.node, Branch)
    assert [(entry.key, entry.line) for entry in a.node.entries] == [("b", 3), ("c", 4)]
    assert isinstance(a.node.entries[1].node, NodeList)
    assert a.node.entries[1].node.items[0] == Leaf("2", 5)


@pytest.mark.parametrize(
    ("text", "line", "what", "remedy"),
    [
        ("", 1, "the file is empty", "undo"),
        ("# only a remark\n", 1, "the file is empty", "undo"),
        ("---\n", 1, "the file is empty", "undo"),
        ("a: 1\nb:\n\tc: 2\n", 3, "a tab stands in the indentation", "spaces"),
        ("<html>\n<p>x</p>\n", 1, "plain text where keys", "right file"),
        ("- a\n- b\n", 1, "a list where keys", "right file"),
        ("a: 1\nb: \x01\n", 2, "a character that no text holds (U+0001)", "Remove it"),
        ("a: 1\na: 2\n", 2, "a stands in line 1 already", "Keep one"),
        ("a: &x 1\nb: 2\n", 1, "an anchor (&x)", "Remove it"),
        ("a: 1\nb: *x\n", 2, "an alias (*)", "Write the value"),
        ("a: 1\nb: !!python/name:os.system 1\n", 2, "a tag", "needs quotes"),
        ("a: 1\n---\nb: 2\n", 2, "a second document", "one document"),
        ("a: 1\nb: x: y\n", 2, "a colon follows where no key can begin", "quotes"),
        ("a: 1\n  b: 2\n", 2, "a colon follows where no key can begin", "indentation"),
        ("a:\n  b: 1\n c: 2\n", 3, "the indentation fits no line above", "Indent"),
        ("a: 1\nb: 'x\nc: 2\n", 2, "never closed", "Close it"),
        ("a: [1, 2\nb: 2\n", 2, "is not closed", "Close it"),
        ("a: 1\nb: @x\n", 2, "a sign that YAML reserves", "quotes"),
        ("a: 1\n[1, 2]: 3\n", 2, "where a key should", "quotes"),
    ],
)
def test_every_fault_has_its_line_and_remedy(text: str, line: int, what: str, remedy: str) -> None:
    (fault,) = faults_of(text)
    assert (fault.file, fault.line) == ("x.yaml", line)
    assert what in fault.what
    assert remedy in fault.remedy


def test_all_tabbed_lines_are_named_at_once() -> None:
    assert [fault.line for fault in faults_of("a:\n\tb: 1\n\tc: 2\nd: 3\n\te: 4\n")] == [2, 3, 5]


def test_several_duplicates_and_aliases_are_named_at_once() -> None:
    found = faults_of("a: 1\nb: *x\na: 2\nb: 3\n")
    assert [(fault.line, fault.path) for fault in found] == [(2, "$.b"), (3, "$.a"), (4, "$.b")]


def test_billion_laughs_cost_nothing() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    started = time.perf_counter()
    found = faults_of("\n".join(lines))
    assert time.perf_counter() - started < 2
    assert {fault.line for fault in found} == set(range(1, 11))


@pytest.mark.parametrize("opening", ["[", "{a: ", "? ", "- "])
def test_nesting_is_bounded(opening: str) -> None:
    started = time.perf_counter()
    (fault,) = faults_of("k: 1\nx:\n  " + opening * 5_000)
    assert time.perf_counter() - started < 3
    assert fault.line == 3
    assert "nested too deeply" in fault.what


def test_a_huge_text_is_refused_unread() -> None:
    (fault,) = faults_of("a: 1\n" * (MAX_DOCUMENT_CHARACTERS // 4))
    assert "too long (250,000 characters, at most 200,000)" in fault.what


def test_paths_are_quoted_where_they_must_be() -> None:
    assert child_path("$.a", "b-c") == "$.a.b-c"
    assert child_path("$.a", 2) == "$.a[2]"
    assert child_path("$", "odd key") == '$["odd key"]'
    assert len(child_path("$", "x y" * 100)) < 80


@given(st.text(max_size=200))
@example('a: "\\xZZ"')
@example("a: 1\r\rb: 2")
@example("%YAML 3.0\n---\na: 1\n")
@example("%TAG ! tag:x,2000:\n---\na: !b 1\n")
@example("\ufeffa: 1")
@example("a: \x85b: 1")
def test_any_text_is_read_or_refused_in_our_words(text: str) -> None:
    try:
        root, faults = parse_tree(text, "x.yaml")
        assert isinstance(root, Branch)
    except DocumentError as error:
        faults = error.faults
        assert faults
    assert all(fault.what and fault.remedy for fault in faults)


@given(
    st.recursive(
        st.sampled_from(["1", "'a'", "*x", "&x", "!t", "\t", "\n", ": ", "- ", "#", "|", ">"]),
        lambda inner: st.lists(inner, max_size=5).map(lambda parts: f"[{''.join(parts)}]"),
        max_leaves=20,
    )
)
def test_broken_yaml_is_refused_in_our_words(text: str) -> None:
    for fault in faults_of(f"a: {text}\nb: 2\n"):
        assert fault.what
        assert fault.remedy
