// Beside the board: choices and components, their sliders and fields, and what may be swapped.
//
// A slider shows what it does while it moves and keeps it when it rests. It writes the text of its
// field: of a formula only the amount at its end changes. What is kept may change other numbers:
// the parts with ids (data-row) are asked for anew and exchanged where they differ.

import { keepsUnfolded } from "/static/board/unfolded.js";
import { ask as asks } from "/static/shell/asking.js";
import { ours } from "/static/shell/shell.js";

const FIELDS = "[data-field], [data-called]";
const KEYS_REST_MS = 700; // arrow keys on a slider: one change, not one for each step

/**
 * Fill the catalog and let it live; a promise that is kept once it is filled.
 * @param {Object} room commit, preview, leave, waits, part, address, board of room.js, and its form `shown`
 */
export function catalog(room) {
  const place = document.getElementById("catalog");
  if (!place) return;
  const waiting = new Map(); // by id of a row: the timer of its slider
  let sliding = ""; // id of the row whose slider is held
  const served = new Map(); // by id of a row: how it came
  let asked = 0;
  let trying = new AbortController();

  // Asking anew -----------------------------------------------------------------------------------

  async function refresh() {
    const mine = ++asked;
    try {
      const html = await room.part("catalog").catch(() => room.part("catalog", { size: "" })); // it is gone
      if (mine === asked) show(html);
    } catch (error) {
      if (mine === asked && !place.querySelector("[data-unit-of]")) place.textContent = error.message;
    }
  }

  function show(html) {
    const template = document.createElement("template");
    template.innerHTML = html;
    const now = template.content.firstElementChild;
    offer("view", { "": Object.entries(JSON.parse(now.dataset.views)) });
    const people = JSON.parse(now.dataset.people);
    const sizes = JSON.parse(now.dataset.sizes).map((size) => [size, size]);
    const isOne = ([size]) => people.includes(size);
    if (!people.length) offer("size", { "": sizes }, now.dataset.size);
    else offer("size", { Sizes: sizes.filter((each) => !isOne(each)), "People in the chart": sizes.filter(isOne) }, now.dataset.size);
    const was = place.firstElementChild;
    if (!was?.dataset.choices || units(was) !== units(now)) {
      exchange(place, now);
      return;
    }
    was.dataset.choices = now.dataset.choices;
    for (const unit of now.querySelectorAll("[data-unit-of]")) {
      const old = was.querySelector(`[data-unit-of="${CSS.escape(unit.dataset.unitOf)}"]`);
      if (rows(unit) === rows(old)) exchangeRows(old, unit);
      else if (unit.querySelector("[data-unit-of]")) exchangeRows(old, unit);
      else exchange(old, unit, true);
    }
  }

  // What can be shown follows changes: a view may be called anew, a size may have gone. Choices come in
  // groups, by their titles; a group without a title is none.
  function offer(name, groups, otherwise = "") {
    const select = room.shown.elements[name];
    if (!select) return;
    const told = JSON.stringify(groups);
    if (select.dataset.offered === told) return;
    const { value } = select;
    const parts = Object.entries(groups).flatMap(([label, choices]) => {
      const options = choices.map(([key, words]) => new Option(words, key, false, key === value));
      if (!label) return options;
      const group = Object.assign(document.createElement("optgroup"), { label });
      group.append(...options);
      return group;
    });
    select.replaceChildren(...parts);
    select.dataset.offered = told;
    if (select.value === value) return;
    if (otherwise) select.value = otherwise;
    lookAnew();
  }

  const units = (of) => [...of.querySelectorAll("[data-unit-of]")].map((each) => each.dataset.unitOf).join();
  const rows = (of) => [...of.querySelectorAll("[data-row]")].map((each) => each.id).join();

  function exchangeRows(old, unit) {
    for (const row of unit.querySelectorAll("[data-row]")) {
      if (row.closest("[data-unit-of]") !== unit) continue;
      const before = document.getElementById(row.id);
      if (before && !isBusy(before) && served.get(row.id) !== row.outerHTML) exchange(before, row, true);
    }
    old.className = unit.className;
  }

  function isBusy(row) {
    if (sliding === row.id || waiting.has(row.id)) return true;
    const field = row.querySelector(FIELDS);
    return field && field === document.activeElement && field.value !== field.dataset.was;
  }

  // Put new elements in the place of old ones; what was unfolded and had the focus stays so.
  function exchange(old, now, replaces = false) {
    const focused = old.contains(document.activeElement) ? document.activeElement.id : "";
    for (const row of now.matches("[data-row]") ? [now] : now.querySelectorAll("[data-row]")) {
      served.set(row.id, row.outerHTML);
    }
    keepsUnfolded(old, () => (replaces ? old.replaceWith(now) : old.replaceChildren(now)));
    for (const field of now.querySelectorAll(FIELDS)) field.dataset.was = field.value;
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  // Values ----------------------------------------------------------------------------------------

  function choices() {
    return JSON.parse(place.querySelector("[data-choices]").dataset.choices);
  }

  function setting(row, value) {
    const { component, name: parameter, of } = row.dataset;
    if (of === "design") return { kind: "set-design", fields: { [parameter]: value } };
    return { kind: "set-parameter", component, parameter, value, choices: choices() };
  }

  // The text that gives the number of the slider.
  function written(row, number) {
    const { unit, stem, tail, value } = row.dataset;
    if (!stem) return amount(number, unit);
    const rest = Number(tail) + number - Number(value);
    if (Math.abs(rest) < 1e-6) return stem;
    return `${stem} ${rest < 0 ? "-" : "+"} ${amount(Math.abs(rest), unit)}`;
  }

  place.addEventListener("input", (event) => {
    const row = event.target.closest("[data-row]");
    if (!event.target.matches("[data-slide]") || !row) return;
    const text = written(row, Number(event.target.value));
    row.querySelector("[data-field]").value = text;
    event.target.setAttribute("aria-valuetext", spoken(event.target.value, row.dataset.unit));
    room.preview(setting(row, text));
  });

  place.addEventListener("pointerdown", (event) => {
    const row = event.target.closest("[data-row]");
    if (event.target.matches("[data-slide]")) sliding = row.id;
  });

  place.addEventListener("change", (event) => {
    const { target } = event;
    const row = target.closest("[data-row]");
    if (target.matches("[data-slide]")) {
      if (sliding === row.id) keep(row);
      else later(row);
    } else if (target.matches("[data-field]")) {
      if (target.matches("input")) target.value = withUnit(target.value, row.dataset.unit);
      keep(row);
    } else if (target.matches("[data-called]")) {
      call(target);
    } else if (target.matches("[data-role]")) {
      const { component } = target.dataset;
      room.commit({ kind: "set-component", name: component, fields: { role: target.value } });
    } else if (target.matches("[data-option]")) choose(target);
  });

  for (const type of ["pointerup", "pointercancel"]) {
    document.addEventListener(type, () => {
      if (!sliding) return;
      const row = document.getElementById(sliding);
      // a slider that was held and did not move tells no change
      setTimeout(() => {
        if (sliding === row?.id) sliding = "";
      }, 0);
    });
  }

  place.addEventListener("focusout", (event) => {
    const row = event.target.closest("[data-row]");
    if (event.target.matches("[data-slide]") && waiting.has(row?.id)) keep(row);
  });

  function later(row) {
    clearTimeout(waiting.get(row.id));
    waiting.set(row.id, setTimeout(() => keep(row), KEYS_REST_MS));
  }

  async function keep(row) {
    clearTimeout(waiting.get(row.id));
    waiting.delete(row.id);
    if (sliding === row.id) sliding = "";
    const field = row.querySelector("[data-field]");
    const text = field.value.trim();
    if (text === row.dataset.text) {
      room.leave();
      complain(row, "");
      return;
    }
    field.dataset.was = field.value;
    if (await room.commit(setting(row, text))) return;
    complain(row, refusal());
  }

  // What a component is called begins the names of its pieces: small letters and digits.
  async function call(field) {
    const row = field.closest("[data-row]");
    const { component } = field.dataset;
    const name = slug(field.value);
    field.dataset.was = field.value;
    if (name === component) return complain(row, "");
    if (!name) return complain(row, "A name needs a letter from a to z, such as cuffed sleeve.");
    if (!(await room.commit({ kind: "rename-component", name: component, new_name: name }))) {
      return complain(row, refusal());
    }
    await refresh();
    open(name);
    document.getElementById(`called-${name}`)?.focus({ preventScroll: true });
    return undefined;
  }

  // Why it was refused stands beside the field; a conflict with another window stays above.
  function refusal() {
    const above = document.getElementById("refusal");
    if (!above.firstElementChild || above.querySelector("form")) return "";
    const words = [...above.querySelectorAll("h2, p, li")]
      .map((each) => sentence(each.textContent.replace("What to do:", "")))
      .filter((each) => !/^(Where|How much):/.test(each));
    above.replaceChildren();
    return words.filter(Boolean).join(" ");
  }

  function complain(row, words) {
    const field = row.querySelector(FIELDS);
    const error = row.querySelector("[data-error]");
    error.textContent = words;
    if (words) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
    if (!words) return;
    served.delete(row.id); // a fresh one takes its place with the next change
    if (!row.contains(document.activeElement)) field.focus({ preventScroll: true });
    row.scrollIntoView({ block: "nearest" });
  }

  // Choices ---------------------------------------------------------------------------------------

  function choose({ dataset: { option, ofView }, value }) {
    const name = `o.${option}`;
    room.shown.querySelector(`input[name="${CSS.escape(name)}"]`)?.remove();
    if (value !== ofView) {
      const field = Object.assign(document.createElement("input"), { type: "hidden", name, value });
      field.dataset.choice = "";
      room.shown.append(field);
    }
    lookAnew();
    const radio = document.getElementById(`option-${option}-${value}`);
    const of = radio.closest("fieldset").querySelector("legend").textContent.trim();
    const words = `${of}: ${radio.closest("label").textContent.trim()}`;
    if (!room.shown.elements.view) room.says(`Shown: ${words}.`, "Nothing was changed.");
    else if (value === ofView) room.says(`Shown: ${words}.`, "That is as in the view.");
    else room.says(`Shown: ${words}.`, "Only the board shows it; the view stays as it is. Under Choices it can be kept.");
  }

  function asInView() {
    for (const field of room.shown.querySelectorAll("[data-choice]")) field.remove();
  }

  function lookAnew() {
    room.shown.dispatchEvent(new Event("change", { bubbles: true }));
  }

  // Another view is shown as it is, without what was chosen beside the one before.
  room.shown.addEventListener(
    "change",
    (event) => {
      if (event.target.name === "view") asInView();
    },
    { capture: true },
  );

  // Swapping, adding, taking out --------------------------------------------------------------------

  async function ask(button) {
    const into = document.getElementById(button.dataset.into);
    close();
    into.hidden = false;
    into.dataset.opener = button.id;
    into.innerHTML = '<div class="progress"><p role="status" class="tried__wait"></p>'
      + '<progress aria-label="How much was tried"></progress></div><ul class="offers"></ul>';
    const wait = into.querySelector(".tried__wait");
    wait.textContent = button.dataset.wait;
    into.scrollIntoView({ block: "nearest" });
    trying = new AbortController();
    try {
      for await (const told of lines(button.dataset.ask, trying.signal)) {
        if (told.error) ended(wait, told.error);
        if (told.share) wait.nextElementSibling.value = told.share;
        if (told.words) wait.textContent = `${button.dataset.wait} ${told.words}.`;
        if (told.item) into.lastElementChild.insertAdjacentHTML("beforeend", told.item);
        if (told.all) fill(into, told.all, button);
      }
    } catch (error) {
      if (error.name !== "AbortError") ended(wait, error.message);
    }
  }

  function ended(wait, words) {
    wait.textContent = words;
    wait.nextElementSibling?.remove();
  }

  // What somebody has unfolded and written in the first offers stays when all are there.
  function fill(into, html, button) {
    const focused = document.activeElement;
    const inside = into.contains(focused) ? focused.id : "";
    const written = [...into.querySelectorAll("input[id]")];
    keepsUnfolded(into, () => { into.innerHTML = html; });
    for (const { id, value, checked } of written) {
      const field = document.getElementById(id);
      if (field) Object.assign(field, { value, checked });
    }
    if (inside) document.getElementById(inside)?.focus({ preventScroll: true });
    else if (focused === button || focused === document.body) {
      into.querySelector("[data-focus]")?.focus({ preventScroll: true });
    }
    into.scrollIntoView({ block: "nearest" });
  }

  // What the server tells, line by line; an answer that is no data is all of it.
  async function* lines(asked, signal) {
    const [path, query] = asked.split("?");
    const fields = Object.fromEntries(new URLSearchParams(query));
    const headers = { ...ours(), "HX-Request": "true", Accept: "application/x-ndjson, text/html" };
    const response = await asks(room.address(path, fields), { headers, signal }, { waits: false });
    if (!response.headers.get("Content-Type").includes("ndjson")) {
      yield response.ok ? { all: await response.text() } : { error: plain(await response.text()) };
      return;
    }
    let rest = "";
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return;
      const found = (rest + value).split("\n");
      rest = found.pop();
      yield* found.map((line) => JSON.parse(line));
    }
  }

  function plain(html) {
    const told = new DOMParser().parseFromString(html, "text/html");
    return [...told.querySelectorAll("h2, p")].map((each) => sentence(each.textContent)).join(" ");
  }

  function close() {
    trying.abort();
    let opener = "";
    for (const each of place.querySelectorAll("[data-tried]:not([hidden])")) {
      opener = each.dataset.opener;
      if (room.waits.isFrom(each)) room.waits.drop();
      each.hidden = true;
      each.replaceChildren();
    }
    return opener;
  }

  place.addEventListener("click", async (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.matches("[data-ask]")) ask(button);
    else if (button.matches("[data-usual]")) asUsual(button.closest("[data-row]"));
    else if (button.matches("[data-as-in-view]")) {
      asInView();
      lookAnew();
      document.querySelector("#choices > summary").focus();
    } else if (button.matches("[data-change-view]")) {
      const command = JSON.parse(button.dataset.changeView);
      if (!(await room.commit(renaming(command, button.closest("[data-row]"))))) return;
      asInView(); // the view has them now
      lookAnew();
      document.querySelector("#choices > summary").focus();
    } else if (button.matches("[data-show]")) {
      document.body.addEventListener("cw:board", () => setTimeout(() => room.board.fit()), { once: true });
      const source = button.closest("[data-tried]");
      room.waits.show({ command: JSON.parse(button.dataset.command), source, keep: () => take(withNames(button)) });
      room.leave();
    } else if (button.matches("[data-close]")) {
      const opener = close();
      room.leave();
      document.getElementById(opener)?.focus();
    } else if (button.matches("[data-choose-option]")) {
      const { chooseOption, choiceValue } = button.dataset;
      const radio = document.getElementById(`option-${chooseOption}-${choiceValue}`);
      if (!radio) return;
      document.getElementById("choices").open = true;
      radio.checked = true;
      radio.focus();
      choose(radio);
    } else if (button.matches("[data-keep]")) take(withNames(button));
  });

  function asUsual(row) {
    row.querySelector("[data-field]").value = "";
    keep(row);
  }

  // The command of an offer, with the names that views and choices get with it.
  function withNames(button) {
    return renaming(JSON.parse(button.dataset.command), button.closest(".offer"));
  }

  // A command with the new words that stand beside it, if they are unfolded.
  function renaming(command, beside) {
    const titles = {};
    const names = beside?.querySelector(".offer__names[open]");
    for (const field of names?.querySelectorAll("[data-name-of]") || []) {
      const title = field.value.trim();
      const isMeant = field.closest(".field").querySelector("[data-renames]").checked;
      if (isMeant && title && title !== field.dataset.was) titles[field.dataset.nameOf] = title;
    }
    return Object.keys(titles).length ? { ...command, titles } : command;
  }

  // Keep an offer; true if it was.
  async function take(command) {
    const { waits } = room;
    if (!(await room.commit(command, waits.isFrom(place) ? waits.now : null))) return false;
    room.board.fit();
    close();
    await refresh();
    const name = command.called || command.name;
    const summary = document.getElementById(`sum-${name}`);
    if (summary) open(name);
    (summary || document.querySelector("#components > summary")).focus({ preventScroll: true });
    return true;
  }

  function open(component, comes = true) {
    const part = document.getElementById(`part-${component}`);
    if (!part) return;
    document.getElementById("components").open = true;
    part.open = true;
    if (comes) part.scrollIntoView({ block: "nearest" });
  }

  // What was clicked on the board unfolds here; where board and catalog stand below each other the
  // page stays under the finger.
  document.getElementById("board").addEventListener("cw:pick", (event) => {
    if (room.board.tool !== "look") return; // a click belongs to the tool in hand
    const piece = room.board.place(event.detail.piece)?.querySelector("[data-component]");
    if (piece) open(piece.dataset.component, matchMedia("(min-width: 62rem)").matches);
  });

  for (const type of ["cw:changed", "cw:shown"]) {
    document.body.addEventListener(type, () => {
      close();
      refresh();
    });
  }
  return refresh();
}

