"""From a plan's tree to subjects: own facts, collections of repeated lines, as-built values before planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from speclint.facts.catalogue import Catalogue
from speclint.facts.compute import compute
from speclint.facts.layers_built import layers_built
from speclint.facts.settled import is_made, settled
from speclint.facts.subject import Subject
from speclint.kernel.values import DEMANDED, Absent, Known, Unknown, ValueSet
from speclint.plan.sections import ANEW, Entry
from speclint.plan.tree import Node, Plan, same
from speclint.plan.vocabulary import Key, Vocabulary

RECORD = "record"
FILED = "any"  # sections that may stand under any address


Told = Mapping[str, str]  # of each fact the key whose line tells it, here or further out


def build_subjects(plan: Plan, catalogue: Catalogue) -> Subject:
    """The plan as a tree of subjects; the root is the plan itself."""
    return _subject(plan.root, None, catalogue, {})


def walk(root: Subject) -> Iterator[Subject]:
    """Every subject of a tree, outermost first; each once."""
    seen: set[int] = set()
    waiting = [root]
    while waiting:
        subject = waiting.pop(0)
        if id(subject) in seen:
            continue
        seen.add(id(subject))
        yield subject
        for items in subject.collections.values():
            waiting.extend(items)


def _subject(node: Node, outer: Subject | None, catalogue: Catalogue, outward: Told) -> Subject:
    words = catalogue.words
    keys = words.sections[node.kind].keys
    filed = words.sections[node.kind].within == FILED
    entries, relaid = (node.entries, {}) if filed else layers_built(node, words)
    single, repeated = _sorted_entries(entries, keys)
    measured = node.kind == RECORD and is_made(node.entries, catalogue)
    planned = _own(single, catalogue, measured)
    built = {} if filed else _as_built(node, catalogue)
    differs = {
        fact: (planned[fact].text, value.text)
        for fact, value in built.items()
        if fact in planned and same(planned[fact].text) != same(value.text)
    }
    own = {**({} if filed else _said_anew(single, outward, catalogue, keys)), **planned, **built}
    own.update(_name_kind(node, words, own))
    subject = Subject(
        kind=node.kind,
        name=node.name,
        address=node.address,
        span=node.span,
        own=own,
        outer=outer,
        catalogue=catalogue,
        compute=compute,
    )
    subject.differs = {**differs, **relaid}
    told = {**outward, **{fact: entry.key for entry in single for fact in entry.facts}}
    for collection, lines in repeated.items():
        items, denied = _items(lines, subject, measured)
        subject.denied |= denied
        anew = any(entry.mark == ANEW for entry in lines)
        subject.collections[collection] = (*(() if anew else _inherited(collection, items, subject)), *items)
    for kind in words.sections.values():
        children = node.of_kind(kind.name)
        if children or kind.within == node.kind:
            subject.collections[kind.collects or f"{kind.name}s"] = tuple(
                _subject(child, subject, catalogue, told) for child in children
            )
    return subject


def _sorted_entries(
    entries: Iterable[Entry], keys: dict[str, Key] | object
) -> tuple[list[Entry], dict[str, list[Entry]]]:
    assert hasattr(keys, "get")
    single: list[Entry] = []
    repeated: dict[str, list[Entry]] = {}
    for entry in entries:
        key = keys.get(entry.key)
        if key is not None and key.repeats:
            repeated.setdefault(key.repeats, []).append(entry)
        else:
            single.append(entry)
    return single, repeated


def _own(entries: Iterable[Entry], catalogue: Catalogue, measured: bool) -> dict[str, ValueSet]:
    own: dict[str, ValueSet] = {}
    for entry in entries:
        own.update(settled(entry.facts, catalogue, measured))
    return own


def _said_anew(entries: Iterable[Entry], outward: Told, catalogue: Catalogue, keys: object) -> dict[str, ValueSet]:
    """What a line leaves out is not taken from the line of that key further out, whose place it takes."""
    assert hasattr(keys, "get")
    anew: dict[str, ValueSet] = {}
    for entry in entries:
        key = keys.get(entry.key)
        silent = (fact for fact in key.facts if outward.get(fact) == entry.key) if key is not None else ()
        anew.update((fact, catalogue.facts[fact].left_out) for fact in silent)
    return anew


def _as_built(node: Node, catalogue: Catalogue) -> dict[str, ValueSet]:
    """Value lines of records for this very address: what was built stands before what was planned."""
    keys = catalogue.words.sections[node.kind].keys
    built: dict[str, ValueSet] = {}
    for record in node.of_kind(RECORD):
        measured = is_made(record.entries, catalogue)
        for entry in record.entries:
            key = keys.get(entry.key)
            if key is not None and not key.repeats:
                told = settled(entry.facts, catalogue, measured)
                built.update({fact: value for fact, value in told.items() if fact in key.facts})
    return built


def _name_kind(node: Node, words: Vocabulary, own: dict[str, ValueSet]) -> dict[str, ValueSet]:
    """A section without its kind line takes the longest known kind in its name."""
    fact = words.sections[node.kind].view
    if not fact or fact in own:
        return {}
    kind = words.kinds[words.shapes[fact].detail]
    name = f" {same(node.name)} "
    found = [
        (len(tokens), word)
        for rows in kind.spellings.values()
        for tokens, word in rows
        if f" {' '.join(tokens)} " in name
    ]
    return {fact: Known(max(found)[1], node.name, node.span)} if found else {}


def _inherited(collection: str, items: tuple[Subject, ...], subject: Subject) -> tuple[Subject, ...]:
    """Of a collection that a word tells apart, what a part takes from its assembly: all but what it says itself."""
    view = next((fact for each, fact in subject.catalogue.words.views if each == collection), "")
    further = subject.outer.members(collection) if view and subject.outer is not None else ()
    said = {value.value for one in items if isinstance(value := one.get(view), Known)} | subject.denied
    return tuple(one for one in further or () if not (isinstance(v := one.get(view), Known) and v.value in said))


def _items(entries: list[Entry], outer: Subject, measured: bool) -> tuple[tuple[Subject, ...], frozenset[str]]:
    """The items of a repeated line in order, and the words that a line such as ``membrane none`` rules out.

    Lines placed by rank go before the first item of a higher rank.
    """
    items: list[Subject] = []
    denied: set[str] = set()
    for entry in entries:
        told = [value for value in entry.facts.values() if not isinstance(value, Absent)]
        silent = len(told) < 2 and len(told) < len(entry.facts)
        if silent:
            denied.update(str(value.value) for value in told if isinstance(value, Known))
            denied.update(() if told else _every_word(entry, outer.catalogue))
        if silent or entry.mark == ANEW:
            continue
        name = entry.mark if entry.mark != "placed by rank" else ""
        item = _item(entry, name, outer, measured)
        rank = _rank(item, outer.catalogue.words)
        at = len(items)
        if entry.mark == "placed by rank" and rank is not None:
            higher = (i for i, one in enumerate(items) if (_rank(one, outer.catalogue.words) or 0) > rank)
            at = next(higher, at)
        items.insert(at, item)
    for place, item in enumerate(items):
        kind = item.kind.replace(" ", "-")
        if f"{kind}.position" in outer.catalogue.facts:
            item.cache[f"{kind}.position"] = Known(place + 1)
        if f"{kind}.there" in outer.catalogue.facts and _tells(item):
            item.cache[f"{kind}.there"] = Known(True)
    return tuple(items), frozenset(denied)


def _tells(item: Subject) -> bool:
    """Whether a line tells more than that nobody knows, or others do: what is told of somehow is there."""
    views = {view for _, view in item.catalogue.words.views}
    said = [value for fact, value in item.own.items() if fact not in views]
    return not said or any(not isinstance(one, Unknown) or one.origin == DEMANDED for one in said)


def _every_word(entry: Entry, catalogue: Catalogue) -> Iterator[str]:
    """Every word by which the items of a line are told apart; ``layer none`` rules all of them out."""
    for _, view in catalogue.words.views:
        if view in entry.facts:
            yield from catalogue.words.kinds[catalogue.words.shapes[view].detail].words


def _item(entry: Entry, name: str, outer: Subject, measured: bool) -> Subject:
    label = next(
        (
            value.text.strip('"')
            for value in entry.facts.values()
            if isinstance(value, Known) and value.text.startswith('"')
        ),
        "",
    )
    first = next((value.text for value in entry.facts.values() if isinstance(value, Known) and value.text), entry.key)
    return Subject(
        kind=entry.key,
        name=name or label or first,
        address=(*outer.address, name or f"{first} {label}".strip() if first != f'"{label}"' else label),
        span=entry.span,
        own=settled(entry.facts, outer.catalogue, measured),
        outer=outer,
        catalogue=outer.catalogue,
        compute=compute,
    )


def _rank(item: Subject, words: Vocabulary) -> int | None:
    for fact, value in item.own.items():
        shape = words.shapes.get(fact)
        if shape is not None and shape.sort == "word" and isinstance(value, Known):
            word = words.word(shape.detail, str(value.value))
            if word is not None and "rank" in word.properties:
                return int(word.properties["rank"])
    return None
