"""Answers to `begin` as growers speak them. Factors: acre 4,046.873 m², rod 5.029210 m, hectare 1 E+04 m²
(NIST SP 811, appendix B.8, memory of the table); allotments are told in rods (square ones)."""

from __future__ import annotations

import pytest

from evenpick.base.errors import BadGarden, BadRequest, UnknownCrop
from evenpick.crops.catalogue import Catalogue
from evenpick.garden.areas import bed_shape
from evenpick.garden.begin import Answers, first_garden
from evenpick.garden.eaters import eaters_of, selling_of
from evenpick.garden.likes import helpings_of, liked_of
from evenpick.garden.likes_but import likes_of, never_keys, nevers_of, unknown_nevers
from evenpick.garden.reading import understand
from evenpick.garden.spoken_area import spoken_area, spoken_parts
from evenpick.garden.watering_said import watered_of

FT2 = 9.290304e-2
ACRE = 4046.873


@pytest.mark.parametrize(("text", "square_metres"), [
    ("12 beds of 4 ft x 12 ft", 576 * FT2), ("12 beds 4x12 ft", 576 * FT2), ("12 beds, 4' by 12'", 576 * FT2),
    ("twelve raised beds, each 4 x 12 feet", 576 * FT2), ("one bed of 4 ft x 8 ft", 32 * FT2),
    ("4x8 ft", 32 * FT2), ("20 x 30 feet", 600 * FT2), ("10 x 1.2 m", 12), ("4 x 10 m x 1.2 m", 48),
    ("3 beds of 10 m²", 30), ("a 10 m x 5 m plot", 50), ("10 m long and 5 m wide", 50),
    ("0.2 ha", 2000), ("0,2 ha", 2000), ("2 hectares", 20_000), ("5 ares", 500), ("10 rods", 252.9285),
    ("1 acre", ACRE), ("half an acre", ACRE / 2), ("half an acre.", ACRE / 2), ("1/2 acre", ACRE / 2),
    ("½ acre", ACRE / 2), ("half acre", ACRE / 2), ("a quarter of an acre", ACRE / 4),
    ("a quarter acre", ACRE / 4), ("three quarters of an acre", 0.75 * ACRE), ("1 1/2 acres", 1.5 * ACRE),
    ("an acre and a half", 1.5 * ACRE), ("two and a half acres", 2.5 * ACRE), ("1.5 acres", 1.5 * ACRE),
    ("a third of an acre", ACRE / 3), ("half a hectare", 5000),
    ("1,200 sq ft", 1200 * FT2), ("1200 square foot", 1200 * FT2), ("about 80 m²", 80),
    ("80 sq. metres", 80), ("80 square meter", 80), ("80 metres squared", 80), ("80 m² of beds", 80),
    ("100 square yards", 83.61274), ("30 m² beds and 200 sq ft", 30 + 200 * FT2), ("30 m² + 20 m²", 50),
    ("2 beds of 10 m x 1.2 m and 3 beds of 5 m x 1 m", 39), ("30 m², 20 m²", 50), ("0", 0), ("none", 0),
    ("six 4x8 foot beds", 192 * FT2), ("2 polytunnels of 5 m x 10 m", 100),
    ("nothing", 0), ("no tunnel", 0), ("no", 0), ("", 0),
    ("5 guntha", 5445 * FT2), ("half a guntha", 544.5 * FT2), ("30 cents", 0.3 * ACRE), ("2 rai", 3200),
    ("a 10 perch allotment", 252.9285), ("10 poles", 252.9285), ("tunnel house 3 x 6m", 18),
    ("hoop house 12 x 20 ft", 240 * FT2), ("a 12x20 ft hoophouse", 240 * FT2),
    ("12 x 30m beds 75cm wide", 270), ("eight 100 ft beds, 30 in wide", 2000 * FT2),
    ("two cold frames 4ft x 2ft", 16 * FT2), ("10 by 20 ft veggie patch", 200 * FT2),
    ("an allotment plot, 250 square metres", 250), ("two open beds of 30 m2", 60),
    ("2 large outdoor beds of 10 m x 3 m", 60), ("three open raised beds, each 4 x 12 ft", 144 * FT2),
])  # fmt: skip
def test_areas_as_they_are_spoken(text: str, square_metres: float) -> None:
    assert spoken_area(text) == pytest.approx(square_metres, rel=1e-4)


