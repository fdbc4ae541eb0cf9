// The list of chapters and exercises, and the search in it. One row at a time takes part in the tab order.

import { button, element, playSign } from "./element.js";

const plain = (words) => words.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

export class List {
  constructor(root, search, found, act) {
    this.root = root;
    this.search = search;
    this.found = found;
    this.act = act;
    this.rows = [];
    this.chosen = null;
    search.addEventListener("input", () => this.sift());
    search.addEventListener("keydown", (event) => this.fromSearch(event));
    root.addEventListener("keydown", (event) => this.step(event));
  }

  show(book) {
    const focused = this.root.contains(document.activeElement) ? document.activeElement : null;
    const [id, part] = [focused?.closest(".row")?.dataset.id, focused?.className];
    this.rows = [];
    this.root.replaceChildren(...book.chapters.filter((one) => one.exercises.length).map((one) => this.chapter(one, book)));
    this.choose(this.chosen);
    this.sift();
    if (id) this.row(id)?.querySelector(`button.${part}`)?.focus({ preventScroll: true });
  }

  chapter(chapter, book) {
    const rows = chapter.exercises.map((exercise) => this.makeRow(exercise, chapter, book));
    this.rows.push(...rows);
    const heads = ["no.", "title", "level", "up to", ""].map((words) => element("span", {}, words));
    return element(
      "section",
      { class: "chapter" },
      element("h2", { lang: book.language }, `${chapter.number}  ${chapter.title}`),
      element("div", { class: "columns", "aria-hidden": "true" }, ...heads),
      element("ul", {}, ...rows),
    );
  }

  makeRow(exercise, chapter, book) {
    const { id, number, title, level, ceiling } = exercise;
    const go = button(
      element("span", { class: "number" }, number),
      { class: "go", title: `${exercise.madeHardBy}\nFastest tempo ${ceiling}: ${exercise.limitedBy}` },
      () => this.act.choose(id),
    );
    const spoken = (words) => element("span", { class: "spoken" }, words);
    go.append(
      element("span", { lang: book.language }, title),
      element("span", { class: "figure" }, spoken("level "), String(level)),
      element("span", { class: "figure" }, spoken("up to "), String(ceiling)),
    );
    const play = button(playSign(), { class: "play-here", "aria-label": `Play ${number} ${title}` }, () => this.act.play(id));
    const row = element("li", { class: "row", "data-id": id }, go, play);
    row.words = plain(`${number} ${title} ${id} level ${level} ${chapter.title}`);
    row.level = level;
    row.number = number;
    return row;
  }

  row(id) {
    return this.rows.find((row) => row.dataset.id === id);
  }

  visible() {
    return this.rows.filter((row) => !row.hidden);
  }

  // Mark a row as the chosen one; the first that is seen can be tabbed to where none is.
  choose(id) {
    this.chosen = id;
    for (const row of this.rows) {
      const isChosen = row.dataset.id === id;
      row.classList.toggle("chosen", isChosen);
      if (isChosen) row.firstChild.setAttribute("aria-current", "true");
      else row.firstChild.removeAttribute("aria-current");
      if (isChosen) row.scrollIntoView({ block: "nearest" });
    }
    this.rove();
  }

  rove() {
    const stop = this.visible().find((row) => row.dataset.id === this.chosen) ?? this.visible()[0];
    for (const row of this.rows) {
      for (const one of row.querySelectorAll("button")) one.tabIndex = row === stop ? 0 : -1;
    }
  }

  playing(id) {
    for (const row of this.rows) row.lastChild.classList.toggle("playing", row.dataset.id === id);
  }

  // Every word has to be found; a number finds what begins with it, `level 3` what is as hard.
  sift() {
    const asked = plain(this.search.value).trim();
    const level = asked.match(/\blevel\s+(\d+)\b/);
    const words = asked.replace(/\blevel\s+\d+\b/, "").split(/\s+/).filter(Boolean);
    const fits = (row, word) => (/^\d[\d.]*$/.test(word) ? row.number.startsWith(word) : row.words.includes(word));
    for (const row of this.rows) {
      row.hidden = !(words.every((word) => fits(row, word)) && (!level || row.level === Number(level[1])));
    }
    for (const chapter of this.root.children) chapter.hidden = !chapter.querySelector(".row:not([hidden])");
    const count = this.visible().length;
    this.found.textContent = asked ? (count === 1 ? "1 exercise" : `${count || "no"} exercises`) : "";
    this.rove();
  }

  fromSearch(event) {
    if (event.key === "Enter" || event.key === "ArrowDown") {
      event.preventDefault();
      const first = this.visible()[0];
      if (!first) return;
      if (event.key === "Enter") this.act.choose(first.dataset.id);
      first.firstChild.focus();
    } else if (event.key === "Escape" && this.search.value) {
      event.stopPropagation();
      this.search.value = "";
      this.sift();
    }
  }

  step(event) {
    const row = event.target.closest(".row");
    const way = { ArrowDown: 1, ArrowUp: -1, Home: -Infinity, End: Infinity }[event.key];
    if (!row || way === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    this.move(way, row.dataset.id)?.firstChild.focus();
  }

  // Choose the row so many rows further on.
  move(way, from = this.chosen) {
    const rows = this.visible();
    const at = rows.findIndex((row) => row.dataset.id === from);
    const row = rows[Math.min(rows.length - 1, Math.max(0, at + way))];
    if (row) this.act.choose(row.dataset.id);
    return row;
  }
}
