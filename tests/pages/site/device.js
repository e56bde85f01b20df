// Loaded before plyline.js: another day, another kind of storage, fixed chance, a file that
// the reader chooses (`globalThis.chosen`), and the events of tries.
const wanted = new URLSearchParams(location.search);
const days = Number(wanted.get("days") ?? 0);
const Today = Date;
globalThis.Date = class extends Today {
  constructor(...given) {
    if (given.length) super(...given);
    else super(Today.now() + days * 864e5);
  }
};
Math.random = () => 0;
if (wanted.get("storage") === "denied") {
  Object.defineProperty(globalThis, "localStorage", {
    get() {
      throw new DOMException("denied", "SecurityError");
    },
  });
}
if (wanted.get("storage") === "full") {
  Storage.prototype.setItem = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
}
const { click } = HTMLInputElement.prototype;
HTMLInputElement.prototype.click = function () {
  if (this.type !== "file") return click.call(this);
  const files = new DataTransfer();
  files.items.add(new File([globalThis.chosen], "progress.json"));
  this.files = files.files;
  this.dispatchEvent(new Event("change"));
};
globalThis.tries = [];
for (const type of ["ply-answered", "ply-settled"]) {
  document.addEventListener(type, ({ detail }) => tries.push([type, detail.verdict ?? detail.how, detail.move ?? null]));
}
