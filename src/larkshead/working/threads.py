"""Which thread is the core and which works, element by element; which are live; what ends they leave."""

from __future__ import annotations

from larkshead.model import Attach, Cut, Element, Pattern, Switch, Thread
from larkshead.working.worked import Ends

Roles = tuple[str, str]
_DEFAULT = (Thread("shuttle", "shuttle 1"), Thread("ball", "ball"))
_DEFAULT_TWO = (Thread("shuttle", "shuttle 1"), Thread("shuttle", "shuttle 2"))


class Threads:
    """The threads of a pattern as the work goes on.

    A ring is one shuttle's, core and working thread in one. A chain, a split chain and a mock ring lie on the
    shuttle in use, made by the ball, else the other shuttle, else the tail left at the start. In a split ring the
    second thread makes the second side. A thrown ring is the working thread's of the chain it is thrown off.
    Where the text names no threads a shuttle and a ball are taken, or two shuttles where it changes between them
    (common practice, no source).
    """

    def __init__(self, pattern: Pattern, two_shuttles: bool = False) -> None:
        self.known = bool(pattern.threads)
        named = list(pattern.threads) or list(_DEFAULT_TWO if two_shuttles else _DEFAULT)
        self._all = {thread.name: thread for thread in named}
        self._names = {thread.name.casefold(): thread.name for thread in named}
        self.live = list(self._all)
        self.ends = Ends(started=self._started(self.live))
        self._shuttles = [t.name for t in named if t.role == "shuttle"] or [named[0].name]
        self._balls = [t.name for t in named if t.role == "ball"]
        self._tails = [t.name for t in named if t.role == "tail"]
        self.in_use = self._shuttles[0]
        self._crossed = False
        self._roles: dict[int | str, Roles] = {}

    # Elements

    def of(self, step: Element, host: Roles | None) -> Roles:
        """Core and working thread of an element; ``host`` those of the element it is thrown off. An empty working
        thread: there is no second one.
        """
        if host is not None:
            return self._thrown(step, host)
        # Elements of a kind that name no thread are all worked alike until something changes the threads.
        key = id(step) if step.thread else step.kind
        roles = self._roles.get(key)
        if roles is None:
            if not self.live:
                self._fasten([])
            roles = self._find(step)
            self._roles[key] = roles
        return roles

    def _find(self, step: Element) -> Roles:
        named = self._named(step.thread)
        alone = step.kind in ("ring", "josephine ring")
        if named:
            core, working = named[-1], named[0]
            if core in self._shuttles and core != self.in_use:
                self._take_up(core)
            if len(named) > 1 or alone:
                return core, working if not alone else core
            return core, self._second(core)
        if alone:
            core = self.in_use if self.in_use in self.live else next(iter(self._shuttles_live()), self.in_use)
            return core, core
        core = self.in_use
        if core not in self.live:
            core = next(iter(self._shuttles_live()), self.live[0])
        second = self._second(core)
        return (second, core) if self._crossed and second else (core, second)

    def _thrown(self, step: Element, host: Roles) -> Roles:
        named = self._named(step.thread)
        maker = named[-1] if named else host[1] or host[0]
        if step.kind in ("ring", "josephine ring"):
            return maker, maker
        other = host[0] if maker == host[1] else host[1]
        return maker, named[0] if len(named) > 1 else other

    def _second(self, core: str) -> str:
        for names in (self._balls, self._shuttles, self._tails, self.live):
            for name in names:
                if name != core and name in self.live:
                    return name
        return ""

    def _shuttles_live(self) -> list[str]:
        return [name for name in self._shuttles if name in self.live]

    def _named(self, text: str | None) -> list[str]:
        """The threads an element names, the working one first: ``shuttle 2 over shuttle 1``."""
        if not text:
            return []
        return [self._name(part) for part in text.split(" over ", 1)]

    def _name(self, text: str) -> str:
        name = text.strip()
        found = self._names.get(name.casefold())
        if found is None:
            # A thread the text names without listing it, or the only one of its role under another name.
            role = name.casefold().split(" ")[0]
            like = [thread.name for thread in self._all.values() if thread.role == role]
            found = like[0] if len(like) == 1 and name.casefold() in (role, f"{role} 1") else name
            self._names[name.casefold()] = found
            if found == name:
                self._all[name] = Thread(role if role in ("shuttle", "ball", "tail") else "shuttle", name)
                self.live.append(name)
                if self._all[name].role == "shuttle":
                    self._shuttles.append(name)
        return found

    # Actions

    def switch(self, step: Switch) -> None:
        """Change shuttles: to the one named, else to the next; with one only, core and working thread change roles."""
        self._roles.clear()
        target = self._name(step.to) if step.to else None
        if target is not None and target in self._shuttles:
            self._take_up(target)
        elif step.way == "change" and len(self._shuttles) > 1:
            at = self._shuttles.index(self.in_use) if self.in_use in self._shuttles else -1
            self._take_up(self._shuttles[(at + 1) % len(self._shuttles)])
        else:
            self._crossed = not self._crossed

    def cut(self, step: Cut) -> None:
        """Cut the threads named, or all that are live."""
        self._roles.clear()
        gone = [self._name(name) for name in step.threads] or list(self.live)
        for name in gone:
            if name in self.live:
                self.live.remove(name)
                if self._all[name].role != "tail":
                    self.ends.cut += 1

    def attach(self, step: Attach) -> None:
        """Fasten on the threads named, or all that are not live."""
        self._fasten([self._name(name) for name in step.threads])

    def _fasten(self, names: list[str]) -> None:
        self._roles.clear()
        new = [name for name in names or self._all if name not in self.live]
        self.live.extend(new)
        self.ends.started += self._started(new)
        if not self._crossed and self.in_use not in self.live:
            self.in_use = next(iter(self._shuttles_live()), self.in_use)

    def _take_up(self, shuttle: str) -> None:
        self.in_use = shuttle
        self._crossed = False
        self._roles.clear()

    def _started(self, names: list[str]) -> int:
        """The ends threads leave where they begin: none between two wound uncut; a tail is its shuttle's own end."""
        ends = 0
        for name in names:
            thread = self._all[name]
            if thread.role == "tail":
                continue
            ends += 1
            other = self._all.get(thread.joined_to or "")
            if other is not None and other.role != "tail" and other.name in names and not thread.tied:
                ends -= 2
        return max(ends, 0)
