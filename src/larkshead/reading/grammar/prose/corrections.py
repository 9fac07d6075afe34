"""What a speaker takes back, says twice or adds too late: token rewriting before the grammar.

A correction is matched by what it speaks of: the nearest thing before of the class of what comes after (a count, an item of work,
a way of joining, an element) is taken back with all that followed it. A step remembered late (``I forgot, turn before the chain``)
goes to the place it is told for.
"""

from __future__ import annotations

from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.tokens import Token

STOPS = frozenset({"STOP", "PARA", "SEMI", "COLON"})
_SENTENCE_ENDS = frozenset({"STOP", "PARA", "END"})
_CORRECTING = frozenset({"correction", "COMMA", "glue", "WORD", "this", "restating", "only", "deny"})
# Ways of fastening one thing to another: each may be corrected into another.
_FASTENING = frozenset({"join", "lock_join", "folded_join", "joining", "fasten", "attach"})
# Words between an element's name and what is before its phrase.
_LEADING = frozenset({"glue", "ORD", "small", "large", "NUM", "next", "another", "pronoun", "other", "long"})
# Steps that may be remembered late.
_STEPS = frozenset({"reverse_work", "no_turn", "leave", "close", "cut", "switch"})
_NEAR = 9
_SENTENCE = 60
_BACK = 120
_LIST = 400


def _class_of(token: Token) -> str:
    """What may stand for what: counts for counts, things in the work for one another, ways of joining, elements."""
    kind = token.value if token.kind == "denied" else token.kind
    if kind in PICOTS or kind == "bead":
        return "item"
    if kind in _FASTENING:
        return "fasten"
    if kind in ELEMENTS:
        return "element"
    return kind if kind in ("NUM", "ORD", "reverse_work", "cut", "no_turn", "UNIT") else ""


def take_back(tokens: list[Token]) -> list[Token]:
    """``three picots, sorry, four``: the corrected words stand for those before them."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        at = (out and (_corrected(tokens, at, out) or _denied_after_all(tokens, at, out))) or at
        if at < len(tokens) and tokens[at] is token:
            out.append(token._replace(kind="glue") if token.kind == "correction" else token)
            at += 1
    return out


def _corrected(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """Where reading goes on behind a correction at ``at`` that was carried out upon ``out``; None where there is none."""
    if tokens[at].kind == "amends":
        return _should_be(tokens, at, out)
    if tokens[at].value == "begun_afresh":
        return _begun_again(tokens, at, out)
    if tokens[at].kind != "correction":
        return None
    if (behind := _belongs_elsewhere(tokens, at, out)) is not None:
        return behind
    end = at
    while end < len(tokens) and tokens[end].kind in _CORRECTING and end - at < _NEAR:
        end += 1
    if end >= len(tokens):
        return None
    restart = end if _whole_count(tokens, end) else _restart(tokens, at)
    if restart is not None:
        _drop_count(out)
        return restart
    if any(t.kind == "amends" for t in tokens[end : end + 6]):
        # It goes on to say what is to be put right.
        return None
    end = _said_twice(tokens, end)
    wanted = _class_of(tokens[end])
    just = len(out) - 1
    while just >= 0 and out[just].kind in ("COMMA", "glue"):
        just -= 1
    if just >= 0 and {wanted, _class_of(out[just])} == {"item", "fasten"}:
        # "four join, sorry, I mean picot"
        del out[just:]
        return end
    back = len(out) - 1
    while back >= 0 and len(out) - back < _NEAR and out[back].kind not in STOPS and _class_of(out[back]) != wanted:
        back -= 1
    if not wanted or back < 0 or out[back].kind in STOPS or _class_of(out[back]) != wanted:
        return None
    del out[back:]
    return end


def _should_be(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """``picot, but it should be a bead``: the thing told just before is what is told behind."""
    after = _next_content(tokens, at + 1)
    wanted = _class_of(tokens[after]) if after < len(tokens) else ""
    if wanted not in ("item", "NUM"):
        return None
    back = len(out) - 1
    while back >= 0 and len(out) - back < 6 and out[back].kind in ("but", "COMMA", "glue", "this", "WORD", "where"):
        back -= 1
    if back < 0 or _class_of(out[back]) != wanted:
        return None
    del out[back:]
    return after


def _said_twice(tokens: list[Token], at: int) -> int:
    """``four, four picots``: a number said over again to make it plain counts once."""
    if tokens[at].kind != "NUM" or tokens[at].text.isdigit():
        return at
    again = at + 1
    if again < len(tokens) and tokens[again].kind == "COMMA":
        again += 1
    same = again < len(tokens) and tokens[again].kind == "NUM" and tokens[again].value == tokens[at].value
    return again if same else at


def _whole_count(tokens: list[Token], at: int) -> bool:
    """A count told from its beginning: a number, a picot, a number."""
    kinds = [t.kind for t in tokens[at : at + 3]]
    return len(kinds) == 3 and kinds[0] == kinds[2] == "NUM" and kinds[1] in PICOTS


def _restart(tokens: list[Token], at: int) -> int | None:
    """Where, behind words of correction, the whole count is told anew: ``it's four picot three picot ...``."""
    if (
        at + 3 < len(tokens)
        and [tokens[at + 1].kind, tokens[at + 3].kind] == ["NUM", "NUM"]
        and tokens[at + 2].kind in PICOTS
    ):
        return at + 1
    for i in range(at + 1, min(at + 10, len(tokens) - 3)):
        if tokens[i].kind in STOPS:
            return None
        if (
            tokens[i].kind in ("this", "glue")
            and tokens[i + 1].kind == "NUM"
            and tokens[i + 2].kind in PICOTS
            and tokens[i + 3].kind == "NUM"
        ):
            return i + 1
    return None


