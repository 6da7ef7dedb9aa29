"""The language as a JSON Schema (draft 2020-12), so that an editor can complete and check a spec."""

from collections.abc import Callable
from typing import Any

from docgen.geometry.outline import CORNERS
from docgen.read import kinds
from docgen.read.kinds import NUMBER_MOST, Key, list_keys
from docgen.read.spec import Spec

Schema = dict[str, Any]
NAME: Schema = {"type": "string", "pattern": f"^{kinds.NAME_PATTERN}$", "maxLength": kinds.NAME_MOST}
NAMED = "A name of your own: small letters, digits and hyphens, beginning with a letter."
WORDS: Schema = {"type": "string", "minLength": 1, "maxLength": kinds.WORDS_MOST}


def json_schema() -> Schema:
    """The whole language; made of the same keys as the checks, so that both say the same."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Build spec", **_make_table(Spec)}


def _make_table(owner: type[Any], *, is_whole: bool = True) -> Schema:
    """A table of the keys of a class; one of changes alone needs none of them."""
    parts = list_keys(owner)
    required = [part.word for part in parts if part.key.required and is_whole]
    return {
        "type": "object",
        "properties": {part.word: _make_key(part.key, part.word) for part in parts},
        "additionalProperties": False,
        **({"required": required} if required else {}),
    }


def _make_key(key: Key, word: str) -> Schema:
    kind = _describe_kind(key, word)
    words = [key.meaning, f"{kind[:1].upper()}{kind[1:]}."]
    if key.default:
        words.append(f"When left out: {key.default}.")
    default = {} if key.value is None else {"default": key.value}
    shape = SHAPES.get(key.kind)
    return {"description": " ".join(words), **default, **(shape(key) if shape else _make_words(key))}


def _describe_kind(key: Key, word: str) -> str:
    """What may be written, as an editor shows it beside the key: there is no list of keys below, and no other page."""
    if key.kind in ("name", "names"):
        tables = f"[{key.to}]" + (f" or [{key.or_to}]" if key.or_to else "")
        return f"the name of one of {tables}" if key.kind == "name" else f"names of {tables} in a list, one also alone"
    if key.kind == "named tables":
        return f"one table per name, [{word}.NAME]"
    if key.kind == "tables":
        return f"a list of tables, {word} = [{{ ... }}] or [[...]] for each"
    return {"table": "a table of keys", "choice": "one of a list of words"}.get(key.kind, kinds.KINDS[key.kind])


def _make_words(key: Key, item: Schema | None = None) -> Schema:
    """Words with examples of what is written of that kind."""
    examples = kinds.list_examples(key)
    return {**(item or WORDS), **({"examples": examples} if examples else {})}


def _make_length(key: Key) -> Schema:
    kind = kinds.KINDS["length"]
    told = f"{key.meaning} {kind[:1].upper()}{kind[1:]}."
    return {
        "anyOf": [{"description": told, **_make_words(key)}, {"description": f"{key.meaning} Nothing.", "const": 0}]
    }


def _make_corners(key: Key) -> Schema:
    """One radius, or one for each corner of a rectangle or strip, by its name."""
    names = [name for corners in CORNERS.values() for name in corners]
    each = {
        "description": key.meaning,
        "type": "object",
        "properties": dict.fromkeys(names, _make_length(key)),
        "additionalProperties": False,
    }
    return {"anyOf": [*_make_length(key)["anyOf"], each]}


def _make_optional_words(key: Key) -> Schema:
    most = kinds.NOTE_MOST if key.kind == "note" else kinds.WORDS_MOST
    words = {"type": "string", "maxLength": most, **({"minLength": 1} if key.required else {})}
    return _make_words(key, words)


def _make_list(item: Schema, key: Key) -> Schema:
    if key.size:
        return {"type": "array", "items": item, "minItems": key.size, "maxItems": key.size}
    most = {"maxItems": key.most} if key.most else {}
    return {"type": "array", "items": item, **({"minItems": 1} if key.required else {}), **most}


def _make_words_list(key: Key) -> Schema:
    return _make_list({"description": key.meaning, **_make_words(key)}, key)


def _make_one_or_list(item: Schema, key: Key) -> Schema:
    told = {"description": key.meaning, **item}
    return {"anyOf": [told, {"description": key.meaning, **_make_list(told, key)}]}


def _make_named(item: Schema, key: Key) -> Schema:
    limits = {"maxProperties": key.most} if key.most else {}
    least = {"minProperties": 1} if key.required else {}
    named = {"description": NAMED, **item}
    return {"type": "object", "propertyNames": NAME, "additionalProperties": named, **least, **limits}


def _make_count(key: Key) -> Schema:
    least, most = (0, NUMBER_MOST) if key.kind == "numbers" else (key.least, key.most)
    return {"type": "integer", "minimum": least, "maximum": most}


SHAPES: dict[str, Callable[[Key], Schema]] = {
    "text": _make_optional_words,
    "note": _make_optional_words,
    "code": lambda key: dict(NAME),
    "name": lambda key: dict(NAME),
    "version": lambda key: {"type": "string", "pattern": f"^{kinds.VERSION_PATTERN}$"},
    "link": lambda key: {"type": "string", "pattern": f"^{kinds.LINK_PATTERN}$", "maxLength": kinds.LINK_MOST},
    "length": _make_length,
    "count": _make_count,
    "flag": lambda key: {"type": "boolean"},
    "choice": lambda key: {"enum": list(key.choices)},
    "names": lambda key: _make_one_or_list(NAME, key),
    "texts": lambda key: _make_one_or_list(_make_words(key), key),
    "lengths": lambda key: _make_list(_make_length(key), key),
    "densities": _make_words_list,
    "sides": _make_words_list,
    "corners": _make_corners,
    "measures": lambda key: _make_named(_make_length(key), key),
    "numbers": lambda key: _make_named(_make_count(key), key),
    "table": lambda key: _make_table(key.of),
    "tables": lambda key: _make_list(_make_table(key.of), key),
    "named tables": lambda key: _make_named(_make_table(key.of), key),
    "change": lambda key: _make_table(key.of, is_whole=False),
    "changes": lambda key: _make_named(_make_table(key.of, is_whole=False), key),
}
