"use strict";
{
  const every = (chosen) => document.querySelectorAll(chosen);
  const plain = (words) => words.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

  // A browser may refuse to keep anything: boxes can still be ticked, and the page says that they won't stay so.
  const unkept = document.getElementById("unkept");
  let kept = null;
  try {
    kept = window.localStorage;
    kept.getItem("");
  } catch {
    kept = null;
  }
  unkept.hidden = kept !== null;
  const key = (box) => "jigleaf " + box.dataset.tick;
  if (kept) {
    for (const box of every("[data-tick]")) box.checked = kept.getItem(key(box)) !== null;
  }
  document.addEventListener("change", ({ target }) => {
    if (!target.matches("[data-tick]") || !kept) return;
    try {
      if (target.checked) kept.setItem(key(target), "done");
      else kept.removeItem(key(target));
    } catch {
      unkept.hidden = false;
    }
  });

  for (const button of every("[data-print]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const sheet = document.getElementById(button.dataset.print);
      document.body.classList.toggle("one", sheet !== null);
      if (sheet) sheet.classList.add("chosen");
      window.print();
    });
  }
  window.addEventListener("afterprint", () => {
    document.body.classList.remove("one");
    for (const sheet of every(".chosen")) sheet.classList.remove("chosen");
  });

  const search = document.getElementById("search");
  if (search) {
    const students = [...every("[data-find]")];
    const found = document.getElementById("found");
    const look = () => {
      const words = plain(search.value).split(/\s+/).filter(Boolean);
      let count = 0;
      for (const student of students) {
        student.hidden = !words.every((word) => student.dataset.find.includes(word));
        count += student.hidden ? 0 : 1;
      }
      found.textContent = `${count} of ${students.length} shown`;
    };
    search.closest("[hidden]").hidden = false;
    search.addEventListener("input", look);
    look();
  }
}
