"""Widths, shares and prices as people write them."""

from __future__ import annotations

import pytest

from clothwise.errors import Misuse, UnitError
from clothwise.pattern.document.fabric_entry import (
    FabricEntry,
    Price,
    parse_price,
    parse_share,
    parse_width,
)


@pytest.mark.parametrize(
    ("text", "share"), [("4%", 0.04), ("2,5 %", 0.025), ("0.04", 0.04), ("0", 0), ("25%", 0.25)]
)
def test_shares_are_read(text: str, share: float) -> None:
    assert parse_share(text) == share


@pytest.mark.parametrize("text", ["4", "26%", "-1%", "a lot", "4 percent", "1e-2", "nan"])
def test_other_shares_are_refused(text: str) -> None:
    with pytest.raises(Misuse) as caught:
        parse_share(text)
    assert "percentage" in caught.value.what_to_do


@pytest.mark.parametrize(
    ("text", "price"),
    [
        ("18.50 EUR/m", Price(18.5, "EUR")),
        ("€18,50 / m", Price(18.5, "€")),
        ("9.144 USD/yd", Price(10.0, "USD")),
        ("$9.144/yd", Price(10.0, "$")),
        ("7/m", Price(7.0, "")),
    ],
)
def test_prices_are_read_per_meter(text: str, price: Price) -> None:
    """A yard is 0.9144 m exactly: international yard and pound agreement, 1959."""
    assert parse_price(text) == price


@pytest.mark.parametrize("text", ["18.50", "EUR/m", "-3 EUR/m", "3 EUR/kg", "1e9 EUR/m", "3 EUR"])
def test_other_prices_are_refused(text: str) -> None:
    with pytest.raises(Misuse, match="is not the price"):
        parse_price(text)


def test_widths_are_lengths_that_a_loom_can_weave() -> None:
    assert parse_width("54 in") == pytest.approx(1371.6)
    for text in ("0cm", "-10cm", "11m"):
        with pytest.raises(Misuse, match="no fabric is"):
            parse_width(text)
    with pytest.raises(UnitError):
        parse_width("150")


def test_an_entry_answers_in_millimeters() -> None:
    entry = FabricEntry("wool", "150cm", usable_width="57 in", shrinkage_along="2%")
    assert entry.width_mm == 1500
    assert entry.usable_width_mm == pytest.approx(1447.8)
    assert (entry.shrinkage_along_share, entry.shrinkage_across_share) == (0.02, 0.0)
    assert entry.stated_price is None
    assert FabricEntry("wool", "150cm").usable_width_mm is None
