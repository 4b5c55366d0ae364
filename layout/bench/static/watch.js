/** Tell the bench that a window looks at it, and the window when the bench, the file or another window has changed. */

const OFTEN = 5000;
const name = crypto.randomUUID();
let lost = false;

export const watch = {
  /** Ask now and then; `changed` is called where another window or program was at work. */
  start(changed) {
    const ask = async () => {
      try {
        const version = document.body.dataset.version;
        const answer = await fetch(`/alive?window=${name}&version=${version}`);
        if (!answer.ok) return watch.lost();
        if (lost) watch.found();
        if ((await answer.json()).changed && !document.activeElement?.matches("input, textarea")) changed();
      } catch {
        watch.lost();
      }
      return undefined;
    };
    ask();
    setInterval(ask, OFTEN);
    addEventListener("pagehide", () => navigator.sendBeacon("/closed", blob({ window: name })));
    addEventListener("pageshow", (event) => event.persisted && ask());
  },
  /** Say that nobody answers. */
  lost() {
    lost = true;
    document.getElementById("gone").hidden = false;
  },
  /** Take that back. */
  found() {
    lost = false;
    document.getElementById("gone").hidden = true;
  },
};

function blob(what) {
  return new Blob([JSON.stringify(what)], { type: "application/json" });
}
