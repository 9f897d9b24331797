// What a hand does on the board: it pans, pinches, draws a line, or drags a handle. A line is drawn
// by dragging, or by two clicks. Places are handed on in the coordinates of the piece, in mm, y
// upward; what they mean is found elsewhere.

import { meant, pieceOf, placeAt } from "/static/board/picking.js";

const STILL_PX = 4; // a press that moves less is a click
const SECOND_PX = 12; // the same for the second click of a line, which is aimed at more hastily
const LINE_TOOLS = new Set(["split", "tape"]);
const NAMES_HANDLE = ["what", "dart", "edge", "end", "share"]; // which handle of its piece it is
const SVG = "http://www.w3.org/2000/svg";

export class Hands {
  constructor(board, view, hand, listen) {
    this.board = board;
    this.view = view;
    this.hand = hand; // a g of the SVG for what the pointer draws
    this.listen = listen;
    this.pointers = new Map();
    this.does = null;
    this.carried = null; // a handle in hand, and where it is, in mm on its piece
    this.begun = null; // where the first click of a line was, in mm on the board
    board.addEventListener("pointerdown", (event) => this.down(event));
    board.addEventListener("pointermove", (event) => this.move(event));
    for (const end of ["pointerup", "pointercancel"]) {
      board.addEventListener(end, (event) => this.up(event));
    }
    board.addEventListener("pointerleave", () => this.listen.hover(null));
    board.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    board.addEventListener("keydown", (event) => this.key(event));
  }

  get tool() {
    return this.board.dataset.tool || "look";
  }

