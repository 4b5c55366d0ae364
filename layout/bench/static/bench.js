/** The page's script: it sends what a maker does, and puts what comes back in place. It computes nothing. */

import { patch } from "./patch.js";
import { watch } from "./watch.js";

const page = document.body;
let waiting = Promise.resolve();
let newest = 0;
const night = matchMedia("(prefers-color-scheme: dark)");

/** Send one thing that was done, after those before it; resolve when the page shows what came of it. */
export function send(what, address = location.pathname + location.search) {
  waiting = waiting.then(() => post(what, address)).catch(() => watch.lost());
  return waiting;
}

async function post(what, address) {
  page.setAttribute("aria-busy", "true");
  const said = JSON.stringify({ ...what, version: Number(page.dataset.version) });
  try {
    const answer = await fetch(address, {
      method: "POST", body: said, headers: { "Content-Type": "application/json" }, redirect: "follow",
    });
    if (answer.status === 403) return watch.lost();
    if (answer.redirected) { location.assign(answer.url); return undefined; }
    show(await answer.text());
  } finally {
    page.removeAttribute("aria-busy");
  }
  return undefined;
}

/** Put a whole page as it came back in the place of the one that is shown: only what differs is touched. */
export function show(text) {
  const next = new DOMParser().parseFromString(text, "text/html");
  page.dataset.version = next.body.dataset.version;
  document.title = next.title;
  const drawn = (one) => one.hasAttribute?.("data-from");
  for (const at of ["#head", "#notices", "#strip", ".bench"]) {
    patch(document.querySelector(at), next.querySelector(at), drawn);
  }
  fetchParts();
}

/** Fetch what is drawn: the newest state wins, an older answer is thrown away. What is late waits for the rest. */
async function fetchParts() {
  newest += 1;
  const asked = newest;
  for (const which of [":not([data-late])", "[data-late]"]) {
    const parts = [...document.querySelectorAll(`[data-from]${which}`)];
    await Promise.all(parts.map((part) => fetchPart(part, asked)));
    if (asked !== newest) return;
  }
}

async function fetchPart(part, asked) {
  const chosen = new URLSearchParams(location.search).get("page") ?? "";
  const query = new URLSearchParams({ version: page.dataset.version, page: chosen, dark: night.matches ? "1" : "" });
  part.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(`${part.dataset.from}?${query}`);
    if (asked !== newest || answer.status === 409) return;
    const text = await answer.text();
    if (asked !== newest) return;
    const made = new DOMParser().parseFromString(text, "text/html");
    part.replaceChildren(...made.body.childNodes);
    part.removeAttribute("aria-busy");
    for (const word of part.querySelectorAll("template[data-says]")) {
      document.querySelector(`[data-said="${word.dataset.says}"]`)?.replaceChildren(word.content.cloneNode(true));
    }
  } catch {
    watch.lost();
  }
}

/** Return what a field holds as it would be typed. */
function held(field) {
  return field.type === "checkbox" ? (field.checked ? "yes" : "no") : field.value;
}

document.addEventListener("change", (event) => {
  const field = event.target;
  if (field.dataset.open !== undefined) {
    if (field.files[0]) open(field.files[0]);
    field.value = "";
  } else if (field.dataset.act) {
    send({ do: field.dataset.act, typed: Object.fromEntries(readings(field.closest("fieldset"))) });
  } else if (field.dataset.key) {
    field.setAttribute("data-sent", held(field));
    send({ do: "type", typed: { [field.dataset.key]: held(field) } });
  }
});

document.addEventListener("submit", (event) => event.preventDefault());

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-page]");
  if (link) {
    event.preventDefault();
    history.replaceState(null, "", link.getAttribute("href").replace("#pages", ""));
    fetchParts();
    return;
  }
  if (event.target.closest("a#save")) setTimeout(() => send({ do: "look" }), 500); // the copy is out by then
  const button = event.target.closest("button[data-do]");
  if (!button || button.getAttribute("aria-disabled") === "true") return;
  const { back } = button.dataset; // as it was when it was pressed
  send(meant(button)).then(() => document.getElementById(back)?.focus());
});

/** Return what a button does, from what it carries and from the row or form it stands in. */
function meant(button) {
  const { do: done, part, list, row, typed, name } = button.dataset;
  if (done === "add-row") return { do: done, list, typed: newRow(button.closest("tr")) };
  const form = button.dataset.form && document.getElementById(button.dataset.form);
  if (form) return { do: done, name, typed: Object.fromEntries(readings(form)) };
  return { do: done, part, list, name, row: row && Number(row), typed: typed && JSON.parse(typed) };
}

function newRow(row) {
  const typed = (one) => (one.type === "checkbox" && !one.checked ? "" : one.value);
  return Object.fromEntries([...row.querySelectorAll("[data-new]")].map((one) => [one.dataset.new, typed(one)]));
}

function* readings(form) {
  for (const one of form.querySelectorAll("[name]")) {
    if (one.type !== "radio" || one.checked) yield [one.name, held(one)];
  }
}

document.addEventListener("keydown", (event) => {
  const field = event.target;
  if (event.key === "Enter" && field.matches("input[data-new]")) {
    event.preventDefault();
    field.closest("tr").querySelector("button").click();
  } else if (event.key === "Enter" && field.matches("input[data-key]")) {
    event.preventDefault();
    field.dispatchEvent(new Event("change", { bubbles: true }));
  } else if ((event.ctrlKey || event.metaKey) && ["z", "y"].includes(event.key.toLowerCase()) && !typing(field)) {
    event.preventDefault();
    document.getElementById(event.shiftKey || event.key.toLowerCase() === "y" ? "redo" : "undo")?.click();
  } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") {
    event.preventDefault();
    document.getElementById("save")?.click();
  }
});

/** Whether somebody is in the middle of a word, where Ctrl+Z is the field's own. */
function typing(field) {
  return field.matches("input:not([type=radio]):not([type=checkbox]), textarea") && field.value !== field.defaultValue;
}

/** Send a file that was chosen or dropped. */
export async function open(file) {
  const most = 8_000_000;
  if (file.size > most) return send({ do: "too-large", name: file.name });
  let bytes;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    return send({ do: "unreadable", name: file.name });
  }
  let letters = "";
  for (let at = 0; at < bytes.length; at += 32768) letters += String.fromCharCode(...bytes.subarray(at, at + 32768));
  return send({ do: "open", name: file.name, content: btoa(letters) });
}

document.addEventListener("dragover", (event) => event.preventDefault());
document.addEventListener("drop", (event) => {
  event.preventDefault();
  if (event.dataTransfer.files[0]) open(event.dataTransfer.files[0]);
});

night.addEventListener("change", fetchParts);
watch.start(() => send({ do: "look" }));
document.querySelector("[aria-current=step]")?.scrollIntoView({ block: "nearest", inline: "center" });
fetchParts();
