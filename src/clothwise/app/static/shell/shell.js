// What every page does: sends the page's token, follows changes, tells them, takes refusals away.

import { ask, isUnderWay, madeAt, notAgain, ours, read, token } from "/static/shell/asking.js";

const body = document.body;

export { ours, token };

/** The entry of the history that this page shows. */
export function head() {
  return body.dataset.head;
}

/**
 * Send a change; resolves to the response's data, or to null if it was refused (and is told).
 * While Clothwise does not answer it waits.
 * @param {string} address of ours
 * @param {Object} fields text fields; `base` is added. Lists become several fields of one name.
 * @param {?Element} from where somebody made it
 */
export async function send(address, fields = {}, from = madeAt()) {
  const form = new URLSearchParams();
  for (const [name, value] of Object.entries({ base: head(), ...fields })) {
    for (const each of [value].flat()) form.append(name, each);
  }
  let response = await ask(address, {
    method: "POST",
    body: form,
    headers: { ...ours(), "HX-Request": "true", "HX-Current-URL": location.href },
  }, { from });
  const text = await read(response, "text").catch(() => {
    response = notAgain();
    return response.text();
  });
  if (response.headers.get("HX-Retarget") === "#refusal" || !response.ok) {
    refuse(text);
    return null;
  }
  announce(response.headers.get("HX-Trigger"));
  return (response.headers.get("Content-Type") ?? "").includes("json") ? JSON.parse(text) : text;
}

/** Say something in one line, for a while, also to who does not see it. */
export function tell(words) {
  const told = document.getElementById("told");
  told.textContent = words;
  clearTimeout(tell.ends);
  tell.since = Date.now();
  tell.ends = setTimeout(untell, 6000);
}

function untell() {
  document.getElementById("told").textContent = "";
}

// What was told of one thing does not linger over the next one that is done.
document.addEventListener("click", (event) => {
  if (Date.now() - tell.since > 500 && !event.target.closest("#told")) untell();
}, { capture: true });

function announce(triggers) {
  if (!triggers) return;
  for (const [name, detail] of Object.entries(JSON.parse(triggers))) {
    body.dispatchEvent(new CustomEvent(name, { detail, bubbles: true }));
  }
}

// What is shown and not kept yet: undo takes that back before anything of the history.
let shownOnly = null;

/**
 * From now on undo does this first; without anything undo is of the history again.
 * @param {?{words: string, drop: function}} what what it takes back, and how
 */
export function undoFirst(what) {
  shownOnly = what;
  tellUndo();
}

function tellUndo() {
  const button = document.getElementById("undo");
  if (!button) return;
  if (shownOnly) {
    button.dataset.ofHistory ??= JSON.stringify([button.disabled, button.title, button.innerHTML]);
    button.disabled = false;
    button.title = `Undo: drop what is not kept yet, ${shownOnly.words} (Control+Z)`;
    const words = document.createElement("span");
    words.textContent = "what is not kept yet";
    button.replaceChildren("Undo", words);
  } else if (button.dataset.ofHistory) {
    const [disabled, title, html] = JSON.parse(button.dataset.ofHistory);
    Object.assign(button, { disabled, title, innerHTML: html });
    delete button.dataset.ofHistory;
  }
}

document.addEventListener("click", (event) => {
  if (!shownOnly || !event.target.closest("#undo")) return;
  event.preventDefault();
  event.stopPropagation();
  shownOnly.drop();
}, { capture: true });

let whereOneWas = null;
let lastHeld = null; // a button that waits for its answer cannot hold the focus

document.addEventListener("focusin", (event) => {
  if (!event.target.closest("#refusal")) lastHeld = event.target;
});

/** Where an answer went: a place of the page, or as the answer names it. */
export function isRefusal(target) {
  return target === "#refusal" || target?.id === "refusal";
}

/** A refusal is read first; afterwards one is where one was. */
function showRefusal(place) {
  untell(); // what went well before stands beside no refusal
  const now = document.activeElement;
  if (!place.contains(now)) whereOneWas = now === document.body ? lastHeld : now;
  place.querySelector("[data-focus]")?.focus();
}