@pytest.mark.parametrize(("text", "square_metres", "beds"), [
    ("a balcony of 3 m x 1 m", 3, 1), ("2 window boxes of 80 cm x 20 cm", 0.32, 2),
    ("a trough of 1 m x 30 cm", 0.3, 1), ("six pots of 30 cm", 0.424115, 6),
    ("6 pots of 30 cm across", 0.424115, 6), ("6 pots of 30 cm on a balcony", 0.424115, 6),
    ("a balcony with 6 pots of 30 cm", 0.424115, 6), ("balcony, 6 pots of 30 cm", 0.424115, 6),
    ("a windowsill of 1 m x 20 cm", 0.2, 1), ("2 windowsill boxes of 80 cm x 20 cm", 0.32, 2),
    ("2 window boxes of 80 cm x 20 cm on our window sill", 0.32, 2),
    ("4 buckets 12 inches across", 3.141593 * FT2, 4), ("3 m² and 2 pots of 40 cm", 3 + 0.251327, 3),
    ("2 pots of 30 litres", 0.227297, 2), ("a tub of 40 l", 0.137675, 1),
    ("3 buckets of 5 gallons", 0.250812, 3),
])
def test_balconies_are_spoken_of_in_boxes_and_pots(text: str, square_metres: float, beds: int) -> None:
    """By hand: a round pot has π / 4 times its width squared, and holds 545 times its cube in litres."""
    assert spoken_area(text) == pytest.approx(square_metres, rel=2e-4)
    assert sum(bed_shape(part).count for part in spoken_parts(text)) == beds


@pytest.mark.parametrize("text", ["6 pots", "six big pots", "a windowsill"])
def test_a_pot_without_its_width_is_asked_again(text: str) -> None:
    with pytest.raises(BadGarden):
        spoken_area(text)


@pytest.mark.parametrize("text", ["2 bigha", "5 kanal", "3 marlas", "a dunam", "4 katha", "1 morgen"])
def test_a_measure_that_is_not_of_one_size_is_asked_in_another(text: str) -> None:
    with pytest.raises(BadGarden, match="not of one size"):
        spoken_area(text)


def test_of_several_pieces_the_one_that_can_not_be_read_is_told() -> None:
    with pytest.raises(BadGarden) as refused:
        spoken_area("100 m² and 3 swathes")
    assert "'3 swathes'" in refused.value.problems[0].what


@pytest.mark.parametrize("text", [
    "80", "80 m", "4x8", "12 beds", "a bit", "2 m x 3 m x 4 m", "5 bananas", "-3 m²", "3 or 4 acres",
    "1.2.3 m²", "two hundred m²", "4 x 8 foot raised beds",
])
def test_what_can_be_read_in_two_ways_is_asked_again(text: str) -> None:
    with pytest.raises(BadGarden) as caught:
        spoken_area(text)
    (problem,) = caught.value.problems
    assert problem.mend
    assert text in problem.what


def test_each_part_of_a_mixed_area_is_ground_of_its_own_with_its_beds(catalogue: Catalogue) -> None:
    said = "12 beds of 4 ft x 12 ft and half an acre"
    answers = Answers("53.4, -6.2", spoken_area(said), people=2, ground_said=said)
    garden = understand(first_garden(answers, catalogue).text, "garden.toml", None, catalogue)
    assert [(ground.name, len(ground.beds)) for ground in garden.grounds] == [("garden", 12), ("garden B", 1)]
    assert garden.area("open") == pytest.approx(576 * FT2 + ACRE / 2, rel=1e-4)
    assert spoken_parts(said) == ("12 x 4 ft x 12 ft", "0.5 acre")


def test_tubs_are_called_tubs(catalogue: Catalogue) -> None:
    """They were 'garden B', so that the diary did not know 'in the tubs'."""
    said = "20 m2 and 4 tubs of 40 cm and 2 pots of 30 cm and 3 pots of 20 cm"
    answers = Answers("-42.9, 147.3", spoken_area(said), people=2, ground_said=said)
    written = first_garden(answers, catalogue).text
    garden = understand(written, "garden.toml", None, catalogue)
    assert [(ground.name, len(ground.beds)) for ground in garden.grounds] == [
        ("garden", 1), ("tubs", 4), ("pots", 2), ("pots B", 3)
    ]
    assert "# 4 tubs of 40 cm\n" in written


