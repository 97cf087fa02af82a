"""Documents of tomlkit, with the look of a text kept where tomlkit by itself would spoil it; each function says how.

Comments right above a heading are held by tomlkit as the end of what stands before it. Here they travel with their
heading, in the white space before it, so that it can be taken out, moved or copied together with them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final, TypeAlias

import tomlkit
from tomlkit.container import Container
from tomlkit.items import AoT, Array, Comment, InlineTable, Item, Key, Null, Table, Trivia, Whitespace

from storystick.errors import Fault
from storystick.job.key_reference import as_toml
from storystick.job.sources import Source, read_tables

Body: TypeAlias = list[tuple[Key | None, Item]]

_KEPT: Final = 8
"""So many documents are kept: those of a few pages that are worked at."""

_DOCUMENTS: Final[dict[str, Container]] = {}
"""Documents by the text that they are; each is taken out while it is changed."""


def take_document(text: str) -> Container:
    """The document of a text, to be changed: tomlkit needs ten times as long as ``tomllib``, so it is parsed seldom.

    Raises:
        Fault: it is not TOML.
    """
    if kept := _DOCUMENTS.pop(text, None):
        return kept
    read_tables(Source("", text.encode("utf-8", "surrogatepass")))
    document = tomlkit.parse(text)
    _Comments().move(document.body)
    return document


def keep_document(document: Container) -> str:
    """The text of a document, by which it is found again."""
    text = document.as_string()
    while len(_DOCUMENTS) >= _KEPT:
        _DOCUMENTS.pop(next(iter(_DOCUMENTS)), None)
    _DOCUMENTS[text] = document
    return text


class _Comments:
    """Moves the comments right above each heading into it; those that begin the file stay."""

    def __init__(self) -> None:
        self._before: list[tuple[Body, int]] = []
        self._begun = False

    def move(self, body: Body) -> None:
        for number, (key, item) in enumerate(list(body)):
            match item:
                case Comment() if self._begun:
                    self._before.append((body, number))
                case Comment() | Null():
                    continue
                case Table() if key is None or not key.is_dotted():
                    self._enter(item)
                case AoT():
                    for table in item.body:
                        self._enter(table)
                case _:
                    self._before.clear()
            self._begun = True

    def _enter(self, table: Table) -> None:
        if not table.is_super_table():
            lead = ""
            for body, number in self._before:
                lead += body[number][1].as_string()
                body[number] = (None, Null())
            self._before.clear()
            table.trivia.indent = lead + table.trivia.indent
        self.move(table.value.body)


def body_of(table: Container | Table | InlineTable) -> Body:
    """What stands in a table, in order."""
    return container_of(table).body


def container_of(table: Any) -> Container:
    return table if isinstance(table, Container) else table.value


def value_item(value: object) -> Item:
    """A value as an item."""
    return parsed_value(as_toml(value))


def parsed_value(text: str) -> Item:
    """A value as it is written, as an item."""
    return tomlkit.value(text)


def read_value(text: str) -> Any:
    """A value as it is written in a file.

    Raises:
        Fault: it is none, or more than one.
    """
    said = read_tables(Source("", f"value = {text.strip()}\n".encode("utf-8", "surrogatepass")))
    if list(said) != ["value"]:
        raise Fault("more than one value is written there", "write one, as behind the equals sign in the text")
    return said["value"]


def key_text(name: str) -> str:
    """A key as it is written."""
    return tomlkit.key(name).as_string()


def plain(item: object) -> Any:
    """What an item says."""
    return item.unwrap() if hasattr(item, "unwrap") else item


def put_line(table: Container | Table, name: str, item: Item, newline: str) -> None:
    """A key at the end of a table's own lines: tomlkit would put it behind the empty line, or before a comment."""
    container = container_of(table)
    pairs = list(container.body)
    own = [number for number, (key, said) in enumerate(pairs) if key is not None and is_line(key, said)]
    last = pairs[own[-1]][1] if own else None
    if last is not None and not isinstance(last, Table):
        item.trivia.indent = last.trivia.indent
        last.trivia.trail = last.trivia.trail or newline
    elif isinstance(table, Table) and not own:
        table.trivia.trail = table.trivia.trail or newline
    item.trivia.trail = newline
    pairs.insert(own[-1] + 1 if own else 0, (tomlkit.key(name), item))
    refill(table, pairs)


def is_line(key: Key, item: Item) -> bool:
    """Whether it is written as a line, not below a heading of its own."""
    return not isinstance(item, Table | AoT) or (isinstance(item, Table) and key.is_dotted())


def cut_line(table: Container | Table, name: str, *, comment_too: bool) -> None:
    """A key with its line, though the comment behind it may stay on a line of its own."""
    container = container_of(table)
    number = next(number for number, (key, _) in enumerate(container.body) if key is not None and key.key == name)
    trivia = container.body[number][1].trivia
    container.remove(name)
    if isinstance(table, Table):
        dict.pop(table, name, None)
    if trivia.comment and not comment_too:
        container.body[number] = (None, Comment(Trivia(trivia.indent, "", trivia.comment, trivia.trail)))


def renamed(table: Container | Table, old: str, new: str) -> None:
    """Another name for what stands by one in a table: tomlkit keeps headings as they were read."""
    pairs = list(body_of(table))
    own = [(key, item) for key, item in pairs if key is not None and key.key == old]
    for _, item in own:
        forget_heading(item)
    kept = {id(item): tomlkit.key(new) for _, item in own}
    for key, item in own:
        kept[id(item)]._dotted = key.is_dotted()
    refill(table, [(kept.get(id(item), key), item) for key, item in pairs])


