"""What all value types share: they are immutable, copied by reference, and pickled by version."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, Generic, Never, Self, TypeVar, overload

from epicotyl import _core

Held = TypeVar("Held")
Of = TypeVar("Of")


class Told(property, Generic[Of]):
    """A property that the held object has by the same name: what is said of it is what it is.

    ``start = Told[datetime.date]("First day.")``
    """

    def __init__(self, doc: str) -> None:
        super().__init__()
        self.__doc__ = doc

    def __set_name__(self, owner: type, name: str) -> None:
        self._name = name

    if TYPE_CHECKING:

        @overload
        def __get__(self, instance: None, owner: type | None = None) -> Self: ...
        @overload
        def __get__(self, instance: object, owner: type | None = None) -> Of: ...
        def __get__(self, instance: object, owner: type | None = None) -> Of | Self: ...
        def __set__(self, instance: object, value: Never) -> None: ...

    else:

        def __get__(self, instance, owner=None):
            return self if instance is None else getattr(instance._held, self._name)


class Value(Generic[Held]):
    """An immutable object of the library.

    A pickle holds a version number and what the object is made of, never its results: they are
    made again, and are the same. A later version only adds parts at the end, which `_restore` has
    defaults for, so that pickles of all earlier ones can be read.
    """

    __slots__ = ("_held",)

    _held: Held
    _pickle_version: ClassVar[int] = 1
    #: Two are equal where their held objects are; else where they are made of the same.
    _compares_held: ClassVar[bool] = False
    #: What makes one of a class that nobody else can make.
    _made_by: ClassVar[str]

    def __init__(self) -> None:
        raise TypeError(self._made_by)

    @classmethod
    def _of(cls, held: Held) -> Self:
        made = cls.__new__(cls)
        made._held = held
        return made

    def _parts(self) -> tuple[Any, ...]:
        """What the object is made of."""
        raise NotImplementedError

    def _restore(self, *parts: Any) -> None:
        """The object again, from what `_parts` gave."""
        raise NotImplementedError

    def __getstate__(self) -> tuple[Any, ...]:
        return (self._pickle_version, *self._parts())

    def __setstate__(self, state: tuple[Any, ...]) -> None:
        version, *parts = state
        if not 1 <= version <= self._pickle_version:
            _core.refuse(
                code="pickle.version",
                field=type(self).__name__,
                value=str(version),
                bound=f"1 to {self._pickle_version}" if self._pickle_version > 1 else "1",
                problem=f"a pickle of version {version} cannot be read by this release",
                remedy="make the object again from its files",
            )
        self._restore(*parts)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, type(self)):
            return NotImplemented
        if self._compares_held:
            return bool(self._held == other._held)
        return self._parts() == other._parts()

    def __hash__(self) -> int:
        return hash(self._parts())

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: dict[int, Any]) -> Self:
        return self

    def __str__(self) -> str:
        return str(self._held)
