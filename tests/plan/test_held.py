"""What lay somewhere before stays there (docs/design/beds.md, 7)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from time import process_time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_beds import QUICK, assert_sound, gardens, stay

from evenpick.plan.beds import Held, Layout, Piece, Stay, Strip
from evenpick.plan.held import moved
from evenpick.plan.layout import lay
from evenpick.plan.stretches import HAIR

BEDS = [Strip(name, "open", 6.0, 1.2) for name in ("gate", "wall", "far")]


def again(beds: Sequence[Strip], stays: Sequence[Stay], layout: Layout) -> list[Stay]:
    """The stays where they were laid."""
    return [
        replace(each, held=tuple(Held(beds[piece.bed].name, piece.low, piece.high)
                                 for piece in layout.pieces if piece.stay == s))
        for s, each in enumerate(stays)
    ]


def bed_of(layout: Layout, s: int) -> list[tuple[str, float, float]]:
    return [(BEDS[piece.bed].name, pytest.approx(piece.low), pytest.approx(piece.high))
            for piece in layout.pieces if piece.stay == s]


def at(bed: str, low: float, high: float) -> tuple[Held, ...]:
    return (Held(bed, low, high),)


@settings(max_examples=60)
@given(gardens(), st.integers(0, 9), st.integers(0, 9))
def test_what_has_room_and_rotation_is_laid_again_as_it_lay(
    garden: tuple[list[Strip], list[Stay]], seed: int, other: int
) -> None:
    beds, stays = garden
    first = lay(beds, stays, seed, QUICK)
    second = lay(beds, again(beds, stays, first), other, QUICK)
    assert_sound(beds, stays, second)
    if not first.unplaced and not first.breaches:
        assert [(p.stay, p.bed, round(p.low, 6), round(p.high, 6)) for p in second.pieces] == [
            (p.stay, p.bed, round(p.low, 6), round(p.high, 6)) for p in first.pieces]


@settings(max_examples=60)
@given(gardens(), gardens(), st.data())
def test_any_layout_with_something_held_is_sound(
    garden: tuple[list[Strip], list[Stay]], other: tuple[list[Strip], list[Stay]], data: st.DataObject
) -> None:
    """Held anywhere, in areas and on days of other sowings, in beds that may be gone."""
    beds, stays = garden
    metre = st.floats(0.0, 12.0)
    held = []
    for each in stays:
        where = data.draw(st.dictionaries(st.sampled_from([bed.name for bed in other[0]]), metre, max_size=2))
        held.append(replace(
            each, firm=data.draw(st.sampled_from((1.0, 4.0))), stands=data.draw(st.booleans()),
            held=tuple(Held(bed, low, low + 0.1 + data.draw(metre)) for bed, low in where.items()),
        ))
    layout = lay(beds, held, 1, QUICK)
    assert_sound(beds, held, layout)
    assert lay(beds, held, 1, QUICK) == layout


def test_a_sowing_stays_though_another_place_would_be_chosen() -> None:
    leek = stay(0, "Amaryllidaceae", 2.4, 60, 200, held=at("far", 1.0, 3.0))
    assert bed_of(lay(BEDS, [leek], 1), 0) == [("far", 1.0, 3.0)]


@pytest.mark.parametrize(("area", "low", "high"), [(3.0, 1.0, 3.5), (1.2, 1.0, 2.0), (7.2, 0.0, 6.0)])
def test_what_grew_or_shrank_does_so_in_its_place(area: float, low: float, high: float) -> None:
    leek = stay(0, "Amaryllidaceae", area, 60, 200, held=at("far", 1.0, 3.0))
    assert bed_of(lay(BEDS, [leek], 1), 0) == [("far", low, high)]


def test_at_the_end_of_a_bed_it_gives_way_inside() -> None:
    leek = stay(0, "Amaryllidaceae", 1.2, 60, 200, held=at("far", 4.0, 6.0))
    assert bed_of(lay(BEDS, [leek], 1), 0) == [("far", 5.0, 6.0)]


def test_what_stands_in_the_way_sends_it_along_its_own_bed_first() -> None:
    leek = stay(0, "Amaryllidaceae", 2.4, 60, 200, held=at("far", 1.0, 3.0))
    kale = stay(1, "Brassicaceae", 2.4, 0, 200, held=at("far", 0.0, 2.0), stands=True)
    layout = lay(BEDS, [leek, kale], 1)
    assert (bed_of(layout, 1), bed_of(layout, 0)) == ([("far", 0.0, 2.0)], [("far", 2.0, 4.0)])


def test_what_stands_is_never_moved_for_its_family() -> None:
    beds = [replace(BEDS[0], grew=frozenset({(2026, "Brassicaceae")})), *BEDS[1:]]
    kale = stay(0, "Brassicaceae", 2.4, 0, 200, held=at("gate", 0.0, 2.0))
    assert bed_of(lay(beds, [kale], 1), 0)[0][0] != "gate"
    assert bed_of(lay(beds, [replace(kale, stands=True)], 1), 0) == [("gate", 0.0, 2.0)]


def test_as_it_was_kept_nothing_is_bettered_and_what_can_stay_stays() -> None:
    """Kale comes back too soon at the gate: a plan made anew lays it elsewhere; one only looked at stays."""
    beds = [replace(BEDS[0], grew=frozenset({(2026, "Brassicaceae")})), *BEDS[1:]]
    kale = stay(0, "Brassicaceae", 2.4, 0, 200, held=at("gate", 0.0, 2.0))
    bean = stay(1, "Fabaceae", 2.4, 0, 200, held=at("wall", 0.0, 2.0))
    anew, kept = (lay(beds, [kale, bean], 1, as_kept=as_kept) for as_kept in (False, True))
    assert bed_of(anew, 0)[0][0] != "gate"
    assert (bed_of(kept, 0), len(kept.breaches)) == ([("gate", 0.0, 2.0)], 1)


def test_what_is_held_comes_before_what_has_no_known_place_in_its_time() -> None:
    """The radish is sooner, and would take the leeks' metres."""
    beds = [BEDS[0]]
    radish = stay(0, "Brassicaceae", 3.6, 0, 90)
    leek = stay(1, "Amaryllidaceae", 3.6, 60, 200, held=at("gate", 0.0, 3.0))
    layout = lay(beds, [radish, leek], 1)
    assert (bed_of(layout, 1), layout.unplaced) == ([("gate", 0.0, 3.0)], {})


