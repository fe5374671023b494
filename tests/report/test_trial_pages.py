"""Trial pages as they are read, of an INVENTED trial; run this file to renew them."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from invented import AMERICAN, BRITISH, language_of

from evenpick.base.language import using
from evenpick.report.page import Page
from evenpick.report.terminal import WIDTH, render
from evenpick.report.trial import laid_page, sheet_page, size_page
from evenpick.report.trial_verdict import verdict_page
from evenpick.service.trials import LaidAnswer, size_up
from evenpick.trials.judge import judge
from evenpick.trials.layout import Bed, lay_out
from evenpick.trials.sheet import Sheet
from evenpick.trials.sheet_reading import against, read_sheet

SNAPSHOTS = Path(__file__).parent / "snapshots"
LEEKS = """# trial: Leeks 2027
# seed: 5
plot,block,bed,from_m,to_m,variety,weight_kg,days_to_picking,taste_anna,came_up,sown,lost,note
1,1,north,0.5,2,Bleu de Solaise,3.2,120,4,44,50,,
2,1,north,2,3.5,Oarsman,4.9,110,3,48,50,,
3,1,north,3.5,5,Musselburgh,4.0,118,5,33,50,,
4,2,south,0.5,2,Musselburgh,4.4,119,4,22,50,,
5,2,south,2,3.5,Bleu de Solaise,3.4,121,3,41,50,,
6,2,south,3.5,5,Oarsman,5.2,111,2,45,50,,
7,3,south,5,6.5,Oarsman,5.5,,3,49,50,,
8,3,south,6.5,8,Musselburgh,4.3,117,4,44,50,,
9,3,south,8,9.5,Bleu de Solaise,,,,,,slugs,
10,4,south,9.5,11,Oarsman,5.1,109,3,49,50,,
11,4,south,11,12.5,Musselburgh,14.4,117,4,36,50,,
12,4,south,12.5,14,Bleu de Solaise,3.9,121,4,40,50,,
"""
BEDS = (Bed("north", 8.0), Bed("south", 12.0))


def sheet() -> Sheet:
    return read_sheet(LEEKS, "leeks.csv")


def laid() -> LaidAnswer:
    layout = lay_out(
        "Leeks 2027", ["Musselburgh", "Oarsman", "Bleu de Solaise"], None, BEDS, 1.5, 0.5, 5, "Oarsman"
    )
    return LaidAnswer(layout, Path("leeks-2027.csv"), 0.2, 0.6)


def mended() -> Sheet:
    return read_sheet(LEEKS.replace("14.4", "4.4"), "leeks.csv")


def alike() -> Sheet:
    """Weights alone, and nothing between the varieties."""
    found = sheet()
    weight = next(one for one in found.measures if one.column == "weight_kg")
    given = dict(zip(range(12), (3.1, 3.4, 2.9, 3.3, 3.0, 3.2, 3.5, 3.1, None, 3.0, 3.3, 3.2), strict=True))
    rows = tuple(replace(row, values={"weight_kg": given[at]}) for at, row in enumerate(found.rows))
    return replace(found, rows=rows, measures=(weight,))


PAGES: dict[str, Callable[[], Page]] = {
    "trial-size": lambda: size_page(size_up(4, 0.2, 0.2, False, BEDS, 2.0, 0.5), BRITISH),
    "trial-laid": lambda: laid_page(laid(), BRITISH),
    "trial-laid-american": lambda: laid_page(laid(), AMERICAN),
    "trial-sheet": lambda: sheet_page(sheet(), BRITISH),
    "trial-verdict": lambda: verdict_page(judge(sheet()), BRITISH),
    "trial-verdict-standard": lambda: verdict_page(judge(against(mended(), "oarsman")), AMERICAN),
    "trial-verdict-ratios": lambda: verdict_page(judge(mended(), ratios=True), BRITISH),
    "trial-verdict-alike": lambda: verdict_page(judge(alike()), BRITISH),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_reads_as_it_did(name: str) -> None:
    with using(language_of(name)):
        text = render(PAGES[name]())
    assert text == (SNAPSHOTS / f"{name}.txt").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= WIDTH
    assert not {"None", "nan", "nan%", "inf"} & set(text.replace("(", " ").split())


if __name__ == "__main__":
    for name, page in PAGES.items():
        with using(language_of(name)):
            (SNAPSHOTS / f"{name}.txt").write_text(render(page()), encoding="utf-8")
