"""The demo farm's glasshouse is too small where two waves meet: what to move, and what that does.

Prints the moves in words. With --picture it also draws the glasshouse and the places that take
over, before and after, on the planned days (matplotlib). The farm is invented.

    python examples/room.py --picture room.png
"""

import argparse
import datetime
from pathlib import Path

import epicotyl

FARM = Path(__file__).parent / "quillet_hollow" / "farm.toml"


def draw(fit, file):
    """Every place with trays, as planned and with the moves."""
    from matplotlib.figure import Figure

    places = [
        name
        for name in fit.plan.places
        if epicotyl.occupancy(fit.after).room(name) is not None
        and any(name in (one.before, one.after) for one in fit.moves)
    ]
    places = ["glasshouse", *(name for name in places if name != "glasshouse")]
    figure = Figure(figsize=(10, 3.2 * len(places)), layout="constrained")
    panels = figure.subplots(len(places), 2, sharex=True, sharey="row", squeeze=False)
    for row, place in zip(panels, places, strict=True):
        for axes, calendar, when in zip(
            row, (fit.before, fit.after), ("as planned", "with the moves"), strict=True
        ):
            epicotyl.occupancy(calendar).plot(place, ax=axes)
            axes.set_title(f"{place}, {when}")
            axes.set_xlim(datetime.date(2027, 2, 1), datetime.date(2027, 7, 1))
    figure.savefig(file, dpi=100)


def main():
    """Fits the farm and says what moves."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--picture", help="file to draw into, such as room.png")
    options = parser.parse_args()
    farm = epicotyl.open_season(FARM)
    print(epicotyl.occupancy(farm.calendar))
    fit = epicotyl.fit_to_space(farm.plan, farm.climate)
    print(fit, end="")
    print(f"({fit.tried} changes were gone through in every season year; {fit.kept} break nothing)")
    if options.picture:
        draw(fit, options.picture)


if __name__ == "__main__":
    main()
