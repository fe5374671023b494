"""Sowings laid into beds (docs/design/beds.md): random cases, small cases against enumeration."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.days import parse_date
from evenpick.crops.families import NO_WAIT
from evenpick.plan.bed_loops import FAR, FRESH, LEAST, SHORT
from evenpick.plan.bed_terms import Terms
from evenpick.plan.beds import (
    Held,
    Layout,
    Piece,
    Stay,
    Strip,
    least_piece,
    length_per_area,
    rows_across,
    season_of,
)
from evenpick.plan.laying import Beds, Taste
from evenpick.plan.layout import Tries, lay
from evenpick.plan.rotation import REST, barred, too_near
from evenpick.plan.stretches import HAIR, Stretch, metres, without

BEGIN = parse_date("2027-02-01")
FAMILIES = ("Brassicaceae", "Apiaceae", "Poaceae")
HISTORY = st.tuples(st.integers(2022, 2026), st.sampled_from(FAMILIES))
QUICK = Tries(starts=3, mends=40, mends_each=0, patience=40)


def stay(at: int, family: str, area: float, start: int, days: int, **rest: object) -> Stay:
    start, end = BEGIN + start, BEGIN + start + days
    kept = {"cover": "open", "beds": None, "season": season_of(start, end, False), **rest}
    return Stay(f"s{at}", family, area=area, start=start, end=end, **kept)  # type: ignore[arg-type]


@st.composite
def gardens(draw: st.DrawFn) -> tuple[list[Strip], list[Stay]]:
    sizes = st.floats(0.5, 12.0)
    beds = [
        Strip(f"bed {number}", draw(st.sampled_from(("open", "tunnel"))), draw(sizes),
              draw(st.sampled_from((None, 0.8, 1.2))),
              frozenset(draw(st.lists(HISTORY, max_size=3))))
        for number in range(draw(st.integers(1, 4)))
    ]
    stays = [
        stay(at, draw(st.sampled_from(FAMILIES)), area := draw(st.floats(0.2, 10.0)),
             draw(st.integers(0, 448)), draw(st.integers(7, 250)),
             cover=draw(st.sampled_from(("open", "tunnel"))),
             beds=draw(st.sampled_from((None, None, None, frozenset({"bed 0"})))),
             least=min(area, draw(st.sampled_from((0.0, 0.1, 0.25, 1.5)))),
             shortest=draw(st.sampled_from((0.0, 0.5, 1.35))), salad=draw(st.booleans()))
        for at in range(draw(st.integers(0, 14)))
    ]
    return beds, stays


@settings(max_examples=60)
@given(gardens(), st.integers(0, 9))
def test_any_layout_is_sound(garden: tuple[list[Strip], list[Stay]], seed: int) -> None:
    beds, stays = garden
    layout = lay(beds, stays, seed, QUICK)
    assert_sound(beds, stays, layout)
    assert lay(beds, stays, seed, QUICK) == layout


def assert_sound(beds: Sequence[Strip], stays: Sequence[Stay], layout: Layout) -> None:
    for piece in layout.pieces:
        bed, of = beds[piece.bed], stays[piece.stay]
        assert -HAIR <= piece.low < piece.high <= bed.length + HAIR
        assert bed.name in of.beds if of.beds is not None else bed.cover == of.cover
    for one, other in combinations(layout.pieces, 2):
        assert not (one.bed == other.bed and in_one_time(stays[one.stay], stays[other.stay])
                    and min(one.high, other.high) - max(one.low, other.low) > 10 * HAIR)
    for at, of in enumerate(stays):
        placed = sum((piece.high - piece.low) / length_per_area(beds[piece.bed])
                     for piece in layout.pieces if piece.stay == at)
        assert placed + layout.unplaced.get(at, 0.0) == pytest.approx(of.area, abs=1e-5)
    for piece in layout.pieces:
        size = (piece.high - piece.low) / length_per_area(beds[piece.bed])
        assert size >= least_piece(stays[piece.stay], beds[piece.bed]) - 10 * HAIR
    assert_breaches_named(beds, stays, layout)
    assert_nothing_is_left_that_there_is_room_for(beds, stays, layout)


def assert_breaches_named(beds: Sequence[Strip], stays: Sequence[Stay], layout: Layout) -> None:
    """Every breach, found anew piece by piece, is told, and no other."""
    found = {(piece, None) for piece in layout.pieces if barred(stays[piece.stay], beds[piece.bed])}
    for one, other in product(layout.pieces, repeat=2):
        late, soon = stays[one.stay], stays[other.stay]
        shared = min(one.high, other.high) - max(one.low, other.low)
        if one.bed == other.bed and back(late, soon) and shared > HAIR:
            found.add((one, other.stay))
    assert {(breach.piece, breach.after) for breach in layout.breaches} == found


def back(late: Stay, soon: Stay) -> bool:
    """Whether a family would come back too soon, or follow itself straight."""
    again = late.family == soon.family and soon.season < late.season
    return (again and too_near(late, soon.season)) or straight_after(late, soon)


def straight_after(late: Stay, soon: Stay) -> bool:
    """Whether a stay takes up ground where its own family stood until then (beds.md, 5): within a season,
    with hardly a rest between. Families that need not stay away may, and so may salads after salads."""
    return (
        late.family == soon.family and late.season == soon.season and late.away > NO_WAIT
        and 0 <= late.start - soon.end < REST and not (late.salad and soon.salad)
    )


def assert_nothing_is_left_that_there_is_room_for(
    beds: Sequence[Strip], stays: Sequence[Stay], layout: Layout
) -> None:
    """What is left over is left because each free stretch is under the least piece of it; or it is itself
    under that, and then no piece of its own has free ground beside it."""
    for at, left in layout.unplaced.items():
        of = stays[at]
        for b, bed in enumerate(beds):
            if bed.name in of.beds if of.beds is not None else bed.cover == of.cover:
                taken = [(p.low, p.high) for p in layout.pieces
                         if p.bed == b and in_one_time(stays[p.stay], of)]
                smallest = least_piece(of, bed)
                least = max(LEAST, smallest * length_per_area(bed)) + 10 * HAIR
                own = [edge for p in layout.pieces if (p.bed, p.stay) == (b, at) for edge in (p.low, p.high)]
                for low, high in without([(0.0, bed.length)], taken):
                    beside = any(abs(edge - end) < HAIR for edge in own for end in (low, high))
                    assert not beside if left < smallest - HAIR else high - low <= least


def in_one_time(one: Stay, other: Stay) -> bool:
    return one.start < other.end and other.start < one.end


@given(st.lists(st.tuples(st.integers(0, 20), st.integers(1, 6)), max_size=8),
       st.lists(st.tuples(st.integers(0, 20), st.integers(1, 6)), max_size=8))
def test_stretches_are_sets_of_metres(whole: list[tuple[int, int]], cut: list[tuple[int, int]]) -> None:
    stretches = joined((float(at), float(at + size)) for at, size in whole)
    taken = [(float(at), float(at + size)) for at, size in cut]
    expected = cells(stretches) - cells(taken)
    assert cells(without(stretches, taken)) == expected
    assert metres(without(stretches, taken)) == pytest.approx(len(expected))


def cells(stretches: Sequence[tuple[float, float]]) -> set[int]:
    return {cell for low, high in stretches for cell in range(int(low), int(high))}


# Small cases: beds and stays of whole metres. Where enumeration finds a layout without splits and breaches,
# so does the search.
SMALL = [
    tuple((family, size, start, days) for family, size, start, days in case) for case in (
        (("Brassicaceae", 2, 0, 100), ("Apiaceae", 2, 50, 100), ("Brassicaceae", 2, 380, 100),
         ("Apiaceae", 3, 380, 60)),
        (("Apiaceae", 1, 0, 60), ("Apiaceae", 2, 20, 60), ("Poaceae", 1, 40, 60), ("Brassicaceae", 3, 62, 90),
         ("Poaceae", 3, 100, 100)),
        (("Brassicaceae", 3, 0, 90), ("Brassicaceae", 3, 365, 90), ("Brassicaceae", 1, 380, 90)),
    )
]


@st.composite
def small_cases(draw: st.DrawFn) -> list[tuple[str, int, int, int]]:
    return draw(st.lists(
        st.tuples(st.sampled_from(FAMILIES), st.integers(1, 3), st.sampled_from((0, 40, 80, 365, 400)),
                  st.sampled_from((40, 80, 120))), min_size=2, max_size=5))


@pytest.mark.parametrize("case", SMALL)
def test_the_search_finds_what_enumeration_finds(case: Sequence[tuple[str, int, int, int]]) -> None:
    assert_as_good(case)


@settings(max_examples=120, derandomize=True)
@given(small_cases())
def test_in_random_cases_too(case: list[tuple[str, int, int, int]]) -> None:
    assert_as_good(case)


def assert_as_good(case: Sequence[tuple[str, int, int, int]]) -> None:
    tired = frozenset({(2026, "Brassicaceae")})
    beds = [Strip("a", "open", 4.0, None), Strip("b", "open", 3.0, None, tired)]
    stays = [stay(at, family, float(size), start, days)
             for at, (family, size, start, days) in enumerate(case)]
    layout = lay(beds, stays, 1)
    if any(True for _ in enumerated(beds, stays, [])):
        assert (dict(layout.unplaced), layout.breaches, layout.extra_pieces) == ({}, (), 0)


def enumerated(beds: Sequence[Strip], stays: Sequence[Stay], laid: list[Piece]) -> Iterator[list[Piece]]:
    """Every way to lay the stays at whole metres, each in one piece, without overlap or breach."""
    if len(laid) == len(stays):
        yield laid
        return
    at = len(laid)
    for b, bed in enumerate(beds):
        for low in range(int(bed.length - stays[at].area) + 1):
            piece = Piece(at, b, float(low), low + stays[at].area)
            if not barred(stays[at], bed) and all(agree(stays, piece, other) for other in laid):
                yield from enumerated(beds, stays, [*laid, piece])


def agree(stays: Sequence[Stay], one: Piece, other: Piece) -> bool:
    a, b = stays[one.stay], stays[other.stay]
    apart = one.bed != other.bed or min(one.high, other.high) <= max(one.low, other.low)
    return apart or not (in_one_time(a, b) or back(a, b) or back(b, a))


def test_a_breach_is_only_taken_where_it_cannot_be_helped() -> None:
    tired = frozenset({(2025, "Brassicaceae")})
    beds = [Strip("tired", "open", 5.0, 1.2, tired), Strip("fresh", "open", 2.0, 1.2)]
    small, large = stay(0, "Brassicaceae", 2.4, 0, 90), stay(0, "Brassicaceae", 4.8, 0, 90)
    assert lay(beds, [small], 1).breaches == ()
    (breach,) = lay(beds, [large], 1).breaches
    assert (breach.last, breach.after, breach.piece.bed) == (2025, None, 0)
    assert breach.piece.high - breach.piece.low == pytest.approx(2.0)


def test_follow_on_ground_is_that_just_freed() -> None:
    beds = [Strip("long bare", "open", 2.0, None), Strip("just freed", "open", 2.0, None)]
    first = stay(0, "Apiaceae", 2.0, 0, 90, beds=frozenset({"just freed"}))
    layout = lay(beds, [first, stay(1, "Poaceae", 2.0, 95, 60)], 1)
    assert layout.pieces[1].bed == 1


def test_a_family_follows_itself_neither_straight_nor_in_the_next_season() -> None:
    bed = [Strip("only", "open", 2.0, None)]
    spring, rested, next_spring = (stay(0, "Brassicaceae", 2.0, day, 60) for day in (30, 90 + REST, 420))
    assert lay(bed, [spring, rested], 1).breaches == ()
    for late, last in ((stay(1, "Brassicaceae", 2.0, 90, 60), 2027), (next_spring, 2027)):
        (breach,) = lay(bed, [spring, late], 1).breaches
        assert (breach.last, breach.after) == (last, 0)


def test_potatoes_are_kept_off_the_bed_that_potatoes_just_left() -> None:
    """In a tester's garden maincrop potatoes went in eight days after early ones, on the same metres, while
    other beds stood free."""
    beds = [Strip(name, "open", 2.0, None) for name in ("first", "second")]
    early, main = stay(0, "Solanaceae", 2.0, 60, 140), stay(1, "Solanaceae", 2.0, 208, 100)
    other = stay(2, "Apiaceae", 2.0, 60, 100)
    layout = lay(beds, [early, main, other], 1)
    assert (layout.breaches, dict(layout.unplaced)) == ((), {})


@pytest.mark.parametrize(("salads", "breaches"), [((True, True), 0), ((True, False), 1), ((False, True), 1)])
def test_only_salads_follow_salads(salads: tuple[bool, bool], breaches: int) -> None:
    bed = [Strip("only", "open", 2.0, None)]
    stays = [stay(at, "Asteraceae", 2.0, 30 + 60 * at, 60, salad=salad) for at, salad in enumerate(salads)]
    assert len(lay(bed, stays, 1).breaches) == breaches


def test_a_family_that_need_not_stay_away_follows_itself() -> None:
    bed = [Strip("only", "open", 2.0, None)]
    assert lay(bed, [stay(at, "Poaceae", 2.0, 30 + 60 * at, 60) for at in (0, 1)], 1).breaches == ()


def test_no_piece_is_shorter_than_is_worth_laying() -> None:
    """Calabrese stands 45 cm apart: three along the row take 1.35 m. Of 5 m, 4 lie in one bed; the metre that
    the other bed has left is too short, and the piece before gives it up where there is as much again."""
    beds = [Strip("long", "open", 6.0, 1.2), Strip("short", "open", 6.0, 1.2)]
    taken = [stay(0, "Apiaceae", 1.2 * 2.0, 0, 90, beds=frozenset({"long"})),
             stay(1, "Apiaceae", 1.2 * 5.0, 0, 90, beds=frozenset({"short"}))]
    for length, lengths, left in ((5.0, [4.0], 1.0), (4.9, [4.0], 0.9), (1.0, [1.0], 0.0)):
        calabrese = stay(2, "Brassicaceae", 1.2 * length, 10, 60, shortest=1.35)
        layout = lay(beds, [*taken, calabrese], 1)
        laid = [piece.high - piece.low for piece in layout.pieces if piece.stay == 2]
        assert laid == pytest.approx(lengths)
        assert sum(layout.unplaced.values()) == pytest.approx(1.2 * left)


def test_what_has_few_beds_to_lie_in_is_laid_first() -> None:
    """Ground at rest may take any bed of its piece of ground; what stands has its own."""
    beds = [Strip(name, "open", 2.0, None) for name in ("one", "two")]
    rest = stay(0, "", 2.0, 0, 90, beds=frozenset({"one", "two"}))
    stands = stay(1, "Apiaceae", 2.0, 5, 90, beds=frozenset({"one"}))
    layout = lay(beds, [rest, stands], 1)
    assert [(piece.stay, piece.bed) for piece in layout.pieces] == [(0, 1), (1, 0)]


def test_plants_that_are_raised_have_their_ground_before_what_is_not_sown_yet() -> None:
    """Leeks on the bench were told that there is no room any more for them, for carrots still in the tin."""
    beds = [Strip("one", "open", 10.0, None)]
    leeks, carrots = stay(0, "Amaryllidaceae", 6.0, 20, 60), stay(1, "Apiaceae", 9.0, 0, 80)
    assert lay(beds, [leeks, carrots], 1).unplaced == {0: pytest.approx(5.0)}
    held = replace(carrots, held=(Held("one", 0.0, 9.0),), firm=4.0)
    for others in (carrots, held):
        assert lay(beds, [replace(leeks, raised=True), others], 1).unplaced == {1: pytest.approx(5.0)}


def test_the_season_is_that_of_the_middle() -> None:
    def season(start: str, end: str, south: bool = False) -> int:
        return season_of(parse_date(start), parse_date(end), south)

    assert season("2026-10-15", "2027-07-10") == 2027  # garlic
    assert season("2026-06-01", "2027-03-01") == 2026  # leeks
    assert season("2026-11-01", "2027-03-01", south=True) == 2026  # a southern summer
    assert season("2027-01-01", "2027-03-01", south=True) == 2026


def test_rows_are_whole() -> None:
    assert [rows_across(1.2, row) for row in (0.3, 0.35, 0.45, 0.7, 1.5)] == [4, 3, 3, 2, 1]
    assert length_per_area(Strip("bed", "open", 10.0, 1.2)) == pytest.approx(1 / 1.2)
    assert length_per_area(Strip("60 m²", "open", 60.0, None)) == 1.0


def joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The same metres with what touches or overlaps made one."""
    found: list[Stretch] = []
    for low, high in sorted(stretches):
        if found and low <= found[-1][1] + HAIR:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def places(filled: Beds, s: int, taste: Taste) -> Iterator[tuple[float, int, float, float]]:
    """Every end of every stretch that holds the whole of a stay, with what speaks against it (beds.md, 6)."""
    stay, stays = filled.stays[s], filled.stays
    for b in filled.able[s]:
        bed, lying = filled.beds[b], filled.lying.pieces(b)
        need = stay.area * length_per_area(bed)
        busy = [(p.low, p.high) for p in lying
                if stays[p.stay].start < stay.end and stay.start < stays[p.stay].end]
        kin = [(p.low, p.high) for p in lying if back(stay, stays[p.stay]) or back(stays[p.stay], stay)]
        tired = [(0.0, bed.length)] if barred(stay, bed) else kin
        for low, high in without(without([(0.0, bed.length)], busy), tired):
            if need <= bed.length + HAIR and high - low >= need - HAIR:
                for at, to in {(low, min(low + need, high)), (high - need, high)}:
                    yield against(filled, s, b, (at, to), high - low, taste), b, at, to


