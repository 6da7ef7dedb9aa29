"""`docgen keys`"""

from docgen.calls.asked import KeysCall
from docgen.cli.telling import DONE, print_json, say, tell_call

ABOUT = """\
List every key that a spec can have, with what it means, or tell how to write a part of it.

  docgen keys
  docgen keys straps                         one topic, with an example
  docgen keys card-pockets                   a ready part, and what it stands for
  docgen keys --schema > spec-schema.json    for an editor that completes while you type
"""
ASKED = KeysCall
READY_TOPIC = "parts"


def run(asked: KeysCall) -> int:
    """List the keys of the language, or tell of one topic."""
    from docgen.read import json_schema, render_keys

    if asked.topic is not None:
        if asked.schema:
            return tell_call("the schema is of all keys; leave out --schema, or the topic")
        return _tell_topic(asked.topic)
    if asked.schema:
        print_json(json_schema())
    else:
        from docgen.topics import list_topics

        say(render_keys(), end="")
        say(f"\nTopics, with an example each: docgen keys TOPIC\n{list_topics()}")
    return DONE


def _tell_topic(name: str) -> int:
    """Words, example and keys of a topic."""
    from docgen.read import render_keys
    from docgen.topics import TOPICS, read_topic
    from docgen.topics.ready import is_ready, list_ready, tell_ready

    if is_ready(name):
        say(tell_ready(name), end="")
        return DONE
    say(read_topic(name), end="")
    if name == READY_TOPIC:
        say(f"\nReady parts, each with what it asks for and stands for: docgen keys NAME\n{list_ready()}")
    _, tables = TOPICS[name]
    if tables:
        say(f"\n{render_keys(tables)}", end="")
    return DONE
