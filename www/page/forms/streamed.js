// The core as a file beside the modules, which the browser compiles while it comes: on a slow processor a lesson is
// drawn in half the time that the packed one takes (tests/bench/load.mjs).

const inPacked = async () => (await import("./plyline-packed.mjs")).compiled();

/** A promise of the core's module. Where that file cannot be had, or is no wasm, the packed one is loaded. */
export const compiled = () => streamed().catch(inPacked);

async function streamed() {
  const file = new URL("plyline-core.wasm", import.meta.url);
  // As a `<link rel="preload" as="fetch">` of the page asks for it: WebKit would fetch it twice for any other mode.
  const isOwn = file.origin === globalThis.location?.origin;
  const answer = await fetch(file, isOwn ? { mode: "no-cors", credentials: "include" } : {});
  // Under another type no engine compiles what streams.
  if (answer.headers.get("content-type") === "application/wasm") return WebAssembly.compileStreaming(answer);
  return WebAssembly.compile(await answer.arrayBuffer());
}
