// Figures that were refused wait in red. What was sent together waits together: none of it is kept
// until all of it can be, or somebody puts back what is kept.

const A_BLOCK = 4; // so many figures are most likely several of several people

/**
 * The refused figures of a chart.
 * @param {HTMLElement} note is shown while any wait; has a place for words, and two buttons
 * @param {Object} hands `again(cells)` sends them, `back(cells)` shows what is kept in their place
 */
export function refusedFigures(note, { again, back }) {
  const blocks = new Map(); // a cell: those that it waits with, itself among them
  const texts = new Map(); // a cell: what was refused in it

  function show() {
    note.hidden = blocks.size === 0;
    note.querySelector("[data-waiting-turned]").hidden = blocks.size < A_BLOCK;
    note.querySelector("[data-waiting-words]").textContent = blocks.size === 1
      ? "1 figure waits in red. It was refused and is not kept."
      : `${blocks.size} figures wait in red. They were refused, and none of them is kept.`;
  }

  note.querySelector("[data-waiting-again]").addEventListener("click", () => again([...blocks.keys()]));
  note.querySelector("[data-waiting-back]").addEventListener("click", () => {
    const all = [...blocks.keys()];
    clear(all);
    back(all);
  });
  window.addEventListener("beforeunload", (event) => { if (blocks.size) event.preventDefault(); });

  function clear(cells) {
    for (const cell of cells) {
      blocks.get(cell)?.delete(cell);
      blocks.delete(cell);
      texts.delete(cell);
      cell.removeAttribute("aria-invalid");
    }
    show();
  }

  return {
    clear,
    /** Cells, and what waits with them. */
    together: (cells) => [...new Set(cells.flatMap((cell) => [...(blocks.get(cell) ?? [cell])]))],
    /** Whether a cell has what was refused in it, and nobody wrote in it since. */
    isAsRefused: (cell) => texts.has(cell) && texts.get(cell) === cell.value.trim(),
    /** They were sent together, and refused. */
    add(cells) {
      clear(cells);
      const block = new Set(cells);
      for (const cell of cells) {
        blocks.set(cell, block);
        texts.set(cell, cell.value.trim());
        cell.setAttribute("aria-invalid", "true");
      }
      show();
    },
  };
}
