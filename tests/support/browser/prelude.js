// Short names for the scripts that the page tests run in a page. Put before each of them.
const line = (id) => (id ? document.getElementById(id) : document.querySelector("ply-line"));
const inside = (selector, id) => line(id).shadowRoot.querySelector(selector);
const all = (selector, id) => [...line(id).shadowRoot.querySelectorAll(selector)];
const button = (does, id) => inside(`[data-do=${does}]`, id);
const move = (node, id) => inside(`#m${node}`, id);
// Opens the part where moves and questions are typed.
const openDesk = (id) => inside(".typed", id) ?? button("desk", id).click();
const pause = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));
const painted = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
const visible = (element) => element.checkVisibility() && element.getBoundingClientRect().height > 0;

// Until a lesson is drawn, for which it must be near the view, or has said that it cannot be.
const drawn = async (element) => {
  await element.ready;
  for (let turn = 0; turn < 60 && element.made === null && !element.shadowRoot?.querySelector('.failed'); turn += 1) {
    element.scrollIntoView({ behavior: "instant" });
    await painted();
  }
};

// Until the diagrams and recaps of the page are drawn, or cannot be.
const stills = async () => {
  for (const element of document.querySelectorAll("ply-diagram, ply-recap")) {
    await element.ready;
    for (let turn = 0; turn < 60 && !element.shadowRoot?.querySelector(':not(slot.still)'); turn += 1) {
      element.scrollIntoView({ behavior: "instant" });
      await painted();
    }
  }
  scrollTo({ top: 0, behavior: "instant" });
};

// The same for every lesson and question of the page.
const settled = async () => {
  await customElements.whenDefined("ply-line");
  if (document.querySelector("ply-quiz")) await customElements.whenDefined("ply-quiz");
  for (const element of document.querySelectorAll("ply-line, ply-quiz")) await drawn(element);
  scrollTo({ top: 0, behavior: "instant" });
};

// The codes of a lesson's findings, without hints.
const codes = (element) =>
  element.findings.filter(({ severity }) => severity !== "hint").map(({ code }) => code);

// What the picture of the board shows: a piece a line, as `picture` in tests/pages/board.rs writes it.
const picture = (id) =>
  all(".pieces > use", id)
    .map((piece) => ["href", "class", "x", "y"].map((name) => piece.getAttribute(name)).join(" "))
    .sort();
const coordinates = (id) => all("svg.board text", id).map((text) => text.textContent);

// What the polite region says, once it says this or no longer waits to say something.
const heard = async (wanted, id) => {
  const said = () => inside("[role=status]", id).textContent.trim();
  for (let turn = 0; turn < 100 && !said().includes(wanted); turn += 1) await pause(20);
  return said();
};
