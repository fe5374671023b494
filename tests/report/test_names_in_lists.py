"""Names that hold a comma, in a list of names."""

from __future__ import annotations

from evenpick.report.words import listing


def test_a_name_with_a_comma_is_one_in_a_list() -> None:
    """"Onion sets, overwintering, Crisp lettuce, Onion sets" read as four things."""
    assert listing(["Mizuna", "Parsley"]) == "Mizuna, Parsley"
    assert listing(["Cos lettuce, small heads", "Tomato"]) == "Cos lettuce, small heads; Tomato"
