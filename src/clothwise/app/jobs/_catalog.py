"""In a worker: what a design is put together from, and what is tried on it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from clothwise.app.jobs._beside_fields import amount_beside, unbroken
from clothwise.app.jobs._drafting import Kept, drafted, opened_design, version_of
from clothwise.app.jobs._refused import parameters_named, refused_in_words
from clothwise.app.jobs._ways import ways_out
from clothwise.app.jobs.catalog import (
    AdditionsOf,
    Catalog,
    CatalogOf,
    ChoiceShown,
    ComponentShown,
    NameShown,
    Offers,
    OfferShown,
    OptionShown,
    ParameterShown,
    RemovalOf,
    RemovalShown,
    SwapsOf,
)
from clothwise.app.work import JobCancelled, Shown, Tell
from clothwise.components import DesignFile, ParameterError, component_class
from clothwise.components.drafting import component_of
from clothwise.components.evaluation import Evaluation, evaluate, format_parameter
from clothwise.components.family import Family
from clothwise.components.offers import (
    Fitting,
    Offer,
    addition,
    exchangeable,
    of_family,
    removal,
    swap,
)
from clothwise.components.parameter import ParameterKind
from clothwise.components.parameter_values import (
    ParameterValue,
    amount_of,
    parameter_values,
    problems_of,
    scale_of,
)
from clothwise.components.stale_names import StaleName, stale_view_names
from clothwise.errors import ClothwiseError, Misuse, did_you_mean
from clothwise.pattern import Body, Finding, Pattern
from clothwise.pattern.commands import SwapComponent
from clothwise.pattern.commands.entry_names import free_name
from clothwise.pattern.document import ComponentEntry, Design
from clothwise.pattern.document.value import ByOption, Requirement, Value, selected
from clothwise.pattern.plain_names import kind_called, plain_name
from clothwise.units import LengthUnit

__all__ = ["additions_of", "catalog", "removal_of", "swaps_of"]

_offers: Kept[Offers] = Kept(60)
_removals: Kept[RemovalShown] = Kept(60)


# What there is


def catalog(job: CatalogOf) -> Catalog:
    """Read the choices and components of a design, with what is wrong with them.

    Raises:
        DocumentError: the design has faults.
        Misuse: the view or the size is not there.
    """
    file = opened_design(job.documents)
    design, body = file.design, file.body(job.shown.size)
    of_view = {**design.default_choices, **_view_choices(design, job.shown.view)}
    choices = {**of_view, **_known(design, job.shown.choices)}
    unit = LengthUnit(job.unit) if job.unit else design.unit
    evaluation = evaluate(design, body, choices)
    problems = list(design.problems_of(choices))
    undrafted = {} if problems else _undrafted(job.shown, job.documents, design, job.unit)
    return Catalog(
        view=_view_title(design, job.shown.view),
        options=tuple(_options(design, choices, of_view)),
        problem=" ".join(f"{_sentence(each.what)} {_sentence(each.remedy)}" for each in problems),
        values=tuple(_values(design, choices, evaluation, unit)),
        allowances=tuple(_allowances(design, unit)),
        components=tuple(
            _component(design, entry, choices, evaluation, unit, undrafted)
            for entry in design.components
        ),
        families={each.value: each.title for each in Family if of_family(each)},
        roles={name: role.title for name, role in design.roles.items()},
        choices=choices,
        unit=unit.value,
        views={view.name: f"{view.name}: {view.title}" for view in design.views},
        sizes=file.chart.names,
        people=file.chart.people,
        size=body.name,
        view_name=job.shown.view,
        view_names=_names_shown(
            stale_view_names(design, job.shown.view, choices)
            if job.shown.view and not problems
            else ()
        ),
    )


def _names_shown(names: Iterable[StaleName]) -> tuple[NameShown, ...]:
    return tuple(NameShown(each.place, each.of, each.text, each.suggestion) for each in names)


def _view_choices(design: Design, view: str) -> Mapping[str, str]:
    return design.view(view).choices if view else {}


def _view_title(design: Design, view: str) -> str:
    return f"{view}: {design.view(view).title}" if view else ""


def _known(design: Design, choices: Mapping[str, str]) -> dict[str, str]:
    """Return the choices that the design has, now that it may have changed."""
    return {
        option.name: choices[option.name]
        for option in design.options
        if choices.get(option.name) in option.choices
    }


def _undrafted(
    shown: Shown, documents: Mapping[str, str], design: Design, unit: str
) -> dict[tuple[str, str], str]:
    """Return why a component cannot be drafted, by its name and the parameter that mends it.

    The parameter is empty where none is named; faults of parameters stand there anyway.
    """
    try:
        drafted(shown, documents)
    except ParameterError:
        return {}
    except ClothwiseError as error:
        told = refused_in_words(error, design, unit)
        if told is not None:
            of = f"In {told.where}: " if told.where else ""
            more = f" ({told.how_much})" if told.how_much else ""
            words = f"{_sentence(f'{of}{told.what}{more}')} {_sentence(told.what_to_do)}"
            parameter = next(iter(parameters_named(error, design)), "")
            return {(component_of(error), parameter): words}
    return {}


def _options(
    design: Design, choices: Mapping[str, str], of_view: Mapping[str, str]
) -> Iterator[OptionShown]:
    for option in design.options:
        against = {}
        for choice in option.choices:
            problems = list(design.problems_of({**choices, option.name: choice}))
            if problems:
                against[choice] = _sentence(problems[0].remedy or problems[0].what)
        yield OptionShown(
            option.name,
            option.title,
            dict(option.choices),
            choices[option.name],
            of_view[option.name],
            against,
        )


def _values(
    design: Design, choices: Mapping[str, str], evaluation: Evaluation, unit: LengthUnit
) -> Iterator[ParameterShown]:
    """Yield what the design has given names to; formulas of components use these."""
    for name, value in design.values.items():
        faults = (f for f in evaluation.faults if f.component == "" and f.parameter == name)
        text, keys = _text(value, choices)
        yield ParameterShown(
            name,
            plain_name(name),
            f"Formulas call it {name}.",
            "",
            text,
            "",
            number=amount_beside(text, unit),
            when=_when_of(design, value.option if isinstance(value, ByOption) else "", keys),
            problem=problems_of(faults),
        )


def _allowances(design: Design, unit: LengthUnit) -> Iterator[ParameterShown]:
    """Yield what the design says of all its seams."""
    told = {
        "seam_allowance": (design.seam_allowance, "Of every seam that states none of its own."),
        "neck_allowance": (design.neck_allowance, "Of necklines, fronts and what is turned."),
    }
    for name, (text, help) in told.items():
        number = amount_beside(text, unit)
        yield ParameterShown(name, plain_name(name), help, "", text, "", number)


def _text(value: Value, choices: Mapping[str, str]) -> tuple[str, tuple[str, ...]]:
    try:
        found = selected(value, choices)
    except KeyError:
        return "", ()
    return found.text, found.keys


def _component(
    design: Design,
    entry: ComponentEntry,
    choices: Mapping[str, str],
    evaluation: Evaluation,
    unit: LengthUnit,
    undrafted: Mapping[tuple[str, str], str],
) -> ComponentShown:
    of = component_class(entry.kind)
    return ComponentShown(
        name=entry.name,
        title=plain_name(entry.name),
        kind=entry.kind,
        kind_title=kind_called(entry.kind),
        help=" ".join((of.__doc__ or "").split()),
        is_there=entry.when.holds(choices),
        when=_requirement_words(design, entry.when),
        parameters=tuple(
            _parameter(design, each, unit, undrafted.get((entry.name, each.name), ""))
            for each in parameter_values(entry, evaluation, choices)
        ),
        role=entry.role if isinstance(entry.role, str) else "",
        problem=undrafted.get((entry.name, ""), ""),
        can_swap=bool(exchangeable(entry.kind)),
    )


def _parameter(
    design: Design, value: ParameterValue, unit: LengthUnit, undrafted: str
) -> ParameterShown:
    parameter = value.parameter
    shown = ParameterShown(
        name=value.name,
        label=plain_name(value.name),
        help=parameter.help,
        range=_range(value, unit),
        text=value.text,
        usual=value.usual,
        when=_when_of(design, value.option, value.keys),
        choices=parameter.choices,
        problem=problems_of(value.faults) or undrafted,
    )
    scale = scale_of(parameter, unit)
    if value.value is None or scale is None:
        return shown
    number = format_parameter(value.value, parameter.kind, unit)
    usual = amount_of(value.usual, scale).tail * scale.per_unit
    amount = amount_of(value.text, scale) if value.text else None
    return replace(
        shown,
        usual=format_parameter(usual, parameter.kind, unit),
        number=unbroken(
            number if amount is not None and amount.stem else amount_beside(value.text, unit)
        ),
        slides=True,
        unit=scale.unit,
        low=_rounded(scale.low),
        high=_rounded(scale.high),
        step=scale.step,
        value=_rounded(value.value / scale.per_unit),
        stem=amount.stem if amount else "",
        tail=_rounded(amount.tail) if amount else 0.0,
    )


def _range(value: ParameterValue, unit: LengthUnit) -> str:
    parameter = value.parameter
    if parameter.kind in (ParameterKind.CHOICE, ParameterKind.TEXT, ParameterKind.ALONG):
        return ""
    ends = (parameter.low, parameter.high)
    low, high = (format_parameter(each, parameter.kind, unit) for each in ends)
    return unbroken(f"{low} to {high}")


def _rounded(number: float) -> float:
    return round(number, 4)


def _when_of(design: Design, option: str, keys: tuple[str, ...]) -> str:
    """Return for which choice a text applies, in words: `length: To the middle of the calf`."""
    found = design.option(option) if option else None
    if found is None or not keys:
        return ""
    return f"{found.title.lower()}: {found.choices.get(keys[0], 'any other')}"


def _requirement_words(design: Design, requirement: Requirement) -> str:
    """Return a requirement in the words of the options: `armhole: Elbow sleeve`."""
    told = []
    for alternative in requirement.alternatives:
        parts = []
        for name, allowed in alternative.items():
            option = design.option(name)
            title = option.title.lower() if option else name
            words = (option.choices.get(each, each) if option else each for each in allowed)
            parts.append(f"{title}: {' or '.join(words)}")
        told.append(", and ".join(parts))
    return "; or ".join(told)


# What is tried


def swaps_of(job: SwapsOf, told: Tell, cancelled: Callable[[], bool]) -> Offers:
    """Try what may stand in the place of a component; what was tried on the same is kept.

    Raises:
        Misuse: there is no such component, or the choices do not go together.
        DocumentError: the design has faults.
    """
    key = ("swaps", job.name, job.unit, *_key(job.shown, job.documents))
    found = _offers.get(key)
    if found is not None:
        return found
    shown = _fitting(job.shown, job.documents, job.unit)
    on = shown.where_it_is(job.name)
    entry = on.design.component(job.name)
    family = component_class(entry.kind).family
    offers = _tried(
        on,
        job.name,
        exchangeable(entry.kind),
        lambda kind: swap(on, job.name, kind),
        told,
        cancelled,
    )
    when = _requirement_words(on.design, entry.when) if on.choices != shown.choices else ""
    return _offers.put(key, Offers(family.title, offers, job.name, when))


def additions_of(job: AdditionsOf, told: Tell, cancelled: Callable[[], bool]) -> Offers:
    """Try what of a family may be added; what was tried on the same is kept.

    Raises:
        Misuse: there is no such family, or the choices do not go together.
        DocumentError: the design has faults.
    """
    family = _family(job.family)
    key = ("additions", family.value, job.unit, *_key(job.shown, job.documents))
    found = _offers.get(key)
    if found is not None:
        return found
    on = _fitting(job.shown, job.documents, job.unit)
    offers = _tried(on, "", of_family(family), lambda kind: addition(on, kind), told, cancelled)
    return _offers.put(key, Offers(family.title, offers))


def removal_of(job: RemovalOf) -> RemovalShown:
    """Find out what must go with a component.

    Raises:
        Misuse: there is no such component, or the choices do not go together.
        DocumentError: the design has faults.
    """
    key = ("removal", job.name, *_key(job.shown, job.documents))
    kept = _removals.get(key)
    if kept is not None:
        return kept
    on = _fitting(job.shown, job.documents, job.unit)
    found = removal(on, job.name)
    shown = RemovalShown(
        name=job.name,
        title=plain_name(job.name),
        also=tuple(plain_name(each) for each in found.names if each != job.name),
        lost=found.lost,
        command=found.command.to_data() if found.command else None,
        refused=found.refused,
        remedy=found.remedy,
        notes=found.notes,
        ways=ways_out(f"{found.refused} {found.remedy}", on.design, on.pattern, job.name)
        if found.command is None
        else (),
    )
    return _removals.put(key, shown)


def _key(shown: Shown, documents: Mapping[str, str]) -> tuple[str, ...]:
    choices = sorted(f"{key}={each}" for key, each in shown.choices.items())
    return (version_of(documents), shown.size, shown.view, *choices)


def _fitting(shown: Shown, documents: Mapping[str, str], unit: str) -> Fitting:
    file: DesignFile = opened_design(documents)
    design = file.design
    choices = design.chosen(_known(design, shown.choices), view=shown.view)
    liked = LengthUnit(unit) if unit else design.unit
    return Fitting(design, file.body(shown.size), choices, _judged, file.body(""), liked)


def _judged(pattern: Pattern, body: Body) -> tuple[Finding, ...]:
    from clothwise.checks import check

    return check(pattern, body)


def _tried(
    on: Fitting,
    but: str,
    kinds: tuple[str, ...],
    try_on: Callable[[str], Offer],
    told: Tell,
    cancelled: Callable[[], bool],
) -> tuple[OfferShown, ...]:
    found = []
    for number, kind in enumerate(kinds, 1):
        if cancelled():
            raise JobCancelled("the trying on was stopped")
        offer = _offer(try_on(kind), on, but)
        found.append(offer)
        told(number / len(kinds), f"{number} of {len(kinds)} tried", offer)
    return tuple(found)


def _offer(offer: Offer, on: Fitting, but: str) -> OfferShown:
    command = offer.command
    if isinstance(command, SwapComponent):
        command = replace(command, called=_called_then(on.design, command))
    refusal = f"{offer.refused} {offer.remedy}" if offer.command is None else ""
    return OfferShown(
        kind=offer.kind,
        title=kind_called(offer.kind),
        help=" ".join((component_class(offer.kind).__doc__ or "").split()),
        command=command.to_data() if command else None,
        refused=_sentence(offer.refused),
        remedy=_sentence(offer.remedy),
        notes=offer.notes,
        there=next(_choices(on.design, offer.there), None),
        names=_names_shown(offer.names),
        ways=ways_out(refusal, on.design, on.pattern, but),
    )


def _called_then(design: Design, swap: SwapComponent) -> str:
    """The name that the new kind gives it, if the old one gave it its own; else empty."""
    old = design.component(swap.name).kind
    if re.fullmatch(rf"{re.escape(old)}(-\d+)?", swap.name) is None:
        return ""
    return free_name(design, swap.component)


def _choices(design: Design, of: tuple[tuple[str, str], ...]) -> Iterator[ChoiceShown]:
    for name, choice in of:
        option = design.option(name)
        if option is not None:
            yield ChoiceShown(name, choice, option.title, option.choices[choice])


def _family(name: str) -> Family:
    try:
        return Family(name)
    except ValueError:
        names = [each.value for each in Family]
        raise Misuse(
            f"there is no family of components {name[:40]!r}",
            what_to_do=did_you_mean(name, names, of_what="families"),
        ) from None


def _sentence(text: str) -> str:
    text = text.strip()
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."
