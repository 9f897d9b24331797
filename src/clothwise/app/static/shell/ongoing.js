// The line of long work: how far each is, as the stream of events tells it. It is said aloud only
// that work has begun and how it ended; who wants to know more reads the line. Work that nobody
// began is not spoken of.

import { tell } from "/static/shell/shell.js";

const events = document.getElementById("events");
const begun = document.getElementById("ongoing-begun"); // spoken, not seen: the line is seen

function line(id) {
  return document.getElementById(`ongoing-${id}`);
}

events?.addEventListener("ongoing-further", (event) => {
  const { id, share, far, message } = JSON.parse(event.detail.data);
  const words = message.charAt(0).toUpperCase() + message.slice(1);
  for (const found of document.querySelectorAll(`[data-work="${CSS.escape(id)}"]`)) { // in a room, too
    found.querySelector("progress").value = share;
    found.querySelector(".ongoing__message").textContent = words;
    const percent = found.querySelector(".ongoing__far");
    if (percent) percent.textContent = far;
  }
});

// The words for its end are kept: the line may be gone before the stream says how it ended.
const endings = new Map();
events?.addEventListener("ongoing", (event) => {
  const { id, how } = JSON.parse(event.detail.data);
  const words = endings.get(id)?.[how];
  if (words) tell(words);
  askAnew();
});

// What began or ended before the stream was there.
events?.addEventListener("ongoing-are", (event) => {
  if (JSON.parse(event.detail.data).join() !== ids().join()) askAnew();
});

function askAnew() {
  document.body.dispatchEvent(new CustomEvent("cw:ongoing"));
}

let known = new Set(ids());
let wasInside = false;

function ids() {
  const lines = [...document.querySelectorAll("#ongoing [data-work]")];
  for (const each of lines) endings.set(each.dataset.work, { ...each.dataset });
  return lines.map((each) => each.dataset.work);
}

document.addEventListener("focusin", (event) => {
  wasInside = Boolean(event.target.closest("#ongoing"));
});

document.addEventListener("htmx:after:swap", () => {
  const now = ids();
  const fresh = now.filter((id) => !known.has(id) && !line(id).matches("[data-by-itself]"));
  if (fresh.length) {
    const words = fresh.map((id) => line(id).querySelector("a").textContent).join("; ");
    begun.textContent = `${words}: begun. The end of every page says how far it is.`;
  }
  const ended = [...known].some((id) => !now.includes(id));
  known = new Set(now);
  // Whoever stopped the last work stood on a button that is gone.
  if (ended && wasInside && document.activeElement === document.body) {
    (document.querySelector("#ongoing button") ?? document.getElementById("room")).focus();
  }
});