@pytest.mark.parametrize(("text", "people", "boxes"), [
    ("2 adults and 2 kids", 4, 0), ("2 adults, one child", 3, 0), ("family of four", 4, 0),
    ("a family of 5", 5, 0), ("household of three", 3, 0), ("40 households", 0, 40), ("40 families", 0, 40),
    ("12 shares", 0, 12), ("30 CSA members", 0, 30), ("6 veg boxes", 0, 6), ("10 boxes a week", 0, 10),
    ("a dozen boxes", 0, 12), ("about 40 boxes", 0, 40), ("four", 4, 0), ("the two of us", 2, 0),
    ("5 of us", 5, 0), ("a couple", 2, 0), ("me and my wife", 2, 0), ("me and 3 others", 4, 0),
    ("2 people plus 6 boxes", 2, 6), ("2 people + 6 boxes", 2, 6), ("2 people 6 boxes", 2, 6),
    ("1,000 people", 1000, 0), ("4 ppl", 4, 0), ("family of four and 6 boxes", 4, 6),
    ("2 grown-ups & 3 children", 5, 0), ("just me", 1, 0), ("4 people.", 4, 0),
    ("me and the missus", 2, 0), ("just the two of us", 2, 0), ("my flatmate and me", 2, 0),
    ("30 veg boxes and a stall", 0, 30), ("120 shares and 2 restaurants", 0, 120),
    ("4 people and a farm shop", 4, 0), ("a market stall for 60 customers", 0, 60),
    ("a stall feeding about 30 people", 30, 0), ("six veg-box shares", 0, 6), ("6 box shares", 0, 6),
    ("a kitchen for 4 and six veg boxes", 4, 6), ("six veg box shares and our kitchen for four", 4, 6),
    ("a small lunch kitchen for 20 people and 12 boxes", 20, 12),
])  # fmt: skip
def test_eaters_as_they_are_spoken(text: str, people: int, boxes: int) -> None:
    assert eaters_of(text) == (people, boxes)


@pytest.mark.parametrize(("text", "selling"), [
    ("30 veg boxes and a stall", ("a stall",)),
    ("a roadside stand, 2 cafés and 40 boxes", ("a roadside stand", "2 cafés")),
    ("30 boxes", ()), ("a market stall for 60 customers", ()),
])
def test_what_is_sold_to_without_a_word_of_how_much_is_told(text: str, selling: tuple[str, ...]) -> None:
    assert selling_of(text) == selling


@pytest.mark.parametrize("text", ["six veg-box shares and a kitchen", "our kitchen", "a kitchen, 6 boxes"])
def test_a_kitchen_is_asked_for_how_many_eat_there(text: str) -> None:
    with pytest.raises(BadRequest, match="a kitchen for 4"):
        eaters_of(text)


def test_a_stall_alone_is_asked_for_how_many_it_feeds() -> None:
    with pytest.raises(BadRequest, match="30 customers"):
        eaters_of("a market stall")


@pytest.mark.parametrize(("text", "watered"), [
    ("", True), ("yes", True), ("Y", True), ("yes, by hose", True), ("by hand", True), ("drip", True),
    ("watering can", True), ("no", False), ("No.", False), ("n", False), ("rain only", False),
    ("only rain", False), ("rainfed", False), ("no, it lives by the rain", False), ("can't", False),
])
def test_whether_it_can_be_watered_as_it_is_spoken(text: str, watered: bool) -> None:
    assert watered_of(text) is watered


@pytest.mark.parametrize("text", ["maybe", "sometimes", "40 m²"])
def test_whether_it_can_be_watered_is_asked_again_where_it_is_not_clear(text: str) -> None:
    with pytest.raises(BadRequest, match="can be watered"):
        watered_of(text)


@pytest.mark.parametrize(("text", "people", "boxes"), [
    ("2 adults and a toddler", 3, 0), ("a couple and a baby", 3, 0), ("a family of four", 4, 0),
    ("a box", 0, 1),
])
def test_one_is_spoken_of_without_a_number(text: str, people: int, boxes: int) -> None:
    assert eaters_of(text) == (people, boxes)


