"""Keys, declared once: on the fields of a dataclass, or of a form, that they fill.

A table of a file is a class, and each key of it a field that says what it reads::

    @table("A shelf.")
    class Shelf:
        width: Fraction = key(SIZE, "how wide it is", "30")  # needed: neither default nor usual
        depth: Fraction = key(SIZE, "how deep", "11", usual=lambda scope: scope.usual["depth"], otherwise="the case's")
        name: str | None = key(NAME, "what it is called", "top shelf", default=None)

        def check(self, here: Here) -> None:  # rules across fields, once each reads well
            if self.depth > self.width:
                raise Fault("the shelf is deeper than wide", "turn it", "depth")

``default`` is a value that stands for a key that is left out; ``usual`` works it out from the scope, where an outer
table says it (``here.where(depth=…)``) or the units do; ``otherwise`` says either in words, where the value itself
does not. ``fill`` in place of reading field by field is for a table whose keys hang on one another: it has its keys
in hand as ``here("width")``, and gives all fields. A field that several keys fill is declared by :func:`keys`.

``table_of(Shelf).read(table, scope)`` gives a shelf, or raises every fault at once. Schemas and the reference of keys
walk through the same declarations (``key_reference.py``).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cache, cached_property
from typing import Any, Final, Generic, TypeVar, cast, dataclass_transform

from storystick.errors import Fault, Where, as_written
from storystick.job.kinds import (
    MOST_ENTRIES,
    NAME,
    Kind,
    Names,
    Schema,
    Scope,
    Table,
    read_name,
    tables,
)
from storystick.job.likeness import Likeness

T = TypeVar("T")
C = TypeVar("C")

_NEEDED: Final = object()
_MARK: Final = "key"
_OR_TABLE: Final = ", or a table"
_ONE_TABLE: Final = "{ key = …, key = … }"


# Declarations are never compared or shown, and each method that is not made saves time at the start of a listing.
@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Key:
    """A key of a table: its kind, what it says in ``words``, and an ``example`` as a TOML reader gives it.

    It may be left out where there is a ``default``, or a ``usual`` value that the scope says; ``otherwise`` is that in
    words. ``asked``: its words, not its kind's, say what is missing. ``of`` is the kind, or loads it where it is first
    asked for.
    """

    of: Kind[Any] | Callable[[], Kind[Any]]
    words: str
    example: object
    default: object = _NEEDED
    usual: Callable[[Scope], object] | None = None
    otherwise: str = ""
    asked: bool = False

    @property
    def kind(self) -> Kind[Any]:
        return self.of if isinstance(self.of, Kind) else self.of()

    @property
    def is_needed(self) -> bool:
        return self.default is _NEEDED and self.usual is None

    def left_out(self, scope: Scope) -> object:
        """What stands for it where it is left out."""
        return self.usual(scope) if self.usual else self.default

    def read(self, name: str, table: Table, scope: Scope) -> Any:
        """The value in a table; faults are kept there."""
        # A kind may have to be loaded: what is left out does not wait for it.
        if not self.is_needed and not table.has(name):
            return self.left_out(scope)
        kind = self.kind
        # A fault leaves the kind's stand-in, so that reading goes on and later keys tell theirs too.
        if self.is_needed:
            table.require(name, kind.form, self.words if self.asked else kind.sort)
            return kind.take(table, name, kind.stand_in, scope)
        return kind.take(table, name, self.left_out(scope), scope)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Here:
    """Where something is read: the ``table``, its ``scope``, and its ``keys`` by name."""

    table: Table
    scope: Scope
    keys: Mapping[str, Key]

    def __call__(self, name: str) -> Any:
        """What a key says."""
        return self.keys[name].read(name, self.table, self.scope)

    def need(self, name: str) -> Any:
        """What a key says that may be left out elsewhere, but not here."""
        return replace(self.keys[name], default=_NEEDED, usual=None).read(name, self.table, self.scope)

    def where(self, **usual: object) -> Here:
        """The same place, where something more is usual."""
        return replace(self, scope=replace(self.scope, usual={**self.scope.usual, **usual}))

    def given(self, *names: str) -> list[str]:
        """Which of some keys are given; all of them are known from now on."""
        return [name for name in names if self.table.has(name)]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Filled:
    """How a field is filled: from ``keys``, by ``read``."""

    keys: Mapping[str, Key]
    read: Callable[[Here], Any]


@dataclass(frozen=True, eq=False, repr=False)
class TableOf(Generic[T]):
    """A table of a file: what is built of it, what it says in ``words``, and what fills each field.

    ``form`` is how one is written in a cure; ``shape`` holds rules across its keys, for a schema; ``check`` raises what
    is wrong with a thing whose keys all read well. ``fill`` reads all fields where each cannot be read by itself.
    """

    build: Callable[..., T]
    words: str
    filled: Mapping[str, Filled]
    form: str = _ONE_TABLE
    shape: Schema = field(default_factory=dict)
    check: Callable[[T, Here], None] | None = None
    fill: Callable[[Here], dict[str, Any]] | None = None

    @cached_property
    def keys(self) -> dict[str, Key]:
        return {name: key for filled in self.filled.values() for name, key in filled.keys.items()}

    def only(self, *names: str) -> TableOf[T]:
        """A table that has but some of the fields, in this order."""
        return replace(self, filled={name: self.filled[name] for name in names})

    def values(self, here: Here, given: Collection[str] = ()) -> dict[str, Any]:
        """What fills each field but those that are ``given``; the faults are kept in the table."""
        if self.fill:
            return self.fill(here)
        return {name: filled.read(here) for name, filled in self.filled.items() if name not in given}

    def read(self, table: Table, scope: Scope, **given: object) -> T:
        """The thing that is made of a table and of fields that are ``given``.

        Raises:
            StorystickError: every fault of the table.
        """
        here = Here(table, scope, self.keys)
        # Closed before it is built: no thing is ever made of what stood in for a fault.
        values = {**given, **self.values(here, given)}
        table.close()
        thing = self.build(**values)
        if self.check:
            self.check(thing, here)
        return thing


def one(name: str, key: Key) -> Filled:
    """A field that one key fills."""
    return Filled({name: key}, lambda here: here(name))


def each(**keys: Key) -> dict[str, Filled]:
    """Fields that a key of their own name fills each."""
    return {name: one(name, key) for name, key in keys.items()}


def key(
    kind: Kind[Any] | Key, words: str = "", example: object = "", *, name: str = "", default: Any = _NEEDED, **more: Any
) -> Any:
    """A field that one key fills, called ``name`` in a file; see :class:`Key`, of which one may be given ready."""
    own = kind if isinstance(kind, Key) else Key(kind, words, example, default, **more)
    return _field((name, own), default)


def keys(
    read: Callable[[Here], Any], more: Mapping[str, Key] | None = None, /, *, default: Any = _NEEDED, **own: Key
) -> Any:
    """A field that several keys fill, by ``read``."""
    return _field(Filled({**own, **(more or {})}, read), default)


def _field(mark: Filled | tuple[str, Key], default: Any) -> Any:
    return field(metadata={_MARK: mark}) if default is _NEEDED else field(metadata={_MARK: mark}, default=default)


def own_name(word: str, example: str) -> Any:
    """The field of a counted table's name, which no other may have."""
    return key(
        NAME, "its name, which no other may have", example, usual=lambda _: "", otherwise=f"{word} and its number"
    )