def against(filled: Beds, s: int, b: int, there: Stretch, room: float, taste: Taste) -> float:
    stay, need = filled.stays[s], there[1] - there[0]
    fresh = family = 0.0
    apart = []
    for piece in filled.lying.pieces(b):
        other = filled.stays[piece.stay]
        shared = min(there[1], piece.high) - max(there[0], piece.low)
        if shared > HAIR:
            waited = stay.start - other.end
            fresh += shared * max(0.0, 1 - waited / FRESH) if waited >= 0 else 0.0
            family += shared if (other.family, other.season) == (stay.family, stay.season) else 0.0
        elif shared > -HAIR and other.end > stay.start:
            apart.append(min(1.0, abs(other.end - stay.end) / FAR))
    rest = room - need
    short = 0.0 if rest < HAIR else 1.0 if rest < SHORT else 0.2 + 0.3 * rest / filled.beds[b].length
    ends = sum(apart) / len(apart) if apart else 0.3
    good = (taste.follow * fresh + taste.family * min(family, need)) / max(need, HAIR)
    return taste.rest * short + taste.ends * ends - good


@settings(max_examples=60)
@given(gardens(), st.integers(0, 1000))
def test_the_compiled_search_finds_the_place_that_plain_counting_finds(
    case: tuple[list[Strip], list[Stay]], dice: int
) -> None:
    beds, stays = case
    filled, chance = Beds(Terms(beds, stays)), np.random.default_rng(dice)
    for s in chance.permutation(len(stays)).tolist():
        taste = Taste(*chance.uniform(0.1, 2.0, 4))
        least = min((cost for cost, *_ in places(filled, s, taste)), default=None)
        before = {b: filled.lying.pieces(b) for b in range(len(beds))}
        filled.put(s, taste)
        if least is None:
            continue
        (made,) = filled.of[s]
        filled.take_out(s)
        assert {b: filled.lying.pieces(b) for b in before} == before
        found = {(b, round(at, 6), round(to, 6)): cost for cost, b, at, to in places(filled, s, taste)}
        assert found[made.bed, round(made.low, 6), round(made.high, 6)] == pytest.approx(least, abs=1e-9)
        filled.put_back(s, ([made], 0.0))
    breached = 0.0
    for b, bed in enumerate(beds):
        for piece in (pieces := filled.lying.pieces(b)):
            own = stays[piece.stay]
            before_it = joined(
                (p.low, p.high) for p in pieces if back(own, stays[p.stay])
            )
            on = [(piece.low, piece.high)]
            breached += metres(on) - (0.0 if barred(own, bed) else metres(without(on, before_it)))
    assert filled.worth().breach == pytest.approx(breached, abs=1e-5)
