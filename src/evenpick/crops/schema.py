"""Full validation of crop tables: every value with its source, within the bounds of the vocabulary.

The models are made from the records of crops/crop.py, so that a field has one definition.
Loading pydantic costs a tenth of a second, so only a grower's own file and the tests come here.
"""

from __future__ import annotations

import tomllib
from calendar import monthrange
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, Field, fields
from functools import lru_cache
from importlib.resources import files
from typing import Annotated, Any, Literal, get_type_hints

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    StringConstraints,
    TypeAdapter,
    ValidationError,
    ValidationInfo,
    create_model,
)
from pydantic import Field as Bound
from pydantic_core import ErrorDetails, PydanticCustomError

from evenpick.base.errors import Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.base.trade import WayName
from evenpick.crops.crop import Anchor, Development, Emergence, Harvest, Limits, Produce, Season, Spacing, Way
from evenpick.crops.signals import Bulbing, Cold, ColdHeading, LongDay

STRICT = ConfigDict(extra="forbid", strict=True)
NEEDS = {
    "single": ("stand",),
    "standing": ("stand",),
    "picking": ("span",),
    "cut": ("cuts", "regrowth", "stand"),
    "stored": ("stand", "store_weeks"),
}
"""what each harvest profile must say"""
TAGS = {"long day", "cold"}

Table = Mapping[str, Any]


def check_crops(tables: Mapping[str, Table], sources: Iterable[str]) -> list[Problem]:
    """Every fault of the crop tables, each with its dotted field; `sources` are the keys allowed."""
    context = {"sources": frozenset(sources)}
    return [problem for key, table in tables.items() for problem in _check_crop(key, table, context)]


def place_lines(problems: Iterable[Problem], text: str, file: str) -> list[Problem]:
    """The problems with file and, where their field is found in the text, line."""
    return [problem.at(file=file, line=_line(text, (problem.field or "").split("."))) for problem in problems]


