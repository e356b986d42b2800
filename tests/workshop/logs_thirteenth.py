"""Twelve made-up logs of what was named wrongly, or had no cause, when a set of fifty was told.

From what makers tell of defects (common practice), in words as people say them. ``called`` is what
the defect is called here; a bar between two that it may be called, or that a practitioner may name
first. Somebody who had not seen the tables told fifty such logs; 41 of those had the cause first
that was meant, or one near it. These are after the rest.
"""

from defect_logs import (
    BARE,
    DAY,
    brushed,
    coat,
    glued,
    hours,
    level,
    said,
    sand,
    sprayed,
    stain,
    tack,
    tape_off,
    waterborne,
)

VARNISHED = [*BARE, brushed(), brushed()]

THIRTEENTH = [
    said("a frosty bloom with hair cracks through it, it has never gone clear", "crackle|blush",
         "cold-film", [*BARE, waterborne(), waterborne()], air=(6, 70, 0.1), later=DAY),
    said("cracked like a dry river bed, the garage was cold when I brushed it", "crackle",
         "cold-film", [*BARE, waterborne()], species="ash", air=(7, 65, 0.1), later=DAY),
    said("rings like a map of hills where the block went", "witness lines", "separate",
         [*VARNISHED, level("P400")], gaps={6: 14}, later=hours("1 h")),
    said("the lid had welded itself to the carcase and tore both when it came open", "print|sticky",
         "shut-soon|handled-soon", VARNISHED, later=2 * DAY),
    said("drawer is stuck shut, forced it and the finish tore", "print|sticky|burn",
         "shut-soon|handled-soon", VARNISHED, later=DAY),
    said("light whorls of a thumb where the dye will not go", "blotches", "hand-grease",
         [*BARE, stain()], species="maple", later=hours("1 h")),
    said("dark stripe, light stripe, as wide as the fan of the gun", "streaks|blotches",
         "lapped-passes|lapped-colour", [*BARE, sprayed(), sprayed()], species="maple",
         later=hours("30 min")),
    said("the gun coughed and spat fat drops over it", "orange peel|sag|dust nib", "spits",
         [*BARE, sprayed()], later=hours("10 min")),
    said("goes on in curds like sour milk", "dust nib|orange peel", "frozen",
         [*BARE, waterborne()], later=hours("1 h"), notes={3: "the tin froze in the shed"}),
    said("splinters came away with the tape, I peeled it off dry", "lifting", "tape-torn",
         [glued(), tape_off(), sand("P220"), tack()], veneer_mm=0.6, later=hours("1 h")),
    said("my biro signature swam as the brush went over it", "bleeding", "colour-lifted",
         [*BARE, coat("brush")], species="maple", later=hours("5 min")),
    said("a beetle walked into it and stayed there", "dust nib", "open-long", VARNISHED,
         later=DAY),
]  # fmt: skip
