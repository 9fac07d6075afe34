"""Data classes that cost next to nothing until they are used.

The standard library writes and compiles the methods of every data class when its module is imported, which is a third
of the time a small pattern takes from the first keystroke to the answer. Here a class gets its slots at once and its
``__init__`` when the first object is made; the other methods need no code of their own. Type checkers see the
standard library's ``dataclass`` and ``field``; ``fields``, ``replace`` and ``is_dataclass`` of the standard library
work as usual.

What is left out: ordering, ``init=False`` fields, keyword-only fields, and classes without slots.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
    from dataclasses import field as field
else:
    from operator import attrgetter
    from reprlib import recursive_repr

    _MISSING = object()

    class _Field:
        """What ``field`` was told of one field."""

        __slots__ = ("compare", "default", "factory", "repr")

        def __init__(self, default=_MISSING, factory=_MISSING, repr=True, compare=True):
            self.default = default
            self.factory = factory
            self.repr = repr
            self.compare = compare

    def field(*, default=_MISSING, default_factory=_MISSING, repr=True, compare=True):
        """One field, as the standard library's function of that name describes it."""
        return _Field(default, default_factory, repr, compare)

    def dataclass(cls=None, /, *, slots=True, frozen=False, eq=True):
        """A data class with slots, as the standard library makes it."""
        if not slots:
            raise TypeError("a record always has slots")
        if cls is None:
            return lambda made: _record(made, frozen, eq)
        return _record(cls, frozen, eq)

    def _record(cls, frozen, eq):
        record_fields = {}
        for base in reversed(cls.__mro__[1:]):
            record_fields.update(base.__dict__.get("__record_fields__", ()))
        namespace = dict(cls.__dict__)
        own = []
        for name, hint in namespace.get("__annotations__", {}).items():
            if hint.startswith("ClassVar"):
                continue
            if name not in record_fields:
                own.append(name)
            given = namespace.pop(name, _MISSING)
            if isinstance(given, (list, dict, set)):
                raise TypeError(f"the default of {name} would be shared between objects")
            record_fields[name] = given if isinstance(given, _Field) else _Field(given)
        namespace.pop("__dict__", None)
        namespace.pop("__weakref__", None)
        names = tuple(record_fields)
        namespace["__slots__"] = tuple(own)
        namespace["__record_fields__"] = record_fields
        namespace["__dataclass_fields__"] = _StandardFields()
        namespace.setdefault("__match_args__", names)
        namespace.setdefault("__repr__", _repr)
        if eq:
            namespace.setdefault("__eq__", _equality(tuple(n for n, f in record_fields.items() if f.compare)))
            namespace.setdefault("__hash__", _hash if frozen else None)
        if frozen:
            namespace.update(__setattr__=_refuse, __delattr__=_refuse, __setstate__=_set_state)
        lazy = "__init__" not in namespace
        made = type(cls)(cls.__name__, cls.__bases__, namespace)
        if lazy:
            _init_when_needed(made, frozen)
        return made

    def _init_when_needed(cls, frozen):
        """Give a class an ``__init__`` that is written when the first object is made."""

        def __init__(self, /, *args, **kwargs):
            if cls.__init__ is __init__:
                cls.__init__ = _written_init(cls, frozen)
            cls.__init__(self, *args, **kwargs)

        cls.__init__ = __init__

    def _written_init(cls, frozen):
        scope = {"_MISSING": _MISSING, "_set": object.__setattr__}
        arguments, body = [], []
        for name, one in cls.__record_fields__.items():
            value = name
            if one.factory is not _MISSING:
                scope[f"_make_{name}"] = one.factory
                arguments.append(f"{name}=_MISSING")
                value = f"_make_{name}() if {name} is _MISSING else {name}"
            elif one.default is not _MISSING:
                scope[f"_default_{name}"] = one.default
                arguments.append(f"{name}=_default_{name}")
            else:
                arguments.append(name)
            body.append(f" _set(self, {name!r}, {value})" if frozen else f" self.{name} = {value}")
        if hasattr(cls, "__post_init__"):
            body.append(" self.__post_init__()")
        exec(f"def __init__(self, {', '.join(arguments)}):\n" + "\n".join(body or [" pass"]), scope)
        made = scope["__init__"]
        made.__qualname__ = f"{cls.__qualname__}.__init__"
        return made

    def _equality(names):
        if not names:
            return lambda self, other: True if other.__class__ is self.__class__ else NotImplemented
        if len(names) == 1:
            # A tuple, as for several: an object that is not equal to itself is still the same one.
            single = attrgetter(names[0])

            def values(thing):
                return (single(thing),)
        else:
            values = attrgetter(*names)

        def __eq__(self, other):
            return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

        return __eq__

    def _hash(self):
        return hash(tuple(getattr(self, name) for name, one in self.__record_fields__.items() if one.compare))

    @recursive_repr()
    def _repr(self):
        shown = [f"{n}={getattr(self, n)!r}" for n, one in self.__record_fields__.items() if one.repr]
        return f"{self.__class__.__qualname__}({', '.join(shown)})"

    def _refuse(self, name, *value):
        from dataclasses import FrozenInstanceError

        raise FrozenInstanceError(f"{name!r} of a {self.__class__.__qualname__} cannot be changed")

    def _set_state(self, state):
        for name, value in (state[1] if isinstance(state, tuple) else state).items():
            object.__setattr__(self, name, value)

    class _StandardFields:
        """The fields as the standard library keeps them, made when it asks for them."""

        def __get__(self, thing, owner):
            import dataclasses

            namespace = {"__annotations__": {}}
            for base in reversed(owner.__mro__):
                namespace["__annotations__"].update(base.__dict__.get("__annotations__", {}))  # noqa: RUF063
            for name, one in owner.__record_fields__.items():
                given = {"repr": one.repr, "compare": one.compare}
                if one.factory is not _MISSING:
                    given["default_factory"] = one.factory
                elif one.default is not _MISSING:
                    given["default"] = one.default
                namespace[name] = dataclasses.field(**given)
            made = dataclasses.dataclass(type(owner.__name__, (), namespace), repr=False, eq=False)
            owner.__dataclass_fields__ = made.__dataclass_fields__
            return made.__dataclass_fields__
