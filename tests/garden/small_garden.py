"""A small garden file to spoil in one place at a time, and the day it is read on."""

from datetime import date

TODAY = date(2026, 11, 20)

SMALL = """\
never = ["celery"]

[site]
at = "53.4, -6.2"

[plan]
from = 2027-02-01

[[ground]]
name = "bed"
cover = "open"
area = "60 m²"

[[outlet]]
name = "house"
kind = "kitchen"
shares = 4

[[outlet]]
name = "boxes"
kind = "boxes"
shares = 10

[[wish]]
item = "leeks"
outlet = "house"
each_week = "2 portions"
from = "10-01"
until = "03-31"

[[wish]]
item = "lettuce"
crops = ["cos-lettuce", "crisp-lettuce"]
outlet = "boxes"
each_week = "1 head"

[[seed]]
crop = "carrot"
variety = "early"
year = 2026
amount = "2 g"
tested = "85 %"
"""
