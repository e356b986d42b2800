"""The face as a schedule leaves it, layer upon layer, and what the table says of each new one."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from finishsched.checking.asked_once import asked_once
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_of
from finishsched.checking.layers.pairs import Need, Pair, asked_of
from finishsched.checking.layers.passing import work_of
from finishsched.checking.layers.states import state_after
from finishsched.checking.layers.thin import is_wash_coat, share_of_wait
from finishsched.checking.moves import Move
from finishsched.checking.words import at_most
from finishsched.model.doing import Lays, Wets
from finishsched.model.how import tells
from finishsched.model.kinds import CHEMICALS
from finishsched.model.product import Product, ProductKind
from finishsched.model.verbs import Verb

FINEST_BITE_UM = 15.0
"""P1200 and a white pad; finer ones polish (common practice, no source)."""
_FUMES = r"\bfum(?:e[ds]?|ing)\b|\btent\b|\bdish(?:es)?\b|\bvapou?rs?\b"
"""Ammonia that is not wetted on: its gas leaves by itself, and nothing is rinsed off."""
_JOINT = r"\b(?:tenons?|mortises?|joints?|glue|cheeks?|shoulders?|dowels?|dovetails?)\b"
"""What is masked so that glue finds bare wood there."""
_BARE_JOINT = r"\bbare (?:tenon|mortise|joint|wood|cheek|shoulder|dowel)"
_RUBBING = r"(?:p ?\d{3,4}|scuff|sand|rub|denib|nib|dull|flat|key|abrad|wool|pad\b|cut back)"
_RUBBED_BETWEEN = (
    rf"\b{_RUBBING}[^.;]{{0,40}}\bbetween\b"
    rf"|\bbetween\b(?: the)?(?: coats?)?[^.;]{{0,30}}\b{_RUBBING}"
)
"""What is done between the coats of one step, which no step of its own says."""
_GONE_THERE = (
    r"\b(?:film|finish|polish|varnish|lacquer) (?:there )?(?:is |has )?(?:already |long )?"
    r"(?:gone|worn (?:away|off|through))\b|\bworn (?:to|down to) (?:the )?(?:bare )?wood\b"
)
"""Where a step is of a place that has no film any more."""
_PACKED = {ProductKind.POWDER: "filler.pumice", ProductKind.GLUE: "filler.glue"}
"""What fills pores or gaps, and is no filler."""
_REMAINS = ("wax", "oil.mineral", "silicone", "stripper")
"""What is washed off again, so that what lies beneath is on top."""


@dataclass(slots=True)
class Layer:
    """What lies on top, and what was done to it since."""

    move: Move | None
    """None for a finish that was there before the work."""
    matter: str
    scuffed: bool = False
    washed: bool = False
    rinsed_at: Move | None = None
    ground_in: bool = False
    """True where paper went over an epoxy before water had taken its blush off."""
    softened_at: Move | None = None
    """When alcohol last went over a film that it softens: its drying begins anew."""
    is_lubricant: bool = False
    """True for what a pad or a paper was wetted with, and left."""
    beneath: Layer | None = None
    """What wax or oil lies on; None for bare wood, and for layers that stay."""

    @property
    def words(self) -> str:
        """What a sentence calls it: by its product, that of an old finish by its matter."""
        if self.move is None:
            return f"the old finish's {self.matter}"
        step = self.move.step
        named = step.lubricant if self.is_lubricant else step.product or step.lubricant
        return named or self.matter


@dataclass(frozen=True, slots=True)
class Verdict:
    """A new layer that the table speaks against, and why."""

    below: Layer
    above: Move
    pair: Pair
    given_s: float
    needed_s: float
    lacks: Need | None
    """What was not done; None where only time is short."""
    share: float = 1.0
    """How much of a full coat's wait the one below wants."""

    @property
    def message(self) -> str:
        """What is wrong, in a sentence."""
        title, product = self.above.step.title, self.above.step.product or "its product"
        what = f"'{title}' comes" if work_of(self.above) else f"'{title}' lays {product}"
        over = self.below.words
        return f"{what} {self._how(over)}: {self.pair.why}"

    @property
    def _state(self) -> str:
        """In which state the layer below is by then, after a comma."""
        move = self.below.move
        published = move.product.dries if move is not None and move.product else None
        state = state_after(self.below.matter, published, self.given_s, self.share)
        return f", {state}" if state else ""

    def _how(self, over: str) -> str:
        if self.lacks in (Need.SCUFF, Need.SCUFF_FILM):
            return f"over {over}, and nothing rubs that dull"
        if self.lacks is Need.CUT:
            return f"over {over} that nothing scraped or sanded off"
        if self.lacks is Need.WASH:
            return f"over {over} that no solvent washed off"
        if self.lacks is Need.RINSE:
            early = " before it was sanded" if self.below.ground_in else ""
            return f"over {over} that nothing rinsed off{early}"
        if self.lacks is None:
            when = f"{at_most(self.given_s)} after" if self.given_s else "at once after"
            return f"{when} {over}{self._state}"
        return f"over {over}"


