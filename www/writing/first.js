// What `plyline preview` puts first into a page: it takes the key from the address, before a script of
// the page's own can read it there, and loads the rest. The key is kept for this tab alone.

(() => {
  // The printed address may be opened where the page is open without a key.
  addEventListener("hashchange", () => take() && location.reload());
  take();
  import("/.plyline/writing/page.js");

  function take() {
    const [, key] = /^#([\w-]{43})$/.exec(location.hash) ?? [];
    if (!key) return false;
    sessionStorage.setItem("plyline-key", key);
    history.replaceState(history.state, "", location.pathname + location.search);
    return true;
  }
})();
