"""The exceptions, and what they carry.

Every message exists twice: as a sentence for a person (``str``), and as a stable code with its
parts for a program. Codes are lower-case words with dots; they do not change within a major
version.
"""

from __future__ import annotations

from collections.abc import Iterable

from epicotyl import _core
from epicotyl._result import extends


@extends
class Obstacle(_core.Obstacle):
    __slots__ = ()

    def __str__(self) -> str:
        who = f"{self.succession}: " if self.succession else ""
        cure = f"; {self.cure}" if self.cure else ""
        return f"{who}{self.sentence}{cure}"


class Error(Exception):
    """Base of the exceptions that epicotyl raises on purpose.

    Attributes
    ----------
    code : str
        Stable code of the message.
    """

    code: str

    def __init__(self, sentence: str, *, code: str = "") -> None:
        super().__init__(sentence)
        self.code = code


class InvalidInput(Error, ValueError):
    """Something that a caller or a file gave cannot be used.

    Parts that are not known or do not apply are empty, and ``line`` is 0.

    Attributes
    ----------
    code : str
        Stable code, such as ``"chance.out_of_range"``.
    file : str
        Path as the caller gave it.
    line : int
        Line in the file, counted from 1.
    field : str
        The thing, such as ``"succession[2].target.risk"``.
    value : str
        The value as written.
    bound : str
        What is allowed, such as ``"0 to 1"``.
    unit : str
        Unit of value and bound.
    problem : str
        What is wrong, such as ``"1.5 is out of range"``.
    remedy : str
        What to do.

    Examples
    --------
    >>> try:
    ...     epicotyl.day_length(99.0, datetime.date(2027, 6, 21))
    ... except epicotyl.InvalidInput as refused:
    ...     print(refused.code, refused.value, refused.bound, refused.unit)
    latitude.out_of_range 99 -90 to 90 degrees north
    """

    def __init__(
        self,
        sentence: str,
        *,
        code: str = "",
        file: str = "",
        line: int = 0,
        field: str = "",
        value: str = "",
        bound: str = "",
        unit: str = "",
        problem: str = "",
        remedy: str = "",
    ) -> None:
        super().__init__(sentence, code=code)
        self.file = file
        self.line = line
        self.field = field
        self.value = value
        self.bound = bound
        self.unit = unit
        self.problem = problem
        self.remedy = remedy


class Unresolved(Error, ValueError):
    """A plan, or a part of it, has no answer.

    Raised on request only (`Calendar.require`): a grower's ordinary trouble is a result and stands
    in `Calendar.unresolved`.

    Attributes
    ----------
    code : str
        ``"plan.unresolved"``.
    obstacles : list of Obstacle
        Every reason.

    Examples
    --------
    >>> epicotyl.Unresolved("no day is early enough").code
    'plan.unresolved'
    """

    def __init__(self, sentence: str, obstacles: Iterable[Obstacle] = ()) -> None:
        super().__init__(sentence, code="plan.unresolved")
        self.obstacles = list(obstacles)
