"""Token rewriting before the grammar: what speakers and writers wrap round the words that matter.

Counting aloud becomes the number reached, what is denied (``no picots``) drops out, corrections take back what they correct,
``another picot`` and ``a third picot`` are picots. Every rule maps a stretch of tokens to fewer tokens that keep their places.
"""

from __future__ import annotations

from collections.abc import Callable

from larkshead.reading.grammar.cursor import Cursor
from larkshead.reading.grammar.places import ELEMENTS, PARTS, PICOTS, read_place
from larkshead.reading.grammar.prose.corrections import misprints, remember, take_back
from larkshead.reading.grammar.prose.sides import told_by_sides
from larkshead.reading.grammar.prose.speech import about_picot, answers, for_each_of_two, turns
from larkshead.reading.grammar.tokens import Token

_DENIABLE = frozenset(
    {
        *PICOTS,
        "join",
        "lock_join",
        "fasten",
        "bead",
        "space",
        "bare_thread",
        "thread",
        "fold",
        "cut",
        "close",
        "attach",
        "leave",
    }
)
_ADJECTIVES = frozenset({"glue", "any", "this", "more", "small", "long", "large", "free"})
_COUNTED = frozenset(
    {
        *PICOTS,
        *ELEMENTS,
        "double_stitch",
        "bead",
        "more",
        "times",
        "half_stitch",
        "first_half",
        "second_half",
        "UNIT",
        "FRACTION",
        "large",
        "small",
        "ends",
        "ORD",
    }
)
_COUNTING = frozenset({*PICOTS, "COMMA", "of", "join", "bead", "double_stitch", "lock_join", "COLON"})
_NAMED = frozenset({*ELEMENTS, *PARTS, "like", "same", "shuttle", "of", "with"})


def normalise(tokens: list[Token]) -> list[Token]:
    """The tokens with speech habits taken out; linear in their number."""
    for habit in _HABITS:
        tokens = habit(tokens)
    return tokens


def _owning(tokens: list[Token]) -> list[Token]:
    """``has`` says something only before a sum that ends the clause (``the ring has 22 ds``); else it is filler."""
    out = list(tokens)
    for at, token in enumerate(tokens):
        if token.kind == "has":
            ahead = [t.kind for t in tokens[at + 1 : at + 4]]
            told = [t.kind for t in tokens[at + 3 : at + 5]]
            if ahead[:2] == ["NUM", "COMMA"] and ({*told} & {*PICOTS, "join"} or told[:1] == ["NUM"]):
                out[at] = token._replace(kind="glue")
                continue
            sums = ahead[:1] == ["NUM"] and (
                ahead[1:2] == ["COMMA"] or ahead[2:3] in ([], ["STOP"], ["PARA"], ["SEMI"])
            )
            if not sums or ahead[1:2] not in (["double_stitch"], ["picot"], ["COMMA"]):
                out[at] = token._replace(kind="glue")
    return out


def _counted_aloud(tokens: list[Token]) -> list[Token]:
    """``one two three four five`` is five."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        if tokens[at].kind == "NUM" and tokens[at].value == 1:
            end, reached = at + 1, 1
            while end < len(tokens) and (
                (tokens[end].kind == "NUM" and tokens[end].value == reached + 1)
                or (
                    tokens[end].kind == "COMMA"
                    and end + 1 < len(tokens)
                    and tokens[end + 1].kind == "NUM"
                    and tokens[end + 1].value == reached + 1
                )
            ):
                if tokens[end].kind == "NUM":
                    reached += 1
                end += 1
            if reached >= 3 and not tokens[at].text.isdigit():
                last = tokens[end - 1]
                out.append(Token("NUM", reached, tokens[at].start, last.end, tokens[at].spaced, last.text))
                at = end
                continue
        out.append(tokens[at])
        at += 1
    return out


def _dots(tokens: list[Token]) -> list[Token]:
    """The full stop of an abbreviation (``3 ds., 7 p. sep. by``) ends no sentence; a number said twice over counts once."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        following = tokens[at + 1] if at + 1 < len(tokens) else None
        if (
            token.kind == "STOP"
            and out
            and following is not None
            and not token.spaced
            and len(out[-1].text) <= 4
            and out[-1].text.isalpha()
        ):
            abbreviated = out[-1].kind not in ("WORD", "glue", "NUM", "ORD") and out[-1].text.islower()
            if abbreviated and (following.kind in ("COMMA", "SEMI", "OPEN", "SHUT") or following.text[:1].islower()):
                continue
        if (
            (
                token.kind == "NUM"
                and following is not None
                and following.kind == "NUM"
                and token.value == following.value
                and not token.text.isdigit()
            )
            and at + 2 < len(tokens)
            and tokens[at + 2].kind == "double_stitch"
        ):
            continue
        out.append(token)
    return out


