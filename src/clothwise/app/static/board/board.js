// The board: pieces lie on it; it is looked at, picked from and pointed at.
//
// mount(element) returns a Board. It sends these events, which bubble:
//   cw:hover {piece, edge, says, meets}      what is under the pointer; all empty for nothing
//   cw:pick  {piece, edge, x_mm, y_mm}       what was clicked
//   cw:begin {isBegun}                       a first click says where a line begins, or it is let go
//   cw:line  {piece, from, to, reach_mm, tool, stage}    a line drawn (tools split and tape)
//   cw:drag  {what, piece, …, to, stage}     a handle dragged: edge, dart, dart-point, pocket
//   cw:let-go {}                             a handle was let go of where nothing comes of it
//   cw:view  {k}                             the view came to rest
// Places are in mm in the coordinates of the piece, y upward. `stage` is going or done.

import { partBalloons } from "/static/board/balloons.js";
import { Hands } from "/static/board/hands.js";
import { measureAnew, placeLabels } from "/static/board/labels.js";
import { edgeOf, light, meant, pieceOf, widen } from "/static/board/picking.js";
import { View } from "/static/board/view.js";

const NOTHING = { piece: "", edge: "" };
const SVG = "http://www.w3.org/2000/svg";

export function mount(element) {
  return new Board(element);
}

class Board {
  constructor(element) {
    this.element = element;
    this.svg = element.querySelector(".board-svg");
    this.pieces = this.svg.querySelector(".board-pieces");
    this.tip = element.querySelector(".board-tip");
    this.caption = element.querySelector(".board-caption");
    this.view = new View(element, element.querySelector(".board-sheet"), this.svg);
    this.view.listeners.push((rests) => this.seen(rests));
    this.picked = { piece: "", edge: "" };
    this.pointed = NOTHING; // at on the board
    this.glanced = NOTHING; // at beside it, or has the focus there
    this.found = [];
    this.hands = new Hands(element, this.view, this.svg.querySelector(".board-hand"), {
      hover: (found, event) => this.hover(found, event),
      pick: (found, x, y) => this.pick(found, x, y),
      begin: (isBegun) => this.send("cw:begin", { isBegun }),
      line: (line, tool, stage) => this.line(line, tool, stage),
      drag: (data, stage) => {
        this.tip.hidden = true;
        this.send("cw:drag", { ...data, stage });
      },
      letGo: () => this.send("cw:let-go", {}),
      fit: () => this.fit(),
    });
    for (const place of this.pieces.children) widen(place);
    this.fit();
    window.addEventListener("beforeprint", () => this.view.toPaper(this.extent));
    window.addEventListener("afterprint", () => this.view.toScreen());
    document.fonts?.addEventListener("loadingdone", () => {
      measureAnew();
      this.seen(true);
    });
  }

  send(name, detail) {
    this.element.dispatchEvent(new CustomEvent(name, { bubbles: true, detail }));
  }

  // Looking

  get extent() {
    return (this.svg.dataset.extent || "0 0 1000 1000").split(" ").map(Number);
  }

  fit() {
    this.view.fit(this.extent);
  }

  closer(how) {
    if (how === "fit") this.fit();
    else this.view.zoom(how === "in" ? 1.4 : 1 / 1.4);
  }

  show(piece) {
    const place = this.place(piece);
    if (!place) return;
    const [left, top, width, height] = place.dataset.box.split(" ").map(Number);
    this.view.fit(
      [left + Number(place.dataset.x), top + Number(place.dataset.y), width, height],
      70,
    );
  }

  seen(rests) {
    if (!rests) return;
    this.send("cw:view", { k: this.view.k }); // the scale is as wide as it is before names keep off it
    placeLabels(this.pieces, this.view.k, this.view.seen, this.glass());
    this.partBalloons();
  }

  // What lies over the board, buttons and scale, in pixels from the origin of the board.
  glass() {
    if (this.view.screen) return []; // nothing lies over it on paper
    const { left, top } = this.view.seen;
    const over = this.element.querySelectorAll(":scope > [role=group], :scope > .board-scale, :scope > .board-caption");
    return [...over].map((each) => ({
      left: left + each.offsetLeft,
      top: top + each.offsetTop,
      width: each.offsetWidth,
      height: each.offsetHeight,
    }));
  }

