"""A box as it is seen: in its woods, and with the part of a set-up brought out."""

from __future__ import annotations

from jigs.base.errors import CannotBuild, said_in
from jigs.base.lazily import lazily

with lazily():
    from jigs.box import chain
    from jigs.box import in_hand as box_in_hand
    from jigs.box import scene as box_scene
    from jigs.box import woods as box_woods
    from jigs.boxfile import sections
    from layout.pages import in_hand as pages_in_hand
    from layout.pages import picture as pages_picture
    from layout.pages import voice as pages_voice
    from layout.write import svg


def picture(file: sections.BoxFile, *, lid: bool = True) -> bytes:
    """Return the box in its woods as an SVG picture, no page: closed, or with `lid` False as it is seen inside.

    Words beside its parts and below it name every wood. Raises CannotBuild where a rule stops its joint.
    """
    with said_in(file.units):
        worked = chain.work_out(file)
        view = box_woods.picture(worked, lid=lid)
        if view is None:
            raise CannotBuild([problem for problem in worked.problems if problem.severity == "stop"])
        sheet = pages_picture.alone(view, box_woods.said_below(worked), pages_voice.Voice(file.units), "woods")
        return svg.write(sheet, f"{file.title}: {view.title}")


def picture_in_hand(file: sections.BoxFile, set_up: str, *, dark: bool = False) -> bytes:
    """Return the box with the part of a set-up brought out, as an SVG picture of 160 mm for a light or a dark page.

    Where a rule stops what the set-up makes it is in pencil; it is never refused. Its ground is the page's. Raises
    CannotRead, with near names, for a set-up that there is not.
    """
    with said_in(file.units):
        worked, screen = chain.work_out(file), box_scene.DARK if dark else box_scene.LIGHT
        scene = box_in_hand.scene(worked, box_in_hand.named(set_up))
        parts = box_scene.painted(worked, scene, screen)
        title = f"{file.title}: {set_up}"
        sheet = pages_in_hand.sheet(scene, parts, screen, file.units, title, f"in-hand-{set_up}")
        return svg.write(sheet, pages_in_hand.said(scene, file.units))


def picture_words(file: sections.BoxFile, set_up: str) -> str:
    """Return what that picture shows, in a sentence or two. Raises as it does."""
    with said_in(file.units):
        return box_in_hand.scene(chain.work_out(file), box_in_hand.named(set_up)).words
