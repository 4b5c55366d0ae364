"""What is said of every operation and every class. What a machine or a tool asks for stands on the card of its set-up.

Common practice, no source. The machine maker's manual and the teacher's instruction come before all of it.
"""

GENERAL = (
    "The machine’s manual, your teacher and local rules overrule these pages. Protect eyes and ears; extract the "
    "dust. Unplug to set, measure or clear. If a cut feels wrong, stop."
)
CLASS = "One person at a machine, after the teacher has signed; all others behind the line. Nobody works alone."
