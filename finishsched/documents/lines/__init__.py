"""Schedules in the lines of a notebook: ``6 coats 2 lb, 15 min between, overnight``.

Where to look: ``words`` (the trade's words, a row each), ``product_words``, ``cutting`` (text to
lines), ``patterns`` (how quantities look), ``clauses`` (a line to what it says), ``shorthand``
(what makers write short), ``loose`` (what nothing knows), ``said`` (what was said of one step),
``deciding`` and ``filling`` (what nobody said), ``stages`` (where in the work a step stands),
``read`` (lines to a schedule) and ``write`` (back).
Between the lines and the model stands the tree of nodes that YAML is read through too, so every
value is read by the same codecs, and every fault has its place.
"""
