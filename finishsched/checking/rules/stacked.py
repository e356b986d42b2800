"""Rules that the table of layers tells: one for each kind of trouble between two layers."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.pairs import pairs, sources
from finishsched.checking.layers.stack import Verdict, verdicts
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.model.kinds import CHEMICALS
from finishsched.tables import several


def told_by_layers(code: str) -> Callable[[ScheduleCase], Iterator[Found]]:
    """Return what tells the layers of one rule by the table."""

    def find(case: ScheduleCase) -> Iterator[Found]:
        for verdict in verdicts(case):
            if verdict.pair.rule == code:
                move = verdict.above
                yield Found(
                    move.key("product"),
                    verdict.message,
                    verdict.pair.mend,
                    contested=not verdict.pair.is_certain,
                    about=_about(verdict),
                    needed_s=verdict.needed_s,
                )

    return find


def _about(verdict: Verdict) -> str:
    """Return what of the work a verdict is about: a wait, or what was left on the face."""
    below = verdict.below.move
    if below is None:
        return ""
    if verdict.above.kind in CHEMICALS and verdict.pair.rule == "chemical-left":
        return about.remains(verdict.above)
    if below.kind in CHEMICALS or verdict.below.is_lubricant:
        return about.remains(below)
    return about.drying(below) if verdict.lacks is None else ""


def sources_told(code: str) -> str:
    """Return whom the rows of one rule rest on, in a line."""
    named = ",".join(pair.sources for pair in pairs() if pair.rule == code)
    titles = dict.fromkeys(sources().get(key, key) for key in several(named.replace(";", ",")))
    return "; ".join(titles)


_DRY = "dry_check: dry, wait"
_OIL = (
    f"{{wipe: thin, product: boiled-linseed-oil,\n       {_DRY}: {{earliest: 12 h, likely: 36 h}}}}"
)
_VARNISH = "{brush: full coat, product: oil-varnish}"

STACKED_RULES = (
    Rule(
        "too-soon-over",
        "A layer over one that is not ready for it",
        Severity.ERROR,
        "Each kind of layer wants its own time before the next: oil and filler have to harden, "
        "shellac to lose its alcohol, waterborne films to fuse, epoxy to react. Sooner, what is "
        "below swells, stays soft, wrinkles or greys, often weeks later.",
        "wait as long as the layer below needs, or put dewaxed shellac between",
        "the table of layers, each row with its source",
        Example(
            f"- stage: body\n  steps:\n    - {_OIL}\n    - {_VARNISH}\n",
            ("earliest: 12 h", "earliest: 30 h"),
        ),
        on_schedule=told_by_layers("too-soon-over"),
    ),
    Rule(
        "film-not-scuffed",
        "A film over a smooth one that it does not melt into",
        Severity.ERROR,
        "Shellac melts into shellac and lacquer into lacquer. Any other pair holds only in "
        "scratches: over a film that nobody rubbed dull it peels at the first knock.",
        "rub the film below dull with P320, and wipe the dust off",
        "the table of layers, each row with its source",
        Example(
            "- stage: body\n  steps:\n"
            "    - {brush: full coat, product: waterborne-clear,\n"
            "       dry_check: dry, wait: {earliest: 3 d, "
            "likely: 4 d}}\n"
            f"    - {_VARNISH}\n",
            (
                "    - {brush: full coat, product: oil-varnish}",
                (
                    "    - {level: dull, grade: P320, lubricant: dry}\n"
                    "    - {brush: full coat, product: oil-varnish}"
                ),
            ),
        ),
        on_schedule=told_by_layers("film-not-scuffed"),
    ),
    Rule(
        "two-part-over-single",
        "A two-part film over a single-part one",
        Severity.ERROR,
        "Two-part coats carry strong solvents and shrink as they set. Over a film that only dried "
        "they lift it at once, or check within the year.",
        "use the sealer of the same system, or stay with what lies there",
        "the table of layers, each row with its source",
        Example(
            f"- stage: body\n  steps:\n    - {_VARNISH}\n"
            "    - {brush: full coat, product: two-part-clear}\n",
            ("product: two-part-clear", "product: oil-varnish"),
            besides="with a product two-part-clear, a varnish of two parts",
        ),
        on_schedule=told_by_layers("two-part-over-single"),
    ),
    Rule(
        "oil-over-film",
        "Oil over a film",
        Severity.ERROR,
        "Oil is a finish of the wood: it has to sink in and be wiped off. Over a film it cannot, "
        "and what is left hardens to a sticky skin.",
        "oil bare wood, or put wax or varnish over the film",
        "the table of layers, each row with its source",
        Example(
            "- stage: body\n  steps:\n"
            f"    - {_VARNISH}\n    - {{wipe: thin, product: boiled-linseed-oil}}\n",
            ("    - {wipe: thin, product: boiled-linseed-oil}\n", ""),
        ),
        on_schedule=told_by_layers("oil-over-film"),
    ),
    Rule(
        "chemical-left",
        "Bleach or lye left under a finish, or laid over one",
        Severity.ERROR,
        "Bleach and lye work in bare wood and go on working under a film: lye eats shellac and "
        "makes soap of oil, acid crystals frost it, chlorine takes the colour out.",
        "rinse or neutralise, let it dry, then finish",
        "the table of layers, each row with its source",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {bleach: flood, product: wood-bleach,\n"
            "       dry_check: dry, wait: {earliest: 24 h, likely: 48 h}}\n"
            f"- stage: body\n  steps:\n    - {_VARNISH}\n",
            (
                "- stage: body",
                (
                    "    - {neutralise: vinegar then rinse,\n       dry_check: dry, "
                    "wait: {earliest: 24 h, likely: 48 h}}\n- stage: body"
                ),
            ),
            besides="with a product wood-bleach of the kind bleach",
        ),
        on_schedule=told_by_layers("chemical-left"),
    ),
    Rule(
        "over-residue",
        "A layer over what never dries: oil, silicone, an epoxy's blush",
        Severity.ERROR,
        "Mineral oil from the pad or the paper stays where it is: what comes over it crawls, stays "
        "soft or lets go. A dry cloth and a vacuum do not take it off.",
        "wash with spirits and clean cloths, several times, then dewaxed shellac",
        "the table of layers, each row with its source",
        Example(
            "- stage: body\n  steps:\n"
            "    - {pad: ovals, product: shellac-dewaxed-blonde, cut: 2 lb}\n"
            "    - {level: flat, grade: P400, lubricant: mineral-oil}\n"
            "    - {tack off: vacuum}\n"
            f"    - {_VARNISH}\n",
            ("tack off: vacuum}", "tack off: wash, product: mineral-spirits}"),
        ),
        on_schedule=told_by_layers("over-residue"),
    ),
    Rule(
        "dye-lifted",
        "Dye under a coat that takes it up again",
        Severity.ADVICE,
        "A dye stays soluble in what it was dissolved in. The next coat, if it carries the same "
        "liquid and is rubbed, takes the colour up: streaks, and pale woods beside it are stained.",
        "put a coat between that does not carry that liquid, or spray the first one",
        "the table of layers, each row with its source",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {wipe: colour, product: walnut-stain,\n"
            "       dry_check: dry, wait: {earliest: 12 h, likely: 24 h}}\n"
            "- stage: body\n  steps:\n    - {brush: full coat, product: waterborne-clear}\n",
            ("product: waterborne-clear", "product: oil-varnish"),
            besides="with a product walnut-stain of the kind stain",
        ),
        on_schedule=told_by_layers("dye-lifted"),
    ),
    Rule(
        "glue-in-the-way",
        "Glue that a layer loosens, or that oil keeps off",
        Severity.ERROR,
        "Thinner softens contact cement, water lets hide glue go, and no glue wets a face that was "
        "oiled.",
        "glue bare wood, and choose a finish whose liquid leaves the glue alone",
        "the table of layers, each row with its source",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {wipe: thin, product: boiled-linseed-oil,\n"
            "       dry_check: dry, wait: {earliest: 3 d, likely: 4 d}}\n"
            "    - {glue up: lay the veneer, product: pva-glue,\n"
            "       dry_check: dry, wait: {earliest: 24 h, "
            "likely: 24 h}}\n",
            (
                (
                    "    - {wipe: thin, product: boiled-linseed-oil,\n"
                    "       dry_check: dry, wait: {earliest: 3 d, "
                    "likely: 4 d}}\n"
                ),
                "",
            ),
        ),
        on_schedule=told_by_layers("glue-in-the-way"),
    ),
    Rule(
        "film-not-fit",
        "Water, heat, tape, spirits or a hard rub on what does not bear it",
        Severity.ERROR,
        "A young film is soft for a day: tape prints it, a soaking whitens it, heat draws it, "
        "spirits wash it off. Steam goes through shellac and lacquer and lifts them at any age.",
        "steam and soak before the first coat, and give a film a day before tape",
        "the table of layers, each row with its source",
        Example(
            "- stage: body\n  steps:\n"
            "    - {pad: ovals, product: shellac-dewaxed-blonde, cut: 2 lb,\n"
            f"       {_DRY}: {{earliest: 12 h, likely: 24 h}}}}\n"
            f"    - {{steam: the dent, {_DRY}: {{earliest: 4 h, likely: 8 h}}}}\n",
            (f"    - {{steam: the dent, {_DRY}: {{earliest: 4 h, likely: 8 h}}}}\n", ""),
        ),
        on_schedule=told_by_layers("film-not-fit"),
    ),
)
