// The page: what the server tells goes to the list, the problems and the pages; what the user does goes to all.

import { button, byId } from "./element.js";
import { keep, kept } from "./kept.js";
import { Keys } from "./keys.js";
import { List } from "./list.js";
import { Pages } from "./pages.js";
import { Player } from "./player.js";
import { Problems } from "./problems.js";

const UNITS = {
  "1/8": "eighths", "1/4": "quarters", "1/2": "halves", "3/8": "dotted quarters", "3/16": "dotted eighths", "3/4": "dotted halves",
};
const STEP = 2;
const MANY = 5; // so many engravings take long enough to be told of
const NARROW = matchMedia("(max-width: 56rem)");

const act = { choose, play };
const pages = new Pages(byId("pages"), act);
const list = new List(byId("chapters"), byId("search"), byId("found"), act);
const problems = new Problems(byId("problems"), byId("problems-title"), byId("problem-list"));
const player = new Player({ mark, ended });

let seen = null; // what the server told last
let chosen = null; // the exercise that is chosen
let system = null; // the system that the mark is on
const tempos = new Map(); // what the user chose for each exercise

// ---- News from the server

let isFetching = false;
let isStale = false;

function listen() {
  const news = new EventSource("news");
  news.onmessage = ({ data }) => {
    const { session, number, progress } = JSON.parse(data);
    if (progress && (!seen?.book || progress[1] - progress[0] >= MANY)) tell(`Engraving ${progress[0]} of ${progress[1]} …`);
    else if (number && !(seen?.session === session && seen.number === number)) fetchBook();
    else if (seen) tellState();
  };
  news.onerror = () => tell("No answer: shedbook watch is not running. These pages are the last that it made.", true);
}

async function fetchBook() {
  isStale = true;
  if (isFetching) return;
  isFetching = true;
  try {
    while (isStale) {
      isStale = false;
      const answer = await fetch("book.json");
      show(await answer.json());
    }
  } finally {
    isFetching = false;
  }
}

function show(told) {
  seen = told;
  problems.show(told);
  byId("pages").classList.toggle("earlier", told.earlier);
  byId("earlier").hidden = !(told.earlier && told.book);
  let changed = [];
  if (told.book) {
    document.title = `${told.book.title} · Shedbook`;
    byId("title").textContent = told.book.title;
    byId("title").lang = told.book.language;
    changed = pages.show(told.book);
    list.show(told.book);
    chosen = find(chosen?.id) ?? find(decodeURIComponent(location.hash.slice(1))) ?? chosen;
    if (chosen && find(chosen.id)) takeUp(chosen);
    if (player.isPlaying && find(player.id)) player.change(tempo());
    else player.stop();
    markPlaying();
  } else {
    pages.empty("There are no pages yet. Mend what stands under Problems and save; they will come by themselves.");
  }
  tellState(changed);
}

const clock = (seconds) => new Date(seconds * 1000).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit" });

function tellState(changed = []) {
  const { book, earlier } = seen;
  if (!book) {
    tell("This book cannot be set yet.", true);
    return tellMore(problems.first, toProblems);
  }
  if (earlier) {
    byId("earlier").textContent = `As it was at ${clock(book.made)}`;
    tell("Not as saved: what was written since cannot be set.", true);
    return tellMore(problems.first, toProblems);
  }
  tell(`${book.pages.length} ${book.pages.length === 1 ? "page" : "pages"}, as saved at ${clock(book.made)}`);
  if (changed.length) {
    const words = changed.length === 1 ? `page ${changed[0]} changed` : `${changed.length} pages changed, the first is ${changed[0]}`;
    tellMore(words, () => pages.revealPage(changed[0]));
  }
}

// What a click on it leads to.
function tellMore(words, action) {
  if (words) byId("state").append(" · ", button(words, { class: "changed" }, action));
}

function tell(words, isWrong = false) {
  byId("state").textContent = words;
  byId("state").classList.toggle("wrong", isWrong);
}

// ---- The chosen exercise

const find = (id) => pages.exercises().find((one) => one.id === id);

function choose(id) {
  const exercise = find(id);
  if (!exercise) return;
  if (player.isPlaying && player.id !== id) player.stop();
  byId("loop").checked = player.loop = exercise.loops;
  takeUp(exercise);
  if (NARROW.matches) showList(false);
  pages.reveal(exercise);
  history.replaceState(null, "", `#${encodeURIComponent(id)}`);
}

function takeUp(exercise) {
  chosen = exercise;
  const { number, title, level, ceiling } = exercise;
  byId("chosen-title").textContent = `${number}  ${title}`;
  byId("chosen-title").lang = seen.book.language;
  byId("chosen-about").textContent = `level ${level}, up to ${ceiling}`;
  byId("unit").textContent = `${UNITS[exercise.unit] ?? "beats"} a minute`;
  byId("handout-exercise").value = exercise.id;
  byId("print").disabled = byId("play").disabled = false;
  setTempo(tempos.get(exercise.id) ?? exercise.tempo?.start ?? Math.min(80, ceiling), false);
  list.choose(exercise.id);
}

// ---- Playing

function play(id) {
  if (player.id === id) return player.stop();
  if (chosen?.id !== id) choose(id);
  start();
}

