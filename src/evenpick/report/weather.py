"""This season's weather against the years: a table, and a chart of the same numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from evenpick.base.language import month, tell, tell_n
from evenpick.climate.own_readings import FEWEST
from evenpick.report.chart import BLUE, FAINT, INK, ORANGE, SKY, Spec, drawing, layer
from evenpick.report.days import day
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.place import title_place, weather_lines
from evenpick.report.words import Words, percent, sentence
from evenpick.service.weather_weeks import FetchedDays, OwnGround, WeatherAnswer, WeatherWeek

INCH = 25.4
STALE = 7
"""days after which it is said that the season has gone on"""
TALL, LABEL = 150, 44
WEEK_OF: Mapping[str, int] = {"wide": 11, "narrow": 5}
"""px of a week, by the page it is for: so the letters are as large on a phone as on a desk"""
GAP = 26


def weather_page(answer: WeatherAnswer, words: Words) -> Page:
    """Where the weather comes from, how this season stands, and every week."""
    blocks: list[Block] = [
        *weather_lines(answer.site, answer.climate, words), *_fetched(answer, words), Text(_own(answer)),
        *_ground(answer, words),
        Heading(tell("week by week")), _table(answer, words),
        Text(tell("Usual: the middle of the years and, in brackets, what one year in ten is below and "
                  "one above. Frost: share of the years with a night of frost in the air. This season: "
                  "where four days of the week and more were measured.")),
    ]
    return Page(tell("Weather: {site}", site=title_place(answer.site, words)), tuple(blocks))


def _own(answer: WeatherAnswer) -> str:
    measured = sum(week.measured for week in answer.weeks)
    if not measured:
        return tell("Nothing of this season is known: no daily record of this year is named in the garden "
                    "file, no minimum and maximum stand in the diary, and nothing was fetched (evenpick "
                    "weather --fetch).")
    read = tell(", {readings} of them read by you", readings=answer.readings) if answer.readings else ""
    return tell_n("{n} day of this season is known{read}.", "{n} days of this season are known{read}.",
                  measured, read=read)


def _fetched(answer: WeatherAnswer, words: Words) -> list[Block]:
    """Whose days this season's are."""
    from_them = answer.fetched
    if from_them is None:
        return []
    ago = (answer.day - from_them.on).days
    said = [tell("This season's days from {first} to {last}: {licence}; fetched {on}.",
                 first=day(from_them.first, answer.day.year), last=day(from_them.last, answer.day.year),
                 licence=from_them.licence, on=day(from_them.on, answer.day.year))]
    if from_them.missing:
        said.append(tell_n("{n} day of them is missing and is taken from the years.",
                           "{n} days of them are missing and are taken from the years.", from_them.missing))
    if from_them.forecast_to is not None:
        said.append(tell("Its forecast to {day} is taken as it is.",
                         day=day(from_them.forecast_to, answer.day.year)))
    if from_them.nights or from_them.days:
        said.append(_against_them(from_them, words))
    if ago > STALE:
        said.append(tell("That is {ago} days ago: fetch again for what has been since.", ago=ago))
    return [Text(" ".join(said))]


def _against_them(fetched: FetchedDays, words: Words) -> str:
    """How far the grower's thermometer moves a service's days."""
    parts = [
        tell("{which} by {much} {unit} ({read} read)", which=which, much=_moved(celsius, words, "+"),
             unit=words.temperature_unit, read=read)
        for which, celsius, read in ((tell("nights"), fetched.nights, fetched.nights_read),
                                     (tell("days"), fetched.days, fetched.days_read)) if celsius
    ]
    return tell("Held against them, your own thermometer moves them all: {parts}.", parts=", ".join(parts))


def _ground(answer: WeatherAnswer, words: Words) -> list[Block]:
    """What the grower's thermometer says, month by month, and how far it is to be trusted."""
    own = answer.own
    if own is None:
        return []
    heading = Heading(tell("your own thermometer against the station"))
    told = [Text(sentence(line)) for line in own.left_out]
    if not own.months:
        most = max(own.nights_read, own.days_read)
        few = tell_n("{n} reading counts so far, {fewest} are wanted: nothing is moved yet. Read it every "
                     "day for a week, not on cold nights alone.",
                     "{n} readings count so far, {fewest} are wanted: nothing is moved yet. Read it every "
                     "day for a week, not on cold nights alone.", most, fewest=FEWEST)
        return [heading, Text(few), *told]
    columns = (Column(tell("month")), Column(tell("read"), tell("days"), "right"), *(
        column for name in (tell("nights"), tell("days")) for column in (
            Column(name, words.temperature_unit, "right"), Column(tell("give or take"), align="right"))))
    rows = tuple(
        (month(one.month), str(one.readings or ""), _moved(one.nights, words, "+"),
         _moved(one.nights_within, words), _moved(one.days, words, "+"), _moved(one.days_within, words))
        for one in own.months
    )
    said = tell("{nights} nights and {days} days count, {against}. Every temperature of the years is "
                "moved so. Give or take: it lies within that 8 times in 10. A month not read leans on the "
                "others.",
                nights=own.nights_read, days=own.days_read, against=_against(own))
    return [heading, Text(said), Table(columns, rows), *told]


def _against(own: OwnGround) -> str:
    if own.same_day >= max(own.nights_read, own.days_read):
        return tell("held against the station's report of the same day")
    if own.same_day == 0:
        return tell("held against its usual figure for the time of year, which says much less")
    return tell("{some} of them held against the station's report of the day, the others against its usual "
                "figure for the time of year, which says much less", some=own.same_day)


def _moved(celsius: float, words: Words, sign: str = "") -> str:
    return format(celsius * (1.8 if words.imperial else 1.0), f"{sign}.1f")


