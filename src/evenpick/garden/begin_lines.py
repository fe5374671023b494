"""Lines of a first garden file that are the same in every one."""

from __future__ import annotations

HEAD = """\
# Your garden. Change what does not fit; every line is explained in docs/formats/garden-toml.md.

never = {never}# crops not to be suggested, such as ["celery"]

[site]
{where}
{high}{watered}# weather = "my-record.csv"  # a daily record of your own, beside this file
# normals = "normals.toml"   # or twelve months' normals that you typed
# readings = "plot.csv"      # days read from a thermometer of your own

[words]
english = {english}# british or american
units = {units}# metric or imperial

[plan]
sowing_day = "saturday"

[covers]                     # covers that move about on open ground
# fleece = {fleece}
# cloche = {cloche}

# [bench]                    # where plants are raised, if you have one
# modules = 200              # cells that fit on it at one time
# lowest = {lowest}# it is never colder than this ({frost_free} frost-free, {heated} heated)
"""
HIGH = "# height = {height}# above the sea, if you know it\n"
WATERED = "# watered = false            # if the open ground lives by the rain alone\n"
DRY = "watered = false              # the open ground lives by the rain alone\n"
METRIC = {"height": '"40 m"            ', "fleece": '"20 m²"', "cloche": '"3 m²"',
           "lowest": '"5 °C"            ', "frost_free": "5", "heated": "16"}
IMPERIAL = {"height": '"130 ft"          ', "fleece": '"200 sq ft"', "cloche": '"30 sq ft"',
             "lowest": '"41 °F"           ', "frost_free": "41", "heated": "61"}
"""what the comments show, in the units that the answers are told in"""

WISHES = """\
# What is wanted in a week, for one person or one box; from and until are month-day, and leaving both
# out means all the year. A first guess by common practice, and by when your climate gives it: put your own.
"""

LEFT_OUT = """\
# Left out, for it can't be counted on here. Take the marks off a wish if you want it all the same.
#"""

STANDING = """\
# These stand for years, and a plan is of what is sown or planted each year. What yours bring is counted in:
# take the marks off and put your own amounts and days.
#"""

UNKNOWN = """\
# Not wished for, because no crop here goes by that name.
#"""

SELLING = """\
# {selling}: how much goes there in a week was not said. Take the marks off and put your own amounts; what is
# sold falls under local rules, which come first.
#"""

TAIL = """\
# The seed tin: one [[seed]] for each packet.
# [[seed]]
# crop = "carrot"
# year = 2026
# amount = "2 g"             # or "300 seeds"
# tested = "85 %"            # how many of a hundred came up, if you tried
"""