@pytest.mark.parametrize(("text", "part"), [
    ("12 m2 and a windowsill", "a windowsill"), ("our balcony", "our balcony"),
])
def test_ground_without_a_size_is_asked_for_its_size(text: str, part: str) -> None:
    """"12 m2 and a windowsill" could not be read, and nobody was told why."""
    with pytest.raises(BadGarden) as refused:
        spoken_area(text)
    assert f'Tell the size of "{part}" too' in refused.value.problems[0].mend


@pytest.mark.parametrize(("text", "people"), [
    ("a class of 30", 30), ("thirty pupils", 30), ("25 students and 2 adults", 27),
    ("two adults and 1 baby", 3),
])
def test_a_school_eats_too(text: str, people: int) -> None:
    assert eaters_of(text) == (people, 0)


@pytest.mark.parametrize("text", ["", "people", "2-3 people", "2 or 3 people", "two people and a dog", "4 4",
                                  "30 covers", "-2 people", "1.5 people", "a family", "4 people of 12"])
def test_eaters_that_are_not_clear_are_asked_again(text: str) -> None:
    with pytest.raises(BadRequest, match="how many people or boxes"):
        eaters_of(text)


@pytest.mark.parametrize(("text", "items"), [
    ("carrots and peas", ["carrots", "peas"]), ("peas & beans", ["peas", "beans"]),
    ("courgettes; radish", ["courgettes", "radish"]), ("radish\nleeks", ["radish", "leeks"]),
    ("kale and sprouting broccoli", ["kale and sprouting broccoli"]),
    ("endive and chicory, dill", ["endive and chicory", "dill"]), ("corn", ["sweetcorn"]),
    ("spuds, toms", ["potatoes", "tomatoes"]), ("salad", ["lettuce", "winter salad"]),
    ("herbs", ["parsley", "coriander", "dill", "basil", "chives"]), ("everything", []),
    ("a bit of everything", []), ("anything.", []),
    ("basil, chillies", ["basil", "chillies"]), ("hot peppers; fennel", ["chillies", "fennel"]),
    ("jalapeños and sweet peppers", ["chillies", "peppers"]), ("chives", ["chives"]),
    ("lettuce and kale and peas", ["lettuce", "kale", "peas"]), ("brassicas", [
        "kale and sprouting broccoli", "cabbage", "calabrese", "radish"]),
    ("palak, dhania, baingan", ["greens", "coriander", "aubergines"]),
    ("one tomato plant, 2 chillies, courgette plants", ["tomatoes", "chillies", "courgettes"]),
    ("cherry tomatoes, rainbow chard, sugar snaps", ["tomatoes", "rainbow chard", "sugar snaps"]),
])  # fmt: skip
def test_likes_as_they_are_spoken(catalogue: Catalogue, text: str, items: list[str]) -> None:
    assert [helping.item for helping in helpings_of(likes_of(text), catalogue)] == items


def test_what_is_not_known_is_told_with_what_comes_near(catalogue: Catalogue) -> None:
    text = "mint, strawberries, radish, zuchini, quinoa, elephant garlic, red beans"
    found = liked_of(likes_of(text), catalogue)
    told = {each.word: each.near for each in found.unknown}
    assert [helping.item for helping in found.helpings] == ["radish"]
    assert list(told) == ["mint", "strawberries", "zuchini", "quinoa", "elephant garlic", "red beans"]
    assert "parsley, coriander, dill, basil, chives" in told["mint"]
    assert "stands for years" in told["strawberries"]
    assert "zucchini" in told["zuchini"]
    assert told["quinoa"] == ""
    assert "'garlic'" in told["elephant garlic"]


def test_where_nothing_is_known_it_is_refused_with_what_there_is(catalogue: Catalogue) -> None:
    with pytest.raises(UnknownCrop) as caught:
        helpings_of(likes_of("mint, quinoa"), catalogue)
    told = {problem.what: problem.mend for problem in caught.value.problems}
    (every,) = [mend for what, mend in told.items() if "'quinoa'" in what]
    assert "lettuce" in every
    assert "sweetcorn" in every


