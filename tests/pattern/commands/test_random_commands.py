"""Random commands, seeded: each is refused in words, or leaves documents that can be read."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from clothwise.errors import ClothwiseError
from clothwise.pattern.commands import (
    AddComponent,
    AddEdit,
    AddSize,
    ChangeEdit,
    Command,
    Documents,
    PaintCopies,
    RemoveComponent,
    RemoveEdit,
    RemoveFabric,
    RemoveSize,
    RenameComponent,
    SetCells,
    SetComponent,
    SetFabric,
    SetMake,
    SetParameter,
    SetPins,
    SwapComponent,
    command_from_data,
    make_names,
    read_documents,
)
from clothwise.pattern.document import parse_design, parse_make
from clothwise.pattern.size_chart import parse_size_chart

EXAMPLES = Path(__file__).parents[3] / "examples"
COMMANDS = 50
TEXTS = (
    *("10cm", "skirt_length - 2cm", "min(10cm, 3 * hip_girth)", "yes", "no", "~", "", "1e9", "0.5"),
    *(
        "a: b",
        "# x",
        "{a: b}",
        "[1",
        "'",
        '"',
        "\\",
        "é ünï → 🧵",
        "x" * 300,
        "two\nlines",
        "\t",
        "\x00",
    ),
    *("by", "otherwise", "- a", "&a *a", "!tag", "%", "@", "`", "a, b", "9cm}", "9cm # x", "null"),
)
NAMES = (
    "skirt",
    "pocket",
    "x",
    "new-part",
    "Skirt",
    "-",
    "",
    "a b",
    "é",
    "skirt-front",
    "1",
    "y" * 50,
)


def random_command(rng: random.Random, documents: Documents) -> Command:
    design = parse_design(documents["design.yaml"])
    make = rng.choice([*make_names(documents), "makes/new.yaml"])
    entries = [each.name for each in design.entries]
    name, other = rng.choice([*entries, *entries, *NAMES]), rng.choice([*entries, *NAMES])
    other = rng.choice([other, f"part-{rng.randrange(99)}"])
    entry = next((each for each in design.entries if each.name == name), design.entries[0])
    parameter = rng.choice([*entry.parameters, "flare", "length", *NAMES])
    text = rng.choice(["10cm", "168", "92", "0.5", "main", "12.5cm"]) if rng.random() < 0.6 else ""
    text = text or rng.choice(TEXTS)
    choices = {each.name: rng.choice([*each.choices, "none such"]) for each in design.options}
    piece = rng.choice([f"{name}-front", f"{name}/left", name])
    return rng.choice(
        [
            SetParameter(name, parameter, text, rng.choice([{}, choices]), rng.random() < 0.2),
            SetParameter("", parameter, text),
            AddComponent(other, rng.choice(["belt", "tie-belt"]), {parameter: text}, after=name),
            RemoveComponent(name),
            RenameComponent(name, other),
            SwapComponent(name, "belt", without=tuple(entry.parameters)[:2], gone=(piece,)),
            SetComponent(name, {rng.choice(["role", f"roles.{piece}"]): text}),
            AddEdit("split", {"piece": piece, parameter: text}, name=other),
            ChangeEdit(name, {parameter: text}),
            RemoveEdit(name),
            SetCells(design.size_chart, ((design.base_size, "height", text),)),
            AddSize(design.size_chart, text, {"height": "170", "bust_girth": "90"}),
            RemoveSize(design.size_chart, rng.choice(["38", "40"])),
            PaintCopies(make, (piece,), rng.choice(["linen", text])),
            SetFabric(make, rng.choice(["linen", other]), {"width": "140cm", "title": text}),
            RemoveFabric(make, rng.choice(["linen", other]), rng.choice(["", "fusible"])),
            SetPins(make, {piece: {"along": "3cm", "across": text}}),
            SetMake(
                make, {rng.choice(["title", "size", "roles.main", "choices.hem", other]): text}
            ),
        ]
    )


@pytest.mark.parametrize("example", ["kiln-dress", "pilot-coat-dress", "kiln-mixtures"])
def test_random_commands(example: str) -> None:
    rng = random.Random(f"20261126 {example}")
    first = read_documents(EXAMPLES / example)
    documents: Documents = first
    done, refused = 0, 0
    while done + refused < COMMANDS:
        command = random_command(rng, documents)
        assert command_from_data(command.to_data()) == command
        assert command.words.strip()
        before = dict(documents)
        try:
            after = command.apply(documents)
        except ClothwiseError:
            refused += 1
            after = documents
        else:
            assert command.told(documents).strip()
            assert command.touched(documents) is not None
            assert command.apply(documents) == after
            design = parse_design(after["design.yaml"])
            parse_size_chart(after[design.size_chart])
            for name in make_names(after):
                parse_make(after[name])
            done += 1
        assert dict(documents) == before
        documents = after if len(parse_design(after["design.yaml"]).components) > 2 else first
    assert done >= COMMANDS / 6
    assert refused >= COMMANDS / 6
