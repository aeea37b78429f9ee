"""Read a printed book back: its pages, words, where they stand, and its tags."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2 as pdfium
import pypdfium2.raw as raw

from stringline.book.pages_paper import BLOCK, BOTTOM, LEFT, PAPERS, RIGHT, TOP

PT_MM = 25.4 / 72


@dataclass(frozen=True)
class Box:
    left: float
    bottom: float
    right: float
    top: float
    text: str

    def over(self, other: Box) -> float:
        """Shared area, square points."""
        w = min(self.right, other.right) - max(self.left, other.left)
        h = min(self.top, other.top) - max(self.bottom, other.bottom)
        return max(w, 0.0) * max(h, 0.0)


def pages(content: bytes) -> Iterator[Any]:
    document = pdfium.PdfDocument(content)
    try:
        for k in range(len(document)):
            yield document[k]
    finally:
        document.close()


def text_of(content: bytes) -> list[str]:
    return [p.get_textpage().get_text_range() for p in pages(content)]


def squeezed(text: str) -> str:
    """Text without spaces, line ends and places to break, so that wrapping does not matter."""
    return re.sub(r"[\s\u200b\ufffe\u0002]", "", text)


def rects(page: Any) -> list[Box]:
    words = page.get_textpage()
    found = []
    for k in range(words.count_rects()):
        box = words.get_rect(k)
        left, bottom, right, top = box
        found.append(Box(left, bottom, right, top, words.get_text_bounded(*box)))
    return found


def turns(page: Any) -> list[float]:
    """Angle of every letter on a page."""
    words = page.get_textpage()
    return [raw.FPDFText_GetCharAngle(words.raw, k) for k in range(words.count_chars())]


def inside_frames(content: bytes, paper: str) -> None:
    """Every letter is inside its sheet's frame, and wholly above or wholly in the title block."""
    size = PAPERS[paper]
    for page in pages(content):
        words = page.get_textpage()
        for k in range(words.count_chars()):
            left, bottom, right, top = (v * PT_MM for v in words.get_charbox(k))
            if right - left < 1e-6 or top - bottom < 1e-6:
                continue
            assert left >= LEFT - 0.05, words.get_text_range(max(0, k - 20), 40)
            assert right <= size.width_mm - RIGHT + 0.05, words.get_text_range(max(0, k - 20), 40)
            assert bottom >= BOTTOM - 0.05
            assert top <= size.height_mm - TOP + 0.05
            block = BOTTOM + BLOCK
            assert bottom >= block - 0.05 or top <= block + 0.05, words.get_text_range(max(0, k - 20), 40)


def structure(page: Any) -> list[tuple[str, str]]:
    """Every structure element of a page as (type, alt text)."""
    tree = raw.FPDF_StructTree_GetForPage(page.raw)
    found: list[tuple[str, str]] = []

    def text(call: Any, element: Any) -> str:
        size = call(element, None, 0)
        if not size:
            return ""
        buffer = ctypes.create_string_buffer(size)
        call(element, buffer, size)
        return buffer.raw[: size - 2].decode("utf-16-le")

    def walk(element: Any) -> None:
        if not element:
            return
        found.append((text(raw.FPDF_StructElement_GetType, element), text(raw.FPDF_StructElement_GetAltText, element)))
        for k in range(raw.FPDF_StructElement_CountChildren(element)):
            walk(raw.FPDF_StructElement_GetChildAtIndex(element, k))

    for k in range(raw.FPDF_StructTree_CountChildren(tree)):
        walk(raw.FPDF_StructTree_GetChildAtIndex(tree, k))
    raw.FPDF_StructTree_Close(tree)
    return found
