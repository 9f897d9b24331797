// The Draft room: what the board and the parts beside it ask of the server, and what they show.
//
// Other scripts of the room may use:
//   commit(command)    make a change; true if it was kept
//   preview(command)   show what it would do while a hand moves, without keeping it
//   waits              what is shown until somebody says yes or no, see pending.js
//   leave()            show again what is kept, and what waits
//   shownFields()      what the page looks at: view, size, choices

import { ask, madeAt, read, Unanswered, underWayFrom } from "/static/shell/asking.js";
import { ours, send, tell } from "/static/shell/shell.js";
import { mount } from "/static/board/board.js";
import { catalog } from "/static/board/catalog.js";
import { hints } from "/static/board/hint.js";
import { asksBeforeLeaving } from "/static/board/leaving.js";
import { Pending } from "/static/board/pending.js";
import { keepsUnfolded } from "/static/board/unfolded.js";

const body = document.body;
const design = `/d/${encodeURIComponent(body.dataset.design)}`;
const element = document.getElementById("board");
const shown = document.getElementById("shown");
const board = mount(element);
const hint = hints(element, element.querySelector(".board-hint"));
const waits = new Pending(document.getElementById("pending"), {
  draw: () => leave(),
  rest: () => element.focus({ preventScroll: true }),
  changed: () => followSoon(["pieces"]), // edits and history are those that are kept
  garment: () => ({ ...shownFields(), size: "" }),
  sizes: async (command) => (await post("refusing", { pending: JSON.stringify(command) })).words,
});
asksBeforeLeaving(document.getElementById("leaving"), waits);
let lastHead = body.dataset.head;
let keeping = 0; // changes of ours under way, whose answers bring the board
let isFirst = true;

export function shownFields() {
  return Object.fromEntries(new FormData(shown));
}

// Asking ------------------------------------------------------------------------------------------

function address(path, fields = {}) {
  const query = new URLSearchParams();
  for (const [key, value] of Object.entries({ ...shownFields(), ...fields })) {
    if (value !== "") query.append(key, value);
  }
  return `${design}/${path}?${query}`;
}

async function get(path, fields = {}) {
  const response = await ask(address(path, fields), {
    headers: { ...ours(), Accept: "application/json" },
  }, { waits: false });
  const data = response.status === 204 ? {} : await read(response, "json");
  if (!response.ok) throw new Refused(data.error);
  return data;
}

async function post(path, fields) {
  const form = new URLSearchParams({ ...shownFields(), ...fields });
  const response = await ask(`${design}/${path}`, {
    method: "POST",
    body: form,
    headers: { ...ours(), Accept: "application/json" },
  }, { waits: false });
  const data = await read(response, "json");
  if (!response.ok) throw new Refused(data.error);
  return data;
}

class Refused extends Error {
  constructor(error) {
    super([error?.what, error?.how_much].filter(Boolean).join(": "));
    this.remedy = error?.what_to_do || "";
  }
}

// What draws the board goes one after the other, for each answer says what differs from the one
// before. Of previews only the latest waits.
let working = Promise.resolve();
let waitingPreview = null;
let isPreviewing = false;

function inTurn(task) {
  working = working.then(task, task);
  return working;
}

function inTurnLatest(task) {
  waitingPreview = task;
  if (isPreviewing) return;
  isPreviewing = true;
  inTurn(async () => {
    while (waitingPreview) {
      const next = waitingPreview;
      waitingPreview = null;
      try {
        await next();
      } catch (error) {
        says(error.message, error.remedy);
      }
    }
    isPreviewing = false;
  });
}

// Showing -----------------------------------------------------------------------------------------

function apply(data, before, flashes = true) {
  if (before !== board.version) return load("");
  refused(data);
  const { choices, size } = data;
  body.dispatchEvent(
    new CustomEvent("cw:board", { bubbles: true, detail: { choices, size, refused: data.refused } }),
  );
  if (data.refused && !data.instead) return null;
  drawnSize = data.instead || size;
  board.update(data);
  lying(data.lying);
  if (flashes) board.settle();
  if (flashes && !isFirst) flash(Object.keys(data.pieces));
  if (isFirst && Object.keys(data.pieces).length) {
    isFirst = false;
    board.fit();
    element.dataset.ready = "yes";
  }
  return null;
}

