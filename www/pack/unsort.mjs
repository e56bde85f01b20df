// Puts the core together again, in the page and, as a check, in the build.

// Where in the memory of `unsort.rs`: the output of `sort.mjs`, the core, and working memory.
const SORTED = 2 ** 16;
const CORE = 2 ** 21;
const WORK = 2 ** 22;

/** The core, from the length of everything before the sorted core, the module that puts it together, and the sorted core. */
export async function unsorted(packed) {
  const [size] = new Uint32Array(packed.buffer, 0, 1);
  const { instance } = await WebAssembly.instantiate(packed.subarray(4, size));
  const { memory, unsort } = instance.exports;
  new Uint8Array(memory.buffer).set(packed.subarray(size), SORTED);
  return new Uint8Array(memory.buffer, CORE, unsort(SORTED, CORE, WORK));
}