def forget_heading(item: Item) -> None:
    """Let it be written anew, with those below it."""
    match item:
        case Table():
            item.display_name = None
            for _, below in item.value.body:
                forget_heading(below)
        case AoT():
            for table in item.body:
                forget_heading(table)


def refill(table: Container | Table, pairs: Iterable[tuple[Key | None, Item]]) -> None:
    """A table that holds this, in this order: tomlkit has no way to put something in the middle."""
    container = container_of(table)
    for name in list(container):
        container.remove(name)
    container.body.clear()
    container.parsing(True)
    for key, item in pairs:
        container.append(key, item)
    container.parsing(False)
    if isinstance(table, Table):
        for key, item in container.body:
            if key is not None:
                dict.__setitem__(table, key.key, item)


def braces(said: Iterable[tuple[str, str]]) -> str:
    """A table in braces, of keys and values as they are written."""
    inside = ", ".join(f"{name} = {value}" for name, value in said)
    return f"{{ {inside} }}" if inside else "{}"


def written_pairs(table: InlineTable | Table, before: str = "") -> Iterator[tuple[str, str]]:
    """Keys and values of a table in braces as they are written: tomlkit would leave blanks and commas of what goes."""
    yield from written_pairs_of(table.value.body, before)


def written_pairs_of(body: Iterable[tuple[Key | None, Item]], before: str = "") -> Iterator[tuple[str, str]]:
    """As :func:`written_pairs`, of some of what a table holds."""
    for key, item in body:
        if key is None:
            continue
        own = f"{before}{key.as_string().strip()}"
        if isinstance(item, Table):
            yield from written_pairs(item, f"{own}.")
        else:
            yield own, item.as_string()


def entries_text(some: Array) -> list[str]:
    """The entries of a list as they are written."""
    return [item.as_string() for item in list.__iter__(some)]


def inner_comments(some: Array) -> list[str]:
    """The comments that stand inside a list, and in the lists inside it."""
    said: list[str] = []
    for group in some._value:
        if isinstance(group.value, Array):
            said += inner_comments(group.value)
        if group.comment:
            said.append(group.comment.as_string().strip())
    return said


def is_on_lines(some: Array) -> bool:
    """Whether a list is written over several lines."""
    return "\n" in some.as_string()


def put_entry(some: Array, number: int, value: object) -> Array:
    """The list with one more entry; one on a single line is written anew, since tomlkit forgets blanks there."""
    if some and is_on_lines(some):
        some.insert(number, value_item(value))
        return some
    texts = entries_text(some)
    return _on_one_line([*texts[:number], as_toml(value), *texts[number:]])


def cut_entry(some: Array, number: int) -> Array:
    """The list without an entry."""
    if len(some) > 1 and is_on_lines(some):
        del some[number]
        return some
    texts = entries_text(some)
    return _on_one_line(texts[:number] + texts[number + 1 :])


def _on_one_line(texts: list[str]) -> Array:
    some = tomlkit.value(f"[{', '.join(texts)}]")
    assert isinstance(some, Array)
    return some


def headed(path: tuple[str, ...], value: Mapping[str, object], *, double: bool, below: tuple[str, ...]) -> str:
    """The text of a table under its heading; lists of tables under a word of ``below`` have headings of their own."""
    dotted = ".".join(map(key_text, path))
    lines = [f"[[{dotted}]]" if double else f"[{dotted}]"]
    later: list[str] = []
    for name, said in value.items():
        if name in below and isinstance(said, list):
            later += [headed((*path, name), each, double=True, below=below) for each in said]
        else:
            lines.append(f"{key_text(name)} = {as_toml(said)}")
    return "\n\n".join(["\n".join(lines), *(text.rstrip("\n") for text in later)]) + "\n"


def parsed_below(text: str, depth: int, newline: str) -> Body:
    """What stands in a text of headings below the first ``depth`` words of them."""
    body = tomlkit.parse(text.replace("\n", newline)).body
    for _ in range(depth):
        body = next(item for _, item in body if isinstance(item, Table)).value.body
    return [(key, item) for key, item in body if key is not None]


def put_tables(table: Container | Table, place: int, tables: Body, newline: str, is_followed: bool) -> None:
    """Tables with headings at a place in another's body, an empty line before them, and behind where more follows."""
    pairs = list(body_of(table))
    before, behind = pairs[:place], pairs[place:]
    if before or isinstance(table, Table):
        end_with_blank(before, newline)
    if is_followed or any(key is not None for key, _ in behind):
        end_with_blank(tables, newline)
    refill(table, [*before, *tables, *behind])


def end_with_blank(body: Body, newline: str) -> None:
    """Let what ends with this body end with an empty line."""
    last = next((item for _, item in reversed(body) if not isinstance(item, Null)), None)
    match last:
        case Table():
            end_with_blank(last.value.body, newline)
        case AoT():
            end_with_blank(last.body[-1].value.body, newline)
        case Whitespace():
            pass
        case None:
            body.append((None, Whitespace(newline)))
        case _:
            last.trivia.trail = last.trivia.trail or newline
            body.append((None, Whitespace(newline)))