def _drop_count(out: list[Token]) -> None:
    """Take back what was told of an element since its name."""
    back = len(out)
    while (
        back > 0
        and len(out) - back < 14
        and out[back - 1].kind not in STOPS
        and out[back - 1].kind not in (*ELEMENTS, "pronoun", "of")
    ):
        back -= 1
    del out[back:]


def _drop_element(out: list[Token]) -> bool:
    """Take back the element told last, with the words that lead to its name."""
    back = len(out)
    while back > 0 and len(out) - back < _SENTENCE and out[back - 1].kind not in ELEMENTS:
        if out[back - 1].kind in ("reverse_work", "PARA", "cut"):
            return False
        back -= 1
    if not back or out[back - 1].kind not in ELEMENTS:
        return False
    back -= 1
    while (
        back > 0 and out[back - 1].kind in _LEADING and not (out[back - 1].kind == "NUM" and out[back].kind == "glue")
    ):
        back -= 1
    del out[back:]
    return True


def _begun_again(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """``let me start that again``: the element told last, or its count where only that is told anew."""
    end = at + 1
    while end < len(tokens) and tokens[end].kind in ("COMMA", "STOP", *_CORRECTING) and end - at < _NEAR:
        end += 1
    if end < len(tokens) and tokens[end].kind == "NUM":
        back = next((i for i in range(len(out) - 1, max(-1, len(out) - 40), -1) if out[i].kind in ELEMENTS), None)
        if back is not None:
            del out[back + 1 :]
            return end
    return end if _drop_element(out) else None


def _belongs_elsewhere(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """``..., no, wait, that is for the larger size.``: what was told belongs to something else and is not worked here."""
    end = at + 1
    while end < len(tokens) and tokens[end].kind in ("COMMA", "correction") and end - at < 4:
        end += 1
    if end >= len(tokens) or tokens[end].value != "belongs_elsewhere" or not _drop_element(out):
        return None
    while end < len(tokens) and tokens[end].kind not in _SENTENCE_ENDS:
        end += 1
    return end


def _denied_after_all(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """``tie it ..., no, don't tie it, join it``; ``ten picot, no, not ten, eight``: what is denied was told just before."""
    token = tokens[at]
    if token.kind == "denied":
        wanted = _class_of(token)
        after = _next_content(tokens, at + 1)
        if wanted not in ("fasten", "cut", "item") or after >= len(tokens):
            return None
        back = _nearest(out, token.value, 16)
        if back is None or (wanted != "cut" and _class_of(tokens[after]) != wanted):
            return None
        if wanted == "cut":
            del out[back:]
            return at + 1
        told = tokens[after]
        first = out[back]
        _drop_denial(out)
        out[back] = first._replace(kind=told.kind, value=told.value, text=told.text)
        after += 1
        while after < len(tokens) and tokens[after].kind in ("this", "pronoun") and after - at < 12:
            after += 1
        return after
    if token.value == "not" and at + 1 < len(tokens) and tokens[at + 1].kind == "NUM":
        number = tokens[at + 1].value
        for back in range(len(out) - 1, max(-1, len(out) - _NEAR), -1):
            if out[back].kind == "NUM" and out[back].value == number:
                end = at + 2
                while end < len(tokens) and tokens[end].kind in ("COMMA", "but", "glue") and end - at < 5:
                    end += 1
                if end < len(tokens) and tokens[end].kind == "NUM":
                    del out[back:]
                    return end
        return _not_so_many(tokens, at, out)
    return None


def _not_so_many(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """``eleven, not ten, so eleven, picot``: a number that is only denied, and the right one said again."""
    if len(out) < 2 or out[-1].kind not in ("COMMA", "glue") or out[-2].kind != "NUM":
        return None
    end = at + 2
    while end < len(tokens) and tokens[end].kind in ("COMMA", "glue", "restating", "this") and end - at < 6:
        end += 1
    if end < len(tokens) and tokens[end].kind == "NUM" and tokens[end].value == out[-2].value:
        del out[-2:]
        return end
    return at + 2


def _next_content(tokens: list[Token], at: int) -> int:
    end = at
    while end < len(tokens) and tokens[end].kind in ("this", "COMMA", "glue", "but", "pronoun") and end - at < 6:
        end += 1
    return end


def _nearest(out: list[Token], kind: str, reach: int) -> int | None:
    for back in range(len(out) - 1, max(-1, len(out) - reach), -1):
        if out[back].kind in _SENTENCE_ENDS:
            return None
        if out[back].kind == kind:
            return back
    return None


def _drop_denial(out: list[Token]) -> None:
    """``..., no,`` before what is denied."""
    while out and (
        out[-1].kind in ("COMMA", "correction", "deny") or (out[-1].kind == "glue" and len(out[-1].text) == 2)
    ):
        out.pop()


def misprints(tokens: list[Token]) -> list[Token]:
    """``where we printed a ring of 5, picot, 5, read a ring of 6, picot, 6``: what was printed wrongly is not worked."""
    if not any(token.value == "misprinted" for token in tokens):
        return tokens
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        if tokens[at].value == "misprinted":
            end = at + 1
            while (
                end < len(tokens)
                and end - at < _SENTENCE
                and tokens[end].kind not in ("STOP", "PARA")
                and tokens[end].value != "read_instead"
            ):
                end += 1
            if end < len(tokens) and tokens[end].value == "read_instead":
                at = end + 1
                continue
        out.append(tokens[at])
        at += 1
    return out


def remember(tokens: list[Token]) -> list[Token]:
    """``oh, I forgot, turn before the chain``: a step told late goes where it belongs.

    Where the element it was forgotten at is then told over again, the first telling is taken back.
    """
    if not any(token.value in ("step_forgotten", "step_before") for token in tokens):
        return tokens
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.value == "step_forgotten":
            end = _carried_out(tokens, at, out)
            if end is not None:
                at = end
                continue
        if token.value == "step_before" and out:
            step = _step(tokens, at + 1)
            if step is not None:
                begin, end = step
                where = _last_element(out, None)
                if where is not None and end - at < _NEAR:
                    out[where:where] = tokens[begin:end]
                    at = end
                    continue
        out.append(token)
        at += 1
    return out


def _step(tokens: list[Token], at: int) -> tuple[int, int] | None:
    """Where the step told next begins and ends."""
    begin = at
    while begin < len(tokens) and tokens[begin].kind not in _STEPS:
        if tokens[begin].kind in _SENTENCE_ENDS or begin - at > 8 or tokens[begin].kind in ELEMENTS:
            return None
        begin += 1
    if begin >= len(tokens):
        return None
    end = begin + 1
    if tokens[begin].kind == "leave":
        while (
            end < len(tokens)
            and tokens[end].kind
            in (
                "NUM",
                "FRACTION",
                "UNIT",
                "about",
                "glue",
                "of",
                "thread",
                "bare_thread",
                "space",
            )
            and end - begin < 9
        ):
            end += 1
    return begin, end


def _carried_out(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """Carry out what is remembered from ``at`` on; where reading goes on, None where it names no step or place."""
    step: list[Token] = []
    done: int | None = None
    i = at + 1
    while i < len(tokens) and i - at < _SENTENCE:
        token = tokens[i]
        if token.kind in ("STOP", "PARA", "END") and done is not None:
            break
        if token.kind in _STEPS and (found := _step(tokens, i)) is not None:
            if done is not None and not _placed_behind(tokens, found[1]):
                break
            step = tokens[found[0] : found[1]]
            i = found[1]
            continue
        if step and token.kind in ("previous", "after"):
            placed = _place(tokens, i, step, out)
            if placed is not None:
                done = i = placed
                continue
        if done is not None and token.kind not in ("glue", "COMMA", "correction", "WORD", "this", "previous"):
            break
        if token.kind in ELEMENTS or token.kind == "NUM":
            break
        i += 1
    if done is None:
        return None
    return _retold(tokens, done, out) or done


def _placed_behind(tokens: list[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].kind in ("previous", "after")


def _place(tokens: list[Token], at: int, step: list[Token], out: list[Token]) -> int | None:
    """Put the step before or after what is named behind ``at``; where the name ends."""
    before = tokens[at].kind == "previous"
    name = at + 1
    while name < len(tokens) and tokens[name].kind in ("glue", "this", "each", "ORD") and name - at < 4:
        name += 1
    if name >= len(tokens):
        return None
    noun = tokens[name]
    number = tokens[name + 1] if name + 1 < len(tokens) and tokens[name + 1].kind in ("NUM", "label") else None
    if noun.kind == "step" and number is not None:
        where = _numbered_step(out, number, before)
        name += 1
    elif noun.kind in ELEMENTS:
        where = _last_element(out, noun.kind) if before else _behind_element(out, noun.kind)
        name += number is not None
    else:
        return None
    if where is None:
        return None
    put = [*step]
    if not before or noun.kind == "step":
        stop = Token("STOP", ".", step[0].start, step[0].start, False, ".")
        put = [stop, *step, stop]
    out[where:where] = put
    return name + 1


def _last_element(out: list[Token], kind: str | None) -> int | None:
    """Where the phrase of the element named last begins."""
    for back in range(len(out) - 1, max(-1, len(out) - _BACK), -1):
        if out[back].kind == kind or (kind is None and out[back].kind in ELEMENTS):
            while (
                back
                and out[back - 1].kind in _LEADING
                and not (out[back - 1].kind == "NUM" and out[back].kind == "glue")
            ):
                back -= 1
            return back
    return None


def _behind_element(out: list[Token], kind: str) -> int | None:
    for back in range(len(out) - 1, max(-1, len(out) - _BACK), -1):
        if out[back].kind == kind:
            for ahead in range(back + 1, len(out)):
                if out[ahead].kind in ("PARA", "NL", "reverse_work") or out[ahead].kind in ELEMENTS:
                    return ahead
                if (
                    out[ahead].kind in ("STOP", "SEMI")
                    and out[ahead + 1 : ahead + 2]
                    and out[ahead + 1].kind != "close"
                ):
                    return ahead
            return len(out)
    return None


def _numbered_step(out: list[Token], number: Token, before: bool) -> int | None:
    """Where the step with this number in a numbered list begins, or ends."""
    heads = [
        i
        for i in range(max(0, len(out) - _LIST), len(out) - 1)
        if out[i].kind in ("NUM", "label")
        and out[i + 1].kind in ("STOP", "SHUT", "COLON")
        and (i == 0 or out[i - 1].kind in ("NL", "PARA", "step", "STOP"))
    ]
    here = next((k for k, i in enumerate(heads) if out[i].text == number.text or out[i].value == number.value), None)
    if here is None:
        return None
    if before:
        return heads[here] + 2
    if here + 1 < len(heads):
        end = heads[here + 1]
    else:
        end = next((i for i in range(heads[here] + 2, len(out)) if out[i].kind in ("NL", "PARA")), len(out))
    while end > heads[here] + 2 and out[end - 1].kind in ("NL", "PARA", "step"):
        end -= 1
    return end


def _retold(tokens: list[Token], at: int, out: list[Token]) -> int | None:
    """Where the element the step was forgotten at is told again (``so turn, then the chain of ten``), its first telling goes."""
    where = next((i for i in range(len(out) - 1, max(-1, len(out) - _BACK), -1) if out[i].kind in ELEMENTS), None)
    if where is None:
        return None
    kind = out[where].kind
    step: int | None = None
    for i in range(at, min(at + 26, len(tokens))):
        if tokens[i].kind == kind:
            if tokens[i + 1 : i + 2] and tokens[i + 1].kind in ("NUM", "of", "COLON", "glue"):
                begin = _last_element(out, kind) or 0
                del out[begin:]
                # The step told again was put before the element already.
                return step if step is not None else i
            return None
        if tokens[i].kind in _STEPS:
            step = i + 1 if step is None else step
        elif tokens[i].kind in ELEMENTS or tokens[i].kind in ("NUM", "PARA"):
            return None
    return None
