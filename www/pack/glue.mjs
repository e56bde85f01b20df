// Takes out of the glue that wasm-bindgen writes what no page of ours can use. Each part must be found in the glue of the
// page's core, so that another version of wasm-bindgen that writes otherwise is noticed; smaller cores lack some.

const OURS = `function __ours({ __wbg_inst }) {
  if (__wbg_inst !== __wbg_instance_id) throw new Error("an object from before the script started again");
}
`;

const PARTS = [
  // Guards for a second start that is scheduled after a panic: ours end in a trap, and the page starts the core again.
  [/^ *__wbg_call_guard\(\);\n/gm, ""],
  [/^function __wbg_call_guard\(\) \{\n.*?^\}\n/ms, ""],
  // Every engine that has what the script needs has these too.
  [/\(typeof FinalizationRegistry === 'undefined'\)\s*\? \{ register: \(\) => \{\}, unregister: \(\) => \{\} \}\s*: /g, ""],
  [/^if \(!\('encodeInto' in cachedTextEncoder\)\) \{\n.*?^\}\n/ms, ""],
  // A memory that has grown has another buffer in every engine.
  [
    "cachedDataViewMemory0 === null || cachedDataViewMemory0.buffer.detached === true || (cachedDataViewMemory0.buffer.detached === undefined && cachedDataViewMemory0.buffer !== wasm.memory.buffer)",
    "cachedDataViewMemory0?.buffer !== wasm.memory.buffer",
  ],
  // Only what a page keeps over a new start is of another instance: said in one place and not in each of forty methods.
  [
    /if \(this\.__wbg_inst !== undefined && this\.__wbg_inst !== __wbg_instance_id\) \{\s*throw new Error\(([^)]*)\);\s*\}/g,
    "__ours(this);",
  ],
  // By its name and not by a string, which esbuild would leave as it is when it shortens the name.
  [/Object\.defineProperty\(obj, '__wbg_inst', \{ value: __wbg_instance_id, writable: true \}\);/g, "obj.__wbg_inst = __wbg_instance_id;"],
  ["let __wbg_instance_id = 0;\n", (line) => `${line}${OURS}`],
  // One decoder of Safari reads 2 GB, which no page's texts come near.
  [/^const MAX_SAFARI_DECODE_BYTES = .*?(?=    return cachedTextDecoder\.decode\(bytes\);)/ms, "function decodeText(bytes) {\n"],
  ["    if (typeof numBytesDecoded !== 'undefined') numBytesDecoded = 0;\n", ""],
  // They are there, because this is in the same file.
  [/if \(typeof \w+ !== 'undefined'\) (?=\w+ = 0;)/g, ""],
];

/** The glue without them. */
export function trimmed(glue, hasAll) {
  return PARTS.reduce((rest, [part, instead]) => {
    const without = rest.replace(part, instead);
    if (hasAll && without === rest) throw new Error(`wasm-bindgen no longer writes ${part}; see www/pack/glue.mjs`);
    return without;
  }, glue);
}
