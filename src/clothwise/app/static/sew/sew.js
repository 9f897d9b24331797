// The sew room: arrow keys turn the steps, the address follows, and a timer that keeps its time.

import { tell } from "/static/shell/shell.js";

const work = document.getElementById("work");
let moved = false;
const isTable = document.documentElement.dataset.type === "table";
let asked = location.hash === "#step-title" || (isTable && matchMedia("(max-width: 40rem)").matches);

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
  // The page begins with the step where type of another size was asked for at it, or where large
  // type leaves no room for it below the rooms.
  else if (asked) work.querySelector(".step")?.scrollIntoView();
  moved = asked = false;
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

function kept(key) {
  try {
    return { ...usual, ...JSON.parse(sessionStorage.getItem(key) ?? "{}") };
  } catch {
    return { ...usual };
  }
}

function keep(key, state) {
  sessionStorage.setItem(key, JSON.stringify(state));
}

function seconds(state) {
  return state.counted + (state.since ? (Date.now() - state.since) / 1000 : 0);
}

function paused(state) {
  return { ...state, counted: seconds(state), since: 0 };
}

function clock(state) {
  const whole = Math.floor(seconds(state));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

// Whoever finishes a step stops its timer; its time is kept with the step.
document.addEventListener("htmx:config:request", (event) => {
  const { sourceElement, request } = event.detail.ctx ?? {};
  const form = sourceElement?.closest?.("[data-finishes]");
  const element = timer();
  if (!form || !element || request.body?.get?.("done") === "no") return;
  const key = `${element.dataset.room} ${form.dataset.finishes}`;
  const state = paused(kept(key));
  if (state.counted < 1) return;
  keep(key, state);
  request.body.set("seconds", String(Math.round(state.counted)));
});

function show() {
  const element = timer();
  if (!element) return;
  showOther(element);
  const state = kept(element.dataset.timer);
  const whole = Math.floor(seconds(state));
  element.querySelector("[data-time]").textContent = clock(state);
  element.querySelector("[data-run]").textContent = state.since ? "Pause" : whole ? "Go on" : "Start";
  const minutes = Number(element.dataset.minutes);
  const isOver = whole >= minutes * 60;
  element.classList.toggle("is-over", isOver);
  // Politely: when the time of the step is over, and every quarter of an hour after that.
  const calls = isOver ? 1 + Math.floor((whole / 60 - minutes) / 15) : 0;
  if (state.since && calls > state.told) {
    keep(element.dataset.timer, { ...state, told: calls });
    tell(`${Math.round(whole / 60)} minutes on this step; about ${Math.round(minutes)} were reckoned. Take your time.`);
  }
}

// The timer of a step that was left unfinished is seen from every other step.

function running(element) {
  const start = `${element.dataset.room} `;
  const keys = Object.keys(sessionStorage).filter((key) => key.startsWith(start) && key !== element.dataset.timer);
  return keys.find((key) => kept(key).since);
}

function showOther(element) {
  const place = element.querySelector("[data-other]");
  const key = running(element);
  place.hidden = !key;
  if (!key) return;
  const name = key.slice(element.dataset.room.length + 1);
  const number = work.querySelector(`[data-step][data-finishes="${CSS.escape(name)}"]`)?.dataset.step;
  place.querySelector("[data-other-words]").textContent = `The timer of ${number ? `step ${number}` : "another step"} runs on: ${clock(kept(key))}.`;
}

work.addEventListener("click", (event) => {
  const element = timer();
  if (!element) return;
  const key = element.dataset.timer;
  const state = kept(key);
  if (event.target.closest("[data-run]")) {
    keep(key, state.since ? paused(state) : { ...state, since: Date.now() });
    tell(state.since ? "Timer paused." : "Timer started.");
  } else if (event.target.closest("[data-reset]")) {
    keep(key, usual);
    tell("Timer back to zero.");
  } else if (event.target.closest("[data-other-pause]")) {
    const other = running(element);
    if (other) keep(other, paused(kept(other)));
    tell("That timer is paused; its time is kept with its step.");
  } else return;
  show();
});

setInterval(show, 1000);
show();