@asked_once
def verdicts(case: ScheduleCase) -> tuple[Verdict, ...]:
    """Return every layer of a schedule that the table speaks against, in the order of the work."""
    return tuple(_by_the_table(case))


def _by_the_table(case: ScheduleCase) -> Iterator[Verdict]:
    top, ground = _found_there(case), None
    for move in case.moves:
        if move.step.strips:
            # A film that was taken off is judged no more; colour and filler stay in the wood.
            top = replace(ground) if ground is not None else None
            continue
        if move.verb is Verb.GLUE_UP and _glues_bare_wood(case, move):
            continue
        layer = layer_of(move)
        if layer is not None and move.verb.does.lays in (Lays.COLOUR, Lays.FILLER):
            ground = layer
        if layer is not None:
            if top is not None:
                yield from _judged(case, top, layer, move)
            layer.beneath = top if layer.matter in _REMAINS else None
            if layer.matter == "stripper":
                layer.beneath = None  # it took off what lay there
            top = layer
        elif top is not None:
            yield from _passed_over(case, top, move)
            top = _worked_on(case, top, move)
        if top is not None and move.lubricant is not None and _stays(move.lubricant):
            top = Layer(move, matter_of(move.lubricant), is_lubricant=True, beneath=top)


def _glues_bare_wood(case: ScheduleCase, move: Move) -> bool:
    """Tell whether glue comes where no film is: in a bed cut to bare wood, on a joint kept bare."""
    masked = (one for one in case.before(move) if one.verb is Verb.MASK)
    kept_bare = any(tells(one.step.how, _JOINT) for one in masked)
    return move.step.on_a_spot or kept_bare or tells(move.step.how, _BARE_JOINT)


def _found_there(case: ScheduleCase) -> Layer | None:
    """Return what lies on an old finish: wax, until a solvent washed it off; None on bare wood."""
    return Layer(None, "wax") if case.schedule.over is not None else None


def _old_film(case: ScheduleCase) -> Layer | None:
    """Return the old film itself; an old polish is taken for one with its wax in it."""
    kind = case.schedule.over
    if kind is None:
        return None
    return Layer(None, "shellac.waxy" if kind.is_shellac else kind.value, washed=True)


def layer_of(move: Move) -> Layer | None:
    """Return the layer that a step leaves; None where it leaves none, or nobody knows of what.

    Whatever a neutraliser is, it is there to be rinsed off.
    """
    if move.product is None or move.verb is Verb.NEUTRALISE:
        return None
    matter = _left_by(move, matter_of(move.product))
    return Layer(move, matter) if matter is not None else None


def _left_by(move: Move, matter: str) -> str | None:
    if move.verb is Verb.FILL and move.kind in _PACKED:
        return _PACKED[move.kind]
    # A wax that serves as the lubricant of a rub stays on the face, and that of a stripper.
    stays = move.kind is ProductKind.WAX or matter == "stripper"
    if move.verb.does.lays is Lays.NOTHING and move.kind not in CHEMICALS:
        return matter if stays else None
    if matter != "alkali":
        return matter
    if tells(f"{move.step.how}. {move.step.tool}", _FUMES):
        return "fumes"
    return "alkali.colour" if move.verb.does.lays is Lays.COLOUR else matter


def _stays(lubricant: Product) -> bool:
    """Tell whether what a pad or a paper was wetted with stays on the face: oil, and wax."""
    return lubricant.kind.row.oils or lubricant.kind is ProductKind.WAX


def _goes_on(top: Layer, layer: Layer) -> bool:
    """Tell whether a layer is more of the same, which other rules watch over."""
    if top.move is None or layer.move is None:
        return is_a(top.matter, layer.matter.partition(".")[0])
    same = top.move.step.product == layer.move.step.product
    if same and _table_alone_tells(top):
        return False
    return same or _padded_over(top, layer.move)


def _padded_over(top: Layer, move: Move) -> bool:
    """Tell whether an oily pad goes on over its own oil, which is spirited off in the end."""
    if top.matter != "oil.mineral" or not top.is_lubricant or top.move is None:
        return False
    pads_on = top.move.verb.lays_coats and move.step.product == top.move.step.product
    return pads_on or (move.verb is Verb.PAD and move.step.lubricant == top.move.step.lubricant)


def _table_alone_tells(top: Layer) -> bool:
    """Tell whether how long a coat wants before more of the same stands in the table alone."""
    tells_itself = top.move is not None and _published(top.move)
    unread = any(is_a(top.matter, one) for one in ("oil", "stain", "glaze"))
    return top.matter == "wax" or (unread and not tells_itself)


def _published(move: Move) -> bool:
    dries = move.product.dries if move.product else None
    return dries is not None and dries.recoat_s is not None


