"""larkshead reads tatting patterns in one notation, writes them in another, and proofs them by working them."""

__version__ = "0.1.0"