function toggle() {
  if (player.isPlaying) player.stop();
  else if (chosen) start();
}

async function start() {
  system = null;
  clearTimeout(later);
  const playing = player.start(chosen.id, tempo());
  markPlaying();
  await playing;
}

function ended() {
  pages.unpoint();
  markPlaying();
}

function markPlaying() {
  list.playing(player.id);
  pages.playing(player.id);
  byId("play").setAttribute("aria-pressed", String(player.isPlaying));
  byId("play-word").textContent = player.isPlaying ? "Stop" : "Play";
}

function mark(place) {
  if (place.system !== system) {
    system = place.system;
    pages.follow(system);
  }
  pages.point(system, place.x, place.isWaiting);
  Object.assign(pages.mark.dataset, { slot: place.slot, time: place.time.toFixed(4), round: place.round, x: place.x.toFixed(3) });
}

// ---- Tempo and switches

const tempo = () => Number(byId("tempo").value);
let later = 0;

function setTempo(wanted, isChosen = true) {
  const value = Math.min(400, Math.max(20, Math.round(wanted) || 80));
  byId("tempo").value = byId("tempo-range").value = value;
  if (!isChosen || !chosen) return;
  tempos.set(chosen.id, value);
  clearTimeout(later);
  later = setTimeout(() => player.change(value), 120);
}

const switches = {
  click: (isOn) => (player.click = isOn),
  loop: (isOn) => (player.loop = isOn),
  "count-in": (isOn) => (player.countIn = isOn),
};

function flip(name) {
  const box = byId(name);
  box.checked = !box.checked;
  box.dispatchEvent(new Event("change"));
}

// ---- How it looks

function setLook(look) {
  document.documentElement.dataset.look = look;
  byId("look").setAttribute("aria-pressed", String(look === "dark"));
}

function setZoom(step) {
  keep("zoom", pages.zoomed(step));
  pages.setZoom(pages.zoomed(step));
}

function showList(isShown) {
  document.body.classList.toggle("no-list", !isShown);
  byId("list-button").setAttribute("aria-expanded", String(isShown));
}

const isListShown = () => !document.body.classList.contains("no-list");

function toSearch() {
  showList(true);
  byId("search").focus();
  byId("search").select();
}

function toProblems() {
  showList(true);
  byId("problems").focus();
}

const keys = new Keys(
  [
    [[" "], "play, stop", toggle],
    [["j"], "the next exercise", () => list.move(1)],
    [["k"], "the exercise before", () => list.move(-1)],
    [["+", "="], "faster by 2", () => setTempo(tempo() + STEP)],
    [["-"], "slower by 2", () => setTempo(tempo() - STEP)],
    [["c"], "click on, off", () => flip("click")],
    [["l"], "loop on, off", () => flip("loop")],
    [["i"], "count-in on, off", () => flip("count-in")],
    [["h"], "this exercise as a handout", () => chosen && byId("handout").requestSubmit()],
    [["/"], "search", toSearch],
    [["p"], "problems", toProblems],
    [["g"], "to the pages: arrows and Page Down move them", () => byId("pages").focus()],
    [["e"], "list of exercises on, off", () => showList(!isListShown())],
    [["]"], "larger pages", () => setZoom(1)],
    [["["], "smaller pages", () => setZoom(-1)],
    [["d"], "dark, light", () => byId("look").click()],
    [["?"], "this list", () => byId("keys").showModal()],
    [["Escape"], "stop", () => player.stop()],
  ],
  () => byId("single-keys").checked,
);

// ---- Beginning

byId("play").addEventListener("click", toggle);
byId("tempo").addEventListener("change", () => setTempo(tempo()));
byId("tempo-range").addEventListener("input", () => setTempo(Number(byId("tempo-range").value)));
byId("slower").addEventListener("click", () => setTempo(tempo() - STEP));
byId("faster").addEventListener("click", () => setTempo(tempo() + STEP));
byId("volume").addEventListener("input", () => (player.volume = byId("volume").value / 100));
for (const [name, turn] of Object.entries(switches)) byId(name).addEventListener("change", () => turn(byId(name).checked));
byId("smaller").addEventListener("click", () => setZoom(-1));
byId("larger").addEventListener("click", () => setZoom(1));
byId("list-button").addEventListener("click", () => showList(!isListShown()));
byId("keys-button").addEventListener("click", () => byId("keys").showModal());
byId("look").addEventListener("click", () => {
  const look = document.documentElement.dataset.look === "dark" ? "light" : "dark";
  keep("look", look);
  setLook(look);
});
byId("single-keys").checked = kept("single keys", true);
byId("single-keys").addEventListener("change", () => keep("single keys", byId("single-keys").checked));

const byNight = matchMedia("(prefers-color-scheme: dark)");
const usualLook = () => (byNight.matches ? "dark" : "light");
setLook(kept("look", null) ?? usualLook());
byNight.addEventListener("change", () => setLook(kept("look", null) ?? usualLook()));
pages.zoom = kept("zoom", 1);
keys.fill(byId("key-list"));
showList(!NARROW.matches);
NARROW.addEventListener("change", () => showList(!NARROW.matches));
listen();
