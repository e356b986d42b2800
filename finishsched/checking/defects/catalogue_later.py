"""Defects that show when the film is done: in use, or as dull places.

All of it is common practice, no source, and the weights our assumption.
"""

from __future__ import annotations

from finishsched.checking.defects.causes import FAIR, SLIGHT, STRONG, Cause, Defect
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Sign

LATER_DEFECTS = (
    Defect(
        seen=Seen.PRINT,
        looks="the weave of a cloth, a finger or a support pressed into the film",
        causes=(
            Cause(
                id="soft",
                words="handled or stood on something before it was hard",
                often=4.0,
                look="only where it was touched; the rest takes no nail mark after some days",
                reworks=("wait-level", "rub-even", "wait"),
                speaks={Sign.NOT_DRY: STRONG, Sign.COLD_AIR: SLIGHT, Sign.STAYS_SOFT: -SLIGHT},
            ),
            Cause(
                id="thick",
                words="a heavy film stays soft below its skin for weeks",
                often=2.0,
                look="the print goes deep and its edges are rounded",
                reworks=("wait-level",),
                speaks={Sign.THICK_FILM: STRONG, Sign.MANY_COATS: FAIR, Sign.HEAVY_COAT: SLIGHT},
            ),
            Cause(
                id="old-batch",
                words="a batch past its life never got hard",
                often=1.0,
                look="any finger leaves a print, anywhere, weeks later",
                reworks=("strip",),
                speaks={Sign.OLD_BATCH: STRONG, Sign.STAYS_SOFT: FAIR},
            ),
            Cause(
                id="oil",
                words="oil left in the film keeps it soft",
                often=1.0,
                look="the print is shiny and smears",
                reworks=("draw-oil", "wait-level"),
                speaks={Sign.OIL_USED: STRONG, Sign.STAYS_SOFT: SLIGHT},
            ),
            Cause(
                id="warm",
                words="warmth softened the film under something",
                often=1.0,
                look="it lay in the sun, by a stove, or packed; a film that was hard before",
                reworks=("rub-even", "level-coat"),
                speaks={Sign.HOT_AIR: STRONG, Sign.NOT_DRY: -SLIGHT},
            ),
        ),
    ),
    Defect(
        seen=Seen.WHITE_RING,
        looks="a white ring or patch where something wet or hot stood",
        causes=(
            Cause(
                id="young",
                words="water on a film that has not cured",
                often=3.0,
                look="it came within minutes from a cold wet glass; the film is days old",
                reworks=("spirit-off", "rub-even"),
                speaks={Sign.YOUNG_FILM: STRONG, Sign.NOT_DRY: FAIR},
            ),
            Cause(
                id="heat",
                words="something hot stood on it",
                often=2.0,
                look="the outline of a cup or dish, dry; shellac softens at 65 to 70 degC",
                reworks=("spirit-off", "rub-even"),
                speaks={Sign.YOUNG_FILM: -SLIGHT, Sign.SHELLAC: SLIGHT},
            ),
            Cause(
                id="old-batch",
                words="a film of an old batch, which water always marks",
                often=1.2,
                look="a drop of water left ten minutes on a hidden corner marks it as well",
                reworks=("strip", "spirit-off"),
                speaks={Sign.OLD_BATCH: STRONG, Sign.STAYS_SOFT: SLIGHT},
            ),
            Cause(
                id="wax",
                words="wax in or on the film, whitened by water",
                often=1.0,
                look="a cloth with mineral spirits takes it away",
                reworks=("clean-seal", "rub-even"),
                speaks={Sign.WAX_BELOW: STRONG},
            ),
            Cause(
                id="thin",
                words="too thin a film to keep water out",
                often=1.0,
                look="the wood below is dark or rough where it stood",
                reworks=("level-coat",),
                speaks={Sign.THIN_FILM: STRONG},
            ),
        ),
    ),
    Defect(
        seen=Seen.DULL_PATCH,
        looks="a place that stays dull beside a bright film",
        causes=(
            Cause(
                id="sunk",
                words="too little film there: it sank into the wood",
                often=3.0,
                look="pores show, and a drop of alcohol brightens it for a moment",
                reworks=("touch-in", "level-coat"),
                speaks={Sign.THIN_FILM: STRONG, Sign.FEW_COATS: SLIGHT, Sign.OPEN_PORES: SLIGHT},
            ),
            Cause(
                id="oil",
                words="oil left on it or sweated out",
                often=1.2,
                look="it smears under a fingertip, and comes back after wiping",
                reworks=("draw-oil", "clean-off"),
                speaks={Sign.OIL_USED: STRONG},
            ),
            Cause(
                id="residue",
                words="soap or spirits left on it",
                often=1.2,
                look="a damp cloth, then a dry one, takes it off",
                reworks=("clean-off", "rub-even"),
                speaks={Sign.SPIRITS_USED: STRONG, Sign.WET_WORK: FAIR},
            ),
            Cause(
                id="scratches",
                words="not rubbed through all the grades there",
                often=2.0,
                look="fine scratches all one way, in a slanting light",
                reworks=("rub-even", "finer-level"),
                speaks={Sign.JUMP: STRONG, Sign.COARSE: FAIR},
            ),
            Cause(
                id="damp",
                words="a thin blush",
                often=1.5,
                look="the warmth of a hand clears it for a moment",
                reworks=("spirit-off", "wait"),
                speaks={Sign.DAMP_AIR: STRONG},
            ),
            Cause(
                id="soft",
                words="still soft there, so that it did not take the rubbing",
                often=1.2,
                look="it drags under a dry fingertip",
                reworks=("wait-level", "wait"),
                speaks={Sign.NOT_DRY: STRONG},
            ),
            Cause(
                id="dry-pad",
                words="the pad ran dry, or the batch was tired",
                often=1.0,
                look="dull in strokes, as wide as the pad",
                reworks=("spirit-off", "touch-in"),
                speaks={Sign.LEAN_COAT: STRONG, Sign.OLD_BATCH: SLIGHT},
            ),
        ),
    ),
)