_DECLARED: Final[dict[type, tuple[str, str, Schema]]] = {}


@dataclass_transform(frozen_default=True, field_specifiers=(key, keys, own_name, field))
def table(words: str, form: str = _ONE_TABLE, shape: Schema | None = None) -> Callable[[type[C]], type[C]]:
    """A frozen dataclass with keys; its method ``check``, if any, is that of :class:`TableOf`."""

    def declare(cls: type[C]) -> type[C]:
        made = dataclass(frozen=True, slots=True)(cls)
        _DECLARED[made] = words, form, shape or {}
        return made

    return declare


def table_of(of: type[T] | TableOf[T]) -> TableOf[T]:
    """What was declared of a table."""
    return of if isinstance(of, TableOf) else _of_class(cast(Any, of))


def form_of(of: type[Any] | TableOf[Any]) -> str:
    """How such a table is written in a cure."""
    return of.form if isinstance(of, TableOf) else _DECLARED[of][1]


@cache
def _of_class(of: Any) -> TableOf[Any]:
    words, form, shape = _DECLARED[of]
    return TableOf(of, words, dict(_filled(of)), form, shape, getattr(of, "check", None), getattr(of, "fill", None))


def _filled(of: type[Any]) -> Iterator[tuple[str, Filled]]:
    for part in fields(of):
        match part.metadata.get(_MARK):
            case Filled() as filled:
                yield part.name, filled
            case (str(name), Key() as own):
                yield part.name, one(name or part.name, own)


