"""What is said when pages have been drawn: how many, how to print them, which to print again."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base.lengths import Units
from layout.sheet.cutting import CutPiece
from layout.sheet.marks import Bundle
from layout.write import earlier


def printed(cards: Bundle, templates: Bundle, to_read: int) -> str:
    """Return the line that a person needs: `16 pages A4: print cards on both sides, templates at 100 %, one side`."""
    sheets = [*cards.sheets, *templates.sheets]
    papers = " and ".join(dict.fromkeys(sheet.paper.name for sheet in sheets))
    how = ["cards on both sides"] if cards.sheets else []
    how += ["templates at 100 %, one side"] if templates.sheets else []
    many = "page" if len(sheets) == 1 else "pages"
    read = f"; {to_read} {'thing' if to_read == 1 else 'things'} to read first" if to_read else ""
    return f"{len(sheets)} {many} {papers}: print {', '.join(how)}{read}"


def to_print_again(pages: Sequence[str], count: int) -> str:
    """Return which pages are not as they were in the folder."""
    if not pages:
        return "No page has changed; print nothing again."
    if len(pages) == count:
        return "Every page has changed; print all of them again."
    return f"Print again: {earlier.said(pages)}. The other pages have not changed."


def cut(pieces: Sequence[CutPiece], units: Units) -> str:
    """Return what a person must know of cut files: what does not hold for a machine, and what does."""
    side = "100 mm" if units == "mm" else "4 in"
    many = len(pieces)
    return (
        f"{many} cut {'file' if many == 1 else 'files'} at full size, in millimetres. "
        "Paper sizes and a printer’s correction do not apply to a machine.\n"
        f"Cut {pieces[-1].name} first and measure it: {side} each way. "
        "If it reads less, add what is missing to --cut-width."
    )


def to_cut_again(names: Sequence[str], count: int) -> str:
    """Return which cut files are not as they were in the folder."""
    if not names:
        return "No cut file has changed; cut nothing again."
    if len(names) == count:
        return "Every cut file has changed; cut all of them again."
    return f"Cut again: {', '.join(names)}. The other cut files have not changed."