@lru_cache(maxsize=1)
def vocabulary() -> dict[str, dict[str, dict[str, Any]]]:
    """data/vocabulary.toml: record → field → unit, meaning and bounds."""
    text = files("evenpick").joinpath("data", "vocabulary.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _check_crop(key: str, table: Table, context: dict[str, Any]) -> list[Problem]:
    try:
        _crop_model().validate_python(table, context=context)
    except ValidationError as error:
        return [_problem(key, detail) for detail in error.errors()]
    return [problem.at(field=f"{key}.{problem.field}") for problem in _contradictions(table)]


def _contradictions(table: Table) -> list[Problem]:
    """What each value alone can't show."""
    problems = []
    for name in ("emergence", "development"):
        given = table[name]
        if not given["base"]["value"] < given["optimum"]["value"] < given["ceiling"]["value"]:
            problems.append(
                Problem(tell("base, optimum and ceiling are not in rising order."), tell("Mend them."),
                        field=name)
            )
    harvest = table["harvest"]
    problems += [
        Problem(tell("profile '{harvest}' needs '{need}'.", harvest=harvest["profile"],
                     need=need), tell("Add it."), field=f"harvest.{need}")
        for need in NEEDS[harvest["profile"]]
        if harvest.get(need, {"value": 0})["value"] <= 0
    ]
    problems += [
        Problem(tell("the raised way needs '{need}'.",
                     need=need), tell("Add it."), field=f"ways.raised.{need}")
        for need in ("bench", "nursery")
        if "raised" in table["ways"] and need not in table["ways"]["raised"]
    ]
    problems += [
        Problem(tell("'{name}' is not a purpose of this crop.", name=name),
                tell("Its purposes are {purposes}.", purposes=", ".join(table["purposes"])),
                field=f"types.{name}")
        for name in table.get("types", {})
        if name not in table["purposes"]
    ]
    problems += [
        Problem(tell("a type can't have a '{name}' of its own: the crop has none.", name=name),
                tell("Take it out, or give the crop one."), field=f"types.{purpose}.{name}")
        for purpose, own in table.get("types", {}).items()
        for name in own
        if isinstance(own[name], Mapping) and "value" not in own[name] and name not in table
    ]
    problems += [
        Problem(tell("there is no such day in the year."), tell("Check month and day."),
                field=f"anchors.{i}.day")
        for i, anchor in enumerate(table["anchors"])
        if anchor["day"] > monthrange(2000, anchor["month"])[1]
    ]
    problems += [
        Problem(tell("only raised plants are counted from planting out."), tell("Mend way or counted."),
                field=f"anchors.{i}.counted")
        for i, anchor in enumerate(table["anchors"])
        if anchor.get("counted") == "planting out" and anchor["way"] != "raised"
    ]  # fmt: skip
    problems += [
        Problem(tell("the anchor's way '{anchor}' is not a way of this crop.", anchor=anchor["way"]),
                tell("Its ways are {table}.", table=", ".join(table["ways"])), field=f"anchors.{i}.way")
        for i, anchor in enumerate(table["anchors"])
        if anchor["way"] not in table["ways"]
    ]  # fmt: skip
    return problems


def _known_source(source: str, info: ValidationInfo) -> str:
    known = info.context["sources"] if info.context else frozenset()
    if source not in known:
        hint = did_you_mean(source, known) or tell("Use a key of the bibliography or 'memory'.")
        raise PydanticCustomError("unknown_source", "{what}\n{mend}", {
            "what": f"the source '{source}' is not known.", "mend": hint,
        })  # fmt: skip
    return source


Text = Annotated[str, StringConstraints(min_length=1)]
Key = Annotated[str, AfterValidator(_known_source)]


class Caution(BaseModel):
    model_config = STRICT
    value: Text
    source: Key
    note: str = ""
    when: Literal["poor light"] | None = None


def _bounded(record: str, name: str, kind: type) -> Any:
    bounds = vocabulary()[record][name]
    return Annotated[kind, Bound(ge=bounds["low"], le=bounds["high"])]


def _quantity(record: str, name: str, kind: type = float) -> type[BaseModel]:
    """A value with its source, within the bounds of the vocabulary."""
    value = _bounded(record, name, kind)
    parts: dict[str, Any] = {"value": (value, ...), "source": (Key, ...), "note": (str, "")}
    return create_model(f"{record}_{name}", __config__=STRICT, **parts)


def _section(
    record: type, name: str, skip: tuple[str, ...] = (), part: bool = False, **more: Any
) -> type[BaseModel]:
    """The model of a table of quantities, one for each number of the record; of a `part` none is required."""
    hints = get_type_hints(record)
    parts: dict[str, Any] = {}
    for field in fields(record):
        if field.name not in skip:
            kind = hints[field.name]
            number = {float: float, int: int, float | None: float}.get(kind)
            model = _quantity(name, field.name, number) if number else kind
            needed = not part and _required(field, kind)
            parts[field.name] = (model, ...) if needed else (model | None, None)
    return create_model(name, __config__=STRICT, **parts, **more)


def _required(field: Field[Any], kind: Any) -> bool:
    return field.default is MISSING and kind != float | None


def _anchor_model() -> type[BaseModel]:
    hints = get_type_hints(Anchor)
    parts: dict[str, Any] = {"note": (str, ""), "source": (Key, ...)}
    for field in fields(Anchor):
        kind = hints[field.name]
        if kind in (float, int):
            parts[field.name] = (_bounded("anchor", field.name, kind), ...)
        else:
            parts.setdefault(field.name, (kind, ... if field.default is MISSING else field.default))
    return create_model("anchor", __config__=STRICT, **parts)


def _type_model() -> Any:
    """What the varieties of one purpose have of their own."""
    own: dict[str, Any] = {
        record.__name__.lower(): (_section(record, record.__name__.lower(), part=True) | None, None)
        for record in (Bulbing, Harvest, Produce, Spacing, Limits)
    }
    ratio = (_quantity("crop_type", "thermal_ratio"), ...)
    return create_model("crop_type", __config__=STRICT, thermal_ratio=ratio, **own)


@lru_cache(maxsize=1)
def _crop_model() -> TypeAdapter[Any]:
    long_day = _section(LongDay, "long_day", kind=(Literal["long day"], ...))
    cold = _section(Cold, "cold", kind=(Literal["cold"], ...))
    bolting: Any = Annotated[long_day | cold,
                             Bound(discriminator="kind")]
    way: Any = _section(Way, "way", skip=("name",))
    anchor: Any = _anchor_model()
    share: Any = _quantity("purpose", "thermal_share")
    kind: Any = _type_model()
    least_one = Bound(min_length=1)
    parts: dict[str, Any] = dict.fromkeys(("name", "botanical", "family"), (Text, ...))
    parts |= {
        "american": (Text | None, None),
        "aliases": (list[Text], []),
        "cautions": (list[Caution], []),
        "ways": (Annotated[dict[WayName, way], least_one], ...),
        "anchors": (Annotated[list[anchor], least_one], ...),
        "thermal_time_sd": (_quantity("crop", "thermal_time_sd") | None, None),
        "purposes": (Annotated[dict[Text, share], least_one], ...),
        "types": (dict[Text, kind], {}),
        "bolting": (list[bolting], []),
        "cold_heading": (_section(ColdHeading, "cold_heading") | None, None),
        "bulbing": (_section(Bulbing, "bulbing") | None, None),
        "season": (_section(Season, "season") | None, None),
    }
    records = (Emergence, Development, Harvest, Limits, Spacing, Produce)
    parts |= {record.__name__.lower(): (_section(record, record.__name__.lower()), ...) for record in records}
    return TypeAdapter(create_model("crop", __config__=STRICT, **parts))


def _problem(key: str, error: ErrorDetails) -> Problem:
    """A pydantic error in the words of the catalogue."""
    place = [str(part) for part in error["loc"] if part not in TAGS and part != "[key]"]
    field, name, given = ".".join([key, *place]), place[-1] if place else key, error["input"]
    match error["type"]:
        case "missing":
            what, mend = tell("'{name}' is missing.",
                              name=name), tell("Write it with its source: { value = …, source = "
                                                       '"…" }.')
            if name == "source":
                mend = tell("Every value says where it comes from: a bibliography key, 'memory' or 'own "
                            "record'.")
        case "extra_forbidden":
            what = tell("'{name}' is not a word of this table.", name=name)
            mend = tell("Take it out, or see docs/formats/crops-toml.md.")
        case "greater_than_equal" | "less_than_equal":
            bound = error["ctx"].get("ge", error["ctx"].get("le"))
            side = "below" if error["type"].startswith("greater") else "above"
            what, mend = tell("{given} is {side} what can be ({bound:g}).", given=given, side=side,
                              bound=bound), tell("Check the number and its unit.")
        case "model_type" | "model_attributes_type":
            what, mend = tell("{given!r} bears no source.",
                              given=given), tell('Write it so: { value = …, source = "…" }.')
        case "unknown_source":
            what, mend = error["msg"].split("\n")
        case _:
            what, mend = tell("{given!r} won't do here: {error}.", given=given,
                              error=error["msg"]), tell("See docs/formats/crops-toml.md.")
    return Problem(what, mend, field=field)


def _line(text: str, path: list[str]) -> int | None:
    """Line of a dotted field such as 'cos.emergence.base' or 'cos.anchors.1.days', or of its table."""
    found, best = None, 0
    table: list[str] = []
    counts: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        words = line.strip()
        if words.startswith("["):
            name = words.split("]")[0].strip("[ ")
            table = [part.strip(' "') for part in name.split(".")]
            if words.startswith("[["):
                counts[name] = counts.get(name, -1) + 1
                table.append(str(counts[name]))
            here = table
        else:
            here = [*table, words.split("=")[0].strip(' "')]
        if here == path[: len(here)] and len(here) > best:
            found, best = number, len(here)
    return found
