"""Edits: plans like another but for one thing."""

from __future__ import annotations

from typing import Self

from epicotyl import _check, _core
from epicotyl._docs import gives_plan
from epicotyl._edit_succession import SuccessionEdits
from epicotyl._edited import Written, renamed
from epicotyl._heat import Structure, written
from epicotyl._units import Units


class PlanEdits(SuccessionEdits):
    """What a `Plan` can be asked for: the same plan with one change."""

    __slots__ = ()

    # --- the whole plan ---

    @gives_plan
    def with_reliability(self, share: float | None, *, succession: str | None = None) -> Self:
        """The plan with another reliability.

        Parameters
        ----------
        share : float or None
            Share of season years in which targets are to be met, 0.5 to 1. None, for one
            succession: the plan's.
        succession : str, optional
            The one that gets a reliability of its own; by default those get it that have none.

        Raises
        ------
        InvalidInput
            For a share out of range, and for a succession that the plan does not have.

        Examples
        --------
        >>> plan.with_reliability(0.9).reliability
        0.9
        >>> surer = plan.with_reliability(0.95, succession="lettuce 1")
        """
        if succession is not None:
            keys = {"reliability": share}
            return self._by_keys(_core.with_succession_keys, succession, "succession", keys)
        return self._of(_core.with_reliability(self._held, _check.number(share, "share")))

    @gives_plan
    def with_risk(self, share: float | bool | None, *, succession: str | None = None) -> Self:
        """The plan with another risk of cold nights, from which default bounds come.

        Parameters
        ----------
        share : float or False or None
            Largest share of season years with such a night, 0 to 1; False: no default bounds.
            None, for one succession: the crop's, else the plan's.
        succession : str, optional
            The one that gets a risk of its own; by default those get it that have none, by
            themselves or by their crop.

        Raises
        ------
        InvalidInput
            For a share out of range, and for a succession that the plan does not have.

        Examples
        --------
        >>> plan.with_risk(0.05).to_dict()["defaults"]["risk"]
        0.05
        """
        if succession is not None:
            keys = {"risk": share}
            return self._by_keys(_core.with_succession_keys, succession, "succession", keys)
        share = None if share is False else _check.number(share, "share")
        return self._of(_core.with_risk(self._held, share))

    @gives_plan
    def with_season(self, *, start: _check.Day | None = None, days: int | None = None) -> Self:
        """The plan in another season. A climate for it must be cut anew.

        Parameters
        ----------
        start : day, optional
            First day of the season; by default as it is.
        days : int, optional
            Days of the season, 1 to 1500; by default as they are.

        Raises
        ------
        InvalidInput
            For days out of range, and for a date of the plan that lies outside such a season.

        Examples
        --------
        >>> plan.with_season(start=datetime.date(2026, 11, 1), days=450).season_days
        450
        """
        length = None if days is None else _check.whole(days, "days")
        return self._of(_core.with_season(self._held, start, length))

    @gives_plan
    def with_units(self, units: Units) -> Self:
        """The plan of the same farm, written and answered in other units.

        Parameters
        ----------
        units : {"metric", "us"}
            °C, metres, litres, or °F, feet, quarts.

        Raises
        ------
        InvalidInput
            For another word.

        Notes
        -----
        Numbers are the nearest that these units can write, which differ in the last digits of a
        double at most: days and counts stay.

        Examples
        --------
        >>> plan.with_units("us").to_dict()["places"]["bench"]["day"]
        64.4
        """
        return self._of(_core.with_units(self._held, _check.text(units, "units")))

    # --- places and crops ---

    @gives_plan
    def with_place(self, place: str, /, **keys: Written) -> Self:
        """The plan with another air, more room, other keys of one place.

        Parameters
        ----------
        place : str
            Its name or id.
        **keys
            Keys of ``[places]`` in a plan file, in the plan's units; ``jobs`` stands for ``for``.
            None leaves a key out; what is not named stays. A table (``cold_nights``, ``lamps``) is
            replaced as a whole.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), and for values that a plan
            file could not have either.

        Examples
        --------
        >>> cooler = plan.with_place("bench", day=16.0, night=10.0, trays=12)
        >>> cooler.to_dict()["places"]["bench"]["night"]
        10.0
        """
        keys = renamed(keys, "jobs", "for")
        return self._by_keys(_core.with_place_keys, place, "place", keys)

    def with_heater(self, place: str, structure: Structure, watts: float) -> Self:
        """The plan with a heater of so many watts in a place that is made like that.

        Its ``heat_lift`` is what they lift in that structure, to a hundredth of a degree of the
        plan's units: plan, structure and heater then agree. See `heat_cautions`; a heater just
        large enough on paper is too small.

        Parameters
        ----------
        place : str
            Name or id of a place with ``heat_to``.
        structure : epicotyl.heat.Structure
            What the place is made of.
        watts : float
            Output of the heater [W].

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is not known, a place without ``heat_to`` or with held temperatures, and
            watts that lift nothing, or more than a plan may say.

        Examples
        --------
        >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
        >>> heated = plan.with_place("beds", heat_to=4.0).with_heater("beds", house, 900.0)
        >>> heated.to_dict()["places"]["beds"]["heat_lift"]
        9.0
        """
        return self._of(
            _core.with_heater(
                self._held,
                _check.text(place, "place"),
                written(structure),
                _check.number(watts, "watts"),
            )
        )

    def without_heater(self, place: str) -> Self:
        """The plan with the heater of one place off.

        This asks how warm the place would be. Whether a heater that protects plants is switched off
        is for who has weighed that.

        Parameters
        ----------
        place : str
            Its name or id.

        Returns
        -------
        Plan
            A new plan, the place's air without ``heat_to`` and ``heat_lift``; this one stays as it
            is.

        Raises
        ------
        InvalidInput
            For a name that is not known, and where there is no heater.

        Examples
        --------
        >>> heated = plan.with_place("beds", warmer_night=2.0, heat_to=4.0)
        >>> heated.without_heater("beds") == plan.with_place("beds", warmer_night=2.0)
        True
        """
        return self._of(_core.without_heater(self._held, _check.text(place, "place")))

    def without_cover(self, place: str) -> Self:
        """The plan with the cover of one place off: nothing is done on cold nights.

        Parameters
        ----------
        place : str
            Its name or id.

        Returns
        -------
        Plan
            A new plan, the place's air without ``cold_nights``; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is not known, and where nothing is done on cold nights.

        Examples
        --------
        >>> covered = plan.with_place("beds", cold_nights={"warmer": 2.0})
        >>> covered.without_cover("beds") == plan
        True
        """
        return self._of(_core.without_cover(self._held, _check.text(place, "place")))

    @gives_plan
    def with_crop(self, crop: str, /, **keys: Written) -> Self:
        """The plan with other limits, other stages, other keys of one crop.

        Crops that a file describes as ``like`` it stay as they are: in a plan, every crop has all
        of its own.

        Parameters
        ----------
        crop : str
            Its name or id.
        **keys
            Keys of ``[crops]`` in a plan file but ``like``, in the plan's units; ``stages`` as a
            whole. None leaves a key out; what is not named stays.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), and for values that a plan
            file could not have either.

        Examples
        --------
        >>> hardier = plan.with_crop("lettuce", limit_hardened=-5.0)
        >>> hardier.to_dict()["crops"]["lettuce"]["limit_hardened"]
        -5.0
        """
        return self._by_keys(_core.with_crop_keys, crop, "crop", keys)
