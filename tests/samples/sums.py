"""What each sample comes to, worked out by hand from the pattern as a tatter would, line by line."""

from __future__ import annotations

# Windflower. One shuttle; shuttle thread S and starting tail T.
#   Centre   ring A 2-2-2-2-2-2: six counts of 2 round five picots; the mock picot at its base is the sixth, so that six
#            picots stand 2 apart all round. S and T both end at the tip of the mock picot.
#   Round 1  from there S goes round by the picots of A: 5 mm, lock join, a ring standing on that picot; five times,
#            for picots 1 to 5. 5 mm and a lock join to the tip of the mock picot bring S to where T is: the split ring
#            stands there, one side of S, one of T, and climbs. Its mock picot is the picot that its five sisters have.
#   Round 2  S from the tip of that mock picot: a ring between every two small ones, 6 mm of thread on both sides of it,
#            a lock join to the picot of the next small ring underneath. The sixth is folded to meet the first, and the
#            last lock join goes back to the tip of the mock picot, where T is: the two are tied.
_SMALL, _SPLIT, _LARGE = 3 + 3, 3 + 3, 10 + 4 + 4 + 4 + 4 + 10
WINDFLOWER = {
    "rings": 1 + 5 + 1 + 6,  # A, five small, the split ring, six large
    "split_rings": 1,
    "chains": 0,
    "ds": 6 * 2 + 5 * _SMALL + _SPLIT + 6 * _LARGE,
    "picots": 5 + 5 * 1 + 0 + (5 + 4 * 4 + 3),  # large: the first has 5, the next four 4 and a join, the last 3 and two
    "mock_picots": 2,
    "lock_joins": 5 + 1 + 5 + 1,  # picots 1 to 5, the mock picot; five small rings, the mock picot
    "joins": 12 + 4 + 2,  # lock joins and the picot joins of the large rings
    "beads": 0,
    "bare_thread": 6 * 5 + 12 * 6,  # mm
}

# Millstream: as long as wanted; a ring of 6-3-3-6 and a chain of 3-3-3-3 for each repeat after the first ring.
MILLSTREAM_RING, MILLSTREAM_CHAIN = 6 + 3 + 3 + 6, 4 * 3

# Harebell: rings R1 to R4 (4-4-4-4), each followed by a chain of 7, a thrown ring (3-3-3) and a chain of 7.
HAREBELL = {
    "rings": 4 + 4,
    "chains": 4 * 2,
    "ds": 4 * 16 + 4 * 9 + 8 * 7,
    "picots": (3 + 2 + 2 + 1) + 4 * 2,
    "mock_picots": 0,
    "lock_joins": 1,
    "joins": (0 + 1 + 1 + 2) + 1,
    "beads": 0,
}

# Hopscotch: two squares of four rings (4-4-4-4) and four chains (6-6-6); chain 1 of the second gives up its two picots.
HOPSCOTCH = {
    "rings": 2 * 4,
    "chains": 2 * 4,
    "ds": 2 * (4 * 16 + 4 * 18),
    "picots": 2 * (3 + 2 + 2 + 1) + 4 * 2 + 3 * 2,
    "mock_picots": 0,
    "lock_joins": 2,
    "joins": 2 * (0 + 1 + 1 + 2) + 2 + 2,
    "beads": 0,
}

# Rowan: 15 rings (5-5-5-5) and 14 chains (4-4-4, a bead on both picots) between them.
ROWAN = {
    "rings": 1 + 14,
    "chains": 14,
    "ds": 15 * 20 + 14 * 12,
    "picots": 3 + 14 * 2 + 14 * 2,
    "mock_picots": 0,
    "lock_joins": 0,
    "joins": 14,
    "beads": 14 * 2,
}

# Turnstile as its text has it, slips and all: five rings of 20 and one of 19 (it has a 4), six chains of 16.
TURNSTILE = {
    "rings": 6,
    "chains": 6,
    "ds": 5 * 20 + 19 + 6 * 16,
    "picots": (3 + 4 * 2 + 1) + 6,
    "mock_picots": 0,
    "lock_joins": 1,
    "joins": (0 + 4 * 1 + 2) + 1,
    "beads": 0,
}

CLOSED = {
    "windflower": WINDFLOWER,
    "harebell": HAREBELL,
    "hopscotch": HOPSCOTCH,
    "rowan": ROWAN,
    "turnstile": TURNSTILE,
}