  // Move the view so that a piece is seen, if it is not.
  bring(piece) {
    const place = this.place(piece);
    if (!place) return;
    const [left, top, width, height] = place.dataset.box.split(" ").map(Number);
    const [x0, y0] = this.view.on(left + Number(place.dataset.x), top + Number(place.dataset.y));
    const [x1, y1] = [x0 + width * this.view.k, y0 + height * this.view.k];
    const isSeen =
      x1 > 40 && y1 > 40 && x0 < this.element.clientWidth - 40 && y0 < this.element.clientHeight - 70;
    if (!isSeen) this.show(piece);
  }

  // Pieces that come, change and go

  get version() {
    return this.element.dataset.version || "";
  }

  set version(version) {
    this.element.dataset.version = version;
  }

  place(piece) {
    return this.pieces.querySelector(`:scope > [data-place="${CSS.escape(piece)}"]`);
  }

  // Lay new drawings on the board: what the server answered, see app/rooms/draft_board.py.
  update({ pieces = {}, gone = [], places = {}, extent = "", version = "" }) {
    for (const name of gone) this.place(name)?.remove();
    for (const [name, piece] of Object.entries(pieces)) this.lay(name, piece);
    for (const [name, [x, y]] of Object.entries(places)) this.put(name, x, y);
    if (extent) this.svg.dataset.extent = extent;
    if (version) this.element.dataset.version = version;
    if (Object.keys(pieces).length) this.balloons(this.found);
    this.again();
    this.seen(true);
  }

  lay(name, piece) {
    let place = this.place(name);
    if (!place) {
      place = document.createElementNS(SVG, "g");
      place.setAttribute("class", "place");
      place.dataset.place = name;
      this.pieces.append(place);
    }
    place.dataset.box = piece.box;
    const sizes = place.querySelector(":scope > .sizes");
    const was = place.dataset.was || place.querySelector(".cut")?.getAttribute("d") || "";
    place.innerHTML = piece.svg;
    if (sizes) place.prepend(sizes);
    widen(place);
    if (was) this.remember(place, was);
  }

  // The cutting line as it was before a change stays for a while, to be compared.
  remember(place, was) {
    clearTimeout(this.settling);
    place.dataset.was = was;
    const line = document.createElementNS(SVG, "path");
    line.setAttribute("class", "was");
    line.setAttribute("d", was);
    place.querySelector(".piece").append(line);
  }

  // A line that was drawn on a piece and of which nothing came, in mm of the piece, y upward.
  propose(piece, [x0, y0], [x1, y1]) {
    this.proposeNothing();
    const line = document.createElementNS(SVG, "path");
    line.setAttribute("class", "proposed");
    line.setAttribute("d", `M${x0} ${-y0}L${x1} ${-y1}`);
    this.place(piece)?.querySelector(".piece").append(line);
  }

  proposeNothing() {
    for (const line of this.pieces.querySelectorAll(".proposed")) line.remove();
  }

  // From now on the pieces as they are count as before.
  settle(waitMs = 2500) {
    clearTimeout(this.settling);
    this.settling = setTimeout(() => {
      for (const place of this.pieces.children) delete place.dataset.was;
      for (const line of this.pieces.querySelectorAll(".was")) line.remove();
    }, waitMs);
  }

  put(name, x, y) {
    const place = this.place(name);
    if (!place) return;
    place.dataset.x = x;
    place.dataset.y = y;
    place.setAttribute("transform", `translate(${x} ${y})`);
  }

  // The cutting lines of a size, by piece, under the pieces.
  addSize(outlines) {
    for (const [name, path] of Object.entries(outlines)) {
      const place = this.place(name);
      if (!place) continue;
      let sizes = place.querySelector(":scope > .sizes");
      if (!sizes) {
        sizes = document.createElementNS(SVG, "g");
        sizes.setAttribute("class", "sizes");
        place.prepend(sizes);
      }
      sizes.insertAdjacentHTML("beforeend", path);
    }
  }

  clearSizes() {
    for (const each of this.pieces.querySelectorAll(".sizes")) each.remove();
  }

