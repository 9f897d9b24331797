// The size chart as a spreadsheet: move by keyboard, mark a block, copy, paste, empty. What a cell
// means is read by the server; this only sends texts, and shows what comes back.

import { beside } from "/static/grid/faulty.js";
import { printsInParts } from "/static/grid/on-paper.js";
import { refusedFigures } from "/static/grid/waiting.js";
import { ask } from "/static/shell/asking.js";
import { head, send } from "/static/shell/shell.js";

const table = document.querySelector("table.grid[data-cells]");
if (table) {
  mount(table);
  printsInParts(table);
}

// A link to a part that unfolds opens it.
function unfold() {
  const part = document.getElementById(location.hash.slice(1));
  if (!part?.matches("details")) return;
  part.open = true;
  part.querySelector("summary").focus();
}
window.addEventListener("hashchange", unfold);
document.addEventListener("click", (event) => {
  if (event.target.closest(`a[href="${location.hash || "#"}"]`)) unfold();
});
unfold();

// A link to a cell leads into it.
document.addEventListener("click", (event) => {
  const link = event.target.closest('a[href^="#"]');
  const cell = link && document.getElementById(link.getAttribute("href").slice(1));
  if (!cell?.matches("td input")) return;
  event.preventDefault();
  cell.scrollIntoView({ block: "center", inline: "center" });
  cell.focus();
});

// A table that was brought and has to be mended stands for what it was read from.
for (const brought of document.querySelectorAll("[data-brought]")) {
  new MutationObserver(() => {
    if (!brought.hasChildNodes()) return;
    for (const field of brought.closest("form").querySelectorAll('[name="text"], [name="file"]')) field.value = "";
    brought.scrollIntoView({ block: "start" });
    brought.querySelector("[data-focus]").focus({ preventScroll: true });
  }).observe(brought, { childList: true });
}

