"""Whatever the file, it is read or refused with a remedy."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weather_files import (
    SAMPLES,
    ghcn_fixed,
    ghcn_long,
    ghcn_wide,
    plain,
    problems,
    written,
)

from evenpick.base.errors import EvenpickError
from evenpick.climate.readers.record import FORMS, read_record

# what a service answers (json) is no record
RECORDS = sorted(path for path in SAMPLES.iterdir() if path.suffix not in (".md", ".json"))


def test_every_sample_is_of_one_form() -> None:
    for path in RECORDS:
        lines = path.read_text(encoding="utf-8").split("\n")
        known = [name for name, recognises, _ in FORMS if recognises(lines)]
        known = [name for name in known if name != "plain CSV"]  # the last resort: any header with a date
        assert len(known) == 1, path.name


NO_RECORDS = [b"", b"\n\n", b"PK\x03\x04\0\0", b"\x1f\x8bnot gzip", b"hello", b"\xff\xfea\0"]


@pytest.mark.parametrize("content", NO_RECORDS)
def test_no_record(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "x.csv"
    path.write_bytes(content)
    assert problems(path, read_record)


def test_unknown_form_names_those_known(tmp_path: Path) -> None:
    (found,) = problems(written(tmp_path, "hello world\n1,2,3"), read_record)
    assert all(name in found for name, _, _ in FORMS)
    assert "date,tmin_c,tmax_c,rain_mm" in found


def test_no_such_file(tmp_path: Path) -> None:
    assert "can't be read (no such file" in problems(tmp_path / "none.csv", read_record)[0]
    assert "can't be read (is a directory" in problems(tmp_path, read_record)[0]


HEADS = [path.read_text(encoding="utf-8") for path in RECORDS]
HEADS += [ghcn_wide(), ghcn_fixed(), ghcn_long(), plain("2027-03-01,1,9,0", "2027-03-02,1,9,0")]
HEADS += ["datetime,prcp,temp_min,temp_max\n1995-06-01,0.0,8.2,16.5\n"]
READERS = [read for _, _, read in FORMS] + [read_record]
CALM = settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
CELLS = st.text(alphabet="0123456789-.,;\"' \n\tabTXNq°²", max_size=12) | st.text(max_size=6)


def only_teaches(path: Path, text: str) -> None:
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    for read in READERS:
        try:
            series, _ = read(path)
        except EvenpickError as error:
            assert error.problems  # noqa: PT017
        else:
            assert series.days >= 1


@CALM
@given(text=st.text(max_size=300))
def test_garbage_is_refused_and_nothing_else(tmp_path: Path, text: str) -> None:
    only_teaches(tmp_path / "garbage", text)


@CALM
@given(head=st.sampled_from(HEADS), place=st.floats(0, 1), length=st.integers(0, 20), cell=CELLS)
def test_damaged_files_are_refused_or_read(
    tmp_path: Path, head: str, place: float, length: int, cell: str
) -> None:
    at = int(place * len(head))
    only_teaches(tmp_path / "damaged", head[:at] + cell + head[at + length :])


@CALM
@given(raw=st.binary(max_size=200))
def test_bytes_are_refused_and_nothing_else(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "bytes"
    path.write_bytes(raw)
    for read in READERS:
        with pytest.raises(EvenpickError):
            read(path)