  // Numbers at the places of findings: their own, else the middle of the edge or seam they name. One
  // that is found in several places has its number once.
  balloons(findings) {
    this.found = findings;
    for (const each of this.pieces.querySelectorAll(".balloons")) each.remove();
    const numbered = new Set();
    for (const each of findings) {
      if (this.balloon(each, numbered.has(each.number))) numbered.add(each.number);
    }
    this.partBalloons();
  }

  partBalloons() {
    partBalloons(this.pieces, this.view.k);
  }

  // A number in a ring, or only a dot where that number stands already; whether it has a place.
  balloon({ id, number, severity, message, piece, edge, seam, at }, isAgain = false) {
    const line =
      (piece && edge && edgeOf(this.element, piece, edge)) ||
      (seam && this.pieces.querySelector(`.edge[data-seam~="${CSS.escape(seam)}"]`)) ||
      null;
    const place = (piece && this.place(piece)) || line?.closest(".place");
    if (!place) return false;
    const handles = (line?.dataset.handles || "").split(" ").map(Number);
    const named = place.querySelector(".label")?.dataset.spots.split(" ").map(Number) || [0, 0];
    const [x, y] = at ? [at[0], -at[1]] : handles.length > 5 ? handles.slice(4, 6) : named;
    const group = document.createElementNS(SVG, "g");
    group.setAttribute("class", "balloons");
    group.setAttribute("transform", `translate(${x} ${y})`);
    if (!isAgain) group.dataset.spot = `${x} ${y}`;
    const kinds = `balloon--${CSS.escape(severity)}${isAgain ? " balloon--again" : ""}`;
    group.innerHTML =
      `<g class="steady balloon ${kinds}"><circle r="${isAgain ? 4 : 10}"></circle>` +
      `${isAgain ? "" : `<text>${number}</text>`}</g>`;
    const balloon = group.firstElementChild;
    balloon.dataset.finding = id;
    balloon.dataset.says = message;
    if (isAgain) place.querySelector(":scope > .piece").after(group); // under the numbers
    else place.append(group);
    return true;
  }

  // Light up again what was picked, pointed or looked at, after pieces were drawn anew.
  again() {
    const { piece, edge } = this.picked;
    const isTold = Boolean(this.saidOfPick) && this.caption?.textContent === this.saidOfPick;
    this.select(piece, edge, isTold); // it may be called otherwise now
    this.lit();
  }

  // An edge pointed at, else what is looked at beside the board.
  lit() {
    const { piece, edge } = this.pointed.edge ? this.pointed : this.glanced;
    light(this.element, edge ? edgeOf(this.element, piece, edge) : null, "lit");
  }

  // Picking

  hover(found, event) {
    const edge = found?.closest?.("[data-edge], .placed") || null;
    this.pointed = { piece: pieceOf(edge), edge: edge?.dataset.edge || "" };
    if (edge && !this.pointed.edge) light(this.element, edge, "lit");
    else this.lit();
    const said = found?.closest?.("[data-says]");
    const piece = found?.closest?.(".place");
    const title = piece?.querySelector(".piece")?.dataset.title || "";
    const isNamed = !this.element.classList.contains("without-names");
    this.tell(
      said ? said.dataset.says : isNamed ? "" : title,
      said ? [title, said.dataset.says, said.dataset.meets].filter(Boolean) : [title],
      event,
    );
    this.send("cw:hover", {
      piece: piece?.dataset.place || "",
      edge: edge?.dataset.edge || "",
    });
  }

  tell(tip, said, event) {
    if (this.caption) this.caption.textContent = said.filter(Boolean).join(" · ");
    if (!this.tip) return;
    this.tip.hidden = !tip || !event;
    if (this.tip.hidden) return;
    this.tip.textContent = tip;
    const box = this.element.getBoundingClientRect();
    const left = Math.min(event.clientX - box.left + 16, box.width - this.tip.offsetWidth - 8);
    const above = event.clientY - box.top - this.tip.offsetHeight - 14;
    this.tip.style.left = `${Math.max(8, left)}px`;
    this.tip.style.top = `${above < 8 ? event.clientY - box.top + 20 : above}px`;
  }

