// What the board shows and nobody keeps yet: one change, told in a strip at the board until
// somebody says yes or no. Undo and Escape say no.
//
// Once the board shows it, it is tried in every size, which takes a moment.
//
// An entry is {command, words, source, keep(), gone()}: the change; what it does, if that is known;
// the form or list it comes from; what a yes does, which resolves to whether it was kept; and what
// goes when it is dropped.

import { tell, undoFirst } from "/static/shell/shell.js";

export class Pending {
  /**
   * @param {HTMLElement} strip told in, with its buttons
   * @param {Object} room functions: `draw` the board anew, `changed` lets what stands beside it follow,
   *   `rest` takes the focus, `sizes` tells in which a command cannot be made, `garment` what is shown
   */
  constructor(strip, room) {
    this.strip = strip;
    this.room = room;
    this.now = null;
    this.followed = "null"; // the change that was followed last
    this.button("keep").addEventListener("click", () => this.now.keep());
    this.button("drop").addEventListener("click", () => this.drop());
    this.button("form").addEventListener("click", () => come(this.now.source));
  }

  button(name) {
    return this.strip.querySelector(`[data-pending-${name}]`);
  }

  // Show an entry. Another one than before takes its place, and that is told.
  show(entry) {
    const before = this.now;
    this.now = { words: "", ...entry };
    if (before && before.source !== entry.source) this.let(before);
    else if (before && !entry.words) this.now.words = before.words;
    this.write();
  }

  // What the server tells of it: what it does, and why it cannot be made, if it cannot.
  told({ words, lost }) {
    if (!this.now) return;
    Object.assign(this.now, { words, lost });
    this.write();
    this.trySizes();
  }

  async trySizes() {
    const { now } = this;
    const about = JSON.stringify([now.command, this.room.garment()]);
    if (now.tried === about) return;
    now.tried = about;
    now.sizes = "Trying every size …";
    this.write();
    const words = await this.room.sizes(now.command).catch(() => "Only the size that is shown was tried.");
    if (this.now?.tried !== about) return;
    this.now.sizes = words || "Tried in every size: none is lost by it.";
    this.write();
  }

  get text() {
    return this.now?.words || "the change that the board shows";
  }

  write() {
    const { now, strip } = this;
    this.follow();
    strip.hidden = !now;
    undoFirst(now && { words: this.text, drop: () => this.drop() });
    if (!now) return;
    put(strip.querySelector("[data-pending-words]"), this.text);
    const lost = now.lost ? `It cannot be made: ${now.lost.what}. ${now.lost.what_to_do}` : "";
    put(strip.querySelector("[data-pending-lost]"), lost);
    put(strip.querySelector("[data-pending-sizes]"), now.sizes || "");
    this.button("keep").classList.toggle("button--main", !now.lost);
    this.button("drop").classList.toggle("button--main", Boolean(now.lost));
    put(this.button("keep"), now.lost ? "Keep it anyway" : "Keep it");
    this.button("form").hidden = !now.source.matches("form, #proposal");
  }

  // What stands beside the board follows each other change that it shows.
  follow() {
    const shown = JSON.stringify(this.now?.command ?? null);
    if (shown === this.followed) return;
    this.followed = shown;
    this.room.changed();
  }

  // A no: the board shows again what is kept.
  drop() {
    const was = this.now;
    if (!was) return;
    const hadFocus = [this.strip, was.source].some((each) => each.contains(document.activeElement));
    this.now = null;
    this.let(was);
    this.write();
    this.room.draw();
    const at = document.activeElement;
    if (at?.disabled || (hadFocus && !(at !== document.body && was.source.contains(at)))) this.room.rest();
  }

  let(was) {
    was.gone?.();
    tell(`Dropped: ${was.words || "what the board showed"}. What was kept stays as it is.`);
  }

  // It is kept now, or of no use any more: nothing is told.
  end() {
    this.now = null;
    this.write();
  }

  // Whether what is shown comes from an element, from within it, or from what it stands in.
  isFrom(element) {
    const source = this.now?.source;
    return Boolean(source && element && (element.contains(source) || source.contains(element)));
  }
}

function put(place, words) {
  if (place.textContent !== words) place.textContent = words; // what is the same is not told again
}

function come(source) {
  for (let at = source; at; at = at.parentElement?.closest("details")) {
    if (at.localName === "details") at.open = true;
  }
  source.querySelector("button, input, select")?.focus({ preventScroll: true });
  source.scrollIntoView({ block: "start" });
}
