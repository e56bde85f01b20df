// Run by browser.rs with the rights of Firefox itself, because geckodriver has no command for it:
// takes the console of the open page. What a page says to `console` is kept in the page's
// process, what the engine says of the page (errors, blocked by the policy) in this one.
const [, done] = arguments;
const { messageManager } = gBrowser.selectedBrowser;

const inPage = () => {
  const store = Cc["@mozilla.org/consoleAPI-storage;1"].getService(Ci.nsIConsoleAPIStorage);
  const said = store.getEvents().map(({ level, arguments: words, filename }) => ({
    level: ["error", "assert"].includes(level) ? "error" : level,
    text: `${filename} ${[...words].map(String).join(" ")}`,
    origin: filename,
  }));
  store.clearEvents();
  sendAsyncMessage("plyline-tests:said", said);
};

const fromEngine = () => {
  const found = [];
  for (const message of Services.console.getMessageArray()) {
    // Other messages are the browser's own.
    if (!(message instanceof Ci.nsIScriptError)) continue;
    const { sourceName, errorMessage, flags, category } = message;
    if (/^(?:chrome|resource|moz-extension):/.test(sourceName)) continue;
    const level = flags & Ci.nsIScriptError.warningFlag ? "warning" : flags & 8 ? "info" : "error";
    found.push({ level, text: `${sourceName} ${category}: ${errorMessage}` });
  }
  Services.console.reset();
  return found;
};

// The answer of the page's process comes after all that it has sent before.
messageManager.addMessageListener("plyline-tests:said", function take({ data }) {
  messageManager.removeMessageListener("plyline-tests:said", take);
  done([...data, ...fromEngine()]);
});
messageManager.loadFrameScript(`data:,(${encodeURIComponent(inPage)})()`, false);
