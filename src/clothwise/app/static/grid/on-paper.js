// The chart on paper: in parts, each with its heading and as many sizes as a sheet is wide for.

const MOST = { cm: 10, in: 8 }; // sizes beside each other on A4 or Letter, upright

const cell = (kind, words, made = {}) => Object.assign(document.createElement(kind), { textContent: words, ...made });

/** Whenever a page is printed, lay the chart as it stands now beside the one that is written in. */
export function printsInParts(table) {
  let parts = [];
  window.addEventListener("beforeprint", () => {
    const sizes = [...table.tHead.rows[0].cells].slice(1).map((each) => each.textContent.trim());
    const count = Math.max(1, Math.ceil(sizes.length / (MOST[table.dataset.unit] || MOST.cm)));
    const each = Math.ceil(sizes.length / count);
    parts = Array.from({ length: count }, (_, at) => part(table, sizes, at * each, (at + 1) * each));
    table.parentElement.after(...parts);
  });
  window.addEventListener("afterprint", () => {
    for (const made of parts) made.remove();
    parts = [];
  });
}

function part(table, sizes, from, to) {
  const made = cell("table", "", { className: "chart-on-paper" });
  const shown = sizes.slice(from, to);
  if (shown.length < sizes.length) made.append(cell("caption", `${shown[0]} to ${shown.at(-1)}, of ${sizes[0]} to ${sizes.at(-1)}`));
  const head = cell("tr", "");
  head.append(...["Measurement", ...shown].map((words) => cell("th", words, { scope: "col" })));
  made.createTHead().append(head);
  const body = made.createTBody();
  for (const row of table.querySelectorAll("tbody tr")) {
    const line = cell("tr", "");
    const name = row.cells[0].textContent.replace(/\s+/g, " ").trim();
    if (!row.dataset.measurement) {
      line.className = "is-group";
      line.append(cell("th", name, { scope: "rowgroup", colSpan: shown.length + 1 }));
    } else {
      const fields = [...row.querySelectorAll("td input")].slice(from, to);
      const figures = fields.map((field) => cell("td", field.value || field.placeholder, { className: field.className }));
      line.append(cell("th", name, { scope: "row" }), ...figures);
    }
    body.append(line);
  }
  return made;
}
