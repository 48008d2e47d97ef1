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
