"""Any weather file known here, told apart by its content."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from evenpick.base.language import tell
from evenpick.climate.readers import daily_csv, doubtful, dwd, ghcn, knmi, met_eireann, midas, silo
from evenpick.climate.readers.text import Faults, read_lines
from evenpick.climate.series import DailySeries, Origin

Reader = Callable[[Path], tuple[DailySeries, Origin]]
Recogniser = Callable[[Sequence[str]], bool]

FORMS: tuple[tuple[str, Recogniser, Reader], ...] = (
    ("GHCN-Daily access CSV", ghcn.is_wide, ghcn.read_ghcn_wide),
    ("GHCN-Daily CSV by station or year", ghcn.is_long, ghcn.read_ghcn_long),
    ("GHCN-Daily .dly", ghcn.is_fixed, ghcn.read_ghcn_fixed),
    ("Met Éireann daily CSV", met_eireann.recognises, met_eireann.read_met_eireann),
    ("KNMI etmgeg", knmi.recognises, knmi.read_knmi),
    ("DWD produkt_klima_tag", dwd.recognises, dwd.read_dwd),
    ("SILO .met", silo.recognises, silo.read_silo),
    ("MIDAS processed to days", midas.recognises, midas.read_midas),
    ("plain CSV", daily_csv.recognises, daily_csv.read_daily_csv),
)


def read_record(path: Path) -> tuple[DailySeries, Origin]:
    """The daily record in a file of any form known here, and where it came from.

    Raises BadWeatherFile where no form fits (naming those that are known and the columns of the plain
    CSV) or where the file is not sound.
    """
    lines = read_lines(path)
    for _, recognises, read in FORMS:
        if recognises(lines):
            series, origin = read(path)
            doubtful.check(series, Faults(path.name))
            return series, origin
    raise Faults(path.name).stop(
        tell("this is no weather record of a form known here."),
        tell("Known are {forms}. A plain CSV begins with the header {HEADER} and has one row a day "
             "(2027-03-14,3.2,11.0,0.4).", forms=", ".join((name for name, _, _ in FORMS)),
             HEADER=daily_csv.HEADER),
    )
