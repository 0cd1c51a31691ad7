"""What a person reads: gettext for every sentence of ours. Only English exists now, so the translations are null."""

from __future__ import annotations

import gettext
from functools import cache

from calc.messages import N_, Message

__all__ = ["N_", "sentence", "translations"]


@cache
def translations(language: str) -> gettext.NullTranslations:
    """The catalogue of a language; the sentences themselves where there is none."""
    return gettext.NullTranslations()


def sentence(message: Message, language: str) -> str:
    """A message as its reader reads it: the sentence looked up, then its places filled."""
    return message.said(translations(language).gettext)