def _bullets(tokens: list[Token]) -> list[Token]:
    """Dots, dashes and stars that only begin lines are bullets; each line is then a clause of its own."""
    starts = [
        i
        for i, t in enumerate(tokens)
        if (i == 0 or tokens[i - 1].kind in ("NL", "PARA")) and t.kind in ("DOT", "MARK", "DASH")
    ]
    kinds = {tokens[i].kind for i in starts}
    if len(starts) < 2 or len(kinds) != 1:
        return tokens
    kind = kinds.pop()
    if sum(t.kind == kind for t in tokens) != len(starts) and kind != "DASH":
        return tokens
    bullets = set(starts)
    out: list[Token] = []
    for i, token in enumerate(tokens):
        if i in bullets:
            continue
        if token.kind == "NL" and i + 1 in bullets:
            token = token._replace(kind="STOP")
        out.append(token)
    return out


def _in(tokens: list[Token]) -> list[Token]:
    """A unit that is also a little word (inch, ``in``) is one only behind a number; a head stands at the start of a line."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if token.kind == "UNIT" and len(token.text) == 2 and token.value == "in" and token.text.isalpha():
            before = tokens[at - 1] if at else None
            if before is None or before.kind not in ("NUM", "FRACTION", "ORD") or before.text.isalpha():
                token = token._replace(kind="to")
        elif token.kind == "around" and at + 1 < len(tokens) and tokens[at + 1].kind == "NUM":
            # "and to end six stitches"
            token = token._replace(kind="glue")
        elif token.kind in ("materials_head", "list_head") and at and tokens[at - 1].kind not in ("NL", "PARA", "STOP"):
            token = token._replace(kind="want")
        out.append(token)
    return out


def _left_picots(tokens: list[Token]) -> list[Token]:
    """``leave a picot``: a picot is made, no thread left."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if token.kind == "leave":
            ahead = at + 1
            while ahead < len(tokens) and tokens[ahead].kind in ("glue", "another", "small", "long"):
                ahead += 1
            if ahead < len(tokens) and tokens[ahead].kind in PICOTS:
                token = token._replace(kind="glue")
        out.append(token)
    return out


def _folds(tokens: list[Token]) -> list[Token]:
    """Folding before a join is how the join is made; folding alone turns the work."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if token.kind == "fold":
            joined = False
            for later in tokens[at + 1 : at + 20]:
                if later.kind in ("STOP", "PARA"):
                    break
                joined = joined or later.kind == "join"
            token = token._replace(kind="glue" if joined or len(token.text.split()) < 2 else "reverse_work")
        out.append(token)
    return out


def _folded_to(tokens: list[Token]) -> list[Token]:
    """``fold the lace over, bring the picot of the first ring up through the loop and join to it``: a folded join to that picot."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.kind == "fold" and (found := _brought_to(tokens, at)) is not None:
            begin, end, behind = found
            out.append(token._replace(kind="folded_join"))
            out += tokens[begin:end]
            at = behind
            continue
        out.append(token)
        at += 1
    return out


def _brought_to(tokens: list[Token], at: int) -> tuple[int, int, int] | None:
    """Behind a fold: where the place that is brought to the join begins and ends, and where the join's words end."""
    join = next(
        (i for i in range(at + 1, min(at + 30, len(tokens))) if tokens[i].kind in ("join", "STOP", "PARA")), len(tokens)
    )
    behind = [t.kind for t in tokens[join : join + 3]]
    if len(behind) < 3 or behind[:2] != ["join", "to"] or any(t.kind == "NUM" for t in tokens[at:join]):
        return None
    if behind[2] != "this" or (join + 3 < len(tokens) and tokens[join + 3].kind in ("free", *PICOTS, *ELEMENTS)):
        # "fold the ring across, join to its free picot"
        own = Cursor(tokens, join + 2)
        place = read_place(own)
        return (join + 1, own.at, own.at) if place is not None and place.picot is not None else None
    if join + 3 >= len(tokens):
        return None
    if tokens[join + 3].kind not in ("COMMA", "STOP", "glue", "SEMI", "NUM", "close"):
        return None
    for begin in range(at + 1, join):
        probe = Cursor(tokens, begin, join)
        place = read_place(probe)
        if (place is not None and place.picot is not None) or (place is not None and tokens[begin].kind in PICOTS):
            return begin, probe.at, join + 3
    return None


