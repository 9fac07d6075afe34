"""Which rows are worked again: every way a table tells it becomes a stretch of rows with a number of times."""

from __future__ import annotations

from bisect import bisect_right

from larkshead.model import Attach, BareThread, Cut
from larkshead.reading import Notice, Span
from larkshead.reading.grammar.said import SaidStep
from larkshead.records import dataclass
from larkshead_table.plans import Again, Plan
from larkshead_table.works import sums

_STARTS = "\\⎫┐⎧╮"
_ENDS = "/⎭┘⎩╯"


@dataclass(slots=True)
class Stretch:
    """Rows ``first`` to ``last`` (indexes, both worked) are worked ``times`` in all; None for as long as wanted.

    ``copied`` when the rows were left behind already: they are worked again behind row ``behind``.
    """

    first: int
    last: int
    times: int | None
    span: Span
    behind: int = -1

    @property
    def copied(self) -> bool:
        return self.behind >= 0


class Repeats:
    """Finds the stretches of a list of rows."""

    def __init__(self, plans: list[Plan], notices: list[Notice], merged: bool = False) -> None:
        self.plans = plans
        # Whether the column of times stands at the head of the rows, so that an empty cell goes with the one above.
        self.merged = merged
        self.notices = notices
        self.stretches: list[Stretch] = []
        self.told: set[tuple[int, int, int | None, int]] = set()
        self.ends: set[int] = set()
        self.labels: dict[str, list[int]] = {}
        # How many rows are worked up to each.
        self.worked = [0]
        self.working: list[int] = []
        for at, plan in enumerate(plans):
            self.worked.append(self.worked[-1] + plan.works)
            if plan.works:
                self.working.append(at)
            for label in plan.labels:
                self.labels.setdefault(label, []).append(at)
        self._number_unlabelled()

    def _number_unlabelled(self) -> None:
        """Rows without labels of their own go by their number."""
        if any(label.isdigit() for label in self.labels):
            return
        number = 0
        for at, plan in enumerate(self.plans):
            if plan.works:
                number += 1
                self.labels.setdefault(str(number), []).append(at)

    def find(self) -> list[Stretch]:
        """All stretches, none crossing another."""
        self._ranges()
        self._followers()
        self._brackets()
        self._columns()
        for at, plan in enumerate(self.plans):
            if plan.ahead is not None:
                self._ahead(at, plan.ahead)
            for again in plan.again:
                self._told(at, again)
        return self._uncrossed()

    # --- rows that stand for several ---------------------------------------------------------------------------

    def _ranges(self) -> None:
        """``3-8``: one row for six, or nothing but the rows of a repeat told in another column."""
        for at, plan in enumerate(self.plans):
            if not plan.first:
                continue
            if plan.works and plan.first.isdigit() and plan.last.isdigit() and self._at(plan.first, at) in (None, at):
                plan.count *= max(1, min(int(plan.last) - int(plan.first) + 1, 10**9))
            elif len(plan.again) == 1 and not plan.works and plan.again[0].bare:
                plan.again[0].refs = [(plan.first, plan.last)]
            elif plan.times is not None and not plan.works:
                plan.again.append(
                    Again(
                        plan.times.span,
                        plan.times.times,
                        plan.times.how,
                        [(plan.first, plan.last)],
                        total=plan.times.total,
                    )
                )
                plan.times = None

    def _followers(self) -> None:
        """Rows worked in turn with the row before: each pass of one after a pass of the other."""
        at = len(self.plans) - 1
        while at > 0:
            plan = self.plans[at]
            before = self._worked_before(at)
            if before is not None and plan.count > 1 and (plan.follows or self._in_turn(self.plans[before], plan)):
                first = self.plans[before]
                if first.count != plan.count:
                    message = f"{plan.count} of these come after {first.count} of the row before"
                    self.notices.append(
                        Notice("contradiction", "warning", message, plan.span, [(first.span, "the row before")])
                    )
                elif not plan.follows:
                    self.notices.append(
                        Notice("assumed", "note", "these two rows are taken to be worked in turn", plan.span)
                    )
                times = first.count
                first.count = plan.count = 1
                self.stretches.append(
                    Stretch(before, at, times, first.elements[-1].span if first.elements else first.span)
                )
            at -= 1
        for at, plan in enumerate(self.plans):
            if plan.count > 1:
                self.stretches.append(Stretch(at, at, plan.count, plan.span))

    def _in_turn(self, first: Plan, second: Plan) -> bool:
        """Rings 2 to 7 and then chains 2 to 7: with a turn to each, they are worked by turns."""
        one, two = first.elements, second.elements
        return (
            len(one) == len(two) == 1
            and one[0].kind != two[0].kind
            and one[0].first is not None
            and (one[0].first, one[0].last) == (two[0].first, two[0].last)
            and one[0].last is not None
        )

    # --- brackets and columns ----------------------------------------------------------------------------------

    def _brackets(self) -> None:
        """``start repeat`` and ``end repeat`` in rows of their own, and braces drawn in a column."""
        open_rows: list[int] = []
        for at, plan in enumerate(self.plans):
            if plan.opens:
                open_rows.append(at)
            if plan.shuts is not None:
                if not open_rows:
                    self.notices.append(Notice("unmatched-repeat", "warning", "no repeat is open here", plan.span))
                    continue
                first = open_rows.pop()
                self._stretch(first, at, plan.shuts)
        for at in open_rows:
            self.notices.append(
                Notice("unmatched-repeat", "warning", "this repeat is never ended", self.plans[at].span)
            )
        at = 0
        while at < len(self.plans):
            end = at
            while (
                end < len(self.plans)
                and self.plans[end].brace
                and (end == at or self.plans[end].brace[0] not in _STARTS)
                and (end == at or self.plans[end - 1].brace[-1] not in _ENDS)
            ):
                end += 1
            if end > at:
                told = next((plan.times for plan in self.plans[at:end] if plan.times is not None), None)
                if told is not None:
                    self._stretch(at, end - 1, told)
                for plan in self.plans[at:end]:
                    plan.times = None
            at = max(end, at + 1)

    def _columns(self) -> None:
        """Numbers in a column of times: for the row, for like rows together, or for the rows named there."""
        at = 0
        while at < len(self.plans):
            again = self.plans[at].times
            if again is None:
                at += 1
                continue
            if again.refs or again.kinds or again.near:
                self._told(at, again, column=True)
                at += 1
                continue
            end = at
            times = again.in_all
            while end + 1 < len(self.plans) and times is not None and times > 1:
                following = self.plans[end + 1]
                if following.heading is not None or not following.works:
                    break
                other = following.times
                alike = (
                    other is not None
                    and not other.refs
                    and not other.kinds
                    and ((other.in_all == times and not other.near) or (other.near == "above" and other.times is None))
                    and not (other.times is not None and _alone(self.plans[at]) and _alone(following))
                )
                if not alike and not (other is None and (self.merged or self._closed(end + 1))):
                    break
                end += 1
            if times is not None and times > 1:
                if end > at and any(plan.times is not None for plan in self.plans[at + 1 : end + 1]):
                    self.notices.append(
                        Notice(
                            "assumed", "note", "rows with the same number are taken to be worked in turn", again.span
                        )
                    )
                self._stretch(at, end, again)
            at = end + 1

    def _closed(self, at: int) -> bool:
        """Whether rows without a number end before a row that is worked once: the number above goes for them too."""
        while at < len(self.plans) and self.plans[at].times is None and self.plans[at].heading is None:
            at += 1
        times = self.plans[at].times if at < len(self.plans) else None
        return times is not None and times.in_all == 1

    # --- repeats told in words ---------------------------------------------------------------------------------

    def _told(self, at: int, again: Again, column: bool = False) -> None:
        if again.last_rows:
            self._last_rows(at, again)
        elif again.refs:
            self._named(at, again, column)
        elif again.kinds:
            self._kinds(at, again)
        elif again.near == "beside":
            following = self._worked_after(at)
            self._stretch(at, at + 1 if following is None else following, again)
        elif again.near == "above":
            before = self._worked_before(at)
            if again.times is None:
                again = self._number_of(before, again)
            self._stretch(at if before is None else before, at, again)
        elif again.near == "all_rows" and self.plans[at].outside:
            self._whole(at, again)
        elif again.near != "all_rows" and (column or (self.plans[at].elements and not again.verb and not again.how)):
            # A number of times alone goes for its row.
            self._stretch(at, at, again)
        else:
            before = self._worked_before(at)
            last = before if not self.plans[at].elements and before is not None else at
            self._stretch(self._section(last), last, again)

    def _whole(self, at: int, again: Again) -> None:
        """All rows of the table that stands before the text, from its heading on."""
        last = at
        while last > 0 and not self.plans[last].works:
            last -= 1
        first = last
        while first > 0 and not self.plans[first - 1].outside and self.plans[first].heading is None:
            first -= 1
        self._stretch(first, last, again)

    def _ahead(self, at: int, again: Again) -> None:
        """The rows of the table that comes next, up to the text behind it."""
        first = last = at + 1
        while last + 1 < len(self.plans) and not self.plans[last + 1].outside:
            last += 1
        if first < len(self.plans):
            self._stretch(first, last, again)

    def _named(self, at: int, again: Again, column: bool) -> None:
        """The rows between the first and the last label told."""
        found: list[int] = []
        for first, last in again.refs:
            for label in (first, last):
                if not label:
                    found.append(at)
                    continue
                row = self._at(label, at)
                if row is None:
                    self.notices.append(
                        Notice("unmatched-repeat", "warning", f"there is no row {label} to repeat", again.span)
                    )
                    if label == last and found:
                        # Everything up to here is taken.
                        found.append(at)
                else:
                    found.append(row)
        if column and self.plans[at].works:
            found.append(at)
        if not found:
            return
        first_row, last_row = min(found), max(found)
        if self._span_of_like(at, again, first_row, last_row):
            return
        self._stretch(first_row, last_row, again, told_at=None if self.plans[at].outside else at)

    def _last_rows(self, at: int, again: Again) -> None:
        """``the last two rows``: so many worked rows up to here."""
        before = self._worked_before(at)
        last = before if not self.plans[at].elements and before is not None else at
        rank = max(0, self.worked[last + 1] - again.last_rows)
        self._stretch(self.working[rank] if rank < len(self.working) else last, last, again)

    def _span_of_like(self, at: int, again: Again, first: int, last: int) -> bool:
        """``rows 3-8 as rows 1-2``: as many passes as rows stand for."""
        plan = self.plans[at]
        if again.times is not None or again.open or not plan.first or plan.works:
            return False
        rows = int(plan.last) - int(plan.first) + 1 if plan.first.isdigit() and plan.last.isdigit() else 0
        per_pass = sum(1 for row in range(first, last + 1) if self.plans[row].works)
        if rows < 1 or not per_pass:
            return False
        times, over = divmod(rows, per_pass)
        if over:
            self.notices.append(
                Notice("contradiction", "warning", f"{rows} rows do not come out even with {per_pass}", again.span)
            )
        self.stretches.append(Stretch(first, last, max(1, times), again.span, behind=at))
        return True

    def _kinds(self, at: int, again: Again) -> None:
        """``with the chain``, ``ring and chain``: the nearest rows of these kinds round this one."""
        mine = {element.kind for element in self.plans[at].elements}
        first = last = at
        others = [kind for kind in again.kinds if kind not in mine]
        for kind in others:
            after = self._kind_row(at, kind, 1)
            before = self._kind_row(at, kind, -1)
            beside = again.near == "beside" or (again.kinds[0] in mine and len(again.kinds) > 1)
            row = after if beside and after is not None else before if before is not None else after
            if row is not None:
                first, last = min(first, row), max(last, row)
        self._stretch(first, last, again)

    def _kind_row(self, at: int, kind: str, way: int) -> int | None:
        row = at + way
        while 0 <= row < len(self.plans):
            if way > 0 and self.plans[row].heading is not None:
                return None
            if any(element.kind == kind for element in self.plans[row].elements):
                return row
            if way < 0 and self.plans[row + 1].heading is not None:
                return None
            row += way
        return None

    def _number_of(self, row: int | None, again: Again) -> Again:
        times = self.plans[row].times if row is not None else None
        return Again(again.span, times.times, times.how) if times is not None else again

    def _section(self, at: int) -> int:
        """Where the passage that ends at a row begins: behind the last repeat, cut or fastening on, or at a heading."""
        first = at
        while first > 0:
            if self.plans[first].heading is not None:
                return first
            before = self.plans[first - 1]
            parted = any(
                isinstance(said, SaidStep) and isinstance(said.step, Cut | Attach)
                for unit in before.units
                for said in unit.after
            )
            if first - 1 in self.ends or parted or before.again:
                return first
            first -= 1
        return first

    # --- stretches ---------------------------------------------------------------------------------------------

    def _at(self, label: str, at: int) -> int | None:
        """The row of a label: the last one told up to row ``at``, else the next one after."""
        return last_up_to(self.labels.get(label), at)

    def _worked_before(self, at: int) -> int | None:
        """The nearest worked row before a row."""
        rank = self.worked[at] - 1
        return self.working[rank] if rank >= 0 else None

    def _worked_after(self, at: int) -> int | None:
        """The nearest worked row behind a row."""
        rank = self.worked[at + 1]
        return self.working[rank] if rank < len(self.working) else None

    def _stretch(self, first: int, last: int, again: Again, told_at: int | None = None) -> None:
        last = min(last, len(self.plans) - 1)
        while first < last and not self.plans[first].works:
            first += 1
        while last > first and not self.plans[last].works:
            last -= 1
        if not self.plans[first].works:
            self.notices.append(
                Notice("unmatched-repeat", "warning", "nothing is worked in the rows to repeat", again.span)
            )
            return
        times = again.in_all
        if again.until:
            times = self._until(first, last, again)
        elif times is None and not again.open:
            self.notices.append(Notice("open-repeat", "note", "how often to repeat is not said", again.span))
        if (
            again.total is not None
            and again.times is not None
            and again.how == "more"
            and again.total != again.times + 1
        ):
            message = f"{again.times} more times do not make {again.total} in all"
            self.notices.append(Notice("contradiction", "warning", message, again.span))
        behind = -1
        if told_at is not None and told_at > last and self.worked[told_at] > self.worked[last + 1]:
            # The rows were left behind: they are worked again here, so often as said.
            behind = told_at
            if times is not None and again.how == "more" and again.total is None:
                times -= 1
        if times == 1 and behind < 0:
            return
        if times is not None and times < 1:
            self.notices.append(Notice("unclear-count", "warning", "no times at all are told here", again.span))
            return
        key = (first, last, times, behind)
        if key in self.told:
            return
        self.told.add(key)
        self.stretches.append(Stretch(first, last, times, again.span, behind))
        if behind < 0:
            self.ends.add(last)

    def _until(self, first: int, last: int, again: Again) -> int | None:
        for (kind, size), wanted in again.until.items():
            chosen = self._sized(kind, size)
            inside = sum(1 for at in chosen if first <= at <= last)
            part = self._part_start(first)
            before = sum(1 for at in chosen if part <= at < first)
            if inside:
                times, over = divmod(wanted - before, inside)
                if over or times < 1:
                    message = f"{wanted} {size} {kind}s".replace("  ", " ") + " do not come out even"
                    self.notices.append(Notice("contradiction", "warning", message, again.span))
                return max(1, times)
        return None

    def _part_start(self, row: int) -> int:
        while row > 0 and self.plans[row].heading is None:
            row -= 1
        return row

    def _sized(self, kind: str, size: str) -> list[int]:
        """The row of each element of a kind. Where no element has the size told, the largest or smallest are meant."""
        rows = [
            (at, element) for at, plan in enumerate(self.plans) for element in plan.elements if element.kind == kind
        ]
        if size and any(element.size == size for _, element in rows):
            rows = [entry for entry in rows if entry[1].size == size]
        elif size and rows:
            counts = [sums(element.pieces)["ds"] for _, element in rows]
            wanted = max(counts) if size == "large" else min(counts)
            rows = [entry for entry, count in zip(rows, counts, strict=True) if count == wanted]
        return [at for at, _ in rows]

    def _uncrossed(self) -> list[Stretch]:
        """The stretches that lie within one another or apart; one that crosses another is left out."""
        kept = [stretch for stretch in self.stretches if stretch.copied]
        open_ones: list[Stretch] = []
        for stretch in sorted((s for s in self.stretches if not s.copied), key=lambda s: (s.first, -s.last)):
            while open_ones and open_ones[-1].last < stretch.first:
                open_ones.pop()
            if open_ones and open_ones[-1].last < stretch.last:
                message = "these rows cross the rows of another repeat; this repeat is left out"
                other = [(open_ones[-1].span, "the other repeat")]
                self.notices.append(Notice("unmatched-repeat", "warning", message, stretch.span, other))
                continue
            open_ones.append(stretch)
            kept.append(stretch)
        return kept


def _alone(plan: Plan) -> bool:
    """Whether a row tells all that is worked over and over: several elements, or one with the bare thread behind it."""
    bare = any(isinstance(said, SaidStep) and isinstance(said.step, BareThread) for u in plan.units for said in u.after)
    return len(plan.elements) > 1 or (len(plan.elements) == 1 and bare)


def last_up_to(rows: list[int] | None, at: int) -> int | None:
    """The last of the ascending numbers that is not above ``at``, else the first; None where there are none."""
    if not rows:
        return None
    return rows[max(0, bisect_right(rows, at) - 1)]
