"""A sheet as PNG, made from its SVG by cairo, which is asked for only here."""

from __future__ import annotations

import ctypes
import ctypes.util
import functools

from jigs.base.errors import MachineFault
from layout.sheet import lettering

CSS_DOTS_PER_INCH = 96


def write(svg: bytes, dots_per_inch: int = 150) -> bytes:
    """Return an SVG document as a PNG. Raises MachineFault, saying what to install, where cairo is missing."""
    try:
        import cairosvg  # noqa: PLC0415 - needs a system library; nothing else may depend on it
    except (ImportError, OSError) as error:
        raise MachineFault(
            "PNG needs the cairo library: pip install 'jigleaf[png]', and on Debian: apt install libcairo2"
        ) from error
    _lend_fonts()
    return bytes(cairosvg.svg2png(bytestring=svg, scale=dots_per_inch / CSS_DOTS_PER_INCH, background_color="white"))


@functools.cache
def _lend_fonts() -> None:
    """Make the sheet's own fonts known to cairo for this process.

    Cairo does not squeeze words to the length they were measured to have, and another font runs out of the frame.
    """
    library = ctypes.util.find_library("fontconfig")
    if library is not None:
        for path in lettering.paths():
            ctypes.CDLL(library).FcConfigAppFontAddFile(None, path.encode())
