// Asks the program that serves the page. Every request carries the key of this tab.

const key = () => sessionStorage.getItem("plyline-key");

/** Whether this tab was opened by the printed address, or from a page that was. */
export const hasKey = () => Boolean(key());

/** What the program refuses, with a reason and a way out. */
export class Refused extends Error {
  constructor({ code, reason, help, ...more }) {
    super(reason);
    Object.assign(this, { code, help: help ?? "", more });
  }
}

/** The program does not answer. */
export class Gone extends Error {
  constructor() {
    super("plyline preview does not answer");
    this.help = `what you type stays in this tab; start plyline preview again with --port ${location.port}, and open here the address that it prints`;
  }
}

/**
 * Asks for something: an object.
 * @throws {Refused} with the program's reason
 * @throws {Gone} where nothing answers
 */
export async function ask(what, given = {}, { last = false } = {}) {
  const sent = {
    method: "POST",
    cache: "no-store",
    keepalive: last, // the page is being left
    headers: { "content-type": "application/json", "plyline-key": key() ?? "" },
    body: JSON.stringify(given),
  };
  const answer = await fetch(`/.plyline/${what}`, sent).catch(() => {
    throw new Gone();
  });
  if (answer.ok) return answer.json();
  if (answer.status === 409) throw new Refused(await answer.json());
  const reason = (await answer.text()).trim();
  throw new Refused({ code: "access", reason, help: "open the address that plyline preview has printed in this tab" });
}
