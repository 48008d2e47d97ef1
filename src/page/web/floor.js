// The floor from above, to scale. What stands in it follows pointer and keys; letting go writes it.
const svgElement = (tag, set = {}, ...inside) => {
  const e = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [key, value] of Object.entries(set)) e.setAttribute(key, value);
  e.append(...inside);
  return e;
};
const places = n => Number((100 * n).toFixed(1));  // drawn in centimetres: letters of a fifth of a unit are no letters to a browser

// What can be moved: its name, its corners or its middle, and the lines that it stands in.
const movable = (kind, n, thing) => {
  const path = `${{seat: 'seat', sub: 'sub', free: 'keep_out'}[kind]}[${n}]`;
  if (kind === 'seat') return {path, x: thing.at[0], y: thing.at[1], edits: (dx, dy) => [[`${path}.at[0]`, thing.at[0] + dx], [`${path}.at[1]`, thing.at[1] + dy]]};
  const [x0, y0] = thing.from, [x1, y1] = thing.to;
  if (kind === 'free') return {path, x: x0, y: y0, x1, y1, edits: (dx, dy) => [[`${path}.from[0]`, x0 + dx], [`${path}.from[1]`, y0 + dy], [`${path}.to[0]`, x1 + dx], [`${path}.to[1]`, y1 + dy]]};
  // What the file has is the middle of its box or of its cone: either moves by as much.
  return {path, x: x0, y: y0, x1, y1, edits: (dx, dy) => [dx, dy].map((d, i) => [`${path}.${thing.key}[${i}]`, thing.written[i] + d])};
};

let held = null;  // the path of what has the keys
function showFloor() {
  const f = state.floor;
  if (!f || state.faults.length) return;  // the last floor that could be read stays
  const pad = 0.15, size = Math.max(f.width, f.length) / 26;
  const svg = svgElement('svg', {viewBox: [-pad, -pad, f.width + 2 * pad, f.length + 2 * pad].map(places).join(' '), role: 'group', 'aria-label': 'The floor from above, front wall at the top'});
  svg.append(svgElement('polygon', {class: 'wall', points: f.outline.map(c => c.map(places).join(',')).join(' ')}));
  const box = (c, {from, to}) => svgElement('rect', {class: c, x: places(from[0]), y: places(from[1]), width: Math.max(1, places(to[0] - from[0])), height: Math.max(1, places(to[1] - from[1]))});
  const words = (text, x, y, from = 'middle') => { const t = svgElement('text', {x: places(x), y: places(y), 'font-size': places(size * 0.85), 'text-anchor': from}); t.textContent = text; return t; };
  for (const thing of f.things) svg.append(box('thing', thing));
  for (const o of f.openings) svg.append(box('thing', {from: [o.from[0] - 0.04, o.from[1] - 0.04], to: [o.to[0] + 0.04, o.to[1] + 0.04]}));
  f.keep_outs.forEach((k, n) => handle('free', n, k, [box('free', k), words(k.name, (k.from[0] + k.to[0]) / 2, (k.from[1] + k.to[1]) / 2)]));
  f.subs.forEach((b, n) => handle('sub', n, b, [box('sub', b), words(b.name, b.from[0] + b.to[0] < f.width ? b.from[0] : b.to[0], b.to[1] + size > f.length ? b.from[1] - 0.4 * size : b.to[1] + size, b.from[0] + b.to[0] < f.width ? 'start' : 'end')]));
  f.seats.forEach((s, n) => handle('seat', n, s, [svgElement('circle', {class: 'seat', cx: places(s.at[0]), cy: places(s.at[1]), r: places(size * 0.8)}), words(s.name, s.at[0], s.at[1] + 1.9 * size)]));

  function handle(kind, n, thing, drawn) {
    const what = movable(kind, n, thing);
    const g = svgElement('g', {tabindex: 0, role: 'button', 'data-held': what.path, 'aria-label': `${{seat: 'Seat', sub: 'Box', free: 'Kept free'}[kind]} ${thing.name}: ${what.x.toFixed(2)} m from the left, ${what.y.toFixed(2)} m from the front. Arrow keys move it.`}, ...drawn);
    let start = null, moved = [0, 0], timer = null;
    const metres = event => { const m = svg.getScreenCTM().inverse(); const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(m); return {x: p.x / 100, y: p.y / 100}; };
    const move = (dx, dy) => {
      const x1 = what.x1 ?? what.x, y1 = what.y1 ?? what.y;
      moved = [Math.min(f.width - x1, Math.max(-what.x, dx)), Math.min(f.length - y1, Math.max(-what.y, dy))].map(v => Math.round(v * 100) / 100);
      g.setAttribute('transform', `translate(${places(moved[0])} ${places(moved[1])})`);
    };
    const settle = async () => {
      if (!moved[0] && !moved[1]) return;
      held = what.path;
      const by = moved;
      moved = [0, 0];
      await edit(what.edits(...by).map(([path, metres]) => ({path, metres: Math.round(metres * 1000) / 1000})));
    };
    g.addEventListener('pointerdown', event => { if (event.button) return; event.preventDefault(); g.focus(); g.setPointerCapture(event.pointerId); start = metres(event); });
    g.addEventListener('pointermove', event => { if (!start) return; const at = metres(event); move(at.x - start.x, at.y - start.y); });
    g.addEventListener('pointerup', () => { start = null; settle(); });
    g.addEventListener('pointercancel', () => { start = null; move(0, 0); });
    g.addEventListener('keydown', event => {
      const way = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]}[event.key];
      if (!way) return;
      event.preventDefault();
      const step = event.shiftKey ? 0.01 : 0.1;
      move(moved[0] + way[0] * step, moved[1] + way[1] * step);
      clearTimeout(timer);
      timer = setTimeout(settle, 350);
    });
    svg.append(g);
  }
  const focused = document.activeElement?.dataset?.held || held;
  const had = $('floor').contains(document.activeElement) || held;
  $('floor').replaceChildren(svg);
  if (had && focused) svg.querySelector(`[data-held="${CSS.escape(focused)}"]`)?.focus({preventScroll: true});
  held = null;
}