def _labels(tokens: list[Token]) -> list[Token]:
    """``Ring B``, ``as A``: a single capital behind a name of an element or a word of likeness is a label."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if (
            len(token.text) == 1
            and token.text.isupper()
            and token.kind not in ("NUM", "label")
            and at
            and (
                tokens[at - 1].kind in _NAMED
                or (out[-1].kind in ("glue", "COMMA") and at > 1 and out[-2].kind == "label" and token.text not in "IR")
            )
        ):
            token = token._replace(kind="label")
        out.append(token)
    return out


def _pronouns(tokens: list[Token]) -> list[Token]:
    """``the big one``, ``each one``, ``one of those``: here one counts nothing."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        if token.kind == "NUM" and token.value == 1 and not token.text.isdigit():
            before = tokens[at - 1].kind if at else "START"
            after = tokens[at + 1].kind if at + 1 < len(tokens) else "END"
            counts = after in _COUNTED or (after in ("COMMA", "STOP", "SEMI", "close") and before in _COUNTING)
            # "picot one and close"
            counts = counts or (before in PICOTS and after == "glue" and tokens[at + 1].value == "and_on")
            if (before in ELEMENTS and after != "WORD") or before in PARTS or before in ("shuttle", "label"):
                counts = True
            if before in ("glue", "COMMA") and after in ("previous", "after") and _beside_picots(tokens, at + 2):
                # "two before the first and one after the last"
                counts = True
            if not counts or (
                before in ("each", "ORD", "large", "small", "previous", "next", "any") and after not in _COUNTED
            ):
                out.append(token._replace(kind="pronoun"))
                continue
        out.append(token)
    return out


def _ending(tokens: list[Token]) -> list[Token]:
    """``another chain of thirty to end``: said of the last step; only what is repeated or gone on with goes round."""
    out: list[Token] = []
    going = False
    for token in tokens:
        if token.kind in ("STOP", "PARA"):
            going = False
        going = going or token.kind in ("repeat", "go_on", "like", "same", "work_over", "MARK", "until", "each")
        out.append(token._replace(kind="glue") if token.value == "to_end" and not going else token)
    return out


def _parts_first(tokens: list[Token]) -> list[Token]:
    """``cut a chain into five equal parts: 25 stitches with four picots``: how many parts is told again by the count; nothing is cut."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        ahead = [t.kind for t in tokens[at : at + 5]]
        lead = 1 if ahead[:1] == ["to"] else 0
        if out and out[-1].kind in ELEMENTS and ahead[lead : lead + 4] == ["NUM", "evenly", "COLON", "NUM"]:
            for back in range(max(0, len(out) - 5), len(out)):
                if out[back].kind == "cut":
                    out[back] = out[back]._replace(kind="glue")
            at += lead + 2
            continue
        out.append(tokens[at])
        at += 1
    return out


def _again_with(tokens: list[Token]) -> list[Token]:
    """``and go again with twelve``: another element of the kind told last, of so many."""
    out: list[Token] = []
    element: Token | None = None
    for at, token in enumerate(tokens):
        element = token if token.kind in ELEMENTS else element
        ahead = [t.kind for t in tokens[at + 1 : at + 4]]
        if (
            token.kind == "again"
            and element is not None
            and ahead[:2] == ["with", "NUM"]
            and (not ahead[2:] or ahead[2] in ("double_stitch", "glue", "COMMA", "STOP", "SEMI", "PARA", "NL"))
        ):
            token = token._replace(kind=element.kind, value=element.value)
        out.append(token)
    return out


def _beside_picots(tokens: list[Token], at: int) -> bool:
    """Whether the first or last of something, or the picots, are named here."""
    while at < len(tokens) and tokens[at].kind == "glue":
        at += 1
    return at < len(tokens) and tokens[at].kind in ("ORD", "last", *PICOTS)


def _denied(tokens: list[Token]) -> list[Token]:
    """``no picots``, ``without a picot``, ``with nothing in it``: the thing denied is not there."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.kind == "deny":
            end = at + 1
            while end < len(tokens) and tokens[end].kind in _ADJECTIVES:
                end += 1
            if end < len(tokens) and tokens[end].kind in _DENIABLE:
                out.append(Token("denied", tokens[end].kind, token.start, tokens[end].end, token.spaced, token.text))
                at = end + 1
                continue
            out.append(token._replace(kind="glue", value="deny"))
        else:
            out.append(token)
        at += 1
    return out