// Pieces that lie on one another, as the server sees them; beside the button that lays them apart.
function lying(names) {
  const hint = document.getElementById("lying");
  hint.hidden = !names.length;
  const words = names.length ? `${names.length} pieces lie on one another` : "";
  if (hint.textContent !== words) hint.textContent = words;
}

function flash(names) {
  for (const name of names) {
    const place = board.place(name);
    place?.classList.add("changed");
    setTimeout(() => place?.classList.remove("changed"), 1200);
  }
}

let drawnSize = ""; // of the pieces that lie on the board

function refused({ refused: error, ways, instead }) {
  const note = document.getElementById("board-refused");
  note.hidden = !error;
  if (!error) return;
  const parts = [error.what, error.where, error.how_much].filter(Boolean).join(" · ");
  note.querySelector("[data-what]").textContent = capital(parts);
  note.querySelector("[data-remedy]").textContent = error.what_to_do;
  note.querySelector("[data-instead]").textContent = instead
    ? `The board shows size ${instead}, the nearest that can be drafted.`
    : drawnSize
      ? `The board still shows what could be drafted last, in size ${drawnSize}.`
      : "No size can be drafted, so nothing can be drawn.";
  note.querySelector(".buttons")?.remove();
  if (ways.length) note.append(wayButtons(ways));
}

function says(...words) {
  board.caption.textContent = words.filter(Boolean).map(capital).join(". ");
}

function capital(text) {
  return text ? text[0].toUpperCase() + text.slice(1) : "";
}

async function load(before = board.version) {
  const asked = waits.now;
  const data = asked
    ? await post("commands", { ...onTop(), preview: "yes", before })
    : await get("board", { before });
  if (asked === waits.now && data.pending) waits.told(data.pending);
  if (before !== board.version && before) return load("");
  if (!before) board.version = "";
  return apply(data, board.version);
}

// What waits for a yes, for questions whose answer is the board with it.
function onTop() {
  return waits.now ? { pending: JSON.stringify(waits.now.command) } : {};
}

export function leave() {
  waitingPreview = null;
  return inTurn(() => load().catch(told));
}

function told(error) {
  const words = error.remedy ? `${capital(error.message)}. ${error.remedy}` : error.message;
  tell(words);
}

// Changing ----------------------------------------------------------------------------------------

/**
 * Make a change; true if it was kept.
 * @param {Object} command
 * @param {?Object} settles the entry of what waits that is kept by it
 */
export function commit(command, settles = null) {
  return kept("commands", { command: JSON.stringify(command) }, settles);
}

export function preview(command) {
  inTurnLatest(async () => {
    const before = board.version;
    const fields = { command: JSON.stringify(command), ...onTop(), preview: "yes", before };
    apply(await post("commands", fields), before, false);
  });
}

function kept(path, fields, settles = null) {
  waitingPreview = null;
  const from = madeAt();
  const ended = underWayFrom(from); // also while it waits for its turn
  return inTurn(async () => {
    const before = board.version;
    keeping += 1;
    const settled = settles && waits.now === settles ? settles : null;
    if (settled) waits.end();
    try {
      const data = await send(`${design}/${path}`, { ...shownFields(), ...fields, ...onTop(), before }, from);
      if (data?.pending) waits.told(data.pending);
      if (data) {
        await apply(data, before);
        if (data.behind) await load();
      } else {
        if (settled) waits.show(settled);
        await load();
      }
      return Boolean(data);
    } finally {
      ended();
      keeping -= 1;
    }
  });
}

// Pointing ----------------------------------------------------------------------------------------