function dismiss(place) {
  place.replaceChildren();
  const back = whereOneWas?.isConnected ? whereOneWas : document.getElementById("room");
  back.focus();
}

function refuse(html) {
  const place = document.getElementById("refusal");
  // Made by our own server, which escapes; a whole page if the app itself was not reached.
  const told = new DOMParser().parseFromString(html, "text/html").querySelector(".refused");
  if (!told) return tell("This was refused; nothing was changed. Load the page anew.");
  place.replaceChildren(told);
  window.htmx?.process(place);
  showRefusal(place);
}

document.addEventListener("htmx:config:request", (event) => {
  const { ctx } = event.detail;
  const { sourceElement: source } = ctx;
  Object.assign(ctx.request.headers, ours());
  const from = source.contains(madeAt()) ? madeAt() : source;
  const meanwhile = () => clearTimeout(ctx.requestTimeout); // it waits as long as it has to
  ctx.fetch = (address, request) => ask(address, request, { from, meanwhile });
});

document.addEventListener("htmx:after:swap", (event) => {
  if (isRefusal(event.detail.ctx?.target)) showRefusal(document.getElementById("refusal"));
  if (shownOnly) tellUndo(); // the buttons may be new ones
});

document.addEventListener("htmx:error", (event) => {
  if (event.detail.error?.name === "AbortError") return;
  tell("This part of the page could not be shown. What was shown as done is kept; load the page anew.");
});

body.addEventListener("cw:back", () => tell("Clothwise answers again; this page goes on."));

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-dismiss]");
  if (!button) return;
  dismiss(document.querySelector(button.dataset.dismiss));
});

document.addEventListener("keydown", (event) => {
  const place = document.getElementById("refusal");
  if (event.key !== "Escape" || !place.hasChildNodes()) return;
  event.preventDefault(); // what else Escape would let go of stays
  dismiss(place);
});

// Control+Z outside of fields, where the browser has its own.
document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || !(event.ctrlKey || event.metaKey) || event.altKey) return;
  if (event.target.closest("input:not([type=radio], [type=checkbox], [type=range]), textarea, select, [contenteditable]")) return;
  const key = event.key.toLowerCase();
  const step = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : "";
  const button = step && document.getElementById(step);
  if (!button) return;
  event.preventDefault();
  button.click(); // does nothing if there is nothing to undo
});

// A change of this window: later forms are made from the new state. Of two windows that change
// something at once, each may hear of the other's change after its own: no window goes back to that.
let heardAt = 0;
body.addEventListener("cw:changed", (event) => {
  const { at = 0, words, elsewhere } = event.detail;
  const before = body.dataset.head;
  const now = event.detail.head = at >= heardAt ? event.detail.head : before;
  heardAt = Math.max(at, heardAt);
  if (!elsewhere) {
    for (const field of document.querySelectorAll('input[name="base"]')) {
      if (field.value === before) field.value = now;
    }
  }
  body.dataset.head = now;
  const isToldThere = !elsewhere && document.querySelector("[data-tells]"); // in a line of its own
  if (words && !isToldThere) tell(elsewhere ? `Changed in another window: ${words}` : words);
  const refusal = document.getElementById("refusal");
  const stays = refusal.querySelector("[data-stays]"); // what is asked there is not answered yet
  if (!stays) refusal.replaceChildren();
  const ofShell = elsewhere || event.detail.step;
  // What waits for Clothwise to answer again would be gone with the page.
  if (ofShell && !stays && !isUnderWay() && !document.querySelector("[data-follows]")) location.reload();
});

// What one looks at is looked at in the next room, too: a make, or a view in a size with choices. A
// make is looked at until another view or size is; the rooms of makes lead to the latest one.

const seen = `clothwise:seen:${body.dataset.design}`;
const looksIn = (fields) => Object.fromEntries(
  Object.entries(fields).filter(([name, value]) => value && /^(view|size|o\..+)$/.test(name)),
);
const asText = (looks) => JSON.stringify(Object.entries(looks).sort());

function kept() {
  return { looks: {}, make: "", ofMake: {}, size: "", ...JSON.parse(sessionStorage.getItem(seen) || "{}") };
}

