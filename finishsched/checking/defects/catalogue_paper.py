"""Defects that show under the paper, while the film is levelled.

All of it is common practice, no source, and the weights our assumption.
"""

from __future__ import annotations

from finishsched.checking.defects.causes import FAIR, SLIGHT, STRONG, Cause, Defect
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Sign

PAPER_DEFECTS = (
    Defect(
        seen=Seen.CORNING,
        looks="the swarf rolls into hard little corns on the paper, which scratch the film",
        causes=(
            Cause(
                id="soft",
                words="the film is not hard enough to sand",
                often=4.0,
                look="the corns are gummy; a nail leaves a dent; powder would be dry and white",
                reworks=("wait-level", "wait"),
                speaks={
                    Sign.NOT_DRY: STRONG,
                    Sign.HEAVY_COAT: SLIGHT,
                    Sign.COLD_AIR: SLIGHT,
                    Sign.MANY_COATS: SLIGHT,
                },
            ),
            Cause(
                id="dry-paper",
                words="dry paper, or too little to float the swarf off",
                often=2.5,
                look="the corns are hard and sit in lines; a fresh wet sheet makes none",
                reworks=("wet-level",),
                speaks={Sign.DRY_PAPER: STRONG, Sign.NOT_DRY: -SLIGHT},
            ),
            Cause(
                id="oil",
                words="oil in the film or on it makes the swarf greasy",
                often=1.0,
                look="the swarf smears between finger and thumb",
                reworks=("draw-oil", "wait-level"),
                speaks={Sign.OIL_USED: STRONG},
            ),
            Cause(
                id="too-fine",
                words="too fine a grade for what is to come off",
                often=1.2,
                look="it happens on the high spots only, at once, with any pressure",
                reworks=("wet-level",),
                speaks={Sign.FINE: STRONG},
            ),
            Cause(
                id="old-batch",
                words="a batch past its life never got hard",
                often=1.0,
                look="a drop on glass is soft the next day",
                reworks=("strip", "wait-level"),
                speaks={Sign.OLD_BATCH: STRONG, Sign.STAYS_SOFT: FAIR},
            ),
        ),
    ),
    Defect(
        seen=Seen.FILM_THROUGH,
        looks="bare or dull wood shows where the film was cut through",
        causes=(
            Cause(
                id="few-coats",
                words="too little film for that grade",
                often=3.0,
                look="dull islands on the high spots, all over the face",
                reworks=("touch-in",),
                speaks={Sign.FEW_COATS: STRONG, Sign.THIN_FILM: FAIR},
            ),
            Cause(
                id="edge",
                words="an edge or a corner took all the pressure",
                often=2.5,
                look="only along edges and mouldings, a thin bright line of wood",
                reworks=("touch-in",),
                speaks={Sign.FEW_COATS: -SLIGHT, Sign.COARSE: -SLIGHT},
            ),
            Cause(
                id="coarse",
                words="too coarse a grade, or too long with it",
                often=2.0,
                look="scratches run on through the bare spot",
                reworks=("touch-in",),
                speaks={Sign.COARSE: STRONG, Sign.JUMP: SLIGHT},
            ),
            Cause(
                id="too-often",
                words="levelled often without building up between",
                often=1.2,
                look="the film is thin all round the spot as well",
                reworks=("touch-in",),
                speaks={Sign.MANY_LEVELLINGS: STRONG, Sign.FEW_COATS: SLIGHT},
            ),
            Cause(
                id="alcohol",
                words="a pad too wet with alcohol bit through",
                often=1.0,
                look="the edge of the spot is soft and rounded, with no scratches",
                reworks=("touch-in",),
                speaks={Sign.SPIRITED: STRONG},
            ),
            Cause(
                id="soft",
                words="a soft film tore off instead of being cut",
                often=1.2,
                look="torn edges, rolled-up film, corns on the paper",
                reworks=("wait-touch-in", "touch-in"),
                speaks={Sign.NOT_DRY: STRONG, Sign.DRY_PAPER: SLIGHT, Sign.SPIRITED: -FAIR},
            ),
        ),
    ),
    Defect(
        seen=Seen.VENEER_THROUGH,
        looks="core, glue or the wood below shows where the veneer was cut through",
        causes=(
            Cause(
                id="thin",
                words="the veneer was thin to begin with",
                often=2.0,
                look="the grain fades out softly; measure at an edge",
                reworks=("colour-in", "patch-in"),
                speaks={Sign.THIN_VENEER: STRONG},
            ),
            Cause(
                id="many",
                words="sanded too often, or for too long",
                often=2.0,
                look="several places at once, all on the high side",
                reworks=("colour-in", "patch-in"),
                speaks={Sign.MANY_SANDINGS: STRONG},
            ),
            Cause(
                id="coarse",
                words="too coarse a grade on veneer",
                often=1.5,
                look="deep scratches run across the spot",
                reworks=("colour-in", "patch-in"),
                speaks={Sign.COARSE: STRONG},
            ),
            Cause(
                id="edge",
                words="an edge or a corner took all the pressure",
                often=2.0,
                look="a narrow line along an edge, the rest sound",
                reworks=("colour-in", "patch-in"),
                speaks={Sign.MANY_SANDINGS: -SLIGHT, Sign.COARSE: -SLIGHT},
            ),
            Cause(
                id="film-first",
                words="the film gave way first, and the paper went on into the wood",
                often=1.5,
                look="a wide ring of bare veneer round the spot",
                reworks=("colour-in", "patch-in"),
                speaks={Sign.FEW_COATS: STRONG, Sign.MANY_LEVELLINGS: FAIR},
            ),
            Cause(
                id="swollen",
                words="veneer swollen by water was cut while it stood up",
                often=1.0,
                look="at seams and over knots, where it has sunk again since",
                reworks=("colour-in", "patch-in"),
                speaks={Sign.WATER_UNDER: STRONG, Sign.WET_WORK: SLIGHT},
            ),
        ),
    ),
    Defect(
        seen=Seen.WITNESS_LINES,
        looks="contour lines where levelling cut through one coat into the one below",
        causes=(
            Cause(
                id="separate",
                words="coats that do not melt into each other were cut through",
                often=3.0,
                look="rings like the lines of a map, each a change of gloss",
                reworks=("level-coat",),
                speaks={Sign.SEPARATE_COATS: STRONG},
            ),
            Cause(
                id="few-coats",
                words="too little film on top for that levelling",
                often=2.5,
                look="at high spots only; the rest is even",
                reworks=("level-coat",),
                speaks={Sign.FEW_COATS: STRONG, Sign.MANY_LEVELLINGS: SLIGHT},
            ),
            Cause(
                id="late",
                words="the coat before was too old for the next to bite",
                often=1.5,
                look="one line only, between two rounds; the upper coat flakes at it",
                reworks=("level-coat", "strip"),
                speaks={Sign.TOO_LATE: STRONG},
            ),
            Cause(
                id="scratches",
                words="scratches of a grade that was skipped",
                often=1.5,
                look="straight and all one way, in a slanting light",
                reworks=("finer-level",),
                speaks={Sign.JUMP: STRONG, Sign.COARSE: SLIGHT},
            ),
            Cause(
                id="colour",
                words="a tinted coat was cut through",
                often=1.0,
                look="the lines differ in colour, not only in gloss",
                reworks=("level-coat",),
                speaks={Sign.STAINED: STRONG},
            ),
        ),
    ),
)