// A number with its unit, as one writes it.
function amount(number, unit) {
  if (unit === "in") return `${fraction(number)}in`;
  return `${Number(number.toFixed(3))}${unit}`;
}

// `Cuffed sleeve` becomes cuffed-sleeve; it begins with a letter.
function slug(text) {
  const plain = text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  return plain.replace(/[^a-z0-9]+/g, "-").replace(/^[0-9-]+|-+$/g, "");
}

function spoken(value, unit) {
  if (unit === "in") return `${fraction(Number(value))} inches`;
  return `${Number(Number(value).toFixed(3))} ${unit === "deg" ? "degrees" : unit}`;
}

// Inches in the divisions of a tape measure: 3 1/8.
function fraction(number) {
  const parts = Math.round(Math.abs(number) * 16);
  const sign = number < 0 && parts ? "-" : "";
  const whole = Math.floor(parts / 16);
  let [over, under] = [parts % 16, 16];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  if (!over) return `${sign}${whole}`;
  return `${sign}${whole ? `${whole} ` : ""}${over}/${under}`;
}

// A plain number gets the unit that is shown: `9,5` becomes `9.5cm`.
function withUnit(text, unit) {
  const plain = /^-?(\d+([.,]\d+)?|[.,]\d+|(\d+ )?\d+\/\d+)$/;
  const trimmed = text.trim();
  if (unit === undefined || !plain.test(trimmed)) return trimmed;
  return `${trimmed.replace(",", ".")}${unit}`;
}

function sentence(text) {
  const words = text.replace(/\s+/g, " ").trim();
  return !words || /[.!?:]$/.test(words) ? words : `${words}.`;
}
