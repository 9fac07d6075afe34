"""Writing: what every writer gives back, and what writers of words share.

A writer of words makes a ``Wording`` for its convention and style, says elements with ``ElementWording`` and actions
with ``ActionWording``, and lays them out. What the shared tables have no entry for becomes a loss.
"""

from larkshead.writing.losses import Loss, Written

__all__ = ["Loss", "Written"]
