// Loaded before plyline.js: counts the cores that the page compiles and the instances that it makes of
// them, but not the module that puts a core together, which has no imports; keeps the memory of the
// last; and makes the next call of an import trap once `trap.armed` is set.
// The trap is a real one: a module of 36 bytes whose one function, "boom", is the instruction
// `unreachable`, so a RuntimeError goes through plyline's own frames as it would if the core
// itself had trapped.
globalThis.trap = { armed: false, compiled: 0, made: 0 };
const { Module, Instance, compile, instantiate } = WebAssembly;
const { boom } = new Instance(
  new Module(
    new Uint8Array([
      0, 97, 115, 109, 1, 0, 0, 0, // magic, version
      1, 4, 1, 96, 0, 0, // one type: nothing to nothing
      3, 2, 1, 0, // one function of it
      7, 8, 1, 4, 98, 111, 111, 109, 0, 0, // exported as "boom"
      10, 5, 1, 3, 0, 0, 11, // unreachable, end
    ]),
  ),
).exports;

const wrapped = (imports) => {
  trap.made += 1;
  const wrap = ([name, value]) => {
    // By what it does, because the build gives it another name.
    if (!String(value).includes("setAttribute")) return [name, value];
    return [
      name,
      (...given) => {
        if (trap.armed) {
          trap.armed = false;
          boom();
        }
        return value(...given);
      },
    ];
  };
  const modules = Object.entries(imports).map(([name, module]) => [
    name,
    Object.fromEntries(Object.entries(module).map(wrap)),
  ]);
  return Object.fromEntries(modules);
};

// New nodes are made in one call of the core, within which this is called.
const { createElementNS } = Document.prototype;
Document.prototype.createElementNS = function (...given) {
  if (trap.armed) {
    trap.armed = false;
    boom();
  }
  return createElementNS.apply(this, given);
};

WebAssembly.compile = (bytes) => {
  trap.compiled += 1;
  return compile(bytes);
};
const noted = (instance) => {
  trap.memory = Object.values(instance.exports).find((value) => value instanceof WebAssembly.Memory);
  return instance;
};
WebAssembly.instantiate = async (module, imports) =>
  imports ? noted(await instantiate(module, wrapped(imports))) : instantiate(module);
WebAssembly.Instance = new Proxy(Instance, {
  construct: (Made, [module, imports]) => noted(new Made(module, wrapped(imports))),
});
