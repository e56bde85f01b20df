// In the place of streamed.js for what `import "plyline"` loads: bundlers have to be told of files that are no modules, each in
// its own way, and Node fetches none from disk.

/** A promise of the core's module. */
export const compiled = async () => (await import("./plyline-packed.mjs")).compiled();