element.addEventListener("cw:drag", (event) => {
  const { stage, ...gesture } = event.detail;
  if (waits.now) {
    says("First keep or drop what is shown", waits.text);
    if (stage !== "done") return;
    board.handles();
    tell(`Nothing was moved. First keep or drop: ${waits.text}.`);
    return;
  }
  hint("");
  if (stage === "done") {
    kept("point", { gesture: JSON.stringify(gesture), stage }).then((isKept) => {
      // What was said on the way is past; the line below says what was done.
      if (isKept) says(document.querySelector('[data-tool-of][aria-pressed="true"]')?.dataset.says);
    });
    return;
  }
  inTurnLatest(async () => {
    const before = board.version;
    const fields = { gesture: JSON.stringify(gesture), stage, before };
    const data = await post("point", fields);
    apply(data, before, false);
    const { lost } = data.pending;
    says(lost ? lost.what : data.words, lost?.what_to_do);
  });
});

element.addEventListener("cw:let-go", () => leave());

element.addEventListener("cw:begin", (event) => {
  hint(event.detail.isBegun ? byHand("Now click where the line ends. Escape lets go of it.") : "");
});

element.addEventListener("cw:line", (event) => {
  const { tool, stage, piece, from, to, reach_mm } = event.detail;
  if (tool === "tape") measure(event.detail);
  if (stage === "done") hint("");
  if (tool !== "split" || stage !== "done") return;
  if (!piece) {
    says("The line crosses no piece", "Draw it from edge to edge of a piece");
    return;
  }
  inTurn(async () => {
    try {
      const on = await lineAnew(piece);
      const gesture = JSON.stringify({ what: "split", piece: on, from, to, reach_mm });
      const before = board.version;
      const data = await post("point", { gesture, before });
      apply(data, before, false);
      if (data.pending.lost) board.propose(on, from, to); // no part shows where it runs
      await propose(data);
    } catch (error) {
      says(error.message, error.remedy);
    }
  });
});

// A line drawn while a split waits takes its place; one on a part means the piece that is split, as
// both have the same coordinates. The piece that the line means.
async function lineAnew(piece) {
  const before = waits.now;
  if (!before) return piece;
  waits.end();
  before.gone?.();
  tell(`Dropped for the new line: ${before.words}.`);
  await load();
  return board.place(piece) ? piece : before.command.parameters?.piece || piece;
}

let measuring = 0;
async function measure({ piece, from, to, reach_mm, stage }) {
  if (!piece) {
    says("The tape lies on no piece");
    return;
  }
  const now = performance.now();
  if (stage === "going" && now - measuring < 90) return;
  measuring = now;
  try {
    const { words } = await get("tape", { piece, from, to, reach_mm, ...onTop() });
    says(words);
  } catch (error) {
    says(error.message, error.remedy);
  }
}

// A form filled in by pointing waits for a yes.
async function propose(data) {
  const { command } = data;
  const { edit, parameters } = command;
  const fields = { edit, proposed: "yes" };
  for (const [key, value] of Object.entries(parameters)) fields[`p.${key}`] = value;
  const place = document.getElementById("proposal");
  const keep = () => {
    const form = place.querySelector("form");
    return form ? keepForm(form) : commit(command, waits.now); // it may still be on its way
  };
  waits.show({ command, words: data.pending.words, source: place, keep, gone: closeProposal });
  waits.told(data.pending);
  const mine = waits.now;
  const html = await part("edits/new", fields);
  if (waits.now !== mine) return; // it was kept or dropped meanwhile
  place.innerHTML = html;
  place.hidden = false;
  place.querySelector("[data-words]").textContent = `${data.words}.`;
  const { lost } = data.pending;
  const note = place.querySelector("[data-lost]");
  note.hidden = !lost;
  place.querySelector("[type=submit]").classList.toggle("button--main", !lost);
  if (lost) {
    note.querySelector("[data-lost-words]").textContent = `${capital(lost.what)}. ${lost.what_to_do}`;
    note.append(wayButtons(lost.ways));
  }
  if (matchMedia("(min-width: 62rem)").matches) {
    place.querySelector("button[type=submit]").focus({ preventScroll: true });
    place.scrollIntoView({ block: "start" });
  } else document.querySelector("#pending [data-pending-keep]").focus({ preventScroll: true });
}

