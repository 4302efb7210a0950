"""Sentences: a message is a code with named values, and a language says it."""

from __future__ import annotations

from .english import SENTENCES
from .message import Message, Quantity, Texts, Values
from .say import ENGLISH, Reader, known, register_language, say

__all__ = ["Message", "Quantity", "Reader", "Texts", "Values", "known", "register_language", "say"]

register_language(ENGLISH, SENTENCES)
