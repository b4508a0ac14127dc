"""Writes twilight_reference.csv: nautical and astronomical twilight by an ephemeris that is not ours.

PyEphem 4.2.1 (libastro, VSOP87), Python 3; `pip install ephem`. Places and dates are those of sun_times.csv, whose
tables have no such twilights. A night runs from noon to noon. Times are UTC; `none` where the sun does not reach
the altitude in that night. Run in this folder.
"""

import csv

import ephem

ALTITUDES = {"nautical": "-12", "astronomical": "-18"}


def crossing(find, start, end):
    try:
        at = find(ephem.Sun(), start=start, use_center=True)
    except (ephem.AlwaysUpError, ephem.NeverUpError):
        return "none"
    return at.datetime().strftime("%Y-%m-%dT%H:%M:%SZ") if at < end else "none"


lines = [line for line in open("sun_times.csv") if not line.startswith("#")]
places = dict.fromkeys(
    (row["place"], row["lat"], row["lon"], row["local_date"]) for row in csv.DictReader(lines)
)
print("# Written by make_twilight_reference.py with PyEphem 4.2.1.")
print("place,lat,lon,local_date,event,pyephem_utc")
for place, latitude, longitude, date in places:
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure, observer.elevation = latitude, longitude, 0, 0
    # Clock noon in the even time zone of the longitude, and the sun's highest point near it.
    noon = ephem.Date(ephem.Date(date.replace("-", "/")) + 0.5 - float(longitude) / 360)
    observer.horizon = "-0.8333"
    start = observer.next_transit(ephem.Sun(), start=ephem.Date(noon - 0.25))
    end = observer.next_transit(ephem.Sun(), start=ephem.Date(start + 0.5))
    for name, altitude in ALTITUDES.items():
        observer.horizon = altitude
        dusk = crossing(observer.next_setting, start, end)
        dawn = crossing(observer.next_rising, start, end)
        print(f"{place},{latitude},{longitude},{date},{name}_dusk,{dusk}")
        print(f"{place},{latitude},{longitude},{date},{name}_dawn,{dawn}")
