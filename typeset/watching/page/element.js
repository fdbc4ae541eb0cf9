// Elements by hand. Words only ever go in as text, so nothing that an author writes is read as markup.

export const byId = (id) => document.getElementById(id);

export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [attribute, value] of Object.entries(attributes)) {
    if (value !== null && value !== undefined) made.setAttribute(attribute, value);
  }
  made.append(...children);
  return made;
}

export function button(words, attributes, action) {
  const made = element("button", { type: "button", ...attributes }, words);
  made.addEventListener("click", action);
  return made;
}

export const playSign = () => element("span", { class: "sign", "aria-hidden": "true" });
