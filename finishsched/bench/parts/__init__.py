"""What the bench is made of besides what is drawn: each part does one kind of thing.

A part is handed what it needs and asks the rest of its host. What a key of the board does is one of
the ``doings`` of a part, under the key's id in ``keys.py``.
"""
