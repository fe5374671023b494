"""What is liked and stands for years is no crop to plan: it is left out with how it is counted in."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenpick.base.errors import UnknownCrop
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.begin import Answers, First, first_garden
from evenpick.garden.likes_but import likes_of
from evenpick.garden.reading import read_garden


def begun(likes: str, where: str = "53.4,-6.2") -> First:
    return first_garden(Answers(where, 40.0, 0.0, people=2, likes=likes_of(likes)), load_catalogue())


def test_strawberries_do_not_keep_the_garden_from_being_begun(tmp_path: Path) -> None:
    """They were refused, and with them the whole answer."""
    first = begun("lettuce, Strawberries, asparagus, radish")
    assert list(first.left_out) == ["Strawberries", "asparagus"]
    assert "[[anyway]]" in first.left_out["asparagus"]
    path = tmp_path / "garden.toml"
    path.write_text(first.text, encoding="utf-8")
    assert [wish.item for wish in read_garden(path, load_catalogue()).wishes] == ["lettuce", "radish"]


@pytest.mark.parametrize(("where", "month"), [("53.4,-6.2", 6), ("-37.8,145", 12)])
def test_the_lines_for_them_can_be_read_with_their_marks_off(tmp_path: Path, where: str, month: int) -> None:
    text = begun("lettuce, strawberries", where).text
    at = text.index("# [[anyway]]")
    block = text[at:].split("\n\n")[0].split("\n# The")[0]
    path = tmp_path / "garden.toml"
    path.write_text(text[:at] + "\n".join(line.removeprefix("# ") for line in block.splitlines()) + "\n",
                    encoding="utf-8")
    (own,) = read_garden(path, load_catalogue()).anyway
    assert own.item == "strawberries"
    assert own.opens is not None
    assert own.opens[0] == month


def test_where_nothing_else_is_liked_it_is_said() -> None:
    with pytest.raises(UnknownCrop, match="stands for years"):
        begun("strawberries")
