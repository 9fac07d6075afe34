"""Writing: what every writer gives back."""

from larkshead.writing.losses import Loss, Written

__all__ = ["Loss", "Written"]
