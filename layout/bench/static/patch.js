/** Make one part of the page like another, touching only what differs: focus, scrolling and what is half typed stay. */

/** Make `was` like `now`. What `leave` says is kept as it is, but for its attributes. */
export function patch(was, now, leave = () => false) {
  if (!was || !now || was.isEqualNode(now) && !was.querySelector?.("input, textarea")) return;
  if (was.nodeName !== now.nodeName || was.id !== now.id) {
    was.replaceWith(document.importNode(now, true));
    return;
  }
  if (was.nodeType === Node.TEXT_NODE || was.nodeType === Node.COMMENT_NODE) {
    if (was.data !== now.data) was.data = now.data;
    return;
  }
  if (was.matches("input, textarea")) likeValue(was, now, was.value);
  likeAttributes(was, now);
  if (was.matches("input, textarea")) return;
  if (!leave(was)) children(was, now, leave);
}

function likeAttributes(was, now) {
  const stays = was.nodeName === "DETAILS" ? ["open"] : ["data-sent"];
  for (const { name } of [...was.attributes]) {
    if (!now.hasAttribute(name) && !stays.includes(name)) was.removeAttribute(name);
  }
  for (const { name, value } of now.attributes) if (was.getAttribute(name) !== value) was.setAttribute(name, value);
}

/** Give a field the value that came back, unless something else has been typed into it in the meantime. */
function likeValue(was, now, held) {
  if (was.type === "checkbox" || was.type === "radio") {
    was.checked = now.checked;
    return;
  }
  const typing = was === document.activeElement && held !== was.defaultValue && held !== was.getAttribute("data-sent");
  was.removeAttribute("data-sent");
  was.defaultValue = now.defaultValue;
  was.value = typing ? held : now.defaultValue;
}

function children(was, now, leave) {
  const old = [...was.childNodes];
  const named = new Map(old.filter((one) => one.id).map((one) => [one.id, one]));
  let place = was.firstChild;
  for (const next of now.childNodes) {
    const same = next.id ? named.get(next.id) : place && !place.id && place.nodeName === next.nodeName ? place : null;
    if (same) {
      if (same !== place) was.insertBefore(same, place);
      else place = place.nextSibling;
      patch(same, next, leave);
    } else {
      was.insertBefore(document.importNode(next, true), place);
    }
  }
  while (place) {
    const gone = place;
    place = place.nextSibling;
    gone.remove();
  }
}
