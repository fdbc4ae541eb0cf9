// The pages on the desk: pictures that are fetched when they come near, buttons beside them, the mark on them.

import { button, element, playSign } from "./element.js";

const POINTS_IN_INCH = 72;
const WIDEST = 1000;
const APART = 44;
const ASIDE = 120; // clef, meter and number stand before the first note
const ZOOMS = [0.4, 0.5, 0.6, 0.7, 0.85, 1, 1.2, 1.4, 1.7, 2];

export class Pages {
  constructor(main, act) {
    this.main = main;
    this.act = act;
    this.pages = [];
    this.book = null;
    this.zoom = 1;
    this.mark = element("div", { class: "mark", hidden: "" });
    this.near = new IntersectionObserver((seen) => this.come(seen), { root: main, rootMargin: "60% 0px" });
    new ResizeObserver(() => this.fit()).observe(main);
  }

  // Show a book's pages, with the place kept that is being looked at; gives the numbers of those that changed.
  show(book) {
    const place = this.place();
    const isFirst = this.book === null;
    this.book = book;
    if (isFirst) this.main.replaceChildren();
    while (this.pages.length > book.pages.length) this.pages.pop().whole.remove();
    while (this.pages.length < book.pages.length) this.add(this.pages.length + 1);
    const changed = [];
    book.pages.forEach((key, index) => {
      const page = this.pages[index];
      if (page.key !== key) changed.push(index + 1);
      page.key = key;
      this.describe(page, index);
      if (page.isNear) this.fetch(page);
    });
    this.main.style.setProperty("--page-shape", `${book.width} / ${book.height}`);
    this.fit(place);
    return isFirst ? [] : changed;
  }

  empty(words) {
    this.pages = [];
    this.book = null;
    this.main.replaceChildren(element("p", { class: "empty" }, words));
  }

  add(number) {
    const image = element("img", { alt: "" });
    const paper = element("div", { class: "paper" }, image);
    const rail = element("div", { class: "rail" });
    const whole = element("div", { class: "page", "data-page": number }, paper, rail);
    const page = { whole, paper, image, rail, key: "", isNear: false, shown: "" };
    whole.page = page;
    this.pages.push(page);
    this.main.append(whole);
    this.near.observe(whole);
  }

  describe(page, index) {
    const here = this.exercises().filter((one) => one.page === index);
    const words = here.map((one) => `${one.number} ${one.title}`).join(", ");
    page.image.alt = `Page ${index + 1}${words ? `: ${words}` : ""}`;
    page.rail.replaceChildren(...here.map((one, at) => this.railButton(one, here[at - 1], at)));
  }

  // Two exercises side by side have their buttons one under the other.
  railButton(exercise, before, at) {
    const made = button(
      playSign(),
      { class: "play-here", tabindex: "-1", "aria-label": `Play ${exercise.number} ${exercise.title}`, "data-id": exercise.id },
      () => this.act.play(exercise.id),
    );
    made.append(exercise.number);
    const isBeside = at > 0 && Math.abs(before.y - exercise.y) < 20;
    made.style.top = `calc(${(100 * exercise.y) / this.book.height}% - 0.5rem + ${isBeside ? APART : 0}px)`;
    return made;
  }

  playing(id) {
    for (const one of this.main.querySelectorAll(".rail button")) one.classList.toggle("playing", one.dataset.id === id);
  }

  exercises() {
    return this.book ? this.book.chapters.flatMap((chapter) => chapter.exercises) : [];
  }

  come(seen) {
    for (const { target, isIntersecting } of seen) {
      target.page.isNear = isIntersecting;
      if (isIntersecting) this.fetch(target.page);
    }
  }

  // The new picture takes the old one's place when it is all there, so nothing flickers.
  async fetch(page) {
    const address = `pictures/${page.key}/${this.dots()}.png`;
    if (!page.key || page.wanted === address) return;
    page.wanted = address;
    const fresh = new Image();
    fresh.src = address;
    try {
      await fresh.decode();
    } catch {
      if (page.wanted === address) page.wanted = "";
      return;
    }
    if (page.wanted !== address) return;
    page.image.src = address;
    page.whole.dataset.key = page.key;
  }