function mount(grid) {
  const rows = [...grid.querySelectorAll("tr[data-measurement]")];
  const cells = rows.map((row) => [...row.querySelectorAll("input")]);
  const heads = [...grid.querySelectorAll("thead [data-size]")];
  const sizes = heads.map((head) => head.dataset.size);
  const readOnly = "readOnly" in grid.dataset;
  const settled = new WeakMap(); // what the server has for a cell
  const sent = new WeakMap(); // what it was sent, as long as there is no answer
  const begun = new WeakMap(); // the state of the design when somebody began to write in it
  const place = new WeakMap(); // its row and column
  let at = { row: 0, column: 0 }; // the cell with the focus
  let from = at; // the other end of what is marked
  let sending = Promise.resolve();
  const waiting = refusedFigures(document.getElementById("waiting"), {
    again: (several) => write(several),
    back: (several) => several.forEach((cell) => { cell.value = settled.get(cell); }),
  });

  cells.forEach((row, r) => row.forEach((cell, c) => {
    settled.set(cell, cell.defaultValue); // one may write before this script is there
    place.set(cell, { row: r, column: c });
  }));
  openRow(0);
  const asked = new URLSearchParams(location.search).has("size");
  if (asked) grid.querySelector("thead .is-shown")?.scrollIntoView({ block: "nearest", inline: "center" });

  const named = location.hash && document.getElementById(location.hash.slice(1));
  if (place.has(named)) setTimeout(() => named.focus());

  write(cells.flat().filter((cell) => cell !== document.activeElement && isChanged(cell)));

  // Moving ---------------------------------------------------------------------------------------

  /** Tab goes through the cells of one row, and then on to what follows the chart. */
  function openRow(row) {
    cells.forEach((each, r) => each.forEach((cell) => { cell.tabIndex = r === row ? 0 : -1; }));
  }

  function go(row, column, { marking = false } = {}) {
    const r = Math.min(Math.max(row, 0), cells.length - 1);
    const c = Math.min(Math.max(column, 0), sizes.length - 1);
    const start = marking ? from : null;
    cells[r][c].focus();
    if (start) from = start;
    mark();
  }

  grid.addEventListener("focusin", (event) => {
    const found = place.get(event.target);
    if (!found) return;
    at = found;
    from = found;
    openRow(at.row);
    event.target.select();
    mark();
    show(rows[at.row].dataset.measurement, at.column);
  });

  grid.addEventListener("mousedown", (event) => {
    const found = place.get(event.target);
    if (!found || !event.shiftKey) return;
    event.preventDefault(); // the focus stays, the block grows
    const start = from;
    cells[found.row][found.column].focus();
    from = start;
    mark();
  });

  grid.addEventListener("keydown", (event) => {
    const cell = event.target;
    const way = event.altKey && event.shiftKey && { ArrowLeft: "earlier", ArrowRight: "later" }[event.key];
    if (place.has(cell) && way && !readOnly) {
      event.preventDefault();
      move(place.get(cell), way);
      return;
    }
    if (!place.has(cell) || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] }[event.key];
    if (step) {
      const whole = cell.selectionStart === 0 && cell.selectionEnd === cell.value.length;
      const sideways = step[1] !== 0;
      const typing = cell.value !== settled.get(cell) && !whole;
      if (sideways && typing && !event.shiftKey) return; // within what is being written
      if (sideways && event.shiftKey && typing) return;
      event.preventDefault();
      go(at.row + step[0], at.column + step[1], { marking: event.shiftKey });
    } else if (event.key === "Enter") {
      event.preventDefault();
      write([cell]);
      go(at.row + (event.shiftKey ? -1 : 1), at.column);
    } else if (event.key === "Escape") {
      cell.value = settled.get(cell);
      cell.removeAttribute("aria-invalid"); // what waits with it is tried anew when one leaves it
      begun.delete(cell);
      cell.select();
    } else if (event.key === "Home" && at.column > 0) {
      event.preventDefault();
      go(at.row, 0, { marking: event.shiftKey });
    } else if (event.key === "End" && at.column < sizes.length - 1) {
      event.preventDefault();
      go(at.row, sizes.length - 1, { marking: event.shiftKey });
    } else if ((event.key === "Delete" || event.key === "Backspace") && marked().length > 1) {
      event.preventDefault();
      fill(marked(), () => "");
    }
  });

  grid.addEventListener("input", (event) => {
    if (!begun.has(event.target)) begun.set(event.target, head());
  });

  grid.addEventListener("focusout", (event) => {
    const cell = event.target;
    if (place.has(cell) && !waiting.isAsRefused(cell)) write([cell]);
  });

  // Marking, copying, pasting --------------------------------------------------------------------

  function block() {
    return {
      top: Math.min(at.row, from.row), bottom: Math.max(at.row, from.row),
      left: Math.min(at.column, from.column), right: Math.max(at.column, from.column),
    };
  }

  function marked() {
    const { top, bottom, left, right } = block();
    return cells.slice(top, bottom + 1).flatMap((row) => row.slice(left, right + 1));
  }

  function mark() {
    const several = marked();
    for (const cell of grid.querySelectorAll(".is-marked")) cell.classList.remove("is-marked");
    if (several.length > 1) for (const cell of several) cell.classList.add("is-marked");
  }

  grid.addEventListener("copy", (event) => {
    const { top, bottom, left, right } = block();
    if (top === bottom && left === right) return; // the text of the one cell, as ever
    const text = cells.slice(top, bottom + 1)
      .map((row) => row.slice(left, right + 1).map((cell) => cell.value || cell.placeholder).join("\t"))
      .join("\n");
    event.clipboardData.setData("text/plain", text);
    event.preventDefault();
  });

  grid.addEventListener("paste", (event) => {
    if (!place.has(event.target) || readOnly) return;
    const lines = event.clipboardData.getData("text/plain").replace(/\r\n?/g, "\n").replace(/\n$/, "")
      .split("\n").map((line) => line.split("\t"));
    const one = lines.length === 1 && lines[0].length === 1;
    if (one && marked().length < 2) return; // into the text of the cell, as ever
    event.preventDefault();
    if (one) {
      fill(marked(), () => lines[0][0]);
      return;
    }
    const { top, left } = block();
    const into = [];
    lines.forEach((line, r) => line.forEach((text, c) => {
      const cell = cells[top + r]?.[left + c];
      if (cell) into.push([cell, text.trim()]);
    }));
    const texts = new Map(into);
    fill([...texts.keys()], (cell) => texts.get(cell));
    from = { row: Math.min(top + lines.length, cells.length) - 1, column: Math.min(left + lines[0].length, sizes.length) - 1 };
    mark();
  });

  function fill(several, text) {
    if (readOnly) return;
    for (const cell of several) cell.value = text(cell);
    write(several);
  }

  // Sending and showing --------------------------------------------------------------------------

  function write(several) {
    if (readOnly) return;
    const all = waiting.together(several);
    const changed = all.filter(isChanged);
    if (changed.length === 0) return waiting.clear(all);
    for (const cell of changed) sent.set(cell, cell.value.trim());
    sending = sending.then(() => submit(waiting.together(all)));
  }

  /** Let the size of a cell stand elsewhere; the page comes anew, with the same size shown. */
  function move({ row, column }, way) {
    write([cells[row][column]]);
    sending = sending.then(async () => {
      if (await send(grid.dataset.move, { size: sizes[column], way }) === null) return;
      const cell = `cell-${rows[row].dataset.measurement}-${column + (way === "earlier" ? -1 : 1)}`;
      history.replaceState(null, "", `${grid.dataset.grid}?${new URLSearchParams({ size: sizes[column] })}#${cell}`);
      location.reload();
    });
  }

  function isChanged(cell) {
    return cell.value.trim() !== (sent.get(cell) ?? settled.get(cell));
  }

  /** Send what differs from what is kept; refused, all of it stays to be mended, and nothing is kept. */
  async function submit(several) {
    const changed = several.filter((cell) => (sent.get(cell) ?? cell.value.trim()) !== settled.get(cell));
    waiting.clear(several.filter((cell) => !changed.includes(cell)));
    for (const cell of several) if (!changed.includes(cell)) sent.delete(cell);
    if (changed.length === 0) return;
    const written = changed.map((cell) => sent.get(cell) ?? cell.value.trim());
    const texts = changed.map((cell, n) => {
      const { row, column } = place.get(cell);
      return [sizes[column], rows[row].dataset.measurement, written[n]];
    });
    // Made from what was there when it was begun: what another window did since is not run over.
    const base = changed.length === 1 && begun.get(changed[0]);
    const answer = await send(grid.dataset.cells, {
      cells: JSON.stringify(texts),
      ...(base ? { base } : {}),
    });
    changed.forEach((cell, n) => {
      begun.delete(cell);
      if (sent.get(cell) === written[n]) sent.delete(cell);
    });
    if (answer) {
      waiting.clear(changed);
      take(answer);
      return;
    }
    if (isKeptBeside()) for (const cell of changed) cell.setAttribute("aria-invalid", "true");
    else waiting.add(changed);
    beside(changed[0]);
  }

  /** Of a conflict both sides are kept: the answer asks which one it shall be. */
  function isKeptBeside() {
    return document.querySelector("#refusal form") !== null;
  }

  /** Show what the server has; a cell that is being written is left alone. */
  function take(chart) {
    if (chart.sizes.join("\t") !== sizes.join("\t") || chart.unit !== grid.dataset.unit) {
      location.reload();
      return;
    }
    const doubted = new Set(chart.findings.map((each) => `${each.size}\t${each.measurement}`));
    rows.forEach((row, r) => {
      const { values, estimated } = chart.measurements[row.dataset.measurement];
      cells[r].forEach((cell, c) => {
        const writing = cell.getAttribute("aria-invalid") === "true"
          || (cell === document.activeElement && cell.value.trim() !== settled.get(cell));
        cell.placeholder = values[c];
        cell.classList.toggle("is-estimated", estimated[c]);
        const isDoubted = doubted.has(`${sizes[c]}\t${row.dataset.measurement}`);
        cell.classList.toggle("is-doubted", isDoubted);
        cell.setAttribute("aria-describedby", [
          estimated[c] ? "cell-estimated" : "", isDoubted ? "cell-doubted" : "",
          `definition-${row.dataset.measurement}`,
        ].filter(Boolean).join(" "));
        const now = estimated[c] ? "" : values[c];
        settled.set(cell, now);
        if (!writing && cell.value !== now) {
          cell.value = now;
          if (cell === document.activeElement) cell.select();
        }
      });
    });
    show(rows[at.row].dataset.measurement, at.column, { quietly: true });
  }

  document.body.addEventListener("cw:changed", async (event) => {
    if (!event.detail.elsewhere && !event.detail.step) return; // our own answers bring the chart
    const response = await ask(grid.dataset.grid, { headers: { Accept: "application/json" } });
    if (response.ok) take(await response.json());
    else location.reload();
  });

  // The figure -----------------------------------------------------------------------------------

  const figure = document.querySelector(".measure__body");
  const unit = document.querySelector(".measure__unit"); // in another unit one sees the same size
  let litName = "";
  let shownColumn = sizes.indexOf(figure?.querySelector("[data-figure-size]")?.textContent);

  /** Light a measurement on the figure, and let the figure show the size of a column. */
  function show(name, column, { quietly = false } = {}) {
    if (!figure) return;
    if (column !== shownColumn || quietly) {
      shownColumn = column;
      figure.querySelector("[data-figure-size]").textContent = sizes[column];
      figure.querySelector("[data-figure-word]").hidden = "person" in heads[column].dataset;
      if (unit) unit.action = `/settings?${new URLSearchParams({ next: `${grid.dataset.grid}?${new URLSearchParams({ size: sizes[column] })}` })}`;
      heads.forEach((head, c) => head.classList.toggle("is-shown", c === column));
      rows.forEach((row, r) => read(row, cells[r][column]));
    }
    if (quietly) return;
    litName = name;
    const row = rows.find((each) => each.dataset.measurement === name);
    figure.querySelector(`#view-${row.dataset.view}`).checked = true;
    for (const each of figure.querySelectorAll(".measure")) each.classList.toggle("is-lit", each.dataset.measurement === name);
    for (const each of rows) each.classList.toggle("is-lit", each === row);
    figure.querySelector("[data-no-definition]").hidden = true;
    for (const each of figure.querySelectorAll("[data-definition]")) each.hidden = each.dataset.definition !== name;
  }

  function read(row, cell) {
    const measure = figure.querySelector(`.measure[data-measurement="${row.dataset.measurement}"]`);
    const text = (cell.value || cell.placeholder);
    const unit = row.querySelector("th .small").textContent;
    measure.querySelector(".reading").textContent = unit === "°" ? `${text}°` : `${text} ${unit}`;
    measure.classList.toggle("is-estimated", cell.classList.contains("is-estimated"));
    const spoken = row.querySelector(".grid__label").textContent;
    measure.setAttribute("aria-label", `${spoken} ${text}${unit === "°" ? "" : " "}${unit}${cell.classList.contains("is-estimated") ? ", estimated" : ""}`);
  }

  figure?.addEventListener("click", (event) => {
    const measure = event.target.closest(".measure[data-measurement]");
    if (!measure) return;
    event.preventDefault();
    const row = rows.findIndex((each) => each.dataset.measurement === measure.dataset.measurement);
    const narrow = window.matchMedia("(max-width: 62rem)").matches;
    if (narrow && event.detail > 0) {
      show(measure.dataset.measurement, Math.max(shownColumn, 0)); // a finger reads on the figure
      return;
    }
    go(row, Math.max(shownColumn, 0));
    cells[row][Math.max(shownColumn, 0)].scrollIntoView({ block: "center", inline: "nearest" });
  });
  figure?.addEventListener("focusin", (event) => {
    const measure = event.target.closest(".measure[data-measurement]");
    if (measure) show(measure.dataset.measurement, Math.max(shownColumn, 0));
  });
  figure?.addEventListener("pointerover", (event) => {
    const name = event.target.closest(".measure[data-measurement]")?.dataset.measurement || litName;
    for (const row of rows) row.classList.toggle("is-lit", row.dataset.measurement === name);
  });
}
