"""Begin: a piece, a schedule in one's own words, work that was under way before, and once more.

``written`` puts documents on the disk so that it can be undone; ``questions`` are what is asked
of a piece, and ``piece`` makes a document of the answers; ``joining`` tells what was done before;
``own_lines`` makes a schedule of a notebook's lines.
"""
