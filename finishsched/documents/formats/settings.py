"""The format of a person's own settings for the bench."""

from __future__ import annotations

from finishsched.documents.codec import MapOf
from finishsched.documents.leaves import LINE, YES_NO, word
from finishsched.documents.records import FixedKey, Key, Record
from finishsched.model.settings import Settings, Theme

SETTINGS = Record(
    Settings,
    "a list of settings",
    (
        FixedKey("settings", "bench", "what they are for: bench"),
        Key("theme", word("a theme", Theme), "dark or light"),
        Key("bell", YES_NO, "whether it rings when something is due"),
        Key("keys", MapOf(LINE, "a list of keys"), "for a binding's id: its keys, with commas"),
    ),
)