  down(event) {
    if (event.target.closest("button, a, input, select, label")) return;
    if (event.button > 1) return;
    this.board.setPointerCapture(event.pointerId);
    this.pointers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.pointers.size === 2) {
      this.does = { kind: "pinch" };
      return;
    }
    if (this.pointers.size > 2) return;
    const start = [event.clientX, event.clientY];
    const held = event.target.closest(this.tool === "pocket" ? ".placed.movable" : ".handle");
    if (event.button === 1) this.does = { kind: "pan", start };
    else if (held) this.does = { kind: "drag", start, ...grasped(held) };
    else if (LINE_TOOLS.has(this.tool)) this.does = { kind: "line", start };
    else this.does = { kind: "pan", start };
    this.does.moved = false;
    if (event.button === 1) event.preventDefault();
  }

  move(event) {
    const before = this.pointers.get(event.pointerId);
    if (!before) {
      if (event.pointerType === "touch") return;
      this.hover(event);
      if (this.begun) this.lineTo([event.clientX, event.clientY], "going");
      return;
    }
    const now = [event.clientX, event.clientY];
    if (this.does?.kind === "pinch") {
      this.pinch(event.pointerId, before, now);
    } else if (this.does) {
      const [x, y] = this.does.start;
      const still = this.begun ? SECOND_PX : STILL_PX;
      if (!this.does.moved && Math.hypot(now[0] - x, now[1] - y) < still) return;
      this.does.moved = true;
      this.board.classList.add("in-hand");
      if (this.does.kind === "pan") this.view.pan(now[0] - before[0], now[1] - before[1]);
      if (this.does.kind === "line") this.line(now, "going");
      if (this.does.kind === "drag") this.drag(now, "going");
    }
    this.pointers.set(event.pointerId, now);
  }

  up(event) {
    const known = this.pointers.delete(event.pointerId);
    if (!known || !this.does) return;
    const does = this.does;
    const now = [event.clientX, event.clientY];
    if (does.kind === "pinch") {
      if (this.pointers.size < 2) this.does = null;
      return;
    }
    this.does = null;
    this.board.classList.remove("in-hand");
    if (event.type === "pointercancel") {
      this.letGo();
      return;
    }
    if (!does.moved) {
      if (does.kind === "line") this.lineClick(now);
      else if (event.button === 0) this.click(event);
      return;
    }
    if (does.kind === "line") this.begin(null); // dragged: a line of its own
    this.does = does;
    if (does.kind === "line") this.line(now, "done");
    if (does.kind === "drag") this.drag(now, "done");
    this.does = null;
  }

  // Let go of what is in hand; whether anything was.
  letGo() {
    const held = Boolean(this.does || this.begun || this.hand.firstElementChild);
    if (this.carried) this.listen.letGo();
    this.carried = null;
    this.begin(null);
    this.clear();
    this.does = null;
    this.board.classList.remove("in-hand");
    return held;
  }

  hover(event) {
    if (this.waits) return;
    this.waits = true;
    requestAnimationFrame(() => {
      this.waits = false;
      if (!this.pointers.size) {
        this.listen.hover(meant(this.board, event.clientX, event.clientY), event);
      }
    });
  }

  click(event) {
    const found = meant(this.board, event.clientX, event.clientY, event.pointerType === "touch");
    const place = found?.closest(".place");
    const [x, y] = place ? this.onPiece(place, event.clientX, event.clientY) : [0, 0];
    this.listen.pick(found, x, y);
  }

  pinch(id, before, now) {
    const other = [...this.pointers].find(([key]) => key !== id)[1];
    const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
    const is = Math.hypot(now[0] - other[0], now[1] - other[1]);
    const middle = [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2];
    this.view.pan((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
    if (was > 8 && is > 8) this.view.zoom(is / was, ...middle);
  }

  wheel(event) {
    event.preventDefault();
    const unit = event.deltaMode === 1 ? 16 : event.deltaMode === 2 ? 400 : 1;
    const dx = event.deltaX * unit;
    const dy = event.deltaY * unit;
    if (event.shiftKey || Math.abs(dx) > Math.abs(dy)) {
      this.view.pan(event.shiftKey && !dx ? -dy : -dx, event.shiftKey ? 0 : -dy);
    } else {
      const strength = event.ctrlKey ? 0.008 : 0.0016;
      this.view.zoom(Math.exp(-dy * strength), event.clientX, event.clientY);
    }
  }

  key(event) {
    if (event.target !== this.board || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = event.shiftKey ? 240 : 60;
    const moves = {
      ArrowLeft: [step, 0],
      ArrowRight: [-step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    };
    if (event.key in moves) this.view.pan(...moves[event.key]);
    else if (event.key === "+" || event.key === "=") this.view.zoom(1.25);
    else if (event.key === "-") this.view.zoom(0.8);
    else if (event.key === "0") this.listen.fit();
    else if (event.key === "Escape") {
      if (this.letGo()) event.stopPropagation();
      else this.listen.pick(null, 0, 0);
      return; // what waits for a yes may be dropped by it
    } else return;
    event.preventDefault();
  }

  // A place of the screen in the coordinates of a piece.
  onPiece(place, clientX, clientY) {
    const [x, y] = this.view.at(clientX, clientY);
    return [x - Number(place.dataset.x), Number(place.dataset.y) - y];
  }

  // The first click of a line says where it begins, the second where it ends.
  lineClick(now) {
    if (!this.begun) {
      this.clear();
      this.begin(this.view.at(...now));
      return;
    }
    const [x, y] = this.onScreen(this.begun);
    if (Math.hypot(now[0] - x, now[1] - y) < STILL_PX) this.letGo(); // no line at all
    else this.lineTo(now, "done");
  }

  begin(at) {
    if (!at && !this.begun) return;
    this.begun = at;
    this.hand.querySelector(".line-begins")?.remove();
    if (at) this.mark(at);
    this.listen.begin(Boolean(at));
  }

  lineTo(now, stage) {
    this.does = { kind: "line", start: this.onScreen(this.begun) };
    if (stage === "done") this.begin(null);
    this.line(now, stage);
    this.does = null;
  }

  onScreen(at) {
    const box = this.board.getBoundingClientRect();
    const [x, y] = this.view.on(...at);
    return [box.left + x, box.top + y];
  }

  line(now, stage) {
    const { start } = this.does;
    const ends = [this.view.at(...start), this.view.at(...now)];
    this.draw(ends[0], ends[1], this.tool === "tape" ? "tape" : "chalk-line");
    const place = this.crossed(start, now);
    this.listen.line(
      place
        ? {
            piece: place.dataset.place,
            from: this.onPiece(place, ...start),
            to: this.onPiece(place, ...now),
            reach: 9 / this.view.k,
          }
        : null,
      this.tool,
      stage,
    );
    if (stage === "done" && this.tool !== "tape") this.clear();
  }

  // The piece that a line means: the one under its middle, else the first it meets.
  crossed([x0, y0], [x1, y1]) {
    const shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0, 1];
    for (const share of shares) {
      const place = placeAt(this.board, x0 + (x1 - x0) * share, y0 + (y1 - y0) * share);
      if (place) return place;
    }
    return null;
  }

  // The piece may be drawn anew meanwhile, so nothing of it is held on to but its name.
  drag(now, stage) {
    const { data, at, start } = this.does;
    const place = this.board.querySelector(`.place[data-place="${CSS.escape(data.piece)}"]`);
    if (!place) return;
    const left = Number(place.dataset.x);
    const top = Number(place.dataset.y);
    const from = this.view.at(...start);
    const to = this.view.at(...now);
    const moved = [at[0] + to[0] - from[0], at[1] + to[1] - from[1]];
    this.draw([at[0] + left, at[1] + top], [moved[0] + left, moved[1] + top], "rubber");
    this.carried = { data, place: moved };
    this.carry();
    if (stage === "done") this.carried = null; // what was kept of it is drawn in a moment
    this.listen.drag({ ...data, to: [moved[0], -moved[1]] }, stage);
    if (stage === "done") this.clear();
  }

  // The handle in hand stays under the pointer, also when its piece was drawn anew meanwhile.
  carry() {
    if (!this.carried) return;
    const { data, place } = this.carried;
    const piece = this.board.querySelector(`.place[data-place="${CSS.escape(data.piece)}"]`);
    const handle = [...(piece?.querySelectorAll(".handle") || [])].find((each) =>
      NAMES_HANDLE.every((name) => each.dataset[name] === data[name]),
    );
    handle?.parentNode.setAttribute("transform", `translate(${place.join(" ")})`);
  }

  draw([x0, y0], [x1, y1], name) {
    let line = this.hand.querySelector("line");
    if (!line) {
      line = document.createElementNS(SVG, "line");
      this.hand.append(line);
    }
    line.setAttribute("class", name);
    const ends = { x1: x0, y1: y0, x2: x1, y2: y1 };
    for (const [key, value] of Object.entries(ends)) line.setAttribute(key, value.toFixed(2));
  }

  // A ring where a line begins.
  mark([x, y]) {
    const place = document.createElementNS(SVG, "g");
    place.setAttribute("class", "line-begins");
    place.setAttribute("transform", `translate(${x} ${y})`);
    const ring = document.createElementNS(SVG, "circle");
    ring.setAttribute("class", "steady");
    ring.setAttribute("r", 5);
    place.append(ring);
    this.hand.append(place);
  }

  clear() {
    this.hand.replaceChildren();
  }
}

// What is known of a handle or of a placed piece when it is taken hold of.
function grasped(held) {
  const piece = pieceOf(held);
  const isPlaced = held.matches(".placed");
  const at = (isPlaced ? held.dataset.top : held.dataset.at).split(" ").map(Number);
  const data = isPlaced
    ? { what: "pocket", component: held.dataset.component, piece }
    : { ...held.dataset, piece };
  return { data, at };
}
