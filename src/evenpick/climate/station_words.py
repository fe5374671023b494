"""What people call a weather station, of the short names in which its reports come.

The reports write 'Dublin Airp.', 'Albany Airp./NY' and 'United States of America': short forms of English and
German (seen in the packaged list of stations; what each means is from memory). A name that holds none of them
stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from evenpick.climate.regions import POSTED

COUNTRIES: Mapping[str, str] = {
    "Ascencion Island": "Ascension Island", "Bosnia and Herzegowina": "Bosnia and Herzegovina",
    "Caroline-Islands": "Caroline Islands", "Croatia/Hrvatska": "Croatia",
    "Dem. Republic of the Congo": "Democratic Republic of the Congo", "Iran (Islamic Rep. of)": "Iran",
    "Korea, Dem. People's Rep.": "North Korea", "Marshall-Islands": "Marshall Islands",
    "Mauretania": "Mauritania", "Moldova, Rep. Of": "Moldova", "Palau-Islands": "Palau",
    "People's Dem. Rep. Laos": "Laos", "Republic of Korea": "South Korea", "Russian Federation": "Russia",
    "Slovakia (Slovak. Rep.)": "Slovakia", "Slowenia": "Slovenia", "Syrian Arab Rep.": "Syria",
    "Tunesia": "Tunisia", "United Arab. Emirates": "United Arab Emirates",
    "United Kingdom of Great Britain and N.-Ireland": "United Kingdom",
    "United States of America": "United States", "Wallis-Islands": "Wallis Islands",
}
STATES: Mapping[tuple[str, str], str] = {
    **{({"AU": "Australia", "CA": "Canada"}[country], letters): name
       for (country, name), letters in POSTED.items()},
    **{("Canada", letters): name for letters, name in (
        ("ALTA", "Alberta"), ("MAN", "Manitoba"), ("NFDL", "Newfoundland and Labrador"),
        ("NFLD", "Newfoundland and Labrador"), ("NWT", "Northwest Territories"), ("ONT", "Ontario"),
        ("PEI", "Prince Edward Island"), ("QUE", "Quebec"), ("SASK", "Saskatchewan"))},
    **{("United States", letters): name for letters, name in (
        ("Hawaii", "Hawaii"),
        ("AL", "Alabama"), ("AR", "Arkansas"), ("ASK", "Alaska"), ("AZ", "Arizona"), ("CA", "California"),
        ("CO", "Colorado"), ("CT", "Connecticut"), ("DE", "Delaware"), ("FL", "Florida"), ("GA", "Georgia"),
        ("IA", "Iowa"), ("ID", "Idaho"), ("IL", "Illinois"), ("IN", "Indiana"), ("KS", "Kansas"),
        ("KY", "Kentucky"), ("LA", "Louisiana"), ("MA", "Massachusetts"), ("MD", "Maryland"),
        ("ME", "Maine"), ("MI", "Michigan"), ("MN", "Minnesota"), ("MO", "Missouri"), ("MS", "Mississippi"),
        ("MT", "Montana"), ("NC", "North Carolina"), ("ND", "North Dakota"), ("NE", "Nebraska"),
        ("NH", "New Hampshire"), ("NJ", "New Jersey"), ("NM", "New Mexico"), ("NV", "Nevada"),
        ("NY", "New York"), ("OH", "Ohio"), ("OK", "Oklahoma"), ("OR", "Oregon"), ("PA", "Pennsylvania"),
        ("RI", "Rhode Island"), ("SC", "South Carolina"), ("SD", "South Dakota"), ("TN", "Tennessee"),
        ("TX", "Texas"), ("UT", "Utah"), ("VA", "Virginia"), ("VT", "Vermont"), ("WA", "Washington"),
        ("WI", "Wisconsin"), ("WV", "West Virginia"), ("WY", "Wyoming"))},
}
"""(country, as the reports write the state) → its name"""
REGIONS: Mapping[str, str] = {
    "Acores": "Azores", "Lakkadiven": "Lakshadweep", "Molukken": "Moluccas",
    "Orkneys": "South Orkney Islands",
}
SHORT = tuple((re.compile(pattern), whole) for pattern, whole in (
    (r"\bRCS\b", ""), (r"(?<=[a-z])Airp\b", " Airp"), (r"\b[Aa]irp\b\.?", "Airport"),
    (r"\bAero\b", "Airport"), (r"\bInt(er|ern)?\.", "International "), (r"\bObserv(at)?\.", "Observatory"),
    (r"\bIsl\.", "Island"), (r"\bKokos\b", "Cocos"),
    (r"[- ]Ins(\.|eln\b)", " Islands"), (r"\bGran Can\.", "Gran Canaria"),
    (r"\bPdte\.", "Presidente"), (r"\bKl\. ", "Kleiner "), (r"\bC\. Park\b", "Central Park"),
    (r"\b(St|S)\.(?=[A-Z])", r"\1. "), (r"\s*([/-])\s*", r"\1"),
    (r"(?<=[a-z])-International\b", " International"),
    (r"\s+", " "), (r"\s+\)", ")"),
))


def spoken(name: str, country: str) -> str:
    """'Albany Airp./NY' of the 'United States of America' as 'Albany Airport, New York, United States'."""
    land = COUNTRIES.get(country, country)
    town, slash, region = name.replace(",", "/").rpartition("/")
    state = STATES.get((land, region.strip()))
    if state is not None:
        return f"{_whole(town)}, {state}, {land}"
    if slash and region in REGIONS:
        return f"{_whole(town)}, {REGIONS[region]}, {land}"
    return f"{_whole(name)}, {land}"


def _whole(name: str) -> str:
    for short, whole in SHORT:
        name = short.sub(whole, name)
    return name.strip()
