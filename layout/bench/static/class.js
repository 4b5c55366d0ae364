/** The class: cells that were copied are pasted as a table, arrows go from row to row, a run is followed. */

import { send } from "./bench.js";
import { patch } from "./patch.js";

const OFTEN = 1000;
const MOST = 5_000_000;

document.addEventListener("paste", (event) => {
  const cell = event.target.closest?.("#students [data-key]");
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (!cell || !/[\t\r\n]/.test(text)) return;
  event.preventDefault();
  if (text.length > MOST) send({ do: "too-long" });
  else send({ do: "paste", at: cell.dataset.key, text });
});

/** Go to the same column of another row, as in any table of cells. */
document.addEventListener("keydown", (event) => {
  const cell = event.target.closest?.("#students [data-key]");
  const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
  if (!cell || !by || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const [row, key] = cell.dataset.key.split("/");
  const other = document.querySelector(`#students [data-key="${Number(row) + by}/${key}"]`);
  if (!other) return;
  event.preventDefault();
  other.focus();
  other.select();
});

/** Show how far a run is; once it is over, everything that came of it. */
async function follow() {
  const at_work = () => "atWork" in (document.getElementById("making")?.dataset ?? {});
  if (!at_work()) return;
  const answer = await fetch("/class/making").catch(() => null);
  if (!answer?.ok) return;
  const now = new DOMParser().parseFromString(await answer.text(), "text/html");
  const stops = document.activeElement?.id === "stop";
  for (const id of ["stick", "making", "hand-out"]) patch(document.getElementById(id), now.getElementById(id));
  if (at_work()) return;
  await send({ do: "look" });
  if (stops) document.getElementById("make")?.focus();
}

setInterval(follow, OFTEN);

document.addEventListener("click", (event) => {
  if (event.target.closest("a[href='/class/list.csv']")) setTimeout(() => send({ do: "look" }), OFTEN);
});
