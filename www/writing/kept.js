// What a tab keeps of one lesson while it is written: whether, where, and what is half typed.

export class Kept {
  #of;

  /** @param path the address of its file @param number the lesson's number there */
  constructor(path, number) {
    this.#of = `${path}#${number}`;
  }

  get(what) {
    return JSON.parse(sessionStorage.getItem(`plyline-${what}:${this.#of}`));
  }

  /** Null forgets it. */
  set(what, value) {
    const name = `plyline-${what}:${this.#of}`;
    if (value === null) sessionStorage.removeItem(name);
    else sessionStorage.setItem(name, JSON.stringify(value));
  }
}
