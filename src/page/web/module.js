// The engine, unpacked and compiled once, when it is first wanted: the page and its workers share it.
const packedEngine = () => document.getElementById('engine').textContent.trim();
let compiled = null;
const engineModule = () => compiled ||= (async () => {
  if (typeof WebAssembly !== 'object' || !self.DecompressionStream)
    throw new Error('this browser is too old for its engine, one of 2023 or later is wanted');
  const packed = Uint8Array.from(atob(packedEngine()), c => c.charCodeAt(0));
  const unpacked = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
  return WebAssembly.compile(await new Response(unpacked).arrayBuffer());
})();
// An engine of that module, as what it exports and `text(at)`, which reads what ends in 0. Page and workers
// open it alike: the function is sent there as text. `progress` is told what is being done.
const openModule = async (module, progress) => {
  let engine = null;
  const imports = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module))
    (imports[from] ||= {})[name] = () => 0;  // only asked for when something has gone wrong
  const text = at => {
    const all = new Uint8Array(engine.memory.buffer, at);
    return new TextDecoder().decode(all.slice(0, all.indexOf(0)));
  };
  imports.env.page_progress = (phase, share) => progress?.(text(phase), share);
  imports.wasi_snapshot_preview1.clock_time_get = (clock, precision, at) => {
    new DataView(engine.memory.buffer).setBigUint64(at, BigInt(Math.round(performance.now() * 1e6)), true);
    return 0;
  };
  engine = (await WebAssembly.instantiate(module, imports)).exports;
  engine._initialize();
  return {...engine, text};
};
