// Panning and zooming: only what is seen moves. While a hand moves it, the sheet is carried by the
// compositor (a CSS transform); when it rests, the view is drawn anew at its true place.

const REST_MS = 150;
const CLOSEST = 14; // pixels to the millimeter
const FURTHEST = 0.04;
const NARROW_PX = 752; // 47 rem: here buttons would lie on what is drawn
const BELOW_PX = 36; // the caption lies over the lowest part of the board
const PAPER_PX = [660, 780]; // of A4 and of Letter, upright, within the margins and below the head of a page
const PAPER_ASIDE_PX = 24; // for names beside the outermost pieces
const BEYOND = 0.3; // of the board's size, drawn beyond each side so that panning shows something

export class View {
  constructor(board, sheet, svg) {
    this.board = board;
    this.sheet = sheet;
    this.svg = svg;
    this.k = 0.5; // pixels to the millimeter
    this.x = 0; // millimeters at the left and top of the board
    this.y = 0;
    this.drawn = null;
    this.fitted = null; // what the whole board shows, until somebody moves it
    this.screen = null; // what it showed before it was drawn for paper
    this.timer = 0;
    this.frame = 0;
    this.listeners = [];
    new ResizeObserver(() => this.resized()).observe(board);
  }

  // Where a place on the screen lies on the board, in mm, y downward.
  at(clientX, clientY) {
    const box = this.board.getBoundingClientRect();
    return [this.x + (clientX - box.left) / this.k, this.y + (clientY - box.top) / this.k];
  }

  // Where a place of the board lies in the board's element, in pixels.
  on(x, y) {
    return [(x - this.x) * this.k, (y - this.y) * this.k];
  }

  // What of the board is in sight, in pixels from its origin.
  get seen() {
    if (this.screen) return { left: this.x * this.k, top: this.y * this.k, width: PAPER_PX[0], height: PAPER_PX[1] };
    const [left, top] = [this.x * this.k, this.y * this.k];
    return { left, top, width: this.board.clientWidth, height: this.board.clientHeight - BELOW_PX };
  }

  pan(dx, dy) {
    this.fitted = null;
    this.x -= dx / this.k;
    this.y -= dy / this.k;
    this.moved();
  }

  zoom(factor, clientX, clientY) {
    this.fitted = null;
    const box = this.board.getBoundingClientRect();
    const px = clientX === undefined ? box.width / 2 : clientX - box.left;
    const py = clientY === undefined ? box.height / 2 : clientY - box.top;
    const k = Math.min(CLOSEST, Math.max(FURTHEST, this.k * factor));
    this.x += px / this.k - px / k;
    this.y += py / this.k - py / k;
    this.k = k;
    this.moved();
  }

  // Show a rectangle of the board: left, top, width, height in mm.
  fit([left, top, width, height], margin = 28) {
    this.fitted = [[left, top, width, height], margin];
    const wide = this.board.clientWidth - 2 * margin;
    const below = this.below();
    const above = this.above();
    const high = this.board.clientHeight - 2 * margin - below - above;
    if (wide <= 0 || high <= 0 || !width || !height) return;
    this.k = Math.min(CLOSEST, Math.max(FURTHEST, Math.min(wide / width, high / height)));
    this.x = left + width / 2 - this.board.clientWidth / 2 / this.k;
    const middle = (this.board.clientHeight - BELOW_PX) / 2;
    const half = (height * this.k) / 2;
    const lowest = this.board.clientHeight - below - margin - half;
    this.y = top + height / 2 - Math.max(Math.min(middle, lowest), above + margin + half) / this.k;
    this.draw();
  }

  // What is kept free below: the caption, and on a narrow board the buttons above it.
  below() {
    const buttons = this.board.querySelector(":scope > [role=group]");
    const isNarrow = this.board.clientWidth < NARROW_PX && buttons?.offsetHeight;
    return isNarrow ? this.board.clientHeight - buttons.offsetTop : BELOW_PX;
  }

  // What is kept free above: on a narrow board the scale.
  above() {
    const scale = this.board.querySelector(":scope > .board-scale");
    const isNarrow = this.board.clientWidth < NARROW_PX && scale?.offsetHeight;
    return isNarrow && scale.offsetTop < this.board.clientHeight / 2 ? scale.offsetTop + scale.offsetHeight : 0;
  }

  moved() {
    if (!this.frame) {
      this.frame = requestAnimationFrame(() => {
        this.frame = 0;
        this.carry();
      });
    }
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.draw(), REST_MS);
  }

  carry() {
    const was = this.drawn;
    if (!was) return;
    const scale = this.k / was.k;
    const [left, top] = this.on(was.x, was.y);
    this.sheet.style.transform = `translate(${left}px, ${top}px) scale(${scale})`;
    this.tell(false);
  }

  draw() {
    clearTimeout(this.timer);
    const wide = this.board.clientWidth;
    const high = this.board.clientHeight;
    if (!wide || !high) return;
    const asideX = Math.round(wide * BEYOND);
    const asideY = Math.round(high * BEYOND);
    const width = wide + 2 * asideX;
    const height = high + 2 * asideY;
    const svg = this.svg;
    svg.setAttribute("width", width);
    svg.setAttribute("height", height);
    svg.style.left = `${-asideX}px`;
    svg.style.top = `${-asideY}px`;
    const box = [this.x - asideX / this.k, this.y - asideY / this.k, width / this.k, height / this.k];
    svg.setAttribute("viewBox", box.map((each) => each.toFixed(3)).join(" "));
    svg.style.setProperty("--px", (1 / this.k).toFixed(5));
    this.sheet.style.transform = "none";
    this.drawn = { x: this.x, y: this.y, k: this.k };
    this.tell(true);
  }

  // All of a rectangle as large as a sheet of paper lets it be; afterwards what was seen before.
  toPaper([left, top, width, height]) {
    if (!width || !height) return;
    this.screen ??= { k: this.k, x: this.x, y: this.y };
    const [wide, high] = PAPER_PX.map((px) => px - 2 * PAPER_ASIDE_PX);
    this.k = Math.min(wide / width, high / height);
    const aside = PAPER_ASIDE_PX / this.k;
    const box = [left - aside, top - aside, width + 2 * aside, height + 2 * aside];
    [this.x, this.y] = box;
    this.svg.setAttribute("width", box[2] * this.k);
    this.svg.setAttribute("height", box[3] * this.k);
    this.svg.setAttribute("viewBox", box.map((each) => each.toFixed(3)).join(" "));
    this.svg.style.setProperty("--px", (1 / this.k).toFixed(5));
    this.tell(true);
  }

  toScreen() {
    if (!this.screen) return;
    Object.assign(this, this.screen);
    this.screen = null;
    this.draw();
  }

  resized() {
    if (this.screen) return;
    if (this.drawn && this.fitted) this.fit(...this.fitted);
    else if (this.drawn) this.draw();
  }

  tell(rests) {
    for (const listener of this.listeners) listener(rests);
  }
}
