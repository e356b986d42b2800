"""How much of everything a server of benches takes, and how long it waits.

Our assumptions: a shop has a handful of screens, and a person types, taps and reads.
"""

from __future__ import annotations

MOST_BENCHES = 8
"""Each is a process with a bench of its own."""
MOST_CONNECTIONS = 64
"""At once, from everybody; a browser opens half a dozen to load a page."""
MOST_CONNECTIONS_OF_ONE = 24
"""At once, from one address: nobody on the network can take the places of all others."""
MOST_SESSIONS = 32
SESSION_S = 16 * 3600.0
"""How long a session lasts that nobody uses."""

MOST_FRAME_BYTES = 64 * 1024
"""Of one message of a page, text that is pasted among it."""
MOST_BODY_BYTES = 1024
"""Of the body of a request."""
HEAD_S = 10.0
"""Within this a connection has asked for something."""
ANSWER_S = 60.0
"""Within this it has its answer, and is closed; a WebSocket stays."""
LINGER_S = 10.0
"""So long what was answered before its body came may still send it; then it is ended."""
OPEN_S = 10.0
"""Within this a WebSocket has said which bench it wants."""
SLOW_S = 15.0
"""So long may a screen take none of what is drawn for it; then its connection is ended."""
HEARTBEAT_S = 10.0
"""How often a screen is asked whether it is there; half of it may its answer take."""
HOLD_S = 120.0
"""So long a bench waits for a screen whose connection was lost."""
WATCH_S = 0.2
"""How often it is looked whether somebody wrote into the journal."""
START_S = 30.0
"""Within this a bench has begun to draw, on a slow machine too."""
END_S = 3.0
"""Within this a bench has ended by itself, or is ended."""

PAPER_S = 45.0
"""Within this a paper is made; a plan of a full shop takes seconds."""
MOST_PAPERS_WAITING = 8
MOST_PAPER_BYTES = 64_000_000
"""A record with many pictures in it is one page."""

WIDTHS = range(20, 401)
HEIGHTS = range(8, 201)
"""In signs: what a bench can be asked to draw on."""
