"""How many, told in words: ``make five more like it``, ``six times in all``, ``until there are seven rings and seven chains``.

Each form is a pattern over the kinds of the next tokens; the first that fits is taken. Every form ends in a SaidRepeat: so many
passes of what stands before (in all or on top), or so many elements in the end, or as many as there are places.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from larkshead.model import ELEMENT_KINDS
from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.said import Said, SaidElement, SaidRepeat
from larkshead.reading.grammar.tokens import Token
from larkshead.reading.source import Span

if TYPE_CHECKING:
    from larkshead.reading.grammar.items import WorkSyntax

_WINDOW = 26
_ELEMENT = "(?:ring|chain|split_ring|split_chain|mock_ring|josephine_ring|thrown_ring)"
_SIZE = "(?:(?:small|large|glue|of|this|free|long) )*"
_LEAD = "(?:(?:glue|WORD|this|again|repeat|COMMA|to|with|like|go_on|of|from|after|pronoun|restating|previous|same|each|fasten|label|space|ORD|work_over|centre) ){0,9}"
_SHORT = "(?:(?:glue|WORD|this|again|repeat|go_on|COMMA|restating|pronoun|work_over) ){0,4}"
_TAIL = "(?:(?:glue|this|WORD|of|again) ){0,3}"
_END = "(?:STOP|SEMI|PARA|END|COMMA|COLON|NL|SHUT) "


_STANDS_FOR = {"{E}": _ELEMENT, "{S}": _SIZE, "{L}": _LEAD, "{s}": _SHORT, "{T}": _TAIL, "{end}": _END}
# The kind of token that a form cannot do without: its number, or else the word it turns on.
_KEY = re.compile(r"\(\?P<n>(\w+)\)|\b(go_on|until|another|around|length_wanted) ")


class _Form:
    """A pattern compiled when its key word first stands in a text: compiling them all takes longer than reading a page."""

    __slots__ = ("_compiled", "_key", "_text")

    def __init__(self, text: str) -> None:
        self._text = text
        key = _KEY.search(text)
        self._key = f"{key[1] or key[2]} " if key else ""
        self._compiled: re.Pattern[str] | None = None

    def match(self, kinds: str) -> re.Match[str] | None:
        if self._key not in kinds:
            return None
        if self._compiled is None:
            text = self._text
            for mark, meaning in _STANDS_FOR.items():
                text = text.replace(mark, meaning)
            self._compiled = re.compile(text)
        return self._compiled.match(kinds)


def _pattern(text: str) -> _Form:
    return _Form(text)


class Counts:
    """Statements of number. Mixed into Statements, which gives the cursor and the list of what is said."""

    c: Cursor
    said: list[Said]
    open_groups: list[str]
    open: SaidElement | None
    # The kind of the last element when it was named in the plural before its work was told.
    from_name: str
    # The kind of element named before its work is told.
    named: str
    named_count: int
    syntax: WorkSyntax

    def count(self) -> bool:
        """A statement of number at the position."""
        c = self.c
        window = c.tokens[c.at : min(c.at + _WINDOW, c.limit)]
        kinds = "".join(t.kind + " " for t in window) + ("END " if c.at + _WINDOW >= c.limit else "")
        for pattern, make in _FORMS:
            found = pattern.match(kinds)
            if found is None:
                continue
            stop = found.end("all") if "all" in found.re.groupindex else found.end()
            size = min(kinds.count(" ", 0, stop), len(window))
            repeat = make(found, kinds, window)
            if repeat is None or size == 0:
                continue
            start = c.at
            c.at += size
            repeat.span = c.span(start)
            if repeat.what == "unit" and self.from_name and repeat.times and " of this " in f" {found.group()}":
                repeat.what, repeat.labels = "named", [self.from_name]
            self.open = None
            if repeat.what == "ahead":
                self.open_groups.append("ahead")
            if repeat.what == "counts" and len(repeat.counts) == 1:
                # "Three rings side by side. The first: ..."
                self.named = next((kind for kind in repeat.counts if kind in ELEMENT_KINDS), self.named)
                self.named_count = repeat.counts.get(self.named, 1)
            self.said.append(repeat)
            return True
        return False


def _at(found: re.Match[str], kinds: str, window: list[Token], group: str) -> Token | None:
    """The token a named group of the pattern stands for."""
    if group not in found.re.groupindex or found.group(group) is None:
        return None
    return window[kinds.count(" ", 0, found.start(group))]


def _number(found: re.Match[str], kinds: str, window: list[Token], group: str = "n") -> int:
    token = _at(found, kinds, window, group)
    if token is None:
        return 0
    return {"twice": 2, "once": 1}.get(token.kind, 0) or int(token.value)


def _times(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """So many times what was told; ``more`` on top of the first."""
    how = found.group("how") or ""
    told_again = "repeat" in kinds[: found.start("n")].split() and "in_all" not in how
    return SaidRepeat(
        "unit", Span(0, 0), times=_number(found, kinds, window), how="more" if "more" in how or told_again else "all"
    )


def _ahead(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("ahead", Span(0, 0), times=_number(found, kinds, window), how="all")


def _alike(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    kind = _at(found, kinds, window, "kind")
    repeat = SaidRepeat("alike", Span(0, 0), times=_number(found, kinds, window), how="more")
    if kind is not None:
        size = next((x for x in kinds[: found.start("kind")].split()[-3:] if x in ("large", "small")), "")
        repeat.counts = {f"{size} {ELEMENTS[kind.kind]}".strip(): repeat.times or 1}
    return repeat


def _units(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """So many of what was just told, in all."""
    return SaidRepeat("unit", Span(0, 0), times=_number(found, kinds, window), how="all")


def _to_that(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """On to the one of that number: so many in all, unless a number told behind says that the last is only reached."""
    token = _at(found, kinds, window, "n")
    mark = "reached" if token is not None and token.kind == "ORD" else ""
    return SaidRepeat("unit", Span(0, 0), mark=mark, times=_number(found, kinds, window), how="all")


def _more_units(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("unit", Span(0, 0), mark="those", times=_number(found, kinds, window), how="more")


def _named_times(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """So many times the elements named, the last ones told."""
    named = found.group("named").split()
    repeat = SaidRepeat(
        "named", Span(0, 0), times=_number(found, kinds, window), how="more" if "more" in found.group("how") else "all"
    )
    repeat.labels = (
        ["ring" for k in named if k == "label"]
        + [ELEMENTS[k] for k in named if k in ELEMENTS]
        + ["space" for k in named if k in ("space", "bare_thread")]
    )
    return repeat if repeat.labels else None


def _like_the_first(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """The others like those told first, where the words speak of an earlier passage."""
    mark = "first" if "ORD" in found.group().split() else ""
    return SaidRepeat("alike", Span(0, 0), mark=mark, times=_number(found, kinds, window), how="more")


def _copies(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("copy", Span(0, 0), times=_number(found, kinds, window), how="all")


def _one_more(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("alike", Span(0, 0), times=1, how="more")


def _elements(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """So many elements of each kind in the end."""
    counts: dict[str, int] = {}
    name = ""
    for n, k, s in (("n", "kind", "size"), ("m", "other", "osize")):
        kind = _at(found, kinds, window, k)
        if kind is not None:
            name = ELEMENTS.get(kind.kind, name)
            sizes = found.group(s).split() if s in found.re.groupindex else []
            size = next((x for x in sizes if x in ("large", "small")), "")
            each_side = (
                2 if kinds[found.end() :].startswith(("either_side ", "to either_side ", "glue either_side ")) else 1
            )
            counts.setdefault(f"{size} {name}".strip(), each_side * _number(found, kinds, window, n))
    named = (found.groupdict().get("named") or "").split()
    # "the gap and that second ring until ...": the pass begins with the thread.
    gap = next((i for i, kind in enumerate(named) if kind in ("space", "bare_thread")), None)
    labels = ["space"] if gap is not None and not any(kind in ELEMENTS for kind in named[:gap]) else []
    return SaidRepeat("counts", Span(0, 0), how="all", counts=counts, labels=labels)


def _sized(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    counts = {
        f"{found.group('size')} ring": _number(found, kinds, window),
        f"{found.group('osize')} ring": _number(found, kinds, window, "m"),
    }
    return SaidRepeat("counts", Span(0, 0), how="all", counts=counts)


def _each(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("counts", Span(0, 0), how="all", counts={"each": _number(found, kinds, window)})


def _around(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("unit", Span(0, 0), around=True)


def _open(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    """Until something that is no number: as often as it takes, or as there are places where each is to be used."""
    until = found.group().split("until ", 1)[1].split()
    if ("each" in until and any(kind in PICOTS for kind in until)) or "attach" in until:
        return SaidRepeat("unit", Span(0, 0), around=True)
    return SaidRepeat("unit", Span(0, 0), mark="until")


def _wanted(found: re.Match[str], kinds: str, window: list[Token]) -> SaidRepeat | None:
    return SaidRepeat("unit", Span(0, 0), open_ended=True)


_FORMS: list[tuple[_Form, Callable[[re.Match[str], str, list[Token]], SaidRepeat | None]]] = [
    # until there are six rings and six chains; carry on until you have four of each
    (
        _pattern(
            "{L}(?P<named>(?:(?:{E}|glue|COMMA|small|large|label|space|bare_thread|this|ORD) ){0,9})until {L}(?P<n>NUM) (?P<size>{S})(?:WORD )?(?P<kind>{E}) "
            "(?:COMMA (?:(?:WORD|glue|this|ORD|{E}) ){1,6}(?=COMMA ))?"
            "(?:{T}(?:glue |with |COMMA )*(?P<m>NUM) (?P<osize>{S})(?P<other>{E}|pronoun) )?"
        ),
        _elements,
    ),
    (_pattern("{L}(?:(?:{E}|glue|COMMA) ){0,5}until {L}(?P<n>NUM) (?:{T})each "), _each),
    (
        _pattern("{L}(?:(?:{E}|glue|COMMA) ){0,5}until {L}(?P<n>NUM) (?:glue |this |pronoun |of )*(?={end}|in_all )"),
        _units,
    ),
    (_pattern("{L}until {L}(?:free |no |denied )"), _around),
    # six rings and six chains in all; five chains in all; 16 rings with 15 chains
    (
        _pattern(
            "{s}(?P<n>NUM) (?P<size>{S})(?P<kind>{E}) (?:glue |with |COMMA )+(?P<m>NUM) (?P<osize>{S})(?P<other>{E}|pronoun) "
            "(?!(?:of )?NUM |COLON |OPEN |of )"
        ),
        _elements,
    ),
    (_pattern("{s}(?P<n>NUM) {S}(?P<kind>{E}) (?:(?:like|same) (?:this |glue )*)?{T}in_all "), _elements),
    # five more like it; two more rings exactly like the second; one more
    (
        _pattern(
            "{s}(?P<n>NUM) more {S}(?P<kind>{E}) (?!COLON |(?:of )?NUM |of |(?:(?!STOP|SEMI|PARA|END|like|same|join|joining)\\S+ ){0,9}NUM (?:double_stitch|COMMA|STOP|WORD|picot) )(?:(?:WORD |glue )*(?:like|same) (?:glue |this |ORD |previous |{E} )*)?"
        ),
        _alike,
    ),
    # four more of those take you to the corner
    (_pattern("{s}(?P<n>NUM) more of (?:this |such |same )(?!.{0,40}(?:COLON|NUM double_stitch) )"), _more_units),
    (_pattern("{s}(?P<n>NUM) more (?:glue |this )*(?:like|same) (?:glue |this |ORD |previous )*"), _alike),
    (_pattern("{s}(?P<n>NUM) more (?={end})"), _alike),
    (
        _pattern("{s}(?P<n>NUM) more WORD (?:(?:WORD|glue) ){0,2}(?:like|same) (?:glue |this |ORD |previous )*"),
        _more_units,
    ),
    # six times in all, twice more, eight times; seven times over:
    (_pattern("{s}(?P<n>NUM) times (?:again |more |in_all )?(?P<all>COLON )"), _ahead),
    (
        _pattern("{s}(?P<n>NUM) times (?P<how>(?:(?:glue|this|again) )?(?:in_all |more )?)(?:in_all )?(?!\\S*double)"),
        _times,
    ),
    (
        _pattern(
            "{L}(?P<n>NUM) times (?P<how>(?:(?:glue|this|again) )?(?:in_all |more )?)(?:in_all )?(?:glue )?(?={end})"
        ),
        _times,
    ),
    (_pattern("{L}(?P<n>NUM) (?P<how>more times )"), _times),
    # beside it, twice, a ring of ...
    (
        _pattern(
            "(?:(?:glue|WORD|this|between|after|by) ){0,3}(?:COMMA )?(?P<n>twice) (?:to |more )?(?:COMMA|COLON) (?=(?:glue )*{E} )"
        ),
        _ahead,
    ),
    (_pattern("{s}(?P<n>twice) (?P<how>(?:in_all |more )?)(?:in_all )?(?={end}|glue )"), _times),
    # the same three rings again
    (_pattern("{s}same (?P<n>NUM) {S}(?:{E}|pronoun|WORD) again "), _copies),
    # again, lock join to the second; the other three are like those of the first
    (_pattern("(?:glue )*again COMMA (?=(?:glue )*(?:lock_join|join) )"), _one_more),
    (
        _pattern("{s}other (?P<n>NUM) (?:glue |{E} )*(?:like|same) (?:glue |this |of |ORD |previous |WORD |{E} )*"),
        _like_the_first,
    ),
    # another two of these
    (
        _pattern("{s}another (?P<n>NUM) (?:of |this |more )+(?:glue |this )*(?:{E} |pronoun )?(?!(?:of )?NUM |COLON )"),
        _more_units,
    ),
    # do the gap and the split ring three times; this chain five times in all
    (
        _pattern(
            "{s}(?P<named>(?:(?:glue|this|space|bare_thread|label|join|{E}) ){1,6})(?P<n>NUM) (?P<how>(?:more )?times (?:in_all |more )?)(?:in_all )?"
        ),
        _named_times,
    ),
    (_pattern("{s}pronoun more (?={end})"), _one_more),
    # another just the same; one more
    (_pattern("{s}another (?:pronoun |glue |WORD )*(?:like |same )(?:glue |this |ORD |previous |WORD )*"), _one_more),
    # six of these bring you home; five such chains; you want eleven
    (_pattern("{s}(?P<n>NUM) of this (?!.{0,40}(?:COLON|NUM double_stitch) )"), _units),
    (_pattern("{s}(?P<n>NUM) (?:glue )?like (?:this |WORD )(?=STOP |SEMI |PARA |END |glue |COMMA |denied )"), _units),
    (_pattern("{s}(?P<n>NUM) (?:glue )?such {S}(?P<kind>{E})? ?"), _units),
    (_pattern("{L}want (?:glue )*(?P<n>NUM) (?:WORD )?(?:in_all )?(?=STOP |SEMI |PARA |END |NL |SHUT |glue )"), _units),
    (_pattern("{s}(?P<n>NUM) WORD (?:glue )?in_all "), _units),
    # make four petals; work twelve rings and twelve chains
    (
        _pattern(
            "{s}(?P<n>NUM) {S}(?P<kind>{E}) (?!(?:(?!STOP|SEMI|PARA|END|COMMA)\\S+ )*(?:NUM|COLON|join|joining|like|same|more) |(?:(?!STOP|SEMI|PARA|END|COMMA)\\S+ )*COMMA (?:glue )?(?:each |NUM of this ))"
        ),
        _elements,
    ),
    # two dozen of the big and two dozen of the little; eight of each
    (
        _pattern(
            "{s}(?P<n>NUM) (?:of |glue )*(?P<size>large|small) (?:glue |pronoun |ring |COMMA )*(?P<m>NUM) (?:of |glue )*(?P<osize>large|small) (?!{E} (?:of |COLON ))"
        ),
        _sized,
    ),
    (_pattern("{s}(?P<n>NUM) of each "), _each),
    (_pattern("{s}work_over (?:glue |to |with )*each (?:picot|small_picot|long_picot|{E}) "), _around),
    # and so on to the eighth chain; and so on round all ten
    (
        _pattern(
            "{L}go_on (?:glue |WORD )*(?:round |around |to )(?:glue |all |this )*(?P<n>NUM|ORD) (?:(?P<kind>{E}) |WORD )?(?={end}|glue )"
        ),
        _to_that,
    ),
    (
        _pattern(
            "{L}(?:(?:go_on|work_over|repeat|glue) )+{L}until (?:(?!NUM|STOP|SEMI|PARA|END)\\S+ ){1,9}(?=STOP|SEMI|PARA|END|COMMA)"
        ),
        _open,
    ),
    # all the way round, for the length wanted
    (_pattern("{L}around "), _around),
    (_pattern("{L}length_wanted "), _wanted),
]
