"""A set of formulas that may mention each other, worked out in whatever order they need."""

from __future__ import annotations

from collections.abc import Mapping

from clothwise.errors import CircularReference, ExpressionError, UnresolvedExpressions
from clothwise.pattern.expression import Expression, parse_expression, unknown_names
from clothwise.pattern.quantity import Quantity, QuantityKind, refuse_wrong_kind, shortened

__all__ = ["resolve_expressions"]


def resolve_expressions(
    definitions: Mapping[str, str | float],
    values: Mapping[str, Quantity],
    *,
    kinds: Mapping[str, QuantityKind] | None = None,
) -> dict[str, Quantity]:
    """Return the value of each defined name; definitions may mention each other in any order.

    Args:
        definitions: name to formula, or to a plain number.
        values: what is known already, such as the measurements of a body.
        kinds: what a name must measure, for the names where that is known.

    Raises:
        UnresolvedExpressions: carries every failure: formulas that cannot be read, unknown names,
            mixed kinds, and each circle once as `CircularReference`. What fails only because it
            needs a failed name is left out.

    >>> resolve_expressions({"hem": "length + 4cm", "length": "60cm"}, {})["hem"].value
    640.0
    """
    resolver = _Resolver(definitions, values, kinds or {})
    for name in definitions:
        resolver.visit(name)
    if resolver.errors:
        raise UnresolvedExpressions(resolver.errors)
    return {name: resolver.known[name] for name in definitions}


class _Resolver:
    """Works out a set of formulas, each after those it mentions, without recursion."""

    def __init__(
        self,
        definitions: Mapping[str, str | float],
        values: Mapping[str, Quantity],
        kinds: Mapping[str, QuantityKind],
    ) -> None:
        self.errors: list[tuple[str, ExpressionError]] = []
        self.known: dict[str, Quantity] = dict(values)
        self._definitions = definitions
        self._kinds = kinds
        self._failed: set[str] = set()
        self._finished: set[str] = set()
        self._names = [*values, *definitions]
        for name in definitions:
            if name in values:
                self._fail(name, _already_taken(name))

    def visit(self, name: str) -> None:
        path: dict[str, None] = {}  # the names being worked out, each needed by the one before
        waiting: list[list[str]] = [[name]]
        while waiting:
            if not waiting[-1]:
                waiting.pop()
                if path:
                    self._work_out(path.popitem()[0])
                continue
            needed = waiting[-1].pop()
            if needed in self._finished:
                continue
            if needed in path:
                names = [*path]
                cycle = names[names.index(needed) :]
                self._fail(needed, CircularReference(cycle))
                self._failed.update(cycle)
                continue
            path[needed] = None
            waiting.append(self._needs(needed))

    def _needs(self, name: str) -> list[str]:
        expression = self._read(name)
        if expression is None:
            return []
        return sorted(
            (each for each in expression.names if each in self._definitions),
            key=expression.column_of,
            reverse=True,
        )

    def _read(self, name: str) -> Expression | None:
        definition = self._definitions[name]
        if name in self._failed or not isinstance(definition, str):
            return None
        try:
            return parse_expression(definition)
        except ExpressionError as error:
            self._fail(name, error)
            return None

    def _work_out(self, name: str) -> None:
        self._finished.add(name)
        if name in self._failed:
            return
        definition = self._definitions[name]
        kind = self._kinds.get(name)
        try:
            if isinstance(definition, str):
                expression = parse_expression(definition)
                unknown = expression.names - self._definitions.keys() - self.known.keys()
                if unknown:
                    raise unknown_names(expression, self._names)
                if expression.names & self._failed:
                    self._failed.add(name)
                    return
                self.known[name] = expression.evaluate(self.known, kind=kind)
            else:
                _refuse_non_number(definition)
                number = Quantity(float(definition), is_bare_zero=definition == 0)
                refuse_wrong_kind(number, kind, str(definition))
                self.known[name] = number
        except ExpressionError as error:
            self._fail(name, error)

    def _fail(self, name: str, error: ExpressionError) -> None:
        self._failed.add(name)
        self.errors.append((name, error))


def _refuse_non_number(definition: object) -> None:
    """Refuse what a document may hold by mistake, such as yes, a date or a list."""
    if isinstance(definition, bool) or not isinstance(definition, int | float):
        raise ExpressionError(
            f"{shortened(str(definition))} is neither a number nor a formula",
            what_to_do="Write a value such as 25cm, or a formula such as waist_to_knee + 25cm.",
        )


def _already_taken(name: str) -> ExpressionError:
    return ExpressionError(
        f"the name {name} is taken already",
        what_to_do="Choose another name; measurements cannot be redefined.",
    )