def test_prepared_ground_is_not_given_up_for_a_piece_more() -> None:
    """A bed is needed whole; two halves of others would do, and so would another bed for the leeks."""
    leek = stay(0, "Amaryllidaceae", 3.6, 60, 200, held=at("gate", 0.0, 3.0), firm=4.0)
    carrot = stay(1, "Apiaceae", 3.6, 60, 200, held=at("wall", 0.0, 3.0), firm=4.0)
    bean = stay(2, "Fabaceae", 7.2, 60, 200)
    layout = lay(BEDS[:2], [leek, carrot, bean], 1)
    assert (bed_of(layout, 0), bed_of(layout, 1)) == ([("gate", 0.0, 3.0)], [("wall", 0.0, 3.0)])
    assert not layout.unplaced


def test_what_would_have_no_room_is_worth_a_move() -> None:
    leek = stay(0, "Amaryllidaceae", 3.6, 60, 200, held=at("gate", 1.5, 4.5))
    bean = stay(1, "Fabaceae", 3.6, 60, 200, shortest=3.0)
    layout = lay(BEDS[:1], [leek, bean], 1)
    assert not layout.unplaced


def test_moved_counts_what_left_its_bed_in_full_and_what_was_shifted_a_tenth() -> None:
    held = [(0, 1.0, 3.0)]
    assert moved(held, [Piece(0, 0, 1.0, 3.0)]) == 0.0
    assert moved(held, [Piece(0, 0, 0.5, 3.5)]) == 0.0
    assert moved(held, [Piece(0, 0, 2.0, 4.0)]) == pytest.approx(0.05)
    assert moved(held, [Piece(0, 1, 1.0, 3.0)]) == pytest.approx(1.0)
    assert moved(held, [Piece(0, 0, 1.0, 2.0), Piece(0, 2, 0.0, 1.0)]) == pytest.approx(0.5)
    assert moved([], [Piece(0, 1, 1.0, 3.0)]) == 0.0


def test_two_hundred_sowings_in_forty_beds_are_laid_again_soon() -> None:
    """A fifth of them larger and three weeks longer, the others where they were; far within the twenty
    seconds (of the processor) that there are."""
    chance = np.random.default_rng(5)
    beds = [Strip(f"bed {number}", "open", 10.0, 1.2) for number in range(40)]
    families = ("Brassicaceae", "Apiaceae", "Fabaceae", "Amaryllidaceae", "Asteraceae")
    stays = [stay(s, str(chance.choice(families)), float(chance.uniform(1, 8)), int(chance.integers(0, 400)),
                  int(chance.integers(40, 200)), least=0.2, shortest=0.5) for s in range(200)]
    first = lay(beds, stays, 1)
    held = again(beds, stays, first)
    changed = [
        replace(each, area=each.area * 1.3, start=each.start - 7, end=each.end + 14) if s % 5 == 0 else each
        for s, each in enumerate(held)
    ]
    began = process_time()
    second = lay(beds, changed, 1)
    assert process_time() - began < 10
    assert not second.unplaced
    there = {
        p.stay for p in first.pieces for q in second.pieces
        if (p.stay, p.bed) == (q.stay, q.bed) and min(p.high, q.high) - max(p.low, q.low) > HAIR
    }
    assert len([s for s in range(200) if s % 5 and s not in there]) <= 2