def inner(of: type[Any] | TableOf[Any]) -> Kind[Any]:
    """A table inside another; None stands for one with a fault."""
    form = form_of(of)
    return Kind(lambda value, scope: table_of(of).read(Table(value, form=form), scope), None, form, "a table", of)


def section(of: type[T], usual: T) -> Kind[T]:
    """A table under a heading of its own, whose faults stand there; ``usual`` where it is left out or has any."""

    def take(table: Table, name: str, _default: object, scope: Scope) -> T:
        found: Table | None = table.get(name, Table, None)
        with table.at(Where(f"[{name}]", (name,))):
            return table_of(of).read(found, scope) if found else usual
        return usual

    return Kind(lambda *_: usual, usual, form_of(of), "a table", of, take_from=take)


def plain_or(
    plain: Kind[T], build: Callable[[T, Scope], Any], more: Kind[Any], *in_table: str, hint: str = ""
) -> Kind[Any]:
    """A plain value, of which something is built, or a table that says more: the same by its keys ``in_table``.

    ``hint`` is added to what a fault of the plain value says to try, where the table may have been meant.
    """

    def read(value: object, scope: Scope) -> Any:
        if isinstance(value, dict):
            return more.read(value, scope)
        try:
            taken = plain.read(value, scope)
        except Fault as fault:
            raise Fault(fault.what, "; ".join(filter(None, (fault.cure, hint))), fault.where) from None
        return build(taken, scope)

    of = (plain.sort or plain.form).removesuffix(_OR_TABLE)
    return Kind(read, None, plain.form, f"{of}{_OR_TABLE}", {"anyOf": [plain, more]}, in_table=in_table)


def list_of(
    entry: Kind[T], alone: bool = False, least: int = 1, most: int = MOST_ENTRIES, form: str = ""
) -> Kind[tuple[T, ...]]:
    """A list, read as far as its entries can be; one that stands ``alone`` may do without brackets.

    ``least`` and ``most`` are for the schema, where a rule of its own says more.
    """

    def take(table: Table, name: str, default: object, scope: Scope) -> object:
        if not table.has(name):
            return default
        return (table.one_or_each if alone else table.each)(name, entry.within(scope))

    shape = array_of(entry, least, most)
    of = entry.sort or entry.form
    sort = f"{of}, or a list of them" if alone else f"a list: {of}"
    schema = {"oneOf": [entry, shape]} if alone else shape
    return Kind(lambda *_: (), (), form or f"[{entry.form}]", sort, schema, take_from=take)


def name_of(word: str, stand_in: T) -> Kind[T]:
    """The name of something that the file holds under ``word``."""

    def read(value: object, scope: Scope) -> T:
        found: T = scope.names(word).find(value)
        return found

    return Kind(read, stand_in, '"…"', f"the name of a {word}", NAME.schema, NAME.called, names=word)


def by_name(word: str, read: Callable[[str, object, Scope], T], shape: object, place: str = "") -> Kind[tuple[T, ...]]:
    """What stands under ``word``, each by its name, from the name and its value; what follows may call it by that.

    ``place`` is where one stands, with room for its name.
    """

    def take(table: Table, name: str, _default: object, scope: Scope) -> tuple[T, ...]:
        place_of = place or f"[{name}.{{}}]"
        found = read_named(table, name, place_of, lambda key, value: read(key, value, scope), scope.file)
        scope.named[word] = found
        return found.sound

    schema = {"type": "object", "propertyNames": NAME, "additionalProperties": shape}
    return Kind(lambda *_: (), (), "", "tables by their names", schema, take_from=take)


def tables_by_name(word: str, of: type[T] | TableOf[T]) -> Kind[tuple[T, ...]]:
    """Tables under ``word``, each by its name."""
    return by_name(word, lambda name, value, scope: table_of(of).read(Table(value), scope, name=name), of)


