// Says once what the glue of wasm-bindgen says in each of its functions, and leaves out what a page
// never needs. The version of wasm-bindgen is fixed; what is not found as it was is an error.

/** The glue in fewer words. */
export function lean(glue) {
  let text = glue;
  const change = (from, to) => {
    const changed = text.replaceAll(from, to);
    if (changed === text) throw new Error(`the glue has no ${from}`);
    text = changed;
  };
  // An object of an instance that is gone.
  change(/^ +if \(this\.__wbg_inst !== undefined && [^}]+\}\n/gm, "live(this);\n");
  // Nothing schedules what this guards.
  change(/^ +__wbg_call_guard\(\);\n/gm, "");
  // A text for the core, or none: where it lies and how long it is.
  change(
    /^ +(?:var|const) ptr1 = (?:isLikeNone\(ret\) \? 0 : )?passStringToWasm0\(ret, .*\n.*\n +getDataViewMemory0.*\n +getDataViewMemory0.*\n/gm,
    "give(arg0, ret);\n",
  );
  // Every browser has these classes.
  change(/let result;\n +try \{\n +result = (.*);\n[^;]*;\n +\}\n +const ret = result;/g, "const ret = $1;");
  // A text as argument.
  change(/passStringToWasm0\((\w+), wasm\.[\w$]+, wasm\.[\w$]+\)/g, "pass($1)");
  // A text or none as answer.
  change(
    /let v(\d);\n +if \(ret\[0\] !== 0\) \{\n +v\1 = getStringFromWasm0\(ret\[0\], ret\[1\]\)(?:\.slice\(\))?;\n +wasm\.[\w$]+\(ret\[0\], ret\[1\] \* 1, 1\);\n +\}\n +return v\1;/g,
    "return taken(ret);",
  );
  const [, free] = /(wasm\.[\w$]+)\(ret\[0\], ret\[1\] \* 1, 1\)/.exec(glue);
  const [, malloc, realloc] = /passStringToWasm0\(\w+, (wasm\.[\w$]+), (wasm\.[\w$]+)\)/.exec(glue);
  return `${text}
function live(it) {
  if (it.__wbg_inst !== undefined && it.__wbg_inst !== __wbg_instance_id) {
    throw new Error("Invalid stale object from previous Wasm instance");
  }
}
function pass(text) {
  return passStringToWasm0(text, ${malloc}, ${realloc});
}
function give(at, text) {
  const start = isLikeNone(text) ? 0 : pass(text);
  getDataViewMemory0().setInt32((at >>> 0) + 4, WASM_VECTOR_LEN, true);
  getDataViewMemory0().setInt32(at >>> 0, start, true);
}
function taken([start, length]) {
  if (!start) return;
  const text = getStringFromWasm0(start, length);
  ${free}(start, length, 1);
  return text;
}
/** Starts the core that a module holds; the glue's own way can fetch it too, which is never done. */
export async function start(module) {
  __wbg_finalize_init(await WebAssembly.instantiate(module, __wbg_get_imports()), module);
}
`;
}
