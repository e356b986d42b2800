"""Rules about what a document accepts: silences that name nothing, or silence nothing."""

from __future__ import annotations

from finishsched.checking.rule import Example, Kind, Rule, Severity

_SHOP = "shop: Corner\nusual_air: {temperature: 12 degC, humidity: 55 %}\naccepted:\n"

UNKNOWN = Rule(
    "unknown-rule",
    "A silence for a rule that there is not",
    Severity.ERROR,
    "A misspelt code silences nothing, and looks as if it did.",
    "write a code that finishsched check --rules lists",
    "our own rule",
    Example(
        f"{_SHOP}  - {{rule: room-to-cold, because: we like it}}\n",
        ("room-to-cold", "room-too-cold"),
        Kind.SHOP,
    ),
)
IDLE = Rule(
    "idle-silence",
    "A silence that silences nothing",
    Severity.ADVICE,
    "The rule finds nothing here any more. Left standing, the silence would hide the next slip.",
    "take it out of 'accepted:'",
    "our own rule",
    Example(
        f"{_SHOP}  - {{rule: room-too-cold, because: we like it}}\n"
        "  - {rule: room-too-humid, because: the fog}\n",
        ("  - {rule: room-too-humid, because: the fog}\n", ""),
        Kind.SHOP,
    ),
)
SILENCE_RULES = (UNKNOWN, IDLE)