def read_named(file: Table, word: str, place: str, read: Callable[[str, object], T], of: str) -> Names[T]:
    """What ``read`` makes of each key under ``word``; the faults of each are kept in ``file``."""
    table = file.get(word, lambda value: _read_heading(word, value), None if file.has(word) else Table({}))
    if table is None:
        return Names(word, None, of)
    things: dict[str, T | None] = dict.fromkeys(table)
    for name in things:
        with file.at(Where(place.format(name), (word, name))):
            things[name] = read(read_name(name), table[name])
    return Names(word, things, of)


def _read_heading(word: str, value: object) -> Table:
    if isinstance(value, list):
        cure = f"write [{word}] once, with one bracket at each side, and below it a key for each"
        raise Fault("the heading has two brackets at each side", cure)
    return Table(value)


def counted(
    word: str,
    of: type[Any] | TableOf[Any],
    others: Mapping[str, TableOf[Any]] | None = None,
    sort: str = "tables, each under a heading of its own",
    own: Collection[str] = (),
    together: Sequence[Collection[str]] = (),
    alone: bool = False,
) -> Kind[tuple[Any, ...]]:
    """Tables that are counted, each with a number and a name of its own; those in which nothing is at fault.

    ``others`` are what else one may be, by the key that tells so. ``own`` and ``together`` are those of
    :class:`~storystick.job.likeness.Likeness`. One that stands ``alone`` may have a heading with one bracket.
    """
    others = others or {}

    def take(file: Table, _name: str, _default: object, scope: Scope) -> tuple[Any, ...]:
        things: list[Any] = []
        numbers: dict[str, int] = {}
        is_alone = alone and file.has(word) and isinstance(file[word], dict)
        values: Sequence[object] = [file[word]] if is_alone else file.get(word, tables(f"[[{word}]]"), ())
        names = [_name_in(value) or default_name(word, number) for number, value in enumerate(values, 1)]
        likeness = Likeness(word, names, values, own, together)
        for number, value in enumerate(values, 1):
            with file.at(_place(word, number, value, is_alone)), likeness.reading(number - 1):
                table = Table(likeness.whole(number - 1))
                name = _read_own_name(word, number, numbers, table)
                form = next((other for key, other in others.items() if table.has(key)), of)
                things.append(table_of(form).read(table, scope, number=number, name=name))
        return tuple(things)

    items = {"oneOf": [*others.values(), of]} if others else of
    schema = {"oneOf": [items, array_of(items)]} if alone else array_of(items)
    return Kind(lambda *_: (), (), "", sort, schema, take_from=take)


def array_of(items: object, least: int = 1, most: int = MOST_ENTRIES) -> Schema:
    """The shape of a list."""
    return {"type": "array", "minItems": least, "maxItems": most, "items": items}


def _place(word: str, number: int, value: object, is_alone: bool) -> Where:
    """Where the table stands, with its name as far as that can be read."""
    return numbered_place(word, number, _name_in(value) or default_name(word, number), is_alone)


def _name_in(value: object) -> str:
    """The name that a table has, as far as it can be read; empty without one."""
    try:
        return read_name(Table(value)["name"])
    except (Fault, KeyError):
        return ""


def _read_own_name(word: str, number: int, numbers: dict[str, int], table: Table) -> str:
    """The name, which no other may have; ``numbers`` are those before it by name."""
    name = table.get("name", read_name, default_name(word, number))
    first = numbers.setdefault(name, number)
    if first != number:
        table.fault(f"{as_written(name)} is already the name of {word} {first}", "give each its own", "name")
    return name


def numbered_place(word: str, number: int, name: str, is_alone: bool = False) -> Where:
    """Where a fault in a stick or a cabinet stands; its name is said where it has one of its own."""
    default = default_name(word, number)
    words = default if name == default else f"{default} ({as_written(name)})"
    return Where(words, (word,) if is_alone else (word, number - 1))


def default_name(word: str, number: int) -> str:
    """The name of a stick or a cabinet that was given none."""
    return f"{word} {number}"


def insist(holds: bool, what: str, value: object) -> None:
    """That a thing made in Python, not read from a file, can be."""
    if not holds:
        raise ValueError(f"{what}, not {value}")
