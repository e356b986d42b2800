"""Every defect of the catalogue by what is seen."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from finishsched.checking.defects.catalogue_below import DEEPER_DEFECTS
from finishsched.checking.defects.catalogue_coat import COAT_DEFECTS
from finishsched.checking.defects.catalogue_later import LATER_DEFECTS
from finishsched.checking.defects.catalogue_more import MORE_DEFECTS
from finishsched.checking.defects.catalogue_paper import PAPER_DEFECTS
from finishsched.checking.defects.causes import Defect
from finishsched.checking.defects.seen import Seen

CATALOGUE: Mapping[Seen, Defect] = MappingProxyType(
    {
        defect.seen: defect
        for defect in (
            *COAT_DEFECTS,
            *PAPER_DEFECTS,
            *LATER_DEFECTS,
            *DEEPER_DEFECTS,
            *MORE_DEFECTS,
        )
    }
)
"""Causes, weights and looks of each; the five files beside this one hold them."""
