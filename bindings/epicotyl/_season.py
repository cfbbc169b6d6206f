"""Season: a plan file and its weather, opened in one call."""

from __future__ import annotations

from typing import NamedTuple

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._core import Reason
from epicotyl._explain import explain
from epicotyl._plan import Plan
from epicotyl._prospect import Prospect
from epicotyl._weather import Climate
from epicotyl._windows import PlantingWindows, windows_of


class Season(NamedTuple):
    """A plan with everything that follows from it, made by `open_season`.

    A named tuple of plan, climate, calendar and prospect, and the questions one asks of them.

    Examples
    --------
    >>> farm = epicotyl.open_season("marlpit.toml")
    >>> farm.prospect.chance_by("lettuce 1", "transplant", datetime.date(2027, 3, 19))
    1.0
    """

    plan: Plan
    """The plan."""
    climate: Climate
    """Its season years."""
    calendar: Calendar
    """Its planned days."""
    prospect: Prospect
    """What becomes of them in every season year."""

    def explain(self, succession: str, event: str | None = None) -> list[Reason]:
        """Say why an event is planned for its day; see `explain`.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str, optional
            One of its events. None: the first, with which work on it begins.

        Returns
        -------
        list of Reason
            The first binds the day, those that follow lead back from it; or why there is no day.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> farm = epicotyl.open_season("marlpit.toml")
        >>> farm.explain("lettuce 2") == epicotyl.explain(farm.calendar, "lettuce 2", "sow")
        True
        """
        name = _check.text(succession, "succession")
        asked = self.plan.events(name)[0] if event is None else event
        return explain(self.calendar, name, asked)

    def windows(self, year: int) -> PlantingWindows:
        """Find the earliest and the latest day of every event in one season year.

        Parameters
        ----------
        year : int
            One of ``climate.years``.

        Returns
        -------
        PlantingWindows
            Around the target days of the calendar, with the reliability that it was made with.

        Raises
        ------
        InvalidInput
            For a year that the climate does not have.

        Examples
        --------
        >>> farm = epicotyl.open_season("marlpit.toml")
        >>> farm.windows(2015) == epicotyl.planting_windows(farm.plan, farm.climate, 2015)
        True
        """
        return windows_of(self.calendar, year)


def open_season(
    path: _check.Path,
    *,
    reliability: float | None = None,
    weather: _check.Path | None = None,
    latitude: float | None = None,
    station: str | None = None,
    whole_fahrenheit: bool | None = None,
) -> Season:
    """Read a plan file and its weather, and plan the season, in one call.

    Parameters
    ----------
    path : str or path
        The plan file. Its weather file is sought from the folder of the plan; one that ends in
        ".dly", or begins as GHCN-Daily by year does, is read as GHCN-Daily, any other as a table of
        days. Each may be compressed by gzip. A plan without one is planned with season years made
        from its normals, and says so in `origin`.
    reliability : float, optional
        Replaces the plan's, 0.5 to 1.
    weather : str or path, optional
        Replaces the plan's weather file; a relative path starts at the working folder.
    latitude : float, optional
        Replaces the plan's [degrees north]; the season start stays the plan's.
    station : str, optional
        The station to read of a GHCN-Daily file that holds several. None: the plan's, for the
        plan's own file.
    whole_fahrenheit : bool, optional
        Take values of a GHCN-Daily file, which are tenths of °C, back to the whole °F that they
        were written in: 28 °F is filed as -2.2 °C, and a limit of 28 °F (-2.22 °C) misses it. What
        comes from no whole °F stays as filed and is counted in `origin`. None: as the plan says,
        for the plan's own file.

    Returns
    -------
    Season
        A named tuple of plan, climate, calendar and prospect.

    Raises
    ------
    InvalidInput
        With file, line and field: what `read_plan`, `read_ghcn_daily` and `read_daily_csv` refuse,
        a plan with neither weather file nor normals when no file is given, a station or
        whole_fahrenheit where no GHCN-Daily file is read, a record that holds no season year.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> season = epicotyl.open_season("marlpit.toml")
    >>> season.calendar.date("lettuce 1", "sow") == calendar.date("lettuce 1", "sow")
    True
    """
    found = _core.open_season(
        _check.path(path, "path"),
        None if reliability is None else _check.number(reliability, "reliability"),
        None if weather is None else _check.path(weather, "weather"),
        None if latitude is None else _check.number(latitude, "latitude"),
        None if station is None else _check.text(station, "station"),
        None if whole_fahrenheit is None else _check.flag(whole_fahrenheit, "whole_fahrenheit"),
    )
    plan, climate, calendar, prospect = found
    return Season(
        Plan._of(plan), Climate._of(climate), Calendar._of(calendar), Prospect._of(prospect)
    )


def climate_from_normals(plan: Plan) -> Climate:
    """Make season years from a plan's monthly normals.

    The years are drawn from a model of the twelve mean lows and highs of ``[site]``. What normals
    do not say, how far days stray from the mean and how long a cold spell lasts, is that of New
    York Central Park, 1991 to 2020 (GHCN-Daily USW00094728). The years did not happen, and are
    numbered 1, 2, 3 and so on.

    Parameters
    ----------
    plan : Plan
        With ``monthly_low`` and ``monthly_high``, and ``normal_years`` (30) and ``normal_seed`` (1)
        where it gives them.

    Returns
    -------
    Climate
        For this plan; its `year_note` ends in "made from normals".

    Raises
    ------
    InvalidInput
        When the plan has no normals, or chooses years of a weather file.
    TypeError
        When the plan is no Plan.

    Examples
    --------
    >>> tables = plan.to_dict()
    >>> tables["site"]["monthly_low"] = [1, 1, 2, 4, 7, 10, 12, 12, 10, 7, 4, 2]
    >>> tables["site"]["monthly_high"] = [7, 8, 10, 13, 17, 20, 22, 22, 19, 15, 10, 8]
    >>> epicotyl.weather.climate_from_normals(epicotyl.plan(tables)).year_note
    '30 season years, 1 – 30; none left out; made from normals'
    """
    _check.instance(plan, Plan, "plan")
    return Climate._of(_core.climate_from_normals(plan._held))
