"""The door: all that a command line, a class and a page in a browser call. Text and bytes come in, bytes go out.

    settings = make.jig("sled", {"finger": "10", "cutter": "10.02", "board": "90", "thickness": "12"}, "mm")
    files = make.draw(settings).files

Its rooms: `jobs` (what is read), `reports` (what is worked out), `drawing` and `pictures`, `jig_and_box`, `joint`, and
`printing` (how sheets come out). Nothing here reads or writes a file, and nothing is printed. Lengths are in mm;
whatever is refused is raised as a JigleafError that knows the units of its job. What only a box needs is loaded for a
box.
"""

from __future__ import annotations

from layout.make.drawing import (
    codes_of_box,
    compose,
    draw,
    head_of_box,
    names_that_change,
    page_names_of_box,
    page_pictures,
    pages_that_change,
)
from layout.make.jig_and_box import box_gives, jig_from_box, section_of_jig, too_large_for_box, with_jig
from layout.make.jobs import (
    Contents,
    Job,
    box,
    changed,
    contents_of_box,
    edited,
    edited_jig,
    file_of_jig,
    from_code,
    in_units,
    jig,
    jig_in,
    job,
    job_of,
    new_box,
    parts_asked_for,
    pattern,
    questions_for_box,
    reopen,
    with_part,
    with_pattern,
    with_row,
    without_part,
    without_row,
)
from layout.make.joint import (
    Picture,
    Tuned,
    in_short,
    joint_sheet,
    reading_pictures,
    readings_of,
    remedy_pictures,
    steps_sheet,
    tune,
    tuned,
)
from layout.make.pictures import picture, picture_in_hand, picture_words
from layout.make.printing import USUAL, Made, Printing
from layout.make.reports import JigLook, check, look, look_at_jig, moved, page_names

__all__ = [
    "USUAL",
    "Contents",
    "JigLook",
    "Job",
    "Made",
    "Picture",
    "Printing",
    "Tuned",
    "box",
    "box_gives",
    "changed",
    "check",
    "codes_of_box",
    "compose",
    "contents_of_box",
    "draw",
    "edited",
    "edited_jig",
    "file_of_jig",
    "from_code",
    "head_of_box",
    "in_short",
    "in_units",
    "jig",
    "jig_from_box",
    "jig_in",
    "job",
    "job_of",
    "joint_sheet",
    "look",
    "look_at_jig",
    "moved",
    "names_that_change",
    "new_box",
    "page_names",
    "page_names_of_box",
    "page_pictures",
    "pages_that_change",
    "parts_asked_for",
    "pattern",
    "picture",
    "picture_in_hand",
    "picture_words",
    "questions_for_box",
    "reading_pictures",
    "readings_of",
    "remedy_pictures",
    "reopen",
    "section_of_jig",
    "steps_sheet",
    "too_large_for_box",
    "tune",
    "tuned",
    "with_jig",
    "with_part",
    "with_pattern",
    "with_row",
    "without_part",
    "without_row",
]