def _another(tokens: list[Token]) -> list[Token]:
    """``another picot``, ``a third picot``, ``seven more doubles``, ``three again``: what stands is the thing itself."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        following = tokens[at + 1] if at + 1 < len(tokens) else None
        if (
            token.kind == "ORD"
            and following is not None
            and following.kind in PICOTS
            and out
            and out[-1].kind == "glue"
            and out[-1].value == "one"
        ):
            continue
        if (
            token.kind == "more"
            and following is not None
            and out
            and out[-1].kind == "NUM"
            and following.kind in ("double_stitch", "COMMA", "STOP", "glue", "bead")
            and not (following.kind == "glue" and at + 2 < len(tokens) and tokens[at + 2].kind in ELEMENTS)
            and _in_work(out)
            and not (following.kind in ("STOP", "COMMA") and len(out) > 1 and out[-2].value == "made")
        ):
            # "six, picot, six more"; but "make four more" counts the whole
            continue
        out.append(token)
    return out


def _in_work(before: list[Token]) -> bool:
    """Whether a picot, join or count of stitches was told shortly before."""
    return any(t.kind in PICOTS or t.kind in ("join", "double_stitch", "bead") for t in before[-8:-1])


def _restated(tokens: list[Token]) -> list[Token]:
    """``..., that's your five``, ``so twelve stitches three picots``: what was told already is not told again."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.kind == "resulting":
            if at + 1 < len(tokens) and tokens[at + 1].kind == "NUM":
                at += 2
                continue
            token = token._replace(kind="glue")
        if token.kind == "restating" and out and at + 1 < len(tokens):
            end = at + 1
            while end < len(tokens) and tokens[end].kind in ("glue", "WORD", "this") and end - at < 4:
                end += 1
            last = next((t for t in reversed(out[-3:]) if t.kind == "NUM"), None)
            if end < len(tokens) and tokens[end].kind == "NUM" and last is not None and last.value == tokens[end].value:
                at = end + 1
                continue
            out.append(token._replace(kind="glue", value="restating"))
            at += 1
            continue
        out.append(token)
        at += 1
    return out


def _apposed(tokens: list[Token]) -> list[Token]:
    """``the last ring, number six, is ...``: a number by which an element is known counts nothing; ``before joining`` joins nothing yet."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.kind == "joining" and out and out[-1].value == "for_whom":
            # "a small picot for joining"
            token = token._replace(kind="glue")
        if (
            token.kind == "joining"
            and out
            and out[-1].kind == "previous"
            and all(before.kind != "bead" for before in out[-10:])
        ):
            token = token._replace(kind="glue")
            out[-1] = out[-1]._replace(kind="glue")
        if (
            token.value == "known_by"
            and len(out) > 1
            and out[-1].kind == "COMMA"
            and out[-2].kind in ELEMENTS
            and [t.kind for t in tokens[at + 1 : at + 3]] == ["NUM", "COMMA"]
        ):
            out.pop()
            at += 3
            continue
        out.append(token)
        at += 1
    return out


_FRAGMENT = frozenset(
    {"NUM", "double_stitch", "bead", "join", "glue", "another", "again", "more", "WORD", "want", *PICOTS}
)


def _fragments(tokens: list[Token]) -> list[Token]:
    """``Four doubles. Picot. Four doubles.``: sentences of one item each are one count."""
    stops = [i for i, token in enumerate(tokens) if token.kind in ("STOP", "PARA", "SEMI", "COLON")]
    single: list[bool] = []
    begin = 0
    for stop in stops:
        kinds = [t.kind for t in tokens[begin:stop]]
        items = sum(kind == "NUM" or kind in PICOTS or kind in ("bead", "join") for kind in kinds)
        bare = items == 1 and stop - begin < 6 and _FRAGMENT.issuperset(kinds) and kinds.count("WORD") < 2
        single.append(bare and tokens[stop].kind in ("STOP", "SEMI"))
        begin = stop + 1
    out = list(tokens)
    at = 0
    while at < len(single):
        end = at
        while end < len(single) and single[end]:
            end += 1
        if end - at > 2:
            for stop in stops[at : end - 1]:
                out[stop] = out[stop]._replace(kind="COMMA")
        at = max(end, at + 1)
    return out


# Words that running text alone reads, by their shades, and what they are there.
_SPOKEN = {"taken_back": "amends", "should_be": "amends"}


def _spoken(tokens: list[Token]) -> list[Token]:
    """Words that mean something in running text only get kinds of their own; ``a beaded picot`` is one with a bead."""
    out: list[Token] = []
    for token in tokens:
        # "where its picot should be" is a place.
        if token.kind == "WORD" and token.value in _SPOKEN and not any(t.kind == "where" for t in out[-7:]):
            token = token._replace(kind=_SPOKEN[token.value])
        out.append(token)
        if token.kind in PICOTS and len(out) > 1 and out[-2].value == "with_bead":
            at = out.pop(-2)
            out += [
                Token(kind, value, at.start, at.end, True, at.text)
                for kind, value in (("with", "with"), ("NUM", 1), ("bead", "bead"))
            ]
    return out


# In the order in which they build on each other.
_HABITS: tuple[Callable[[list[Token]], list[Token]], ...] = (
    _spoken,
    _parts_first,
    _again_with,
    _ending,
    misprints,
    _apposed,
    _owning,
    _dots,
    _bullets,
    answers,
    turns,
    for_each_of_two,
    _in,
    _counted_aloud,
    _fragments,
    _another,
    _folded_to,
    _folds,
    _left_picots,
    _labels,
    _pronouns,
    _denied,
    _restated,
    remember,
    take_back,
    about_picot,
    told_by_sides,
)
