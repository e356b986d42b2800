"""What a job takes, as it is told to a program: the same figures as the words, in plain units."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from finishsched.cli.common import why_data
from finishsched.cli.plan.mix_words import mix_data
from finishsched.cli.stock.need_words import REASONS, has_hazards
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.into_jar import Parts, is_mixed
from finishsched.mixing.materials import Material, Purchase
from finishsched.mixing.need import Coat, Mixture
from finishsched.mixing.supply import PlannedBatch, Supplied
from finishsched.model.shop import Pack
from finishsched.safety.cautions import DEFERRAL
from finishsched.workshop.plan.pots import PlannedMix
from finishsched.workshop.stock.needs import NeedAnswer, PieceScope


def need_data(need: NeedAnswer, mixes: Sequence[PlannedMix]) -> dict[str, Any]:
    """Return what the job takes as JSON values, amounts unrounded."""
    return {
        "job": need.job,
        "title": need.title,
        "products": [_product_data(need, supplied) for supplied in need.supply.mixtures],
        "batches": [_batch_data(batch) for batch in need.supply.batches],
        "mixes": [mix_data(mix) for mix in mixes],
        "materials": [_material_data(need, material) for material in need.supply.materials],
        "buy": [_purchase_data(need, purchase) for purchase in need.supply.purchases],
        "pieces": [_coat_data(coat) for coat in need.coats],
        "scope": [_scope_data(piece) for piece in need.pieces],
        "not_reckoned": [
            {"product": one.product, "verb": one.verb.value, "why": one.why}
            for one in need.unreckoned
        ],
        "consumables": [
            {
                "name": one.name,
                "unit": one.unit,
                "low": one.amount.low,
                "likely": one.amount.likely,
                "high": one.amount.high,
                "to_buy": need.to_buy[one.name].likely if one.name in need.to_buy else 0.0,
            }
            for one in need.consumables
        ],
        "assumptions": list(need.assumptions),
        "notices": list(need.notices),
        "deferral": DEFERRAL if has_hazards(need) else None,
        "why": why_data(REASONS, need.units),
    }


def _product_data(need: NeedAnswer, supplied: Supplied) -> dict[str, Any]:
    mixture, amount, parts = supplied.need.mixture, supplied.need.amount, supplied.parts
    by_mass = mixture.by_mass
    to_mix_ml = supplied.to_make if is_mixed(mixture, need.products) else 0.0
    return {
        **_mixture_data(mixture),
        "title": need.title_of(mixture.product),
        **_either("volume_ml", "mass_g", amount.likely, by_mass=by_mass),
        **_either("low_ml", "low_g", amount.low, by_mass=by_mass),
        **_either("high_ml", "high_g", amount.high, by_mass=by_mass),
        **_parts_data(parts),
        "let_down_alcohol_ml": supplied.need.let_down_ml,
        "coats": supplied.need.coats,
        "area_m2": supplied.need.area_m2,
        **_either("in_stock_ml", "in_stock_g", supplied.in_stock, by_mass=by_mass),
        "taken_from": list(supplied.taken_from),
        "to_mix_ml": to_mix_ml,
    }


def _batch_data(batch: PlannedBatch) -> dict[str, Any]:
    return {
        **_mixture_data(batch.mixture),
        "makes_ml": batch.makes_ml,
        "jar_ml": batch.jar_ml,
        **_parts_data(batch.parts),
        "wanted_after_s": batch.after_s,
    }


def _material_data(need: NeedAnswer, material: Material) -> dict[str, Any]:
    by_mass = material.by_mass
    return {
        "product": material.product,
        "title": need.title_of(material.product),
        **_either("need_ml", "need_g", material.amount, by_mass=by_mass),
        **_either("in_stock_ml", "in_stock_g", material.in_stock, by_mass=by_mass),
        **_either("to_buy_ml", "to_buy_g", material.to_buy, by_mass=by_mass),
    }


def _purchase_data(need: NeedAnswer, purchase: Purchase) -> dict[str, Any]:
    material = purchase.material
    return {
        "product": material.product,
        "title": need.title_of(material.product),
        "packs": [_pack_data(pack, count) for pack, count in purchase.packs],
        **_either("amount_ml", "amount_g", material.to_buy, by_mass=material.by_mass),
        "cost": purchase.cost.amount if purchase.cost else None,
        "currency": purchase.cost.currency if purchase.cost else None,
    }


def _pack_data(pack: Pack, count: int) -> dict[str, Any]:
    size = {"size_g": pack.size_g} if pack.size_g is not None else {"size_ml": pack.size_ml}
    return {**size, "count": count, "price": pack.price.amount if pack.price else None}


def _coat_data(coat: Coat) -> dict[str, Any]:
    by_mass = coat.mixture.by_mass
    return {
        "piece": coat.piece,
        "step": coat.step.title,
        "step_number": coat.step.number,
        "step_key": coat.step.key,
        "product": coat.mixture.product,
        "cut_lb_per_gal": _pounds(coat.step.cut_g_per_l),
        "jar_cut_lb_per_gal": _pounds(coat.mixture.cut_g_per_l),
        "thinned_percent": coat.mixture.thinned_percent,
        "area_m2": coat.area_m2,
        **_either("amount_ml", "amount_g", coat.amount.likely, by_mass=by_mass),
        **_either("low_ml", "low_g", coat.amount.low, by_mass=by_mass),
        **_either("high_ml", "high_g", coat.amount.high, by_mass=by_mass),
        "pad_ml": coat.pad_ml,
        "into_bare_wood": coat.into_wood is not None,
        "entries": coat.own.entries if coat.own else 0,
    }


def _scope_data(piece: PieceScope) -> dict[str, Any]:
    faces = [
        {"face": face.name, "count": face.count, "area_m2": face.area_m2} for face in piece.faces
    ]
    return {
        "piece": piece.ref,
        "title": piece.title,
        "scope": piece.scope,
        "area_m2": piece.area_m2,
        "faces": faces,
    }


def _mixture_data(mixture: Mixture) -> dict[str, Any]:
    return {
        "product": mixture.product,
        "cut_lb_per_gal": _pounds(mixture.cut_g_per_l),
        "thinned_percent": mixture.thinned_percent,
    }


def _parts_data(parts: Parts) -> dict[str, Any]:
    plain = [field.name for field in dataclasses.fields(parts) if field.name != "of"]
    of = [{"product": one.product, "mass_g": one.grams, "volume_ml": one.ml} for one in parts.of]
    return {**{name: getattr(parts, name) for name in plain}, "of": of}


def _either(name_ml: str, name_g: str, amount: float, *, by_mass: bool) -> Mapping[str, Any]:
    """Return an amount under the key of its unit, the other key empty."""
    return {name_ml: None if by_mass else amount, name_g: amount if by_mass else None}


def _pounds(cut_g_per_l: float | None) -> float | None:
    return None if cut_g_per_l is None else cut_g_per_l / G_PER_L_IN_A_POUND_CUT
