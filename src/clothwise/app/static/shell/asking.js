// How every request is made. While Clothwise does not answer, changes wait: what was typed stays, is
// marked as not kept, and is sent once it answers again, with the token of the new start.

const body = document.body;
const EVERY_MS = 2000; // an open page asks so often whether it is back
const LONGEST_MS = 8000; // for the shortest of answers

/** The token that every change carries. */
export function token() {
  return document.querySelector('meta[name="clothwise-token"]').content;
}

/** The headers of every request: the page's token, and which window this is. */
export function ours() {
  return { "X-Clothwise-Token": token(), "X-Clothwise-Window": body.dataset.window };
}

/** What a request ends with that does not wait, while nobody answers; the page says more. */
export class Unanswered extends Error {
  constructor() {
    super("Clothwise does not answer; it was closed, or was started anew");
    this.remedy = "The note below says how to go on";
  }
}

/**
 * Ask as `fetch` does; what waits is asked again once Clothwise is back.
 * @param {string} address of ours
 * @param {Object} request as for `fetch`, its headers a plain object
 * @param {Object} how `waits`: until it is back, instead of ending with `Unanswered`; `from`: where
 *   somebody asked for it; `meanwhile`: done before the waiting begins
 */
export async function ask(address, request = {}, { waits = true, from = touched, meanwhile = null } = {}) {
  const isChange = waits && (request.method || "GET").toUpperCase() !== "GET";
  const ended = isChange ? underWayFrom(from) : null;
  const { head } = body.dataset; // the stream may tell a later one before this is asked again
  let asks = request;
  try {
    for (let tries = 0; tries < 4; tries += 1) {
      const wasAway = Boolean(away);
      let isTurnedAway = false; // at the door: it was surely not done
      try {
        const answer = await fetch(address, asks);
        isTurnedAway = answer.status === 403 && answer.headers.has("X-Clothwise-Door");
        if (!isTurnedAway) return answer;
      } catch (error) {
        if (!(error instanceof TypeError)) throw error;
      }
      const back = isBack();
      meanwhile?.();
      if (!waits && (await look())) throw new Unanswered();
      const now = await back;
      const isAsBefore = Boolean(head) && now.head === head;
      if (isChange && !wasAway && !isTurnedAway && !isAsBefore) return notAgain();
      if (asks.signal?.aborted) throw asks.signal.reason; // given up meanwhile
      asks = { ...asks, headers: { ...asks.headers, ...ours() } };
    }
    throw new Unanswered();
  } finally {
    ended?.();
  }
}

/** What an answer holds; it may be cut off in the middle, which ends with `Unanswered`. */
export async function read(answer, kind) {
  try {
    return await answer[kind]();
  } catch (error) {
    look();
    throw error.name === "AbortError" || error.name === "SyntaxError" ? error : new Unanswered();
  }
}

/** Where somebody did last what a change comes from. */
export function madeAt() {
  return touched;
}

/** The answer to a change that may have been kept just before the end: somebody looks, then makes it once more. */
export function notAgain() {
  const card = `<section class="refused" tabindex="-1" data-focus data-stays><h2>Clothwise
    was closed while this change was on its way.</h2><p>It may be kept already, so it was not sent again.</p>
    <p><span class="soft">What to do:</span> Look whether it is there. If it is not, make it once more.</p>
    <div class="buttons"><a class="button" href="">Load the page anew</a> <button class="button" type="button" data-dismiss="#refusal">Close</button></div></section>`;
  const headers = { "Content-Type": "text/html", "HX-Retarget": "#refusal", "HX-Reswap": "innerHTML" };
  return new Response(card, { status: 409, headers });
}

// What is under way ---------------------------------------------------------------------------------

const underWay = new Set();
let touched = null; // what somebody used last, which a change comes from

for (const type of ["change", "click", "submit"]) {
  document.addEventListener(type, (event) => {
    touched = event.submitter || event.target;
  }, { capture: true });
}

/**
 * A change was asked for that is not kept yet; call what is returned once it is, or is refused.
 * @param {?Element} element where somebody made it
 */
export function underWayFrom(element = touched) {
  const one = { element, words: wordsOf(element) };
  underWay.add(one);
  show();
  return () => {
    underWay.delete(one);
    mark(one.element, Boolean(away) && [...underWay].some((each) => each.element === one.element));
    show();
  };
}

/** Whether a change has no answer yet. */
export function isUnderWay() {
  return underWay.size > 0;
}

function wordsOf(element) {
  if (!element) return "";
  const called = (element.getAttribute("aria-label") || element.labels?.[0]?.textContent || "").replace(/\s+/g, " ").trim();
  if (element.matches("input[type=checkbox], input[type=radio]")) return called;
  if (element.matches("select")) return `${called}: ${element.selectedOptions[0]?.textContent.trim()}`;
  if (element.matches("input, textarea")) return `${called}: ${element.value}`;
  if (element.closest("#board")) return "what you did on the board";
  return element.closest("button, a, form, summary")?.textContent.replace(/\s+/g, " ").trim().slice(0, 60) || "";
}

function mark(element, isMarked) {
  element?.toggleAttribute?.("data-not-kept", isMarked);
}