  pick(found, x, y) {
    const edge = found?.closest?.("[data-edge]");
    const place = found?.closest?.(".place");
    const balloon = found?.closest?.(".balloon");
    this.select(place?.dataset.place || "", edge?.dataset.edge || "");
    this.send("cw:pick", {
      piece: place?.dataset.place || "",
      edge: edge?.dataset.edge || "",
      finding: balloon?.dataset.finding || "",
      x_mm: x,
      y_mm: y,
    });
  }

  // Light up a piece or an edge as if it was picked; says it in the caption too.
  select(piece, edge, tells = true) {
    this.picked = { piece, edge };
    for (const each of this.pieces.querySelectorAll(".place.picked")) {
      each.classList.remove("picked");
    }
    const place = piece ? this.place(piece) : null;
    place?.classList.add("picked");
    const found = place && edge ? edgeOf(this.element, piece, edge) : null;
    light(this.element, found, "picked");
    this.handles();
    if (tells && this.caption) {
      const title = place?.querySelector(".piece")?.dataset.title || "";
      const said = found ? [found.dataset.says, found.dataset.meets] : [];
      this.saidOfPick = [title, ...said].filter(Boolean).join(" · ");
      this.caption.textContent = this.saidOfPick;
    }
  }

  // Light up while a control beside the board is looked at or has the focus.
  glance(piece, edge) {
    if (piece === this.glanced.piece && edge === this.glanced.edge) return;
    this.glanced = { piece, edge };
    this.lit();
  }

  // Tools

  get tool() {
    return this.element.dataset.tool || "look";
  }

  set tool(name) {
    this.hands.letGo();
    this.element.dataset.tool = name;
    this.handles();
  }

  // Let go of a line that is being drawn; whether there was one.
  letGo() {
    return this.hands.letGo();
  }

  handles() {
    for (const each of this.pieces.querySelectorAll(".handles")) each.remove();
    if (this.tool === "shape" && this.picked.edge) {
      const { piece, edge } = this.picked;
      const found = edgeOf(this.element, piece, edge);
      const at = (found?.dataset.handles || "").split(" ").filter(Boolean).map(Number);
      const kinds = [
        { what: "edge-end", edge, end: "start", says: "start of the edge, to slide it" },
        ...[0.25, 0.5, 0.75].map((share) => ({ what: "edge", edge, share })),
        { what: "edge-end", edge, end: "end", says: "end of the edge, to slide it" },
      ];
      const spots = kinds.map((data, n) => [data, at[2 * n], at[2 * n + 1]]);
      this.handlesOn(piece, at.length ? spots : []);
    }
    if (this.tool === "dart") {
      for (const dart of this.pieces.querySelectorAll(".dart")) {
        const piece = dart.closest(".place").dataset.place;
        const name = dart.dataset.dart;
        const apex = dart.dataset.apex.split(" ").map(Number);
        const mouth = dart.dataset.mouth.split(" ").map(Number);
        const says = dart.dataset.title;
        this.handlesOn(piece, [
          [{ what: "dart-point", dart: name, says: `point of the ${says}` }, ...apex],
          [{ what: "dart", dart: name, says: `open end of the ${says}` }, ...mouth],
        ]);
      }
    }
    this.hands.carry();
  }

  handlesOn(piece, spots) {
    const place = this.place(piece);
    if (!place || !spots.length) return;
    const group = document.createElementNS(SVG, "g");
    group.setAttribute("class", "handles");
    for (const [data, x, y] of spots) {
      const spot = document.createElementNS(SVG, "g");
      spot.setAttribute("transform", `translate(${x} ${y})`);
      const steady = document.createElementNS(SVG, "g");
      steady.setAttribute("class", `steady handle handle-${data.what}`);
      Object.assign(steady.dataset, data, { at: `${x} ${y}` });
      for (const [name, radius] of [["around", 16], ["grip", 6]]) {
        const circle = document.createElementNS(SVG, "circle");
        circle.setAttribute("class", name);
        circle.setAttribute("r", radius);
        steady.append(circle);
      }
      spot.append(steady);
      group.append(spot);
    }
    place.append(group);
  }

  line(line, tool, stage) {
    this.send("cw:line", {
      piece: line?.piece || "",
      from: line?.from,
      to: line?.to,
      reach_mm: line?.reach,
      tool,
      stage,
    });
  }

  meant(clientX, clientY) {
    return meant(this.element, clientX, clientY);
  }
}
