"""Turns of speech that say a plain thing in their own way: questions and answers, ways of telling a turn, what is said for whom.

Token rewriting before the grammar; every rule keeps the places of the tokens it leaves.
"""

from __future__ import annotations

from larkshead.reading.grammar.places import ELEMENTS, PICOTS
from larkshead.reading.grammar.tokens import END, Token

_ENDS = frozenset({"STOP", "PARA"})
# What a question may speak of that would be read as work were it no question.
_TRADE = frozenset({"NUM", "reverse_work", "join", "close", "cut", "bead", *PICOTS, *ELEMENTS})
_SENTENCE = 60
_PASSED = frozenset({"glue", "this", "WORD", "pronoun"})


def answers(tokens: list[Token]) -> list[Token]:
    """Questions tell nothing, their answers do: a number asked for takes its noun from the question, a yes says what was asked."""
    if not any(token.kind == "STOP" and token.text == "?" for token in tokens):
        return tokens
    tokens = [
        token
        for before, token in zip([END, *tokens], tokens, strict=False)
        if token.kind != "QUOTE" or before.kind in ("NUM", "FRACTION")
    ]
    sentences = _sentences(tokens)
    out: list[Token] = []
    carried: list[Token] = []
    counting: Token | None = None
    for number, (start, end) in enumerate(sentences):
        sentence = tokens[start:end]
        asked = sentence[-1].text == "?" and any(t.kind in _TRADE or t.value == "how_many" for t in sentence)
        if sentence[-1].text == "?":
            many = next((t for t in sentence if t.value == "how_many"), None)
            beside = next((i for i, t in enumerate(sentence) if t.kind in ("previous", "after")), None)
            if many is None and counting is not None and beside is not None:
                # "And after it?": so many again are asked for.
                sentence, asked = [counting, *sentence[beside:]], True
            counting = many or (counting if asked else None)
        answer = tokens[slice(*sentences[number + 1])] if number + 1 < len(sentences) else []
        if not asked or not answer:
            out += _with_noun(sentence, carried)
            carried = []
        elif _only_yes(answer):
            out += sentence
            carried = []
        else:
            carried = sentence
    return out


def dialogue(tokens: list[Token]) -> tuple[int, int]:
    """From which place in the text to which questions of the work are asked and answered; (0, 0) where they are not."""
    asked: list[tuple[int, int]] = []
    begin = 0
    trade = False
    for at, token in enumerate(tokens):
        trade = trade or token.kind in _TRADE or token.value == "how_many"
        if token.kind in _ENDS:
            if token.text == "?" and trade:
                asked.append((tokens[begin].start, at))
            begin, trade = at + 1, False
    if len(asked) < 2:
        return 0, 0
    last = asked[-1][1]
    end = next((t for t in tokens[last + 1 : last + _SENTENCE] if t.kind in _ENDS), tokens[last])
    return asked[0][0], end.end


def _sentences(tokens: list[Token]) -> list[tuple[int, int]]:
    """Where sentences begin and end; a blank line or quotation mark behind a full stop goes with it."""
    out: list[tuple[int, int]] = []
    start = 0
    at = 0
    while at < len(tokens):
        if tokens[at].kind in _ENDS:
            at += 1
            while at < len(tokens) and tokens[at].kind in ("STOP", "PARA", "NL", "QUOTE"):
                at += 1
            end = at
            while end > start + 1 and tokens[end - 1].kind in ("PARA", "NL", "QUOTE"):
                end -= 1
            out.append((start, end))
            if end < at:
                out.append((end, at))
            start = at
        else:
            at += 1
    if start < len(tokens):
        out.append((start, len(tokens)))
    return [span for span in out if span[1] > span[0]] if len(out) < 2 else _joined(tokens, out)


