"""Languages: English stands in the words themselves; any other is a gettext file beside them."""

from __future__ import annotations

import gettext
import io
from functools import cache
from importlib.resources import files

from stringline.sheets.words import Entry

SOURCE = "en"


class Language:
    """The words of one language. A text that it lacks is said in English."""

    def __init__(self, name: str, translations: gettext.NullTranslations) -> None:
        self.name = name
        self._translations = translations

    def text(self, code: str, entry: Entry, n: int = 1) -> str:
        """The text of an entry; ``n`` chooses between one and many by the language's own rule."""
        if isinstance(entry, tuple):
            return self._translations.npgettext(code, entry[0], entry[1], n)
        return self._translations.pgettext(code, entry) if entry else ""


ENGLISH = Language(SOURCE, gettext.NullTranslations())


@cache
def language(name: str) -> Language:
    """The language called ``name``. Raises KeyError where there is no file of it.

    A file is ``words/NAME.po``: the code as the context, the English as the message, so that a translator sees both
    and a changed English text is asked for again.
    """
    if name == SOURCE:
        return ENGLISH
    source = files("stringline.sheets.words").joinpath(f"{name}.po")
    if not source.is_file():
        raise KeyError(name)
    return read_po(name, source.read_bytes())


def read_po(name: str, po: bytes) -> Language:
    """A language from the bytes of its gettext file."""
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po as parse

    compiled = io.BytesIO()
    write_mo(compiled, parse(io.BytesIO(po), locale=name))
    compiled.seek(0)
    return Language(name, gettext.GNUTranslations(compiled))
