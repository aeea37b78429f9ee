"""The catalogue as a file for translators: `make words` writes build/stringline.pot, to be filled in as words/NAME.po.

The code stands as the context and the English as the message, so that a changed English text is asked for again.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from stringline.sheets.words import catalogue

ROOT = Path(__file__).resolve().parent.parent


def template() -> bytes:
    """Every code of the catalogue with its English, nothing translated."""
    made = Catalog(project="Stringline", charset="utf-8", fuzzy=False)
    for code, entry in sorted(catalogue().items()):
        if entry:
            made.add(entry, context=code)
    out = io.BytesIO()
    write_po(out, made, omit_header=True, sort_output=False)
    return b'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\n' + out.getvalue()


def main() -> int:
    """Write the file."""
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "build" / "stringline.pot"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(template())
    print(f"{path}: {len(catalogue())} texts")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
