"""The bench on the screens of a shop: a tablet, a phone, an old laptop, through their browsers.

Each screen has a bench of its own, a process that works on the shop's journal as the one in a
terminal does; they see each other's entries there. ``program.py`` serves, ``one_bench.py`` is what
such a process runs, and ``page/`` is what a browser gets. Nothing comes from outside this machine.

Routes. Whatever is asked without a session is answered 401.

- ``GET /``: the page; without a session ``page/lock.html``, which gives the key
- ``POST /enter`` with ``{"key": "..."}``: a session in a cookie, and 204; or 401
- ``POST /leave``: ends the session, 204
- ``GET /page/NAME``: a file of ``page/``
- ``GET /bench``: the WebSocket of one bench
- ``GET /papers``: as JSON ``{"shop": TITLE, "papers": [{"paper", "title", "of"}, ...]}``
- ``GET /papers/PAPER?of=OF``: one of them as a page, or 409 and the reasons in plain text

The key stands in the fragment of the address that is scanned, which no browser sends to anybody;
the lock page posts it, and goes on to the address without it.

On the WebSocket a binary frame is what the bench draws, for a terminal to show. A text frame is a
JSON list: a word, and what belongs to it. The page says first

- ``["open", {"width": 80, "height": 24, "bench": KEY}]``, with the key that it was told for its
  bench before, or an empty one

and then

- ``["type", TEXT]``: what a keyboard or a pointer of the terminal gives
- ``["tap", {"of": N, "action": TEXT}]``: a button that was offered
- ``["typed", {"of": N, "field": ID, "value": TEXT}]``: a field that was offered says so now
- ``["resize", {"width": 80, "height": 24}]``: how many signs the screen has
- ``["ping", ANY]``: answered by ``["pong", ANY]``
- ``["leave", {}]``: ends this bench; so does a page that closes

The server says

- ``["opened", {"bench": KEY, "anew": B}]``: a new bench, or the one that was lost a while ago
- ``["look", {...}]``, ``["offer", {...}]``: what ``bench/touch/`` tells of colours and buttons
- ``["ring", {}]``: something is due: sound, and shake
- ``["left", {"why": TEXT}]``: the bench was left by its own key, or could not go on
- ``["full", {"open": N}]``: as many screens are open as may be

A connection that is lost, and not closed, leaves its bench waiting for a while: whoever comes back
with its key finds what was typed. One that the page closes ends its bench.
"""