def _table(answer: WeatherAnswer, words: Words) -> Table:
    warm, wet = words.temperature_unit, "in" if words.imperial else "mm"
    columns = (Column(tell("week of")), Column(tell("usual warmth"), warm, "right"),
               Column(tell("this season"), warm, "right"),
               Column(tell("usual rain"), wet, "right"), Column(tell("this season's rain"), wet, "right"),
               Column(tell("frost"), align="right"))
    return Table(columns, tuple(_row(week, answer, words) for week in answer.weeks))


def _row(week: WeatherWeek, answer: WeatherAnswer, words: Words) -> tuple[str, ...]:
    mean, rain = week.mean, week.rain
    return (
        day(week.week, answer.day.year),
        tell("{likely} ({low} to {high})", likely=words.temperature(mean.likely),
             low=words.temperature(mean.low), high=words.temperature(mean.high)),
        "" if week.this_mean is None else words.temperature(week.this_mean),
        tell("{likely} ({low} to {high})", likely=_depth(rain.likely, words), low=_depth(rain.low, words),
             high=_depth(rain.high, words)),
        "" if week.this_rain is None else _depth(week.this_rain, words), percent(week.frost),
    )


def _depth(mm: float, words: Words) -> str:
    return f"{mm / INCH:.1f}" if words.imperial else f"{mm:.0f}"


def weather_spec(answer: WeatherAnswer, words: Words, room: str = "wide") -> Spec:
    """Warmth above, rain below: the band of the years, their middle, and this season as a line."""
    weeks, each = answer.weeks, WEEK_OF[room]
    width, height = len(weeks) * each, 2 * TALL + GAP
    warm = [value for week in weeks
            for value in (week.mean.low, week.mean.high, week.this_mean) if value is not None]
    wet = [value for week in weeks for value in (week.rain.high, week.this_rain) if value is not None]
    low, high = min([*warm, 0.0]), max(warm)
    most = max([*wet, 1.0])

    def warmth(value: float) -> int:
        return round(TALL - (value - low) / (high - low) * (TALL - 10))

    def rain(value: float) -> int:
        return round(height - value / most * (TALL - 10))

    def at(number: int) -> int:
        return number * each + each // 2

    bands = [
        {"x": at(n), "y": place(band.high), "y2": place(band.low), "c": colour, "g": name}
        for name, place, colour in (("w", warmth, ORANGE), ("r", rain, SKY))
        for n, week in enumerate(weeks)
        for band in ((week.mean if name == "w" else week.rain),)
    ]
    middles = [
        {"x": at(n), "y": place(band.likely), "d": 1, "g": name}
        for name, place in (("wm", warmth), ("rm", rain)) for n, week in enumerate(weeks)
        for band in ((week.mean if name == "wm" else week.rain),)
    ]
    own = [
        {"x": at(n), "y": place(value), "d": 0, "g": f"{name}{_run(known, n)}"}
        for name, place, known in (("wo", warmth, [week.this_mean for week in weeks]),
                                   ("ro", rain, [week.this_rain for week in weeks]))
        for n, value in enumerate(known) if value is not None
    ]
    letters = 3 if each > 8 else 1
    months = [{"x": n * each, "y": 0, "h": height, "t": month(week.week.month)[:letters]}
              for n, week in enumerate(weeks) if week.week.day <= 7]
    unit = "in" if words.imperial else "mm"
    texts = [
        {"x": -5, "y": warmth(high), "t": f"{words.temperature(high)} {words.temperature_unit}"},
        {"x": -5, "y": warmth(low), "t": f"{words.temperature(low)} {words.temperature_unit}"},
        {"x": -5, "y": rain(most), "t": f"{_depth(most, words)} {unit}"},
        {"x": -5, "y": height, "t": f"0 {unit}"},
    ]
    thin: Spec = {"color": FAINT, "strokeWidth": 0.5}
    return drawing([
        layer(months, "rule", thin, {"x": "x", "y": "y", "y2": "h"}),
        layer(bands, "area", {"opacity": 0.55, "strokeWidth": 0},
              {"x": "x", "y": "y", "y2": "y2", "detail": "g"}, colour=True),
        layer(middles, "line", {"color": INK, "strokeWidth": 1}, {"x": "x", "y": "y", "detail": "g"},
              dash=True),
        layer(own, "line", {"color": BLUE, "strokeWidth": 2.5, "point": {"color": BLUE, "size": 14}},
              {"x": "x", "y": "y", "detail": "g"}),
        layer(texts, "text", {"align": "right", "fontSize": 11, "color": INK, "baseline": "middle"},
              {"x": "x", "y": "y", "text": "t"}),
        layer(months, "text", {"align": "left", "fontSize": 11, "color": INK, "dx": 2, "dy": 12},
              {"x": "x", "y": "h", "text": "t"}),
    ], width, height, LABEL)


def _run(known: Sequence[float | None], at: int) -> int:
    """Which stretch of measured weeks a week is in, so that no line is drawn over what was not measured."""
    return sum(each is None for each in known[:at])


def weather_told(answer: WeatherAnswer) -> str:
    """The chart in a sentence."""
    known = [week for week in answer.weeks if week.this_mean is not None]
    if not known:
        if any(week.this_rain is not None for week in answer.weeks):
            return tell("Warmth and rain of the years by week; of this season only rain was measured.")
        return tell("Warmth and rain of the years by week; nothing of this season was measured.")
    above = sum((week.this_mean or 0.0) > week.mean.likely for week in known)
    return tell("Warmth and rain by week; of {known} measured weeks of this season {above} were warmer "
                "than the middle of the years.", known=len(known), above=above)