async function part(path, fields = {}) {
  const response = await ask(address(path, fields), {
    headers: { ...ours(), "HX-Request": "true", Accept: "text/html" },
  }, { waits: false });
  if (!response.ok) throw new Error("This part cannot be shown now; load the page anew.");
  return read(response, "text");
}

// Forms of edits ----------------------------------------------------------------------------------

function commandOf(form) {
  const parameters = {};
  for (const field of form.querySelectorAll("[data-parameter]")) {
    const value = field.value.trim();
    const isNew = value !== field.dataset.value;
    if (isNew || (!form.dataset.name && (field.dataset.written || field.required))) {
      parameters[field.dataset.parameter] = value;
    }
  }
  if (form.dataset.name) return { kind: "change-edit", name: form.dataset.name, parameters };
  return { kind: "add-edit", edit: form.dataset.edit, parameters };
}

document.addEventListener("submit", (event) => {
  const form = event.target.closest("[data-edit-form]");
  if (!form) return;
  event.preventDefault();
  keepForm(form);
});

const followed = new WeakMap(); // by form: when it has followed what was changed in it
const beingKept = new WeakSet(); // forms whose change is being made

// Make the change that a form is filled in for; true if it was kept. A form asked twice makes one.
async function keepForm(form) {
  if (beingKept.has(form) || !form.reportValidity()) return false;
  beingKept.add(form);
  try {
    await followed.get(form); // titles may still follow the line
    return await madeOf(form);
  } finally {
    beingKept.delete(form);
  }
}

async function madeOf(form) {
  const isProposed = Boolean(form.closest("#proposal"));
  const isKept = await commit(commandOf(form), waits.isFrom(form) ? waits.now : null);
  if (!isKept) return false;
  if (isProposed) closeProposal();
  if (form.closest("#new-edit")) {
    document.getElementById("edit-kind").value = "";
    document.getElementById("new-edit").replaceChildren();
    document.getElementById("add-edit-summary").focus();
    return true;
  }
  (form.closest("details.edit")?.querySelector("summary") || element).focus();
  return true;
}

document.addEventListener("change", async (event) => {
  const form = event.target.closest("[data-edit-form]");
  if (event.target.id === "edit-kind") {
    dropOf(document.getElementById("new-edit"));
    await newForm({ edit: event.target.value });
    return;
  }
  if (!form) return;
  if (event.target.dataset.parameter === "piece" && !form.dataset.name) {
    dropOf(form);
    await newForm({ edit: form.dataset.edit, "p.piece": event.target.value });
    return;
  }
  followed.set(form, Promise.all([followed.get(form), follow(form)]));
});

// Show what a form would do; its help and titles follow, which may change what it does.
async function follow(form) {
  if (form.checkValidity()) showForm(form);
  if (!form.dataset.name && (await placesAnew(form, true)) && form.isConnected) showForm(form);
}

// What a form would do is shown, and waits for a yes.
function showForm(form) {
  board.proposeNothing();
  const command = commandOf(form);
  if (form.dataset.name && !Object.keys(command.parameters).length) {
    if (waits.isFrom(form)) waits.end(); // it says what is kept
  } else {
    const source = form.closest("#proposal") || form;
    const gone = source === form ? () => form.dataset.name && form.reset() : closeProposal;
    waits.show({ command, source, keep: () => keepForm(form), gone });
  }
  inTurnLatest(() => load());
}

function dropOf(place) {
  if (waits.isFrom(place)) waits.drop();
}

