// The keyboard: one table, from which both what keys do and the list of them follow.

import { element } from "./element.js";

const NAMES = { " ": "Space", Escape: "Esc" };
const TYPED_INTO = 'input:not([type="checkbox"]):not([type="range"]), textarea, select';

export class Keys {
  // A row is [keys, what it says, what it does]; the first of its keys is the one that is told.
  constructor(table, isOn) {
    this.table = table;
    this.isOn = isOn;
    document.addEventListener("keydown", (event) => this.press(event));
  }

  fill(list) {
    const rows = this.table.map(([[key], words]) =>
      element("div", {}, element("dt", {}, element("kbd", {}, NAMES[key] ?? key)), element("dd", {}, words)),
    );
    list.replaceChildren(...rows);
  }

  press(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
    const { key, target } = event;
    if (document.querySelector("dialog[open]")) return;
    if (key !== "Escape" && (!this.isOn() || target.matches(TYPED_INTO))) return;
    // A button or a box that has the focus is what Space presses.
    if (key === " " && target.matches("button, input, summary")) return;
    const row = this.table.find(([keys]) => keys.includes(key.length === 1 ? key.toLowerCase() : key));
    if (!row?.[2]) return;
    event.preventDefault();
    row[2]();
  }
}
