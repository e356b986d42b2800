"""Every rule of the checker, by its code."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from finishsched.checking.rule import Rule
from finishsched.checking.rules.air import AIR_RULES
from finishsched.checking.rules.beside import BESIDE_RULES
from finishsched.checking.rules.care import CARE_RULES
from finishsched.checking.rules.coats import COAT_RULES
from finishsched.checking.rules.edges import EDGE_RULES
from finishsched.checking.rules.grade_order import GRADE_RULES
from finishsched.checking.rules.hands import HANDS_RULES
from finishsched.checking.rules.in_hand import IN_HAND_RULES
from finishsched.checking.rules.layers import LAYER_RULES
from finishsched.checking.rules.measured import MEASURED_RULES
from finishsched.checking.rules.method import METHOD_RULES
from finishsched.checking.rules.papers import PAPER_RULES
from finishsched.checking.rules.ready import READY_RULES
from finishsched.checking.rules.recoats import RECOAT_RULES
from finishsched.checking.rules.rests import REST_RULES
from finishsched.checking.rules.sheen import SHEEN_RULES
from finishsched.checking.rules.shop import SHOP_RULES
from finishsched.checking.rules.silence import SILENCE_RULES
from finishsched.checking.rules.stacked import STACKED_RULES
from finishsched.checking.rules.stains import STAIN_RULES
from finishsched.checking.rules.strengths import STRENGTH_RULES
from finishsched.checking.rules.timber import TIMBER_RULES
from finishsched.checking.rules.times import TIME_RULES
from finishsched.checking.rules.unstated import UNSTATED_RULES
from finishsched.checking.rules.water import WATER_RULES
from finishsched.checking.rules.wood import WOOD_RULES

GROUPS: Mapping[str, tuple[Rule, ...]] = MappingProxyType(
    {
        "water and spirits": WATER_RULES,
        "papers": (*GRADE_RULES, *PAPER_RULES, *EDGE_RULES),
        "waiting": (*REST_RULES, *READY_RULES),
        "coat after coat": RECOAT_RULES,
        "coats": (*STRENGTH_RULES, *COAT_RULES),
        "hands": (*HANDS_RULES, *METHOD_RULES, *MEASURED_RULES, *IN_HAND_RULES),
        "what goes over what": (*LAYER_RULES, *STACKED_RULES),
        "stain": STAIN_RULES,
        "sheen": SHEEN_RULES,
        "what can hurt": CARE_RULES,
        "the wood": (*WOOD_RULES, *TIMBER_RULES, *BESIDE_RULES),
        "hours, dates and jars": TIME_RULES,
        "the air": AIR_RULES,
        "the shop": SHOP_RULES,
        "what nobody stated": UNSTATED_RULES,
        "what is accepted": SILENCE_RULES,
    }
)
"""The rules by what they watch over."""

RULES: Mapping[str, Rule] = MappingProxyType(
    {rule.code: rule for group in GROUPS.values() for rule in group}
)