// Where a place on an edge lies is told anew once the edge or the place is another one, and with
// another line parts are called otherwise whose titles nobody wrote: true if one is.
async function placesAnew(form, isOtherLine = false) {
  const fields = { edit: form.dataset.edit };
  const titles = isOtherLine ? [...form.querySelectorAll('[data-parameter$="_title"]')] : [];
  const ours = titles.filter((field) => field.value === field.defaultValue);
  for (const field of form.querySelectorAll("[data-parameter]")) {
    if (field.value && !ours.includes(field)) fields[`p.${field.dataset.parameter}`] = field.value;
  }
  let isRenamed = false;
  try {
    const fresh = new DOMParser().parseFromString(await part("edits/new", fields), "text/html");
    for (const field of form.querySelectorAll("[data-parameter]")) {
      const twin = fresh.querySelector(`[data-parameter="${CSS.escape(field.dataset.parameter)}"]`);
      const [help, now] = [field, twin].map((each) => each?.closest(".field").querySelector(".field__help"));
      if (help && now && help.textContent !== now.textContent) help.replaceChildren(...now.childNodes);
      const [label, called] = [field, twin].map((each) => each?.closest(".field").querySelector("label"));
      if (label && called) label.textContent = called.textContent;
      if (!ours.includes(field) || !twin || field.value === twin.value) continue;
      field.value = field.defaultValue = field.dataset.value = twin.value;
      if (twin.value) field.dataset.written = "yes";
      else delete field.dataset.written;
      isRenamed = true;
    }
    inOrder(form, fresh);
  } catch {
    // the help says less than it could; the change itself says whether it can be made
  }
  return isRenamed;
}

// Of a split what lies above or to the left stands first, whichever way the line runs.
function inOrder(form, fresh) {
  for (const what of ["_title", "", "_role"]) {
    const [left, right] = ["left", "right"].map((side) => `[data-parameter="${side}${what}"]`);
    const [one, other] = [left, right].map((each) => form.querySelector(each)?.closest(".field"));
    const first = fresh.querySelector(`${left}, ${right}`);
    if (!one || !first) continue;
    const [upper, lower] = first.matches(left) ? [one, other] : [other, one];
    if (upper.compareDocumentPosition(lower) & Node.DOCUMENT_POSITION_PRECEDING) lower.before(upper);
  }
}

// What a field could be, at a press: it waits for a yes as if it had been typed.
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-suggest]");
  if (!button) return;
  const field = document.getElementById(button.dataset.for);
  field.value = button.dataset.suggest;
  field.focus();
  field.dispatchEvent(new Event("change", { bubbles: true }));
});

let forms = 0;
async function newForm(fields) {
  forms += 1;
  const mine = forms;
  try {
    const html = await part("edits/new", fields);
    if (mine !== forms) return; // another one was asked for meanwhile
    const place = document.getElementById("new-edit");
    if (!fields["p.piece"] || !exchangeAround(place, html)) place.innerHTML = html;
  } catch (error) {
    told(error);
  }
}

// Fields follow the piece while it is still being chosen by arrow keys or letters: its own field
// stays, with the focus.
function exchangeAround(place, html) {
  const fresh = new DOMParser().parseFromString(html, "text/html").querySelector("form");
  const [stays, twin] = [place, fresh].map((each) => each?.querySelector('[data-parameter="piece"]'));
  const field = stays?.closest(".field");
  if (!field || !twin || field.parentNode.localName !== "form") return false;
  Object.assign(stays.dataset, twin.dataset);
  const parts = [...fresh.children];
  const at = parts.indexOf(twin.closest(".field"));
  if (at < 0) return false;
  for (const each of [...field.parentNode.children]) if (each !== field) each.remove();
  field.before(...parts.slice(0, at));
  field.after(...parts.slice(at + 1));
  return true;
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-leave], [data-remove-edit]");
  if (!button) return;
  const form = button.closest("form");
  if (button.matches("[data-leave]")) {
    if (waits.isFrom(form)) waits.drop();
    else leave();
  } else {
    if (waits.isFrom(form)) waits.end();
    commit({ kind: "remove-edit", name: button.dataset.removeEdit });
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || event.defaultPrevented) return;
  if (!board.letGo()) waits.drop();
});

function closeProposal() {
  board.proposeNothing();
  const place = document.getElementById("proposal");
  place.hidden = true;
  place.replaceChildren();
}

// Ways: to what a finding or a refusal speaks of ---------------------------------------------------

