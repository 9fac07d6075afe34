"""Reading old books: running text that names its elements freely, fastens and joins with the same verbs, and tells what differs
after the repeat.

A convention says by its habit ``telling: books`` that its texts are read so; the words come from its vocabulary alone.
"""
