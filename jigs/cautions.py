"""The usual cautions, by operation. Every sheet carries those of its own, after the general one.

Common practice, no source. The machine maker's manual and the teacher's instruction come before all of them.
"""

GENERAL = (
    "Read the machine maker's manual and have a qualified person show you; their word, your teacher's and local rules "
    "come before this sheet, which gives sizes and no permission. Eyes, ears, dust. Isolate the power to set, measure "
    "or clear. If a cut feels wrong, stop."
)
JIG = (
    "Cutter well into the collet but not bottomed, and tightened. Turn it by hand once round before power. The hole no "
    "bigger than needed. Guards stay on."
)
FINGERS = (
    "Hands on the carriage, never in line with the cutter. Boards clamped together, nothing held by hand. The cutter "
    "comes out at the back: hands off there. Never lift or pull back over a turning cutter: stop first."
)
SEVERAL_PASSES = (
    "Keep the cutting order printed here. In any other a bit runs with the feed in the later cut, and grabs the boards."
)
BLADE = (
    "Blade sharp, flat and tight on its arbor, the guard and riving knife as the manual says; where they can't stay "
    "on, another way of guarding first. The slot no longer than needed. Turn the blade by hand once round before power."
)
SAW = "Blade guard and riving knife as the manual says; no stacked blades where the machine or the law forbids them."
HAND_TOOLS = "Sharp tools, work held fast, push away from your hands. Sawing out pieces: work clamped, fingers clear."
PAPER = "Paper is not a gauge: what must be better than 0.3 mm is set with a gauge block or callipers."
