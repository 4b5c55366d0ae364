"""The pages of the bench and what they send: each view reads what was done, does it, and shows itself again."""

from __future__ import annotations

from typing import Any

from flask import Flask, Response, abort, redirect, render_template, request
from werkzeug.exceptions import HTTPException

from layout.bench import box_view, class_view, fonts, guard, jigs_view, joint_view, new_view, printer_view, printing
from layout.bench.page import Bench, act, body, download, shell

# -- the server ----------------------------------------------------------------------------------------------------


def make_app(bench: Bench) -> Flask:
    """Return the server of a bench."""
    app = Flask(__name__, template_folder="templates", static_folder="static")
    app.config["MAX_CONTENT_LENGTH"] = guard.MOST_BYTES
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.before_request(lambda: bench.guard.check(request))
    app.after_request(_hardened)
    app.register_error_handler(HTTPException, _refused)
    views = (joint_view.add, printer_view.add, class_view.add, jigs_view.add, new_view.add)
    for add in (_entrance, _of_the_box, _drawn, *views):
        add(app, bench)
    return app


def _hardened(response: Response) -> Response:
    guard.harden(response.headers)
    return response


def _refused(error: HTTPException) -> tuple[str, int]:
    words = {403: "Open this page with the address that jigleaf bench printed.", 404: "There is no such page."}
    code = error.code or 500
    return render_template("refused.html", said=error.description or error.name, help=words.get(code, "")), code


def _entrance(app: Flask, bench: Bench) -> None:
    @app.get("/")
    def enter() -> Any:
        where = redirect("/box/wood")
        return bench.guard.enter(where) if bench.guard.brings_token(request) else where

    @app.get("/alive")
    def alive() -> dict[str, bool]:
        bench.windows.heard(request.args.get("window", "")[:64])
        state = bench.state
        elsewhere = state.kept.changed_elsewhere() and not state.elsewhere_said
        return {"changed": elsewhere or request.args.get("version") != str(state.version)}

    @app.post("/closed")
    def closed() -> tuple[str, int]:
        bench.windows.closed(str(body().get("window"))[:64])
        return "", 204

    @app.get("/font/<name>")
    def font(name: str) -> Response:
        content = fonts.content(name)
        if content is None:
            abort(404)
        answer = Response(content, mimetype="font/otf")
        answer.headers["Cache-Control"] = "private, max-age=86400"
        return answer


def _of_the_box(app: Flask, bench: Bench) -> None:
    def page(chosen: str, said: str = "") -> str:
        with bench.state.lock:
            base = request.args.get("base", "")
            shown = box_view.context(bench.state, chosen, base)
            saved = base == "saved"
            compare = ("Compare with the last change", "?") if saved else ("Compare with saved", "?base=saved")
            has_file = bool(bench.state.kept.saved)
            return render_template(
                "box.html", **{**shown, **shell(bench, "box", said)}, compare=compare if has_file else None
            )

    @app.get("/box/<chosen>")
    def show_box(chosen: str) -> str:
        return page(chosen)

    @app.post("/box/<chosen>")
    def change_box(chosen: str) -> str:
        done = body()
        with bench.state.lock:
            return page(chosen, act(bench, done))


def _drawn(app: Flask, bench: Bench) -> None:
    state = bench.state

    def newest() -> bool:
        return request.args.get("version", str(state.version)) == str(state.version)

    @app.get("/picture/<chosen>")
    def picture(chosen: str) -> Any:
        file, dark = state.file, request.args.get("dark") == "1"
        key = ("picture", file.source, chosen, str(dark))
        drawn = bench.drawn.of(key, lambda: box_view.picture(file, chosen, dark=dark), newest)
        return render_template("picture.html", **drawn) if isinstance(drawn, dict) else abort(409)

    @app.get("/pages/<chosen>")
    def pages_of(chosen: str) -> Any:
        with state.lock:
            file, saved, look = state.file, state.as_saved, state.look
        shown = box_view.pages(bench.drawn, file, saved, look, chosen, request.args.get("page", ""), newest)
        return render_template("pages.html", **shown) if shown is not None else abort(409)

    @app.get("/again/<chosen>")
    def print_again(chosen: str) -> Any:
        with state.lock:
            file, saved, look = state.file, state.as_saved, state.look
        said = box_view.again(bench.drawn, file, saved, look, chosen, newest)
        return render_template("again.html", **said) if said is not None else abort(409)

    @app.get("/file")
    def box_file() -> Response:
        state.handed_out = state.file.source
        return download(state.file.source.encode(), state.name, "application/toml")

    @app.get("/print/<name>")
    def save_pages(name: str) -> Any:
        made = printing.made(state, name)
        if made is None:
            abort(404)
        if isinstance(made, str):
            return render_template("refused.html", said="These pages can’t be drawn yet.", help=made), 409
        return download(*made)