// Unfold what has an id, come to it, and light it up; a button that asks for something is pushed.
async function go(id) {
  if (id.startsWith("edit-")) {
    document.getElementById("edits-of-design").open = true; // which asks for them
    for (let waited = 0; waited < 100 && !document.getElementById(id); waited += 1) {
      await new Promise((resume) => setTimeout(resume, 100));
    }
  }
  const target = document.getElementById(id);
  if (!target) return;
  for (let at = target; at; at = at.parentElement?.closest("details")) {
    if (at.localName === "details") at.open = true;
  }
  const stop = target.matches("button") ? target : target.querySelector("summary, [data-field]") || target;
  stop.focus({ preventScroll: true });
  target.scrollIntoView({ block: target.matches("details") ? "start" : "center" });
  target.classList.add("found");
  setTimeout(() => target.classList.remove("found"), 4000);
  if (target.matches("[data-ask]")) target.click();
}

function wayButtons(ways) {
  const buttons = document.createElement("div");
  buttons.className = "buttons";
  for (const { words, target } of ways) {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "button", textContent: words });
    button.dataset.way = target;
    buttons.append(button);
  }
  return buttons;
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-way]");
  if (button) go(button.dataset.way);
});

// Parts beside the board --------------------------------------------------------------------------

const PARTS = { pieces: "pieces", edits: "edits", past: "draft/history" };
const askedFor = { pieces: 0, edits: 0, past: 0 };
const waiting = new Set(); // parts that are asked for in a moment
let refreshing = 0;

function refreshSoon(names = Object.keys(PARTS)) {
  for (const name of names) waiting.add(name);
  clearTimeout(refreshing);
  refreshing = setTimeout(() => {
    const asked = [...waiting];
    waiting.clear();
    asked.forEach(refresh);
  }, 250);
}

async function refresh(name) {
  const place = document.querySelector(`[data-part="${name}"]`);
  if (!place?.closest("details")?.open) return;
  const mine = (askedFor[name] += 1);
  try {
    const html = await part(PARTS[name], name === "pieces" ? onTop() : {});
    if (mine === askedFor[name]) exchange(place, html); // else a later answer is on its way
  } catch (error) {
    told(error);
  }
}

// What is unfolded, filled in or has the focus when the answer is there stays so.
function exchange(place, html) {
  const hadFocus = place.contains(document.activeElement);
  const focused = hadFocus ? document.activeElement.id : "";
  const filling = place.querySelector("#add-edit[open]"); // a form that somebody fills in
  const changing = [...place.querySelectorAll("[data-edit-form]")].find((form) => waits.isFrom(form));
  const held = [filling, changing].find((each) => each?.contains(document.activeElement));
  const within = held ? document.activeElement : null;
  keepsUnfolded(place, () => {
    place.innerHTML = html;
    if (changing?.dataset.name) {
      const fresh = place.querySelector(`[data-edit-form][data-name="${CSS.escape(changing.dataset.name)}"]`);
      if (fresh) fresh.replaceWith(changing);
      else waits.drop(); // the edit is gone
    }
    if (filling) document.getElementById("add-edit")?.replaceWith(filling);
  });
  window.htmx?.process(place);
  if (!hadFocus) return;
  const back = within || document.getElementById(focused);
  (back || place.closest("details").querySelector("summary")).focus({ preventScroll: true });
}

for (const place of document.querySelectorAll("[data-part]")) {
  place.closest("details").addEventListener("toggle", (event) => {
    if (event.target.open) refresh(place.dataset.part);
  });
}

for (const type of ["mouseover", "focusin"]) {
  document.addEventListener(type, (event) => {
    const pointed = event.target.closest?.("[data-glance]");
    const row = pointed || document.activeElement?.closest("[data-glance]");
    board.glance(row?.dataset.glance || "", row?.dataset.edge || "");
  });
}

document.addEventListener("click", (event) => {
  const row = event.target.closest("[data-glance]");
  if (!row) return;
  board.select(row.dataset.glance, row.dataset.edge || "");
  board.bring(row.dataset.glance);
});

// What follows a change ---------------------------------------------------------------------------

body.addEventListener("cw:changed", (event) => {
  const { head, words, elsewhere } = event.detail;
  const since = lastHead;
  lastHead = head;
  if (!keeping || elsewhere) leave(); // the answer to a change of ours may lack that of another
  if (since && head !== since) {
    consequence(words ? `${capital(words)}.` : "", "");
    get("consequence", { since }).catch(() => {});
  }
  followSoon();
});