def _joined(tokens: list[Token], spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Stretches of nothing but marks go with the sentence before, unless that asks; then with the answer."""
    out: list[tuple[int, int]] = []
    waiting: int | None = None
    for start, end in spans:
        bare = all(t.kind in ("STOP", "PARA", "NL", "QUOTE") for t in tokens[start:end])
        if bare:
            if out and tokens[out[-1][1] - 1].text != "?":
                out[-1] = (out[-1][0], end)
            else:
                waiting = start if waiting is None else waiting
            continue
        out.append((start if waiting is None else waiting, end))
        waiting = None
    return out


def _only_yes(answer: list[Token]) -> bool:
    """Yes, and nothing of the trade with it."""
    return any(t.value == "said_yes" for t in answer) and not any(t.kind in _TRADE for t in answer)


def _with_noun(sentence: list[Token], question: list[Token]) -> list[Token]:
    """The answer with what the question asked for: the noun behind a number, the element before its work."""
    if not question:
        return sentence
    first = next((i for i, t in enumerate(sentence) if t.kind not in ("QUOTE", "PARA", "NL", *_PASSED)), None)
    if first is not None and sentence[first].kind == "reverse_work":
        # "And the chain?" "Turn, then eight, picot, eight."
        begins = first + 1
        while begins < len(sentence) and sentence[begins].kind in ("COMMA", *_PASSED):
            begins += 1
        counts = [t.kind for t in sentence[begins : begins + 4]]
        return _worked_as(sentence, begins, question) if counts[:1] == ["NUM"] and {*counts} & {*PICOTS} else sentence
    if first is None or sentence[first].kind != "NUM":
        return sentence
    many = next((i for i, t in enumerate(question) if t.value == "how_many"), None)
    if many is not None:
        noun = [t for t in question[many + 1 : -1] if t.kind != "QUOTE"]
        behind = sentence[first + 1].kind if first + 1 < len(sentence) else "STOP"
        if behind in (*_ENDS, "COMMA", "glue", "QUOTE", "again"):
            rest = sentence[first + 1 :]
            if rest and rest[0].kind == "STOP" and noun and noun[-1].kind not in ELEMENTS:
                rest = [rest[0]._replace(kind="COMMA"), *rest[1:]]
            named = [t for t in noun if t.kind in ELEMENTS]
            lead = named[:1] if named and not any(t.kind in PICOTS for t in noun) else []
            kept = [t for t in noun if t.kind not in (*ELEMENTS, "WORD", "to")]
            return [*sentence[:first], *lead, sentence[first], *kept, *rest]
        return sentence
    return _worked_as(sentence, first, question)


def _worked_as(sentence: list[Token], first: int, question: list[Token]) -> list[Token]:
    """The work answered, with the element that was asked for before it."""
    element = next((t for t in question if t.kind in ELEMENTS), None)
    if element is None or any(t.kind in ELEMENTS for t in sentence):
        return sentence
    return [*sentence[:first], element, *sentence[first:]]


def turns(tokens: list[Token]) -> list[Token]:
    """``swing the work round``, ``turn it about once more``: one turn, however it is told; other turning is no turn."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.value != "turning_verb" and token.kind != "reverse_work":
            out.append(token)
            at += 1
            continue
        end = at + 1
        piece = about = False
        while end < len(tokens) and end - at < 6:
            following = tokens[end]
            if following.kind == "this" or following.value in ("lace_piece", "piece"):
                piece = True
            elif _tells_way(tokens, end) or (following.kind == "again" and (about or piece)):
                about = True
            elif not (following.kind == "glue" and _goes_on_turning(tokens, end + 1)):
                break
            end += 1
        if token.value == "turning_verb":
            if not (piece or about):
                out.append(token)
                at += 1
                continue
            token = token._replace(kind="reverse_work", value="")
        out.append(token)
        at = end if about or piece else at + 1
    return out


def _tells_way(tokens: list[Token], at: int) -> bool:
    way = tokens[at].kind in ("around", "round") or tokens[at].value == "turned_way"
    return way and not _heads(tokens, at)


def _heads(tokens: list[Token], at: int) -> bool:
    """``Turn. Round 2``: the round is named and no way of turning."""
    return at + 1 < len(tokens) and tokens[at + 1].kind in ("NUM", "ORD", "COLON")


def _goes_on_turning(tokens: list[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].value in ("lace_piece", "piece", "turned_way")


def about_picot(tokens: list[Token]) -> list[Token]:
    """``five before the picot and five after it``: five, a picot, five."""
    out: list[Token] = []
    at = 0
    begun = False
    while at < len(tokens):
        token = tokens[at]
        if token.kind == "NUM" and (picot := _either_side(tokens, at)) is not None:
            out += [token, tokens[picot], token]
            at = picot + 1
            continue
        if token.kind == "NUM":
            i = at + 1
            while i < len(tokens) and tokens[i].kind in ("double_stitch", "glue", "again") and i - at < 4:
                i += 1
            if i + 1 < len(tokens) and tokens[i].kind in ("previous", "after"):
                noun = i + 1
                while noun < len(tokens) and tokens[noun].kind == "glue" and noun - i < 3:
                    noun += 1
                named = noun < len(tokens) and (
                    tokens[noun].kind in PICOTS or (tokens[noun].kind in ("this", "pronoun") and begun)
                )
                if (
                    named
                    and tokens[i].kind == "previous"
                    and tokens[noun].kind in PICOTS
                    and _after_follows(tokens, noun)
                ):
                    out += [token, tokens[noun]]
                    begun, at = True, noun + 1
                    continue
                if named and tokens[i].kind == "after" and begun:
                    out.append(token)
                    begun, at = False, noun + 1
                    continue
        elif token.kind in ("PARA", *ELEMENTS):
            begun = False
        out.append(token)
        at += 1
    return out


def _either_side(tokens: list[Token], at: int) -> int | None:
    """``nine stitches each side of one picot``: where the picot is named."""
    i = at + 1
    while i < len(tokens) and tokens[i].kind in ("double_stitch", "glue", "to") and i - at < 4:
        i += 1
    if i >= len(tokens) or tokens[i].kind != "either_side":
        return None
    i += 1
    while i < len(tokens) and i - at < 9 and (tokens[i].kind in ("of", "glue", "this") or tokens[i].value == 1):
        i += 1
    return i if i < len(tokens) and tokens[i].kind in PICOTS and tokens[i - 1].kind != "either_side" else None


def _after_follows(tokens: list[Token], at: int) -> bool:
    """Whether soon ``NUM after it`` is told."""
    for i in range(at + 1, min(at + 14, len(tokens) - 1)):
        if tokens[i].kind == "NUM":
            ahead = [t.kind for t in tokens[i + 1 : i + 4]]
            return "after" in ahead
        if tokens[i].kind in PICOTS:
            return False
    return False


def for_each_of_two(tokens: list[Token]) -> list[Token]:
    """``nine, picot, three for the one and three, join, nine for the other``: whom a count is for is shown by its place."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if token.value == "for_whom" and out and any(t.kind in PICOTS or t.kind in ("NUM", "join") for t in out[-3:]):
            end = at + 1
            while end < len(tokens) and tokens[end].kind in ("glue", "small", "large") and end - at < 3:
                end += 1
            if end < len(tokens) and (
                tokens[end].kind in ("pronoun", "other", "ORD", "next", "last", "leave", "WORD")
                or tokens[end].value == 1
            ):
                end += 1
                if end < len(tokens) and tokens[end].kind in ("pronoun", *ELEMENTS):
                    end += 1
                if end >= len(tokens) or tokens[end].kind in ("COMMA", "SEMI", "glue", "STOP", "PARA"):
                    out.append(Token("COMMA", "of_one", token.start, tokens[end - 1].end, True, ","))
                    at = end
                    continue
        out.append(token)
        at += 1
    return out
