"""What a grower meets on a phone: long lists behind their headings, nothing of the terminal, nothing lost."""

from __future__ import annotations

import html
import re

import pytest
from invented import BRITISH
from served_garden import GARDEN, Place

from evenpick.base.language import tell
from evenpick.garden.diary import SetUp, new_id
from evenpick.report.page import Block, Column, Heading, Items, Table, Text
from evenpick.service.book import record_of
from evenpick.service.outlook_answer import Band
from evenpick.service.picking_list import ListedItem
from evenpick.web.blocks import FEW, folded
from evenpick.web.blocks import html as drawn
from evenpick.web.pages.picking_table import list_table


def long(heading: str, rows: int = FEW + 1) -> list[Block]:
    rows_of = tuple((f"c{n}", f"{n}") for n in range(rows))
    return [Heading(heading), Table((Column("crop"), Column("day")), rows_of)]


def test_a_long_table_is_behind_its_heading_and_a_short_one_is_not() -> None:
    made = folded([*long("jobs"), *long("seed"), *long("ground", FEW)], BRITISH)
    assert re.findall(r"<summary><h2[^>]*>(.*?)</h2></summary>", made) == ["Seed"]
    assert made.count("<td") == 3 * FEW + 2
    assert made.index("Jobs") < made.index("<details") < made.index("</details>") < made.index(">Ground<")
    assert folded(long("jobs"), BRITISH, first_open=False).startswith("<details")


def test_what_can_hurt_someone_is_never_behind_a_heading() -> None:
    careful = [Heading(tell("take care")), Items(tuple(f"no. {n}" for n in range(2 * FEW)))]
    made = folded([*long("jobs"), *careful, Heading("sources"), careful[1]], BRITISH)
    assert made.index("Take care") < made.index("<details") < made.index("Sources")


def test_a_page_does_not_name_a_command_of_the_terminal() -> None:
    told = drawn([Text("Nothing was fetched (evenpick weather --fetch). It is so (as it was).")], BRITISH)
    assert told == "<p>Nothing was fetched. It is so (as it was).</p>"


def test_every_crop_is_on_one_page_with_its_answer_before_it_is_opened(place: Place) -> None:
    page = place.client.get("/when").text
    crops = re.findall(r'<details class="crop"><summary><b>(.*?)</b> <span class="hint">(.*?)</span>', page)
    assert len(crops) > 40
    assert len({name for name, _ in crops}) == len(crops)
    assert all(re.search(r"\b(to|from) \d+ [A-Z]|all year", short) for _, short in crops)
    assert "<table" not in page
    assert 'href="/when?crop=radish"' in page


@pytest.mark.parametrize(("form", "typed", "why"), [
    ("/tin/got", {"crop": "kale", "variety": "Red Russian", "amount": "lots", "year": "2026", "maker": "80 %",
                  "kind": "own"}, "'lots' can't be read"),
    ("/tin/got", {"crop": "hemlock", "variety": "Spotted", "amount": "2 g", "year": "2026"}, "hemlock"),
    ("/trials", {"name": "Leeks 2027", "varieties": "Musselburgh", "length": "20", "plot": "3"},
     "1 variety makes no comparison"),
])
def test_what_was_typed_stands_in_the_form_that_was_refused(
    place: Place, form: str, typed: dict[str, str], why: str
) -> None:
    sent = place.client.post(form, data={"token": place.token, "id": new_id(), **typed})
    assert sent.status_code in (400, 404, 409)
    page = html.unescape(sent.text)
    assert why in page
    assert f'action="{form}"' in page
    for name, text in typed.items():
        field = re.search(rf'<(?:input|select)[^>]*name="{name}"[^>]*>(?:.*?</select>)?', page)
        assert field is not None
        assert f'value="{text}"' in field[0], name
    assert 'value="own" selected' in page or typed.get("kind") != "own"
    kept = [entry.fact for entry in record_of(place.garden).entries]
    assert not [fact for fact in kept if not isinstance(fact, SetUp)]


def test_lengths_of_a_trial_are_in_the_gardens_units(place: Place) -> None:
    place.garden.write_text(GARDEN + '\n[words]\nunits = "imperial"\n', encoding="utf-8")
    assert "Length of the bed, ft" in place.client.get("/trials").text
    made = place.client.post("/trials", data={
        "token": place.token, "name": "leeks", "varieties": "A, B", "length": "60", "plot": "6"})
    assert made.status_code == 303
    page = place.client.get(made.headers["location"]).text
    assert "weight, lb" in page
    assert page.count("<option") >= 10  # 60 ft hold five pairs of 6 ft


def test_what_only_a_good_year_gives_is_no_load_to_fetch() -> None:
    """"Beans likely 0 g" was counted among what there is to pick."""
    items = (ListedItem("kale", "kg", 1.0, 1.0, Band(0.8, 1.0, 1.2), (), 0.0),
             ListedItem("beans", "kg", 1.0, 1.0, Band(0.0, 0.004, 0.43), (), 0.0),
             ListedItem("peas", "kg", 1.0, 1.0, Band(0.0, 0.0, 0.0), (), 0.0))
    page = list_table(items, BRITISH)
    assert re.findall(r"<th role=\"rowheader\"[^>]*><a[^>]*>(.*?)</a>", page) == ["kale"]
    assert "Only in a good year of ten: beans (up to 430 g)." in page
    assert "Nothing yet of: peas (1.0 kg wanted)." in page


def test_a_page_that_is_not_there_says_so_once_and_in_a_sentence(place: Place) -> None:
    page = place.client.get("/nothing-here", headers={"accept": "text/html"}).text
    assert page.count("That could not be done</h") == 1
    assert "<li>There is no such page. See the pages above.</li>" in page