  dots() {
    const needed = (this.width * devicePixelRatio * POINTS_IN_INCH) / this.book.width;
    return this.book.dots.find((dots) => dots >= needed - 1) ?? this.book.dots.at(-1);
  }

  setZoom(zoom) {
    const place = this.place();
    this.zoom = zoom;
    this.fit(place);
  }

  zoomed(step) {
    const at = ZOOMS.findIndex((zoom) => zoom >= this.zoom - 0.001);
    return ZOOMS[Math.min(ZOOMS.length - 1, Math.max(0, at + step))];
  }

  // As wide as there is room for beside its buttons; what was being looked at stays where it is.
  fit(place = this.place()) {
    if (!this.book || this.main.clientWidth === 0) return;
    const style = getComputedStyle(this.main);
    const room = this.main.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    this.width = Math.round(Math.min(WIDEST, Math.max(200, room)) * this.zoom);
    this.main.style.setProperty("--page-width", this.width);
    this.scale = this.width / this.book.width;
    this.restore(place);
    for (const page of this.pages) if (page.isNear) this.fetch(page);
  }

  // What is looked at: the last head over the upper third of the window, else the page there; and how far off it is.
  place() {
    if (!this.book || !this.scale) return null;
    const eye = this.main.scrollTop + this.main.clientHeight / 3;
    const heads = this.exercises().filter((one) => this.pages[one.page] && this.top(one.page, one.y) <= eye);
    const head = heads.at(-1);
    const page = Math.max(0, this.pages.findLastIndex((one) => one.whole.offsetTop <= eye));
    if (head && head.page >= page - 1) {
      return { id: head.id, page, from: this.top(head.page, head.y) - this.main.scrollTop };
    }
    return { page, from: this.top(page, 0) - this.main.scrollTop };
  }

  restore(place) {
    if (!place) return;
    const head = place.id && this.exercises().find((one) => one.id === place.id);
    const page = Math.min(place.page, this.pages.length - 1);
    const wanted = (head ? this.top(head.page, head.y) : this.top(page, 0)) - place.from;
    if (Math.abs(wanted - this.main.scrollTop) > 0.5) this.main.scrollTop = wanted;
  }

  top(page, y) {
    return this.pages[page].whole.offsetTop + y * this.scale;
  }

  reveal(exercise) {
    this.main.scrollTop = this.top(exercise.page, exercise.y) - this.main.clientHeight * 0.12;
  }

  revealPage(number) {
    this.main.scrollTop = this.top(number - 1, 0) - 16;
  }

  // Bring a system into view where it is out of it, or so low that the next would be.
  follow(system) {
    const { scrollTop, scrollLeft, clientHeight, clientWidth } = this.main;
    const top = this.top(system.page, system.top) - scrollTop;
    const bottom = this.top(system.page, system.bottom) - scrollTop;
    const edge = this.pages[system.page].whole.offsetLeft - scrollLeft;
    const [left, right] = [system.slots[0], system.slots.at(-1)].map((x) => edge + x * this.scale);
    const isOff = top < clientHeight * 0.06 || bottom > clientHeight * 0.85;
    const isBeside = left < 0 || right > clientWidth;
    if (!isOff && !isBeside) return;
    this.main.scrollTo({
      top: isOff ? scrollTop + top - clientHeight * 0.25 : scrollTop,
      left: isBeside ? scrollLeft + left - ASIDE : scrollLeft,
      behavior: "smooth",
    });
  }

  // Put the mark at x points on a system's page, from its top to its bottom.
  point(system, x, isWaiting) {
    const page = this.pages[system.page];
    if (!page) return;
    if (this.mark.parentNode !== page.whole) page.whole.append(this.mark);
    const { width, height } = this.book;
    this.mark.hidden = false;
    this.mark.classList.toggle("waits", isWaiting);
    this.mark.style.left = `${(100 * x) / width}%`;
    this.mark.style.top = `${(100 * (system.top - 5)) / height}%`;
    this.mark.style.height = `${(100 * (system.bottom - system.top + 12)) / height}%`;
  }

  unpoint() {
    this.mark.hidden = true;
  }
}
