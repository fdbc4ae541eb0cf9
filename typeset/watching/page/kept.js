// What a browser keeps of a user's choices from one day to the next, where it is allowed to.

export function kept(name, usual) {
  try {
    const written = localStorage.getItem(`shedbook ${name}`);
    return written === null ? usual : JSON.parse(written);
  } catch {
    return usual;
  }
}

export function keep(name, value) {
  try {
    localStorage.setItem(`shedbook ${name}`, JSON.stringify(value));
  } catch {
    // Nothing is lost but the choice.
  }
}
