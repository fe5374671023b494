"""What a farm of a cooperative is told to type names the cooperative's file. Invented farms, real weather."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from test_cooperative import farms

from evenpick.base.errors import BadRequest
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Lost, Sowed
from evenpick.report.cooperative import cooperative_pickings_page
from evenpick.report.losses import after_loss_page
from evenpick.report.plan_json import today_shape
from evenpick.report.terminal import render
from evenpick.report.today import today_page
from evenpick.report.words import words_for
from evenpick.service.after_loss import after_loss
from evenpick.service.book import write
from evenpick.service.box import box
from evenpick.service.cooperative import plan_cooperative, save_cooperative
from evenpick.service.cooperative_now import cooperative_now
from evenpick.service.job_answers import answer_job
from evenpick.service.less_lost import plan_now
from evenpick.service.plan_command import plan_command
from evenpick.service.store_plan import kept_plan
from evenpick.service.today import today

DAY = date(2027, 2, 1)


@pytest.fixture(scope="module")
def lost(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path, date, str]:
    """The cooperative's file, that of a farm whose first radish is lost, the day, the sowing."""
    coop = farms(tmp_path_factory.mktemp("coop"))
    answer = plan_cooperative(coop, DAY, stop=lambda: True)
    save_cooperative(coop, answer)
    radishes = [(farm, one) for farm in answer.farms for one in farm.plan.sowings if one.item == "radish"]
    farm, one = min(radishes, key=lambda each: each[1].sow)
    file, day = coop.parent / farm.file, one.sow + timedelta(days=2)
    (made,) = write(file, [(one.sow, Sowed(one.crop, one.way, one.cover, one.area_m2, planned=one.id), "")])
    write(file, [(day, Lost(made.id, "eaten", 1.0, "slugs"), "")])
    return coop, file, day, made.id


def mending(coop: Path) -> str:
    return f"evenpick plan --garden {coop} --mend"


def page(blocks: str) -> str:
    return " ".join(blocks.split())


def test_a_farms_day_names_the_cooperatives_file(lost: tuple[Path, Path, date, str]) -> None:
    coop, file, day, _ = lost
    answer = today(file, day)
    told = page(render(today_page(answer, words_for("british", "metric", load_catalogue()))))
    assert told.count("evenpick plan") == 1
    assert f"Take it in with: {mending(coop)}" in told
    assert today_shape(answer)["notes"][0].endswith(mending(coop))
    assert not any("evenpick" in note for note in answer.notes)  # so does a page


def test_the_answer_to_a_loss_names_it_too(lost: tuple[Path, Path, date, str]) -> None:
    coop, file, day, sowing = lost
    answer = after_loss(file, sowing, day)
    told = page(render(after_loss_page(answer, words_for("british", "metric", load_catalogue()))))
    assert answer.command == mending(coop)
    assert told.count("evenpick plan") == 1
    assert f"Then: {mending(coop)} takes the loss into the plan." in told
    assert "evenpick" not in answer.words  # a page of the browser tells them as they are


def test_all_farms_pickings_and_box_say_how_to_take_it_in(lost: tuple[Path, Path, date, str]) -> None:
    coop, _, day, _ = lost
    words = words_for("british", "metric", load_catalogue())
    told = page(render(cooperative_pickings_page(cooperative_now(coop, day), words, day, 1)))
    assert told.count("evenpick plan") == 1
    assert mending(coop) in told
    assert box(coop, day).note.endswith(f"Take it in with: {mending(coop)}")


def test_pages_of_the_browser_tell_no_command(lost: tuple[Path, Path, date, str]) -> None:
    coop, file, day, _ = lost
    assert "evenpick" not in cooperative_now(coop, day).loss_note
    assert "evenpick" not in plan_now(file, day).loss_note


def test_a_sowing_put_off_too_long_names_it(lost: tuple[Path, Path, date, str]) -> None:
    coop, file, _, _ = lost
    day = max(sowing.sow for sowing in kept_plan(file).sowings)
    job = next(job for job in today(file, day).jobs if job.kind == "sow")
    with pytest.raises(BadRequest, match="no longer") as refused:
        answer_job(file, job.id, "put off", day, day + timedelta(weeks=44))
    assert mending(coop) in refused.value.problems[0].mend


def test_a_farm_without_its_plan_names_the_cooperatives_file(tmp_path: Path) -> None:
    coop = farms(tmp_path)
    for asked in (kept_plan, lambda file: today(file, DAY)):
        with pytest.raises(BadRequest) as refused:
            asked(coop.parent / "hill.toml")
        assert refused.value.problems[0].mend.endswith(f"evenpick plan --garden {coop}")


def test_a_file_with_a_blank_in_its_name_is_quoted() -> None:
    assert plan_command(None, mend=True) == "evenpick plan --mend"
    assert plan_command(Path("our farms/coop.toml")) == 'evenpick plan --garden "our farms/coop.toml"'


def test_what_holds_for_several_farms_is_told_once(tmp_path: Path) -> None:
    coop = farms(tmp_path)
    save_cooperative(coop, plan_cooperative(coop, DAY, stop=lambda: True))
    note = cooperative_now(coop, DAY + timedelta(weeks=20)).loss_note
    assert note.startswith("valley, hill: The diary has no sowing: ")
    assert note.count("The diary has no sowing") == 1