window.addEventListener("beforeunload", (event) => {
  if (away && underWay.size) event.preventDefault();
});

// Away, and back ------------------------------------------------------------------------------------

// How it is away: "silent", "stranger" if it does not know this window, "elsewhere" if it has other
// designs now, nothing if it answers.
let away = "";
let waiting = null; // until it is back
let resume = null;
let asking = null;
let next = 0;

function isBack() {
  waiting ??= new Promise((resolve) => { resume = resolve; });
  look();
  return waiting;
}

/** Find out whether Clothwise answers and knows this window; what is the matter, if it does not. */
export function look() {
  asking ??= looked().finally(() => { asking = null; });
  return asking;
}

async function looked() {
  clearTimeout(next);
  const { how, page } = await state();
  if (!how) {
    goOn(page);
    return "";
  }
  away = how;
  waiting ??= new Promise((resolve) => { resume = resolve; });
  show();
  next = setTimeout(look, EVERY_MS);
  return away;
}

// The lightest page of this design tells the token and the state of it, as loading this page would.
async function state() {
  const { design } = body.dataset;
  const lightest = design ? `/d/${encodeURIComponent(design)}/history` : "/settings";
  try {
    const signal = AbortSignal.timeout(LONGEST_MS);
    if (away === "silent") await fetch("/health", { cache: "no-store", signal });
    const answer = await fetch(lightest, { cache: "no-store", headers: { Accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (!page.querySelector('meta[name="clothwise-token"]')?.content) return { how: "stranger" };
    return { how: page.body.dataset.design === design ? "" : "elsewhere", page };
  } catch {
    return { how: "silent" };
  }
}

function goOn(page) {
  const wasAway = away;
  const fresh = page.querySelector('meta[name="clothwise-token"]').content;
  for (const field of document.querySelectorAll('input[name="csrf"]')) field.value = fresh;
  document.querySelector('meta[name="clothwise-token"]').content = fresh;
  away = "";
  show();
  const go = resume;
  waiting = resume = null;
  go?.({ head: page.body.dataset.head });
  if (!wasAway) return;
  for (const picture of document.images) {
    if (picture.complete && !picture.naturalWidth) picture.setAttribute("src", picture.getAttribute("src"));
  }
  stream?.delayCanceller?.(); // what other windows do is heard again at once
  body.dispatchEvent(new CustomEvent("cw:back", { bubbles: true }));
}

// The stream of events ends the moment that Clothwise does.
let stream = null;
document.addEventListener("htmx:sse:before:connection", (event) => { stream = event.detail.connection; });
document.addEventListener("htmx:sse:error", () => { if (!isLeaving) look(); });

let isLeaving = false;
window.addEventListener("pagehide", () => { isLeaving = true; });
window.addEventListener("pageshow", () => { isLeaving = false; });
for (const [where, type] of [[window, "online"], [window, "focus"], [document, "visibilitychange"]]) {
  where.addEventListener(type, () => { if (away) look(); });
}

// The note ------------------------------------------------------------------------------------------

const note = document.getElementById("away");

const WAYS = {
  silent: ["Clothwise does not answer: it was closed, or the computer sleeps.",
    "Start it again as you did before. This page asks every two seconds and then goes on by itself."],
  stranger: ["Clothwise runs again, but does not know this window yet.",
    "Open the address that it told when it was started, in another tab or window of this browser. Then this page goes on by itself."],
  elsewhere: ["Clothwise runs again, but this design is not among those that it has open.",
    "End it, and start it with the folder that holds this design. Then this page goes on by itself."],
};

function show() {
  if (!note) return;
  note.hidden = !away;
  for (const { element } of underWay) mark(element, Boolean(away));
  if (!away) return;
  const [what, how] = WAYS[away];
  tellIn("what", what);
  tellIn("how", how);
  tellIn("address", `Should it tell another address than ${location.origin}, this page cannot go on: open the new address, and make there what is named here. Or end it, and start it with --port ${location.port || 80} added.`);
  tellIn("kept", "Every change that was shown as done is kept.");
  const words = [...new Map([...underWay].map((one) => [one.element, one.words || "your last change"])).values()];
  note.querySelector("[data-away-waits]").hidden = !words.length;
  const list = note.querySelector("[data-away-list]");
  if (list.textContent === words.join("")) return;
  list.replaceChildren(...words.map((each) => Object.assign(document.createElement("li"), { textContent: each })));
}

function tellIn(name, words) { // what says the same already is not spoken again
  const place = note.querySelector(`[data-away-${name}]`);
  if (place.textContent !== words) place.textContent = words;
}

note?.querySelector("[data-away-now]").addEventListener("click", () => look());

// What would lead to another page would lead to the browser's own, and from what is not kept.
for (const [type, what] of [["click", "a[href]:not([target], [href^='#'])"], ["submit", "form:not([hx-post])"]]) {
  document.addEventListener(type, (event) => {
    if (!away || event.defaultPrevented || !event.target.closest(what)) return;
    event.preventDefault();
    note.classList.remove("is-meant");
    requestAnimationFrame(() => note.classList.add("is-meant"));
  });
}
