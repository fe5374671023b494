"""What the states of Canada and Australia are called by the post: the second half of their ISO 3166-2 codes.

From memory. The list of towns has numbers for them; the states of the US and the countries of the United
Kingdom have their letters there already.
"""

from __future__ import annotations

from collections.abc import Mapping

POSTED: Mapping[tuple[str, str], str] = {
    ("AU", "Australian Capital Territory"): "ACT", ("AU", "New South Wales"): "NSW",
    ("AU", "Northern Territory"): "NT", ("AU", "Queensland"): "QLD", ("AU", "South Australia"): "SA",
    ("AU", "Tasmania"): "TAS", ("AU", "Victoria"): "VIC", ("AU", "Western Australia"): "WA",
    ("CA", "Alberta"): "AB", ("CA", "British Columbia"): "BC", ("CA", "Manitoba"): "MB",
    ("CA", "New Brunswick"): "NB", ("CA", "Newfoundland and Labrador"): "NL", ("CA", "Nova Scotia"): "NS",
    ("CA", "Northwest Territories"): "NT", ("CA", "Nunavut"): "NU", ("CA", "Ontario"): "ON",
    ("CA", "Prince Edward Island"): "PE", ("CA", "Quebec"): "QC", ("CA", "Saskatchewan"): "SK",
    ("CA", "Yukon"): "YT",
}
"""(two letters of the country, name) → letters of the state"""