def _passed_over(case: ScheduleCase, top: Layer, move: Move) -> Iterator[Verdict]:
    work = work_of(move)
    # Of an old finish whatever comes over it tells once that nobody washed it.
    old_wax = top.move is None and top.matter == "wax" and move.verb.abrades
    if work is not None and not old_wax and not tells(move.step.how, _GONE_THERE):
        yield from _judged(case, top, Layer(move, work), move)


def _judged(case: ScheduleCase, top: Layer, layer: Layer, move: Move) -> Iterator[Verdict]:
    if _is_washed_on(top, layer):
        return
    for pair in asked_of(top.matter, layer.matter):
        if pair.until_s or not _goes_on(top, layer):
            yield from _against(case, pair, top, move)


def _against(case: ScheduleCase, pair: Pair, top: Layer, move: Move) -> Iterator[Verdict]:
    """Give what one row has against a step over a layer, if anything."""
    given_s = _given_s(case, top, move)
    lacks = None if _is_within(case, pair, top, move) else _lacking(pair, top, move)
    after_s, share = pair.after_s, 1.0
    if given_s < after_s and top.move is not None:
        share = share_of_wait(case, top.move)
        after_s *= share
    if lacks is not None or given_s < after_s:
        too_soon = given_s < after_s and lacks is not Need.NEVER
        as_it_was = replace(top)  # later steps change what lies on top
        yield Verdict(as_it_was, move, pair, given_s, after_s, None if too_soon else lacks, share)


def _given_s(case: ScheduleCase, top: Layer, move: Move) -> float:
    """Return how long the layer on top had before a step; without end for an old finish."""
    if top.move is None:
        return math.inf
    chemical = top.move.kind in CHEMICALS
    since = (top.rinsed_at if chemical else top.softened_at) or top.move
    return case.earliest_s(since, move)


def _is_within(case: ScheduleCase, pair: Pair, top: Layer, move: Move) -> bool:
    """Tell whether a coat comes while the one below still links with it, as a rule.

    A window that the schedule itself states for that coat goes before the table's.
    """
    if top.move is None or not pair.until_s:
        return False
    wait = top.move.step.wait
    until_s = (wait.next_by_s if wait else None) or pair.until_s
    return case.likely_s(top.move, move) <= until_s


def _is_washed_on(top: Layer, layer: Layer) -> bool:
    """Tell whether colour goes on over a wash coat, which is laid so that it takes evenly."""
    thin = top.move is not None and is_wash_coat(top.move)
    colours = is_a(layer.matter, "stain") or is_a(layer.matter, "dye")
    tones = layer.move is not None and layer.move.verb is Verb.TONE  # colour between two films
    return colours and (tones or thin) and layer.matter != "dye.water"


def _lacking(pair: Pair, top: Layer, move: Move) -> Need | None:
    """Return the first thing that a row needs and nobody did."""
    wash_coat = top.move is not None and is_wash_coat(top.move)
    scuffed = top.scuffed or _rubbed_between(top, move)
    done = {
        Need.NEVER: False,
        Need.SEAL: False,
        Need.SCUFF: scuffed,
        Need.SCUFF_FILM: scuffed or wash_coat,
        Need.CUT: top.scuffed,
        Need.WASH: top.washed,
        Need.RINSE: top.rinsed_at is not None and not top.ground_in,
        Need.SPRAY: move.step.by_gun,
        Need.UNRUBBED: move.verb is not Verb.PAD,
        Need.FRESH: True,
        Need.MEANT: True,
        Need.TANNIN: True,
    }
    return next((need for need in pair.needs if not done[need]), None)


def _rubbed_between(top: Layer, move: Move) -> bool:
    """Tell whether the words of a step of several coats rub each dull before the next."""
    same = top.move is not None and top.move.step.how == move.step.how
    return same and tells(move.step.how, _RUBBED_BETWEEN)


def _bites(case: ScheduleCase, move: Move) -> bool:
    """Tell whether an abrasive leaves scratches that a coat can hold in; polishing leaves none."""
    grade = case.abrasive(move)
    return grade is None or grade.grain_um >= FINEST_BITE_UM


def _worked_on(case: ScheduleCase, top: Layer, move: Move) -> Layer | None:
    """Return what is on top after a step that lays nothing, with what it does to that."""
    if move.verb.abrades and _bites(case, move):
        top.scuffed = True
        top.ground_in |= "epoxy" in top.matter and top.rinsed_at is None
    if move.washes:
        top.washed = True
        if top.move is None and top.matter == "wax":
            return _old_film(case)
        if top.beneath is not None:
            top = top.beneath
    if move.verb.does.cleans and move.is_wetted:  # a damp sponge for the grain takes nothing away
        top.rinsed_at = move
    if move.wets is Wets.ALCOHOL and is_a(top.matter, "shellac"):
        top.softened_at = move
    return top
