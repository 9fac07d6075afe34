"""Native YAML: a pattern that a designer can read and type.

::

    title: Harbour wheel
    threads:
      - shuttle: shuttle 1
        color: ecru
      - ball: ball
        wound from: shuttle 1
    parts:
      - part: round 1
        steps:
          - ring: A                                  # a ring with a name has its work under 'work'
            work: [4, p, 4, p, 4, p, 4]
          - turn
          - repeat: 5                                # five times in all; 'open' where the text leaves it open
            steps:
              - chain: [6, p, 6]
              - turn
              - ring: [4, {join: "previous ring, last picot"}, 4, p, 4, p, 4]
                on:                                  # what differs: on first, last or a number
                  last:
                    ring: [4, {join: "previous ring, last picot"}, 4, p, 4, {join: "ring A, first picot"}, 4]
              - turn
          - chain: [6, p, 6]
          - lock join: ring A, base
          - cut and tie
          - hide ends: sewn in
          - total: {rings: 6, chains: 6}
          - note: Block it while damp.

Work holds numbers of double stitches, ``p`` ``sp`` ``lp`` picots, ``j`` ``lj`` joins to a place not said, ``b`` a bead,
``/`` the second thread's side, and groups: ``{join: place}`` ``{lock join: place}`` ``{folded join: place}``
``{picot: 3 mm, beads: 2}`` ``{beads: 3}`` ``{first halves: 12}`` ``{thrown: {ring: [3, p, 3]}}``. Places are the words
of ``larkshead.model.placewords``; in brackets they may stand without quotes. Every key is told in the schema
``pattern.json``.
"""

from __future__ import annotations

import re
from typing import Any

from larkshead.model import ELEMENT_KINDS, Pattern
from larkshead.model.plain import pattern_to_plain
from larkshead.writing.losses import Written

_FLOW_KEYS = frozenset((*ELEMENT_KINDS, "work", "cut", "cut and tie", "attach", "lock join", "total"))
_WIDE = 110
_PLAIN = re.compile(r"[^\W\d_][\w .'()/+-]*(?<![ ])|[0-9][0-9./ ]*(?:mm|cm|in|yd|m)")
_PLAIN_BLOCK = re.compile(r"[^\W\d_](?:[\w .'()/+;!?-]|,)*(?<! )")
_OTHER_MEANING = frozenset(("null", "true", "false", "yes", "no", "on", "off", "y", "n", "nan", "inf"))
_UNPRINTABLE = re.compile("[\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")


def write(pattern: Pattern, convention: object | None = None) -> Written:
    """The pattern as YAML. Nothing is lost."""
    plain = pattern_to_plain(pattern)
    if not plain:
        return Written("steps: []\n" if pattern.parts else "{}\n")
    return Written("\n".join(block_lines(plain, "")) + "\n")


def block_lines(data: dict[str, Any], indent: str) -> list[str]:
    """The lines of a group of keys at an indentation."""
    lines: list[str] = []
    for key, value in data.items():
        lines += pair_lines(key, value, indent)
    return lines


def pair_lines(key: str, value: Any, indent: str) -> list[str]:
    """The lines of one key and its value."""
    name = key if key == "on" else scalar(key)
    if isinstance(value, (dict, list)) and value and not is_flow(key, value):
        inside = block_lines(value, indent + "  ") if isinstance(value, dict) else list_lines(value, indent + "  ")
        return [f"{indent}{name}:", *inside]
    if isinstance(value, (dict, list)):
        return wrapped(f"{indent}{name}: ", value, indent + "  ")
    return [f"{indent}{name}:" if value is None else f"{indent}{name}: {scalar(value, flow=False)}"]


def list_lines(values: list[Any], indent: str) -> list[str]:
    """The lines of a list, a dash each."""
    lines: list[str] = []
    for value in values:
        lines += item_lines(value, indent)
    return lines


def item_lines(value: Any, indent: str) -> list[str]:
    """The lines of one item with its dash."""
    if isinstance(value, dict) and value:
        inside = block_lines(value, indent + "  ")
        return [f"{indent}- {inside[0][len(indent) + 2 :]}", *inside[1:]]
    if isinstance(value, (dict, list)):
        return wrapped(f"{indent}- ", value, indent + "  ")
    return [f"{indent}- {scalar(value, flow=False)}"]


def is_flow(key: str, value: Any) -> bool:
    """Whether a value stands in brackets on its key's line."""
    return key in _FLOW_KEYS or (key == "threads" and all(isinstance(one, str) for one in value))


def wrapped(lead: str, value: Any, indent: str) -> list[str]:
    """A value in brackets after ``lead``, broken between its items where the line grows too long."""
    if isinstance(value, dict) or not value:
        return [lead + flow(value)]
    lines = []
    line = f"{lead}["
    for at, one in enumerate(value):
        text = flow(one) + ("," if at + 1 < len(value) else "]")
        if len(line) + len(text) + 1 > _WIDE and line.strip() and at:
            lines.append(line)
            line = indent + text
        else:
            line += text if line.endswith("[") else f" {text}"
    return [*lines, line]


def flow(value: Any) -> str:
    """A value in brackets."""
    if isinstance(value, list):
        return f"[{', '.join(map(flow, value))}]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{scalar(key)}: {flow(one)}".rstrip() for key, one in value.items()) + "}"
    # An empty value in brackets could be taken for a place that goes on.
    return "null" if value is None else scalar(value)


def scalar(value: Any, flow: bool = True) -> str:
    """A number, true or false as they are; a text plain where nothing in it can be taken for a mark, else in quotes."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return str(value)
    plain = _PLAIN.fullmatch(value) or (not flow and _PLAIN_BLOCK.fullmatch(value)) or (value == "/" and flow)
    if plain and value.lower() not in _OTHER_MEANING:
        return str(value)
    import json

    quoted = json.dumps(value, ensure_ascii=False)
    return _UNPRINTABLE.sub(lambda found: f"\\u{ord(found.group()):04x}", quoted)
