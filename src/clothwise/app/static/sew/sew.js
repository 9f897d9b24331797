// The sew room: arrow keys turn the steps, the address follows, and a timer that keeps its time.

import { tell } from "/static/shell/shell.js";

const work = document.getElementById("work");
let moved = false;

// Address and focus follow the step.

document.addEventListener("htmx:before:request", (event) => {
  const source = event.detail.ctx?.sourceElement;
  moved = source?.matches?.("[data-moves]") ?? false;
});

document.addEventListener("htmx:after:swap", (event) => {
  if (event.detail.ctx?.target?.id !== "work") return;
  const place = work.querySelector("[data-address]");
  if (place) history.replaceState(null, "", place.dataset.address);
  if (moved) work.querySelector("#step-title")?.focus();
  moved = false;
  show();
});

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (event.target.closest("input, select, textarea, summary, [contenteditable]")) return;
  const link = { ArrowLeft: "step-back", ArrowRight: "step-on" }[event.key];
  const target = link && document.getElementById(link);
  if (!target) return;
  event.preventDefault();
  target.click();
});

// The timer: seconds counted, and since when it runs, kept for this window by step.

const usual = { counted: 0, since: 0, told: 0 };

function timer() {
  return work.querySelector("[data-timer]");
}

function kept(element) {
  try {
    return { ...usual, ...JSON.parse(sessionStorage.getItem(element.dataset.timer) ?? "{}") };
  } catch {
    return { ...usual };
  }
}

function keep(element, state) {
  sessionStorage.setItem(element.dataset.timer, JSON.stringify(state));
}

function seconds(state) {
  return state.counted + (state.since ? (Date.now() - state.since) / 1000 : 0);
}

function show() {
  const element = timer();
  if (!element) return;
  const state = kept(element);
  const whole = Math.floor(seconds(state));
  element.querySelector("[data-time]").textContent = `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
  element.querySelector("[data-run]").textContent = state.since ? "Pause" : whole ? "Go on" : "Start";
  const minutes = Number(element.dataset.minutes);
  const isOver = whole >= minutes * 60;
  element.classList.toggle("is-over", isOver);
  // Politely: when the time of the step is over, and every quarter of an hour after that.
  const calls = isOver ? 1 + Math.floor((whole / 60 - minutes) / 15) : 0;
  if (state.since && calls > state.told) {
    keep(element, { ...state, told: calls });
    tell(`${Math.round(whole / 60)} minutes on this step; about ${Math.round(minutes)} were reckoned. Take your time.`);
  }
}

work.addEventListener("click", (event) => {
  const element = timer();
  if (!element) return;
  const state = kept(element);
  if (event.target.closest("[data-run]")) {
    keep(element, state.since ? { ...state, counted: seconds(state), since: 0 } : { ...state, since: Date.now() });
    tell(state.since ? "Timer paused." : "Timer started.");
    show();
  } else if (event.target.closest("[data-reset]")) {
    keep(element, usual);
    tell("Timer back to zero.");
    show();
  }
});

setInterval(show, 1000);
show();