// What could not be asked for while Clothwise did not answer.
body.addEventListener("cw:back", () => {
  leave();
  followSoon();
});

// What stands beside the board and on it follows what the board shows.
function followSoon(parts) {
  refreshSoon(parts);
  findSoon();
  sizesSoon();
}

function consequence(words, line) {
  const place = document.getElementById("consequence");
  if (words) place.querySelector("[data-did]").textContent = words;
  place.querySelector("[data-so]").textContent = line || "Working out what else changes …";
}

document.getElementById("events")?.addEventListener("consequence", (event) => {
  consequence("", JSON.parse(event.detail.data).line);
});

shown.addEventListener("change", () => {
  const query = new URLSearchParams(Object.entries(shownFields()).filter(([, value]) => value));
  history.replaceState(null, "", `?${query}`);
  body.dispatchEvent(new CustomEvent("cw:shown", { bubbles: true, detail: shownFields() }));
  document.getElementById("made-otherwise")?.remove(); // it spoke of what was shown
  leave();
  toldAnew();
  followSoon();
});

// A proposed form tells lengths of the size and view for which its line was drawn.
function toldAnew() {
  const form = document.querySelector("#proposal form");
  if (!form) return;
  form.querySelector("[data-words]").textContent = `${capital(waits.text)}.`;
  placesAnew(form);
}
shown.addEventListener("submit", (event) => event.preventDefault());

// Tools and layers --------------------------------------------------------------------------------

// Words on a tool without what only a keyboard can do, where one works with a finger.
function byHand(words) {
  const isFinger = matchMedia("(pointer: coarse)").matches;
  if (!isFinger) return words;
  return words.replace(" Escape lets go of it.", "").replace("Click", "Tap").replace("click", "tap");
}

for (const button of document.querySelectorAll("[data-tool-of]")) {
  button.addEventListener("click", () => {
    for (const each of document.querySelectorAll("[data-tool-of]")) {
      each.setAttribute("aria-pressed", String(each === button));
    }
    board.tool = button.dataset.toolOf;
    const { needs, says: words, saysWithout } = button.dataset;
    const told = byHand(needs && !element.querySelector(needs) ? saysWithout : words);
    says(told);
    hint(board.tool === "look" ? "" : told, button);
  });
}

for (const button of document.querySelectorAll("[data-zoom]")) {
  button.addEventListener("click", () => board.closer(button.dataset.zoom));
}

document.getElementById("tidy").addEventListener("click", () => {
  inTurn(async () => {
    const before = board.version;
    try {
      await apply(await post("board/tidy", { before }), before);
      board.fit();
    } catch (error) {
      told(error);
    }
  });
});

const KEEP = "clothwise.layers";
const nested = document.getElementById("nested"); // all sizes, or the one that is compared
const layers = [...document.querySelectorAll("[data-layer]")];

function layer(name, isOn) {
  if (name === "sizes") {
    element.toggleAttribute("data-sizes", isOn);
    nested.disabled = !isOn;
    if (isOn) sizes();
  } else element.classList.toggle(`without-${name}`, !isOn);
}

// They lie over the board: unfolded they stay until one goes on elsewhere, or presses Escape.
const unfolded = document.querySelector(".draft__layers");
document.addEventListener("pointerdown", (event) => {
  const liesOver = getComputedStyle(unfolded.lastElementChild).position === "absolute";
  if (liesOver && !unfolded.contains(event.target)) unfolded.open = false; // else all below it would jump
});
unfolded.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || !unfolded.open) return;
  event.preventDefault();
  unfolded.open = false;
  unfolded.querySelector("summary").focus();
});

let hidden = [];
try {
  hidden = JSON.parse(localStorage.getItem(KEEP) || "[]");
} catch {
  hidden = []; // the browser keeps nothing: every layer is shown
}
for (const box of layers) {
  if (box.dataset.layer !== "sizes") {
    box.checked = !hidden.includes(box.dataset.layer);
    layer(box.dataset.layer, box.checked);
  } else box.checked = false;
  box.addEventListener("change", () => {
    layer(box.dataset.layer, box.checked);
    const off = layers.filter((each) => !each.checked).map((each) => each.dataset.layer);
    try {
      localStorage.setItem(KEEP, JSON.stringify(off));
    } catch {
      // nothing is kept
    }
  });
}

