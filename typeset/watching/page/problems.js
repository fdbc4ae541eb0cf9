// What is wrong with the book, each with its file, line and column.

import { element } from "./element.js";

const MOST = 100;
const TITLES = { 1: "1 problem" };

export class Problems {
  constructor(panel, title, list) {
    this.panel = panel;
    this.title = title;
    this.list = list;
  }

  show({ problems, trouble }) {
    const errors = problems.filter((one) => !one.warning).length + (trouble ? 1 : 0);
    const remarks = problems.length - problems.filter((one) => !one.warning).length;
    this.panel.hidden = !errors && !remarks;
    this.panel.classList.toggle("warnings", !errors);
    this.title.textContent = errors ? TITLES[errors] ?? `${errors} problems` : remarks === 1 ? "1 remark" : `${remarks} remarks`;
    const rows = problems.slice(0, MOST).map((one) => this.row(one));
    if (problems.length > MOST) rows.push(element("li", {}, `and ${problems.length - MOST} more`));
    if (trouble) rows.unshift(element("li", {}, trouble));
    this.list.replaceChildren(...rows);
    const first = problems.find((one) => !one.warning);
    this.first = first ? `${first.file}:${first.line}` : trouble ? TITLES[1] : "";
  }

  row({ file, line, column, what, warning, source }) {
    const row = element("li", {}, element("span", { class: "place" }, `${file}:${line}:${column}`), `  ${warning ? "remark: " : ""}${what}`);
    if (source.trim()) row.append(element("code", { class: "source" }, source.trimStart()));
    return row;
  }
}
