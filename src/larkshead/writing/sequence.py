"""Steps on one line, parted by semicolons: what is worked instead on a named pass, and the rows of a table."""

from __future__ import annotations

from larkshead.model import ByPass, Element, Note, Repeat, Step
from larkshead.writing.actions import ActionWording
from larkshead.writing.elements import ElementWording
from larkshead.writing.wording import Wording

DEEPEST = 100


class StepWording(ElementWording, ActionWording):
    """Everything a step can be, in words: the tables of elements and of actions together."""

    def __init__(self, wording: Wording) -> None:
        ElementWording.__init__(self, wording)
        ActionWording.__init__(self, wording)

    def inline(self, steps: list[Step], depth: int = 0) -> str:
        """Steps on one line; repeats in brackets, changes on a pass in brackets behind their step."""
        wording = self.wording
        return wording.fill("between_steps").join(filter(None, (self._inline(step, depth) for step in steps)))

    def _inline(self, step: Step, depth: int) -> str:
        wording = self.wording
        if depth > DEEPEST:
            wording.lose("dropped", f"steps nested more than {DEEPEST} deep", step)
            return ""
        if isinstance(step, Element):
            return self._with_remark(self.element(step), step)
        if isinstance(step, Repeat):
            self.repeat_label(step)
            body = self.inline(step.steps, depth + 1)
            return wording.fill("inline_repeat", steps=body, times=self.times(step))
        if isinstance(step, ByPass):
            said = [self.element(step.step) if isinstance(step.step, Element) else self._inline(step.step, depth + 1)]
            for which, steps in step.passes.items():
                instead = self.inline(steps, depth + 1) if steps else wording.fill("leave_out")
                said.append(wording.fill("inline_instead", on_pass=self.on_pass(which), steps=instead))
            return self._with_remark(" ".join(said), step.step)
        if isinstance(step, Note):
            return wording.fill("inline_note", text=wording.free(step.text))
        return self.action(step)

    def _with_remark(self, said: str, step: Step) -> str:
        """What was said with the remark on an element behind it."""
        remark = self.remark(step) if isinstance(step, Element) else ""
        if not remark:
            return said
        note = self.wording.fill("inline_note", text=self.wording.free(remark))
        return self.wording.fill("between_steps").join((said, note))

    def repeat_label(self, step: Repeat) -> None:
        """Repeats have no label in words: what is dropped is said."""
        if step.label:
            self.wording.lose("dropped", f"the name of a repeat: {step.label}", step)