// All sizes, one after the other as they are drafted ------------------------------------------------

nested.addEventListener("change", sizes);

let sizing = null;
let waitingSizes = 0;

function sizesSoon() {
  clearTimeout(waitingSizes);
  if (element.hasAttribute("data-sizes")) waitingSizes = setTimeout(sizes, 500);
}

async function sizes() {
  sizing?.abort();
  sizing = new AbortController();
  element.classList.toggle("with-one-size", Boolean(nested.value));
  try {
    const asked = { headers: ours(), signal: sizing.signal };
    const response = await ask(address("sizes", onTop()), asked, { waits: false });
    board.clearSizes();
    let rest = "";
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    for (;;) {
      const { value, done } = await reader.read();
      if (done) break;
      const lines = (rest + value).split("\n");
      rest = lines.pop();
      for (const { size, pieces } of lines.map((line) => JSON.parse(line))) {
        if (!nested.value || nested.value === size) board.addSize(pieces);
      }
    }
  } catch (error) {
    if (error.name !== "AbortError") told(error instanceof TypeError ? new Unanswered() : error); // cut off
  }
}

// Findings on the board -----------------------------------------------------------------------------

let finding = 0;
let findsAsked = 0;
let found = [];

// What was found before may be true no more: it is marked until it was looked at again.
function findSoon() {
  clearTimeout(finding);
  findsAsked += 1;
  element.classList.add("finds-again");
  document.getElementById("findings-link").textContent = "Looking again …";
  finding = setTimeout(find, 700);
}

async function find() {
  const mine = (findsAsked += 1);
  try {
    const answer = await get("board/findings", onTop());
    if (mine === findsAsked) finds(answer.findings); // else a later answer is on its way
  } catch {
    if (mine === findsAsked) finds([]); // there is no pattern; the board says so
  }
}

function finds(findings) {
  found = findings;
  element.classList.remove("finds-again");
  board.balloons(found);
  const link = document.getElementById("findings-link");
  link.hidden = !found.length;
  const count = new Set(found.map((each) => each.number)).size; // as Check counts them
  const { view = "", size = "" } = shownFields();
  link.search = new URLSearchParams({ view, size });
  const words = count === 1 ? "1 finding" : `${count} findings`;
  link.textContent = waits.now ? `${words} as shown` : words;
}

element.addEventListener("cw:pick", (event) => {
  hint("");
  const { finding: id } = event.detail;
  const one = found.find((each) => each.id === id);
  if (one) says(one.message.replace(/\.$/, ""), one.remedy);
});

// A scale in the corner -----------------------------------------------------------------------------

const scale = element.querySelector(".board-scale");
const STEPS = body.dataset.unit === "in"
  ? [[25.4 / 4, "¼ in"], [25.4, "1 in"], [127, "5 in"], [254, "10 in"], [914.4, "1 yd"]]
  : [[5, "0.5 cm"], [10, "1 cm"], [50, "5 cm"], [100, "10 cm"], [200, "20 cm"], [500, "50 cm"], [1000, "1 m"]];

element.addEventListener("cw:view", (event) => {
  const fits = STEPS.filter(([mm]) => mm * event.detail.k <= 140);
  const [mm, words] = fits.at(-1) || STEPS[0];
  scale.querySelector("i").style.width = `${mm * event.detail.k}px`;
  scale.querySelector("span").textContent = words;
});

// ---------------------------------------------------------------------------------------------------

inTurn(() => load("").catch(told));
const first = catalog({ commit, preview, leave, waits, part, address, board, shown, says: consequence });
refreshSoon();
findSoon();

function goToHash() {
  const id = decodeURIComponent(location.hash.slice(1));
  if (id) first?.then(() => go(id));
}
window.addEventListener("hashchange", goToHash);
goToHash();
