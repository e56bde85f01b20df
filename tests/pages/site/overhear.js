// Loaded before everything else for an engine whose driver does not give its console:
// writes down what would be there, as far as a script can know it, in the outermost page.
(() => {
  let said = [];
  try {
    said = top.plylineSaid ??= said;
  } catch {
    // A frame without access to the outside keeps it to itself.
  }
  globalThis.plylineSaid = said;
  for (const level of ["error", "warn", "info", "log"]) {
    const say = console[level];
    console[level] = (...words) => {
      said.push([level, words.map(String).join(" ")]);
      say.apply(console, words);
    };
  }
  addEventListener("unhandledrejection", ({ reason }) => said.push(["error", `not handled: ${reason}`]));
  addEventListener("securitypolicyviolation", ({ violatedDirective, blockedURI }) =>
    said.push(["error", `Content Security Policy: ${violatedDirective} blocks ${blockedURI}`]),
  );
  // In the first phase, because what an element could not load is not passed up.
  const onError = ({ message, error, target }) =>
    said.push(["error", message ? `${message} ${error?.stack ?? ""}` : `not loaded: ${target.src ?? target.href}`]);
  addEventListener("error", onError, true);
})();
