"""The language as a JSON Schema (draft 2020-12), so that an editor can complete and check a spec."""

from collections.abc import Callable
from typing import Any

from docgen.read import kinds
from docgen.read.kinds import NUMBER_MOST, Key, list_keys
from docgen.read.spec import Spec

Schema = dict[str, Any]
NAME: Schema = {"type": "string", "pattern": f"^{kinds.NAME_PATTERN}$", "maxLength": kinds.NAME_MOST}
WORDS: Schema = {"type": "string", "minLength": 1, "maxLength": kinds.WORDS_MOST}
LENGTH: Schema = {"anyOf": [WORDS, {"const": 0}]}


def json_schema() -> Schema:
    """The whole language; made of the same keys as the checks, so that both say the same."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Build spec", **_make_table(Spec)}


def _make_table(owner: type[Any], *, is_whole: bool = True) -> Schema:
    """A table of the keys of a class; one of changes alone needs none of them."""
    parts = list_keys(owner)
    required = [part.word for part in parts if part.key.required and is_whole]
    return {
        "type": "object",
        "properties": {part.word: _make_key(part.key) for part in parts},
        "additionalProperties": False,
        **({"required": required} if required else {}),
    }


def _make_key(key: Key) -> Schema:
    words = [key.meaning, f"{kinds.KINDS[key.kind][:1].upper()}{kinds.KINDS[key.kind][1:]}."]
    if key.default:
        words.append(f"When left out: {key.default}.")
    default = {} if key.value is None else {"default": key.value}
    shape = SHAPES.get(key.kind)
    return {"description": " ".join(words), **default, **(shape(key) if shape else WORDS)}


def _make_optional_words(key: Key) -> Schema:
    most = kinds.NOTE_MOST if key.kind == "note" else kinds.WORDS_MOST
    return {"type": "string", "maxLength": most, **({"minLength": 1} if key.required else {})}


def _make_list(item: Schema, key: Key) -> Schema:
    if key.size:
        return {"type": "array", "items": item, "minItems": key.size, "maxItems": key.size}
    most = {"maxItems": key.most} if key.most else {}
    return {"type": "array", "items": item, **({"minItems": 1} if key.required else {}), **most}


def _make_named(item: Schema, key: Key) -> Schema:
    limits = {"maxProperties": key.most} if key.most else {}
    least = {"minProperties": 1} if key.required else {}
    return {"type": "object", "propertyNames": NAME, "additionalProperties": item, **least, **limits}


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
    "length": lambda key: dict(LENGTH),
    "count": _make_count,
    "flag": lambda key: {"type": "boolean"},
    "choice": lambda key: {"enum": list(key.choices)},
    "names": lambda key: {"anyOf": [NAME, _make_list(NAME, key)]},
    "texts": lambda key: {"anyOf": [WORDS, _make_list(WORDS, key)]},
    "lengths": lambda key: _make_list(LENGTH, key),
    "sides": lambda key: _make_list(WORDS, key),
    "corners": lambda key: {"anyOf": [LENGTH, _make_named(LENGTH, key)]},
    "measures": lambda key: _make_named(LENGTH, key),
    "numbers": lambda key: _make_named(_make_count(key), key),
    "table": lambda key: _make_table(key.of),
    "tables": lambda key: _make_list(_make_table(key.of), key),
    "named tables": lambda key: _make_named(_make_table(key.of), key),
    "change": lambda key: _make_table(key.of, is_whole=False),
    "changes": lambda key: _make_named(_make_table(key.of, is_whole=False), key),
}