function keep(fields) {
  sessionStorage.setItem(seen, JSON.stringify({ ...kept(), ...fields }));
  leadOn();
}

// A view in a size; `size` is told apart if somebody asked for it and no make says it.
function lookAt(fields) {
  const looks = looksIn(fields);
  if (!Object.keys(looks).length) return;
  const isOfMake = asText(looks) === asText(kept().ofMake);
  keep({ looks, size: isOfMake ? "" : looks.size || kept().size });
}

// A room of the make that the tape leads to anyway lets a view or size stay that somebody asked for.
function lookAtMake(make, ofMake) {
  const { looks, make: before, ofMake: ofBefore } = kept();
  const isAsked = Object.keys(looks).length && asText(looks) !== asText(ofBefore);
  const isLed = make === (before || JSON.parse(body.dataset.makes)[0]) && !location.search.includes("of=make");
  keep({ make, ofMake, ...(isAsked && isLed ? {} : { looks: ofMake }) });
}

function leadOn() {
  const { looks, make, ofMake } = kept();
  const isThere = JSON.parse(body.dataset.makes).includes(make);
  const isOfMake = isThere && (body.dataset.make === make || asText(looks) === asText(ofMake));
  const { view = "", size = "", ...choices } = looks;
  for (const link of document.querySelectorAll(".tape a[data-room]")) {
    const { room } = link.dataset;
    if (room === "draft") link.search = new URLSearchParams(looksIn({ view, size, ...choices }));
    else if (room === "check" && isOfMake) link.search = new URLSearchParams({ of: `make:${make}` });
    else if (room === "check") link.search = new URLSearchParams(looksIn({ view, size }));
    else if (isThere) link.pathname = link.pathname.replace(/\/m\/[^/]+\//, () => `/m/${encodeURIComponent(make)}/`);
  }
}

/** A room of a make in another size than the one that one looked at offers that. */
function offerSize() {
  const offer = document.querySelector("[data-made-in]");
  const { size } = kept();
  if (!offer || !size || size === offer.dataset.madeIn) return;
  offer.elements.start.value = `size:${size}`;
  const isPerson = JSON.parse(offer.dataset.people).includes(size);
  offer.querySelector("[data-seen]").textContent = isPerson ? size : `size ${size}`;
  offer.querySelector("[data-seen-for]").textContent = isPerson ? `for ${size}` : `in size ${size}`;
  offer.hidden = false;
}

// The fields of an address; of Check, `of=view:A` says the view.
function askedFor() {
  const { of = "", ...fields } = Object.fromEntries(new URLSearchParams(location.search));
  return of.startsWith("view:") ? { ...fields, view: of.slice("view:".length) } : fields;
}

if (body.dataset.design) {
  const asked = looksIn(askedFor());
  if (Object.keys(asked).length && document.querySelector("main .refused")) {
    // A size that is not there any more, such as one that was undone, must not bar the room.
    sessionStorage.removeItem(seen);
    location.replace(location.pathname);
  } else if (body.dataset.make) lookAtMake(body.dataset.make, JSON.parse(body.dataset.makeLooks));
  else if (Object.keys(asked).length) lookAt(asked);
  else leadOn();
  offerSize();
  body.addEventListener("cw:shown", (event) => lookAt(event.detail));
}

// A form that leads to another page: that its own change is told meanwhile must not bring this page
// back instead. A form that htmx sends does not lead away; it has prevented that by then.
let leaves = false;
window.addEventListener("submit", (event) => {
  if (event.defaultPrevented) return;
  leaves = true;
  setTimeout(() => { leaves = false; }, 20_000); // it was a download after all
});
window.addEventListener("pageshow", () => { leaves = false; });

// What another window changed, or what happened while this one slept.
document.getElementById("events")?.addEventListener("changed", (event) => {
  const { window: from, ...told } = JSON.parse(event.detail.data);
  if (leaves || from === body.dataset.window || told.head === body.dataset.head) return;
  body.dispatchEvent(new CustomEvent("cw:changed", { detail: { ...told, elsewhere: true }, bubbles: true }));
});
