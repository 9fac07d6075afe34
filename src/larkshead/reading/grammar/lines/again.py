"""Passages said to be worked again, in words that are no repeat mark, in lines of shorthand."""

from __future__ import annotations

from larkshead.reading.grammar.lines.elements import LineElements
from larkshead.reading.grammar.lines.state import KINDS
from larkshead.reading.grammar.said import SaidCopy, SaidOpen, SaidRepeat
from larkshead.reading.grammar.samename import same_name

_MOST = 10**12
_LIKE_ENDS = frozenset({"COLON", "STOP", "SEMI", "NL", "PARA", "DASH", "PLUS"})
# Words that point at a passage, and those that tell how often it is worked.
_POINTING = frozenset(
    {"WORD", "all", "this", "glue", "of", "row", "each", "step", "work_over", "go_on", "same", "again", "like"}
)


class LineAgain(LineElements):
    """A layer of Lines."""

    def _like_these(self, start: int) -> bool:
        """``3 rings like this, joined at their sides: R 5+5-5-5``: the element behind the colon, so often."""
        c = self.c
        at = start
        while self.kind_at(at) == "glue" and at - start < 3:
            at += 1
        ahead = at + 1
        while self.kind_at(ahead) in ("small", "large", "more"):
            ahead += 1
        kind = KINDS.get(self.kind_at(ahead))
        if self.kind_at(at) != "NUM" or kind is None:
            return False
        colon = next((i for i in range(ahead, min(ahead + 14, c.limit)) if self.tokens[i].kind in _LIKE_ENDS), 0)
        between = {t.kind for t in self.tokens[ahead:colon]}
        # "5 petals: R ..." needs no word for likeness.
        alone = colon == ahead + 1 and self.tokens[ahead].text[-1:] == "s"
        if (
            self.kind_at(colon) != "COLON"
            or not (alone or between & {"like", "same", "this"})
            or KINDS.get(self.kind_at(colon + 1)) != kind
            or not self.strong_start(colon + 1)
        ):
            return False
        c.at = colon + 1
        return self.element(count=min(max(int(self.tokens[at].value), 1), 10**12), start=start)

    def _so_many_of(self, start: int, strong: int) -> bool:
        """``15 scallops of R 5-5 RW Ch 4 RW``: what follows on the line, so often."""
        kinds = [t.kind for t in self.tokens[start:strong]]
        if kinds not in (["NUM", "WORD", "of"], ["NUM", "WORD", "COLON"], ["NUM", "WORD", "WORD", "of"]):
            return False
        if self.tokens[start + 1].text[-1:] != "s" and self.tokens[start + 2].text[-1:] != "s":
            return False
        times = min(max(int(self.tokens[start].value), 1), 10**12)
        self.c.at = strong
        self.said.append(SaidOpen("line", self.c.span(start), times))
        self.fresh = True
        return True

    def _same_again(self, start: int, end: int) -> bool:
        """``Right ear the same.`` below ``Left ear: ...``: a line named at its head, worked once more."""
        kinds = [t.kind for t in self.tokens[start:end]]
        if not self._fresh_line(start) or not 1 < len(kinds) < 7 or kinds[-1] != "same" or "WORD" not in kinds:
            return False
        words = [t.text.lower() for t in self.tokens[start:end] if t.kind in ("WORD", "label")]
        label = next((name for name in reversed(self.step_labels) if name.split()[-1] == words[-1]), None)
        if label is None:
            return False
        self.said.append(SaidCopy(label, self.c.span(start, end)))
        self.c.at = end
        return True

    def _following(self, start: int, end: int) -> bool:
        """``The following is worked 6 times:``, ``Work these lines 6 times:``: a passage still to come."""
        c = self.c
        colon = next((i for i in range(start, end + 1) if self.kind_at(i) == "COLON"), -1)
        if colon < 0 or colon - start > 10 or self.strong_start(start):
            return False
        kinds = [t.kind for t in self.tokens[start:colon]]
        if set(kinds) - _POINTING - {"next", "NUM", "times", "twice", "in_all", "to", "COMMA"}:
            return False
        if not ({"next", "this"} & set(kinds)) and not self.strong_start(colon + 1):
            return False
        c.at = next((start + i for i, k in enumerate(kinds) if k in ("NUM", "twice")), colon)
        times, _ = self._times_told()
        if times is None or c.at > colon:
            c.at = start
            return False
        c.at = colon + 1
        self._open_ahead(start, times)
        return True

    def _open_ahead(self, start: int, times: int) -> None:
        """A passage said beforehand to be worked so often: the rest of the line, or the lines up to a blank one."""
        c = self.c
        lines = c.kind() in ("NL", "PARA")
        if lines:
            c.next()
            self.line += 1
        self.said.append(SaidOpen("lines" if lines else "line", c.span(start), times))
        self.fresh = True
        self.clause_start = c.at

    def _row_again(self, start: int, end: int) -> bool:
        """``do row 2 four more times``: a row by its number, without the word for repeating."""
        c = self.c
        at = start
        while self.kind_at(at) in ("glue", "go_on", "work_over") and at - start < 3:
            at += 1
        if self.kind_at(at) not in ("row", "step") or self.kind_at(at + 1) != "NUM" or at + 2 >= end:
            return False
        c.at = at + 2
        times, how = self._times_told()
        if times is None:
            c.at = start
            return False
        said = SaidRepeat("steps", c.span(start), times=times, how=how or "more", part=self.kind_at(at))
        said.first = said.last = self.tokens[at + 1].text
        self.said.append(said)
        return True

    def _labels_again(self, end: int) -> bool:
        """``Side and corner 4 times in all``: lines named at their head, worked so often."""
        c = self.c
        start = c.at
        labels: list[str] = []
        at = start
        while at < end and self.kind_at(at) not in ("NUM", "times", "twice"):
            text = self.tokens[at].text
            name = text if text in self.step_labels else text.lower()
            if name in self.step_labels:
                labels.append(name)
            at += 1
        if at >= end or (
            not labels and (at - start > 5 or any(t.kind not in _POINTING for t in self.tokens[start:at]))
        ):
            return False
        c.at = at
        times, how = self._times_told()
        if times is None:
            c.at = start
            return False
        if not labels:
            kinds = {t.kind for t in self.tokens[start:at]}
            what = "clause" if kinds & {"this", "same", "again"} else "line"
            if self._fresh_line(start) and "step" not in kinds:
                what = "block"
            how = how or ("more" if kinds & {"same", "again"} else "all")
            self.said.append(SaidRepeat(what, c.span(start), times=times, how=how))
            return True
        self.said.append(SaidRepeat("labels", c.span(start), times=times, how=how or "all", labels=labels))
        c.at = max(c.at, end) if self.kind_at(c.at) != "COMMA" else c.at
        return True

    def _so_many_made(self, start: int, end: int) -> bool:
        """``Make 12.``, ``12 of these``: the passage just told, so often in all."""
        but = next((i for i in range(start + 2, end) if self.tokens[i].kind == "but"), end)
        if but < end and self.kind_at(start) == "NUM" and self.kind_at(start + 1) == "more":
            # "7 more like this but ..."
            end = but
        begin = start
        while begin > self.clause_start and self.tokens[begin - 1].kind == "glue":
            begin -= 1
        tokens = self.tokens[begin:end]
        if self._repeats_made(start, end):
            return True
        numbers = [t for t in tokens if t.kind == "NUM"]
        if len(numbers) != 1 or len(tokens) > 6 or len(tokens) < 2 or numbers[0].value > 100000:
            return False
        if any(
            t.kind
            not in ("NUM", "glue", "WORD", "this", "of", "like", "all", "in_all", "more", "same", "again", "go_on")
            and not (t.kind == "around" and t is tokens[-1])
            for t in tokens
        ):
            return False
        at = tokens.index(numbers[0])
        if at + 1 < len(tokens) and tokens[at + 1].kind not in ("of", "like", "in_all", "this", "more", "again"):
            return False
        if (tokens[0].kind == "WORD" and tokens[-1].kind == "WORD") or (
            tokens[0].kind == "NUM" and "this" not in {t.kind for t in tokens}
        ):
            return False
        how = "more" if any(t.kind == "more" for t in tokens) else "all"
        what = "block" if self._fresh_line(start) else "line"
        self.said.append(SaidRepeat(what, self.c.span(start, end), times=int(numbers[0].value), how=how))
        self.c.at = end
        return True

    def _repeats_made(self, start: int, end: int) -> bool:
        """``Work 7 pattern repeats``, ``These two lines 7 times``: what stands before, so often in all."""
        at = start
        while at < end and self.kind_at(at) in ("glue", "go_on", "WORD", "this") and at - start < 3:
            at += 1
        number = at if self.kind_at(at) == "NUM" else -1
        unit = self.tokens[number + 1].text.lower() if number >= 0 and number + 2 <= end else ""
        if unit and number + 3 >= end and any(same_name(unit, name) for name in self.units):
            return self._made(start, end, int(self.tokens[number].value))
        if number >= 0 and self.kind_at(number + 1) in ("WORD", "repeat") and number + 4 > end - 1:
            behind = [t.kind for t in self.tokens[number + 1 : end]]
            if behind in (["repeat"], ["WORD", "repeat"], ["repeat", "in_all"], ["WORD", "repeat", "in_all"]):
                return self._made(start, end, int(self.tokens[number].value))
        if self.kind_at(number if number >= 0 else at) == "NUM" and self.kind_at(at + 1) == "step":
            at += 1
        if self.kind_at(at) != "step" or number == at:
            return False
        at += 1
        while at < end and (
            self.kind_at(at) in ("DASH", "glue", "to", "COMMA")
            or (self.kind_at(at) == "NUM" and self.kind_at(at + 1) not in ("times", "more"))
        ):
            at += 1
        if self.kind_at(at) == "NUM" and self.kind_at(at + 1) == "times" and at + 3 > end - 1:
            return self._made(start, end, int(self.tokens[at].value))
        return False

    def _made(self, start: int, end: int, times: int) -> bool:
        what = "block" if self._fresh_line(start) else "line"
        self.said.append(SaidRepeat(what, self.c.span(start, end), times=min(max(times, 1), 10**12), how="all"))
        self.c.at = end
        return True

    def _so_many_of_each(self, end: int) -> bool:
        """``make ten of each that way``, ``and so on ... until there are 9 rings and 9 chains``."""
        c = self.c
        start = c.at
        kinds = [t.kind for t in self.tokens[start:end]]
        if "until" in kinds:
            c.at = start + kinds.index("until") + 1
            said = SaidRepeat("counts", c.span(start), how="all")
            if self._counted(said, end):
                said.span = c.span(start)
                self.said.append(said)
                return True
            c.at = start
        if (
            kinds[:2] == ["glue", "NUM"]
            and kinds[2:3]
            and kinds[2] in KINDS
            and kinds[3:4] in ([], ["COMMA"])
            and not any(isinstance(thing, SaidRepeat | SaidOpen) for thing in self.said[-50:])
        ):
            # "Make 5 petals."
            c.at = start + 1
            said = SaidRepeat("counts", c.span(start), how="all")
            if self._counted(said, start + 3):
                said.span = c.span(start)
                self.said.append(said)
                return True
            c.at = start
        if kinds[:1] == ["go_on"] and "NUM" in kinds and kinds.index("NUM") < 5 and "times" not in kinds:
            # "Go on so, 30 rings."
            c.at = start + kinds.index("NUM")
            said = SaidRepeat("counts", c.span(start), how="all")
            if self._counted(said, end) and c.at == end:
                said.span = c.span(start)
                self.said.append(said)
                return True
            c.at = start
        to = kinds.index("to") if "to" in kinds else 0
        if to and {"go_on", "like", "this", "same", "again"} & set(kinds[:to]) and set(kinds[:to]) <= _POINTING:
            c.at = start + to + 1
            said = SaidRepeat("counts", c.span(start), how="all")
            if c.kind() == "NUM" and self._counted(said, end):
                said.span = c.span(start)
                self.said.append(said)
                return True
            c.at = start
        for i, kind in enumerate(kinds):
            if kind == "NUM" and i + 2 < len(kinds) and kinds[i + 1] == "of" and kinds[i + 2] in ("each", "all"):
                said = SaidRepeat(
                    "counts", c.span(start, end), how="all", counts={"each": int(self.tokens[start + i].value)}
                )
                self.said.append(said)
                c.at = self.clause_end(start + i, ("COMMA",))
                return True
        return False
