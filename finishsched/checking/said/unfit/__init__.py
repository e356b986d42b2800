"""What something does not bear in the hand, as the free words of a step tell it.

A block of a table is one way of working: its name and why it is wrong, then keys.

says: facts of ``words.txt`` by their names, or words of its own in quotes. Alternatives are joined
  by semicolons; & asks for both anywhere in the step, + for both in one clause or in two side by
  side, >> for the second after the first. ! asks for a fact that is denied. A figure is compared:
  span > 45 min, warmth < 10 c.
unless: facts that say that it is done rightly all the same, joined by semicolons.
of: words of the schedule's title, suits or notes. not of: such words that excuse it. not before:
  verbs of the next step that excuse it.
does: the verbs that it is said of, or coats, lays, rubs, cleans, wets (a product that has to dry),
  gun, hand; two of these words in one place have to hold both. with: the matter of what the step
  brings, as ``matter.py`` names it, or tape, nothing, self-heating, flammable. over, under: the
  matter below, bare, and of the next layer. place: last scratches, last film.
read: how (the words and the tool), what for (the schedule's title, suits and notes), check (the dry
  check), cautions (how and the cautions, read by itself of all that can hurt).
instead: what to do. code: the rule that tells it, unfit-tool where nothing is said. source: common
  practice, no source, where nothing is said. heard, sound: an example in the shorthand of the tests
  that is told, and one that is not.
"""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.tables import Block, blocks_of

_TABLES = (
    "wood", "glue", "colour", "fill", "mixing", "hand", "gun", "rubbing", "wax", "rooms", "danger",
)  # fmt: skip


def unfit_blocks() -> Iterator[Block]:
    """Give the block of each way of working that something does not bear."""
    for table in _TABLES:
        yield from blocks_of(f"{table}.txt", __name__)
