"""Plans a season and prints its calendar, week by week, and its prospect, one block a succession.

examples/season.cpp does the same in C++ and prints the same.
"""

import argparse
import sys

import epicotyl

arguments = argparse.ArgumentParser(description=__doc__)
arguments.add_argument("plan", nargs="?", default="examples/quillet_hollow/farm.toml")
arguments.add_argument("--weather", help="daily weather of another place")
arguments.add_argument("--latitude", type=float, help="its latitude, south negative")
asked = arguments.parse_args()

try:
    season = epicotyl.open_season(asked.plan, weather=asked.weather, latitude=asked.latitude)
except epicotyl.InvalidInput as fault:
    sys.exit(str(fault))

print(season.calendar)
print(season.prospect, end="")