@pytest.mark.parametrize(("text", "likes", "never", "grown"), [
    ("no brassicas", (), {"kale", "radish", "calabrese", "swede", "rocket"}, {"leek", "pea"}),
    ("no beans", (), {"broad-bean", "runner-bean", "dwarf-bean", "lima-bean"}, {"pea"}),
    ("everything but beans", (), {"broad-bean", "climbing-bean"}, {"pea"}),
    ("Everything except beans, peas and kale", (), {"dwarf-bean", "pea", "mangetout", "kale"}, {"calabrese"}),
    ("no beans or peas.", (), {"dwarf-bean", "pea"}, {"leek"}),
    ("a bit of everything, no parsnips", (), {"parsnip"}, {"main-carrot"}),
    ("radish, leeks but no onions", ("radish", "leeks"), {"onion", "onion-sets"}, {"leek"}),
    ("salad without rocket", ("salad",), {"rocket"}, {"mizuna"}),
    ("no spinach", (), {"spinach"}, {"chard"}), ("no alliums", (), {"leek", "garlic", "onion"}, {"kale"}),
    ("no cabbages", (), {"summer-cabbage", "winter-cabbage"}, {"kale"}),
    ("no preference", (), set(), {"kale"}), ("never any herbs", (), {"parsley", "dill"}, {"celery"}),
])  # fmt: skip
def test_what_is_never_wanted_is_understood(
    catalogue: Catalogue, text: str, likes: tuple[str, ...], never: set[str], grown: set[str]
) -> None:
    """'no brassicas' was refused as an unknown crop."""
    found = set(never_keys(nevers_of(text), catalogue))
    assert likes_of(text) == likes
    assert never <= found
    assert not grown & found
    assert bool(found) == bool(never)


def test_what_is_never_wanted_and_may_be_a_slip_is_asked_again(catalogue: Catalogue) -> None:
    with pytest.raises(UnknownCrop, match="celery"):
        never_keys(nevers_of("no celry"), catalogue)


def test_what_is_never_wanted_and_comes_near_nothing_is_never_grown_anyway(catalogue: Catalogue) -> None:
    said = nevers_of("everything but quinoa and parsnips")
    assert never_keys(said, catalogue) == ("parsnip",)
    assert unknown_nevers(said, catalogue) == ("quinoa",)


@pytest.mark.parametrize(("said", "m2"), [
    ("Balkon 3 m²", 3.0), ("mein Garten, 12,5 m²", 12.5), ("ein Balkon, 4 Kästen von 80 x 20 cm", 0.64),
    ("un balcón de 3 m2", 3.0), ("huerto, 3 x 4 m", 12.0), ("jardin de 20 m2", 20.0), ("kein Tunnel", 0.0),
    ("a balcony 6 ft by 3", 18 * FT2), ("12 m x 1", 12.0), ("4 beds of 4 ft x 8", 128 * FT2),
])
def test_where_it_is_may_be_said_in_other_languages_and_a_unit_once(said: str, m2: float) -> None:
    """'Balkon 3 m²' could not be read, whose amount is written as in English."""
    assert spoken_area(said) == pytest.approx(m2)


@pytest.mark.parametrize("said", ["zwei Beete 3 m²", "2 m x 80", "zehn 3 m²"])
def test_what_may_be_another_amount_is_still_refused(said: str) -> None:
    with pytest.raises(BadGarden):
        spoken_area(said)


def test_two_sides_without_a_unit_are_told_as_either() -> None:
    with pytest.raises(BadGarden) as raised:
        spoken_area("30x50")
    assert raised.value.problems[0].mend == (
        'Write "30 x 50 ft", which is 139 m², or "30 x 50 m", which is 1,500 m².')


@pytest.mark.parametrize(("said", "people"), [
    ("2 Personen", 2), ("eine Familie von 4", 4), ("2 adultos y 2 niños", 4), ("una familia de cuatro", 4),
    ("me n my wife", 2),
])
def test_people_in_other_languages(said: str, people: int) -> None:
    assert eaters_of(said) == (people, 0)


@pytest.mark.parametrize(("said", "watered"), [("ja", True), ("nein", False), ("sí", True), ("oui", True)])
def test_yes_and_no_in_other_languages(said: str, watered: bool) -> None:
    assert watered_of(said) is watered
