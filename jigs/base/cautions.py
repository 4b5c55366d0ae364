"""The usual cautions, by operation. Every sheet carries those of its own, after the general one.

Common practice, no source. The machine maker's manual and the teacher's instruction come before all of them.
"""

GENERAL = (
    "The machine’s manual, your teacher and local rules overrule these pages. Protect eyes and ears; extract the "
    "dust. Unplug to set, measure or clear. If a cut feels wrong, stop."
)
JIG = (
    "Push the shank home, draw it back slightly, tighten. Turn the cutter by hand once round before power. Make the "
    "hole no bigger than needed. Guards stay on."
)
FINGERS = (
    "Hands on the carriage, never in line with the cutter. Boards clamped together, nothing held by hand. The cutter "
    "comes out on your side, at the back: hands off there. Never lift or pull back over a turning cutter: stop first."
)
SEVERAL_PASSES = (
    "Keep the cutting order printed here. In any other a bit runs with the feed in the later cut, and grabs the boards."
)
BLADE = (
    "Blade sharp, flat and tight on its arbor, the guard and riving knife as the manual says; where they can't stay "
    "on, another way of guarding first. The slot no longer than needed. Turn the blade by hand once round before "
    "power."
)
SAW = "Blade guard and riving knife as the manual says; no stacked blades where the machine or the law forbids them."
HAND_TOOLS = "Sharp tools, work held fast, push away from your hands. Sawing out pieces: work clamped, fingers clear."
PAPER = "Paper is not a gauge: what must be better than 0.3 mm (.012 in) is set with a gauge block or callipers."
GROOVE = (
    "Both stops clamped before power. Use a plunge-cutting bit: any other burns and can throw the board. Hold the "
    "right-hand end against the right stop; pivot the board down, hands away from the bit. Feed right to left only. "
    "Small boards in a carrier. Lift only when the bit stands still."
)
THROUGH_GROOVE = (
    "Guard over the bit, featherboards, push block; small boards in a carrier. Feed right to left only; keep your "
    "hands from where the bit comes out."
)
RABBET = (
    "Guard over the bit, featherboards, push block. Widen rabbets from the edge inward. A strip trapped between bit "
    "and fence will be thrown. End grain first, long grain last; right to left only."
)
HOLE_SAW = (
    "Hole saw in a drill press only, never in a hand drill. Blank and waste block clamped together to the table, "
    "nothing held by hand. Lowest speed, light feed, lift often. No gloves, sleeves and hair tied back. Clear chips "
    "and cores with the saw stopped. A saw without a pilot drill will walk and grab unless its whole rim is in wood."
)
CARVING = (
    "Knife sharp: strop before you start and whenever it drags. Board clamped or against a bench stop. The other hand "
    "behind the edge, in a cut-resistant glove. Small cuts. Tired is when to stop."
)
GRAPHITE = "Graphite dust stains: mask the edges, lift the lines off with a rubber, do not sand them off dry."
SEASONS = "Measure wood and box on the day you cut: every size here belongs to the air that is named beside it."
CLASS = "One person at a machine, after the teacher has signed; all others behind the line. Nobody works alone."
ROUTER = (
    "Both hands on the router, work and template clamped, so that nothing can turn or come free. Feed against "
    "the cutter’s rotation only; several shallow cuts. Lift it when it stands still."
)
