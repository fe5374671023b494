"""garden.toml → Garden, with every fault told at once (docs/formats/garden-toml.md)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from os.path import normpath
from pathlib import Path

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date
from evenpick.base.errors import BadGarden, Problem, did_you_mean
from evenpick.base.language import languages, tell
from evenpick.base.trade import GroundCover
from evenpick.climate.site import Site
from evenpick.crops.kinds import KINDS
from evenpick.crops.seed import KEEPING
from evenpick.garden import amounts, areas, fields
from evenpick.garden.beds import BEDS, note_doubled_beds, read_beds
from evenpick.garden.fields import Faults, Table, refuse, shown, through
from evenpick.garden.file_text import file_text
from evenpick.garden.garden import (
    GROUND_COVERS,
    OUTLET_KINDS,
    WORTH_A_SOWING,
    Bench,
    Garden,
    Ground,
    Outlet,
    PlanSettings,
    WeatherChoice,
    worth_on,
)
from evenpick.garden.lines import parse_toml
from evenpick.garden.prices import money_sign
from evenpick.garden.season import read_anyway, read_limits
from evenpick.garden.whose_words import ENGLISH, UNITS
from evenpick.garden.wishes import Crops, read_never, read_packets, read_wishes

TOP = ("invented", "never", "cooperative", "site", "words", "plan", "ground", "covers", "bench", "outlet",
       "wish", "seed", "anyway", "tin", "hours", "away", "rest", "rotation")
SITE = ("name", "place", "at", "height", "soil", "weather", "normals", "readings", "watered")
LEAST_TO_BRING = 0.5
"""portions: the least that may be asked of a sowing"""
PLAN = ("from", "sowing_day", "years", "dice", "sowings_a_week", "worth_a_sowing")
TIN = ("kept", "no_more", "packets")
OUTLET = ("name", "kind", "shares", "variety", "needs", "weight", "worth")
GROUND = ("name", "cover", "area", *BEDS)
WORDS = ("english", "language", "units", "money")
SOILS = (
    "sand", "loamy sand", "sandy loam", "loam", "silt loam", "silt", "silt clay loam", "silty clay", "clay",
)
NOWHERE = Site("nowhere", 0.0, 0.0)
LEAST_WORTH = 0.01
"""money that a share should be worth: less is told as nought"""


def read_garden(path: Path, catalogue: Crops, today: date | None = None) -> Garden:
    """The garden a file describes; weather files in it are looked for beside it.

    BadGarden holds every problem with file, line, field and remedy. `today` (the clock's by default)
    only decides whether a packet's year lies in the future.
    """
    return understand(file_text(path).replace("\r\n", "\n"), str(path), path.parent, catalogue, today)


def understand(text: str, file: str, folder: Path, catalogue: Crops, today: date | None = None) -> Garden:
    """As `read_garden`, from text; `file` is only named in problems, weather files are sought in `folder`."""
    values, lines = parse_toml(text, file)
    faults = Faults(file, lines)
    if "farm" in values:
        raise BadGarden(Problem(
            tell("this is the file of a cooperative, not of one garden."),
            tell("Name the file of one of its farms{files}.", files=_farms_files(values["farm"], folder)),
            file, lines.line(("farm", 0)),
        ))
    top = Table(values, (), TOP, faults)
    cooperative = top.get("cooperative", through(lambda name: file_beside(name, folder)), None)
    of_several = top.has("cooperative")
    if of_several:
        _note_what_is_shared(top)
    site_table = top.table("site", SITE)
    words = top.table("words", WORDS)
    covers = top.table("covers", ("fleece", "cloche"))
    plan_table, tin = top.table("plan", PLAN), top.table("tin", TIN)
    plan = read_plan(plan_table)
    grounds = _grounds(top, catalogue, last_year(plan, today or date.today()))
    if not plan_table.has("worth_a_sowing"):
        plan = replace(plan, worth_a_sowing=worth_on(sum(ground.area for ground in grounds)))
    outlets = read_outlets(top)
    wishes = () if of_several else read_wishes(top, outlets, catalogue)
    garden = Garden(
        site=_site(site_table),
        grounds=grounds,
        outlets=outlets,
        wishes=wishes,
        english=words.get("english", fields.one_of(ENGLISH), "british"),
        language=words.get("language", fields.one_of(languages()), ""),
        units=words.get("units", fields.one_of(UNITS), "metric"),
        money=words.get("money", money_sign, ""),
        plan=plan,
        fleece=covers.get("fleece", through(areas.area), 0.0),
        cloche=covers.get("cloche", through(areas.area), 0.0),
        bench=_bench(top),
        soil=site_table.get("soil", fields.one_of(SOILS), "loam"),
        watered=site_table.get("watered", fields.yes_or_no, True),
        kept=tin.get("kept", fields.one_of(KEEPING), "room"),
        packets=read_packets(top, catalogue, last_year(plan, today or date.today())),
        never=read_never(top, wishes, catalogue),
        weather=_weather(site_table, folder),
        anyway=read_anyway(top, None if of_several else wishes),
        limits=read_limits(top, plan_table, tin, grounds, catalogue),
        invented_by_demo=top.get("invented", fields.yes_or_no, False), cooperative=cooperative,
    )
    faults.raise_any()
    return garden


def _farms_files(farms: object, folder: Path) -> str:
    """': coast.toml, hill.toml', as far as the cooperative's file names them."""
    tables = farms if isinstance(farms, list) else []
    names = [table["garden"] for table in tables if isinstance(table, dict)
             and isinstance(table.get("garden"), str)]
    return f": {', '.join(str(folder / name) for name in names)}" if names else ""


def _note_what_is_shared(top: Table) -> None:
    """What a farm of a cooperative may not say for itself."""
    for key in ("wish", "outlet"):
        if top.has(key):
            mend = tell("Write it in the cooperative's file; a wish there can name the farms that may "
                        "grow it.")
            top.faults.add(Problem(tell("[[{key}]] is shared by the farms of a cooperative.",
                                        key=key), mend), (key, 0))
    plan = top.values.get("plan")
    for key in ("from", "years", "dice"):
        if isinstance(plan, dict) and key in plan:
            what = tell("'{key}' of [plan] is shared by the farms of a cooperative.", key=key)
            top.faults.add(Problem(what, tell("Write it in the cooperative's file.")), ("plan", key))


def _site(table: Table) -> Site:
    if table.has("place") and table.has("at"):
        table.note(tell("both 'place' and 'at' are given."), tell("Keep the one that is nearer the truth."),
                   "at")
    if not table.has("place") and not table.has("at"):
        table.note(tell("where the garden is is missing."),
                   tell('Under [site] write at = "53.4, -6.2" (north, east) or place = "Dublin, IE".'))
    found = table.get("place", through(_find_place), table.get("at", _point, NOWHERE))
    name = table.get("name", fields.text, found.name)
    height = table.get("height", through(amounts.height), None)
    return Site(name, found.lat, found.lon, found.height_m if height is None else height)


def _find_place(name: str) -> Site:
    from evenpick.climate.places import find_place

    return find_place(name)


def _point(value: object) -> Site:
    from evenpick.climate.point import parse_point

    if isinstance(value, list) and len(value) == 2:
        lat, lon = (fields.number(-1e6, 1e6)(part) for part in value)
        return Site(f"{lat:g}, {lon:g}", lat, lon)
    return parse_point(fields.text(value))


def _weather(table: Table, folder: Path) -> WeatherChoice:
    if table.has("weather") and table.has("normals"):
        table.note(tell("both 'weather' and 'normals' are given."), tell("Keep the one to plan by."),
                   "normals")
    beside = through(lambda name: file_beside(name, folder))
    normals, own = table.get("normals", beside, None), table.get("readings", beside, None)
    if set("./") & set(str(table.values.get("weather", ""))):
        return WeatherChoice(record=table.get("weather", beside, None), normals=normals, readings=own)
    return WeatherChoice(
        packaged=table.get("weather", through(_packaged), None), normals=normals, readings=own
    )


def file_beside(name: str, folder: Path) -> Path:
    """A file named as seen from a folder; BadGarden where it is not there."""
    path = folder / name
    try:
        found = path.is_file()
    except (OSError, ValueError):  # a name too long, or with a character no file can have
        found = False
    if not found:
        raise refuse(tell("there is no file {name} here.", name=shown(name)), tell(
                        "Give its name seen from this file's folder."))
    return Path(normpath(path))


def _packaged(name: str) -> str:
    from evenpick.climate.records import packaged_records

    known = {_plain(record.name): record.name for record in packaged_records()}
    if _plain(name) not in known:
        hint = did_you_mean(_plain(name), known) or tell("Records that come with the program: {known}.",
                                                         known=", ".join(known))
        mend = tell("{hint} Write a file of your own with its ending, such as .csv.", hint=hint)
        raise refuse(tell("no daily record is called {name}.", name=shown(name)), mend)
    return known[_plain(name)]


def _plain(name: str) -> str:
    return name.casefold().replace("_", "-").replace(" ", "-")


def read_plan(table: Table) -> PlanSettings:
    """[plan] of a garden or of a cooperative."""
    return PlanSettings(
        start=table.get("from", fields.full_date, None),
        sowing_days=table.get("sowing_day", fields.weekdays, (5,)),
        years=table.get("years", fields.whole(1, 200), 30),
        seed=table.get("dice", fields.whole(0, 2**63 - 1), DEFAULT_SEED),
        worth_a_sowing=table.get("worth_a_sowing", fields.number(LEAST_TO_BRING, 100.0), WORTH_A_SOWING),
    )


def _grounds(top: Table, catalogue: Crops, last_year: int) -> tuple[Ground, ...]:
    tables = top.tables("ground", GROUND)
    if not tables:
        top.note(tell("no ground is described."),
                 tell('Add [[ground]] with name = "garden", cover = "open", area = "60 m²" on lines '
                      "under it."))
    names = [table.need("name", fields.text, "", '"long bed"') for table in tables]
    covers: list[GroundCover] = [table.need("cover", _ground_cover, "open", '"open"') for table in tables]
    shapes = [table.need("area", through(areas.bed_shape), None, '"60 m²"') for table in tables]
    beds = [read_beds(table, name, shape, catalogue, last_year)
            for table, name, shape in zip(tables, names, shapes, strict=True)]
    grounds = tuple(
        Ground(name, cover, shape.whole if shape else 1.0, several)
        for name, cover, shape, several in zip(names, covers, shapes, beds, strict=True)
    )
    _note_doubles(tables, names, "name")
    note_doubled_beds(tables, beds)
    return grounds


def _ground_cover(value: object) -> GroundCover:
    if fields.text(value).casefold() in ("fleece", "cloche"):
        raise refuse(tell("{value} is a cover that moves.", value=shown(value)),
                     tell('Call the ground "open" and write how much {value} there is under [covers].',
                          value=value))
    if fields.text(value).casefold() in ("glass", "greenhouse", "glasshouse", "polytunnel", "hoophouse"):
        mend = tell('Write "tunnel" for unheated glass or plastic.')
        raise refuse(tell("{value} is not told apart here.", value=shown(value)), mend)
    return fields.one_of(GROUND_COVERS)(value)


def _bench(top: Table) -> Bench | None:
    if not top.has("bench"):
        return None
    table = top.table("bench", ("modules", "lowest"))
    return Bench(
        table.need("modules", fields.whole(0, 1_000_000), 1, "400"),
        table.need("lowest", through(amounts.temperature), 5.0, '"5 °C"'),
    )


def read_outlets(top: Table) -> tuple[Outlet, ...]:
    tables = top.tables("outlet", OUTLET)
    outlets = tuple(
        Outlet(
            table.need("name", fields.text, "", '"house"'),
            table.need("kind", fields.one_of(OUTLET_KINDS), "kitchen", '"kitchen"'),
            table.get("shares", fields.whole(1, 100_000), 1),
            table.get("variety", fields.whole(1, 50), 0),
            table.get("needs", lambda value: tuple(map(fields.one_of(KINDS), fields.texts(value))), ()),
            table.get("weight", through(amounts.weight), None),
            table.get("worth", fields.number(LEAST_WORTH, 1e9), None),
        )
        for table in tables
    )
    _note_doubles(tables, [outlet.name for outlet in outlets], "name")
    return outlets or (Outlet("kitchen", "kitchen"),)


def _note_doubles(tables: Sequence[Table], names: Sequence[str], key: str) -> None:
    for i, name in enumerate(names):
        if name and name in names[:i]:
            tables[i].note(tell("the name {name} is given twice.",
                                name=shown(name)), tell("Give each a name of its own."), key)


def last_year(plan: PlanSettings, today: date) -> int:
    """The latest year a packet can bear: a plan for next year may count on next year's seed."""
    return max(today.year, day_date(plan.start).year if plan.start is not None else 0)
