// The floor from above, to scale, as the file's text has it. Whatever stands there follows pointer and
// keys in one way: a move is new values for some lines, shown at once and written when it is let go.
const svgElement = (tag, set = {}, ...inside) => {
  const e = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [key, value] of Object.entries(set)) e.setAttribute(key, value);
  e.append(...inside);
  return e;
};
const places = n => Number((100 * n).toFixed(1));  // drawn in centimetres: letters of a fifth of a unit are no letters to a browser
const onGrid = v => { const step = inFeet() ? 0.0127 : 0.01; return Math.round(v / step) * step; };
const clamp = (v, low, high) => Math.min(high, Math.max(low, v));

// Cuboids and rectangles of the file: where they stand, and their lines.
function piecesOf(key) {
  return tablesAt(key).map((table, n) => {
    const path = `${key}[${n}]`, from = placeAt(`${path}.from`), to = placeAt(`${path}.to`);
    return from && to && {path, key, name: String(table.name ?? ''), from, to, table};
  }).filter(Boolean);
}
function subsOf() {
  return (state.floor?.subs || []).map((sub, n) => {
    const path = `sub[${n}].${sub.key}`, at = placeAt(path) || sub.written, by = at.map((v, i) => v - sub.written[i]);
    return {path: `sub[${n}]`, at: path, key: 'sub', name: sub.name, from: sub.from.map((v, i) => v + by[i]), to: sub.to.map((v, i) => v + by[i])};
  });
}

// How each kind moves: (dx, dy) to [path, metres] pairs.
const shifted = (paths, dx, dy) => {
  const by = [dx, dy].map((d, k) => onGrid(lengthAt(`${paths[0]}[${k}]`) + d) - lengthAt(`${paths[0]}[${k}]`));
  return paths.flatMap(path => [0, 1].map(k => [`${path}[${k}]`, lengthAt(`${path}[${k}]`) + by[k]]));
};
const within = (piece, room, dx, dy) => [clamp(dx, -piece.from[0], Math.max(-piece.from[0], room.width - piece.to[0])), clamp(dy, -piece.from[1], Math.max(-piece.from[1], room.length - piece.to[1]))];
const movePiece = (piece, room) => (dx, dy) => shifted([`${piece.path}.from`, `${piece.path}.to`], ...piece.key === 'keep_out' ? within(piece, room, dx, dy) : [dx, dy]);
const sizePiece = piece => (dx, dy) => [0, 1].map(i => [`${piece.path}.to[${i}]`, Math.max(piece.from[i] + 0.05, onGrid(piece.to[i] + [dx, dy][i]))]);

// An opening slides along its wall; without a room behind it also to another wall.
const flatAxis = piece => [0, 1, 2].find(i => alike(piece.from[i], piece.to[i]));
const wallOf = (piece, outline) => {
  const flat = flatAxis(piece), along = 1 - flat;
  return flat > 1 || flat === undefined ? undefined : edgesOf(outline).find(({a, b}) => alike(a[flat], b[flat]) && alike(a[flat], piece.from[flat])
    && piece.from[along] >= Math.min(a[along], b[along]) - 1e-6 && piece.to[along] <= Math.max(a[along], b[along]) + 1e-6);
};
function openingOn(piece, {a, b}, middle) {
  const flat = alike(a[0], b[0]) ? 0 : 1, along = 1 - flat, low = Math.min(a[along], b[along]), high = Math.max(a[along], b[along]);
  const own = flatAxis(piece), wide = Math.min(own === flat ? piece.to[along] - piece.from[along] : piece.to[1 - own] - piece.from[1 - own], high - low);
  const begin = onGrid(clamp(middle[along] - wide / 2, low, high - wide));
  return [[`${piece.path}.from[${flat}]`, a[flat]], [`${piece.path}.to[${flat}]`, a[flat]], [`${piece.path}.from[${along}]`, begin], [`${piece.path}.to[${along}]`, begin + wide]];
}
const moveOpening = (piece, outline) => (dx, dy) => {
  const flat = flatAxis(piece), middle = [(piece.from[0] + piece.to[0]) / 2 + dx, (piece.from[1] + piece.to[1]) / 2 + dy];
  if (flat === 2 || flat === undefined) return shifted([`${piece.path}.from`, `${piece.path}.to`], dx, dy);
  const own = wallOf(piece, outline);
  const straight = edgesOf(outline).filter(({a, b}) => alike(a[0], b[0]) || alike(a[1], b[1]));
  const far = ({a, b}) => Math.hypot(...[0, 1].map(i => middle[i] - clamp(middle[i], Math.min(a[i], b[i]), Math.max(a[i], b[i])))) + (a === own?.a ? -0.3 : 0);
  const edge = piece.table.space && own ? own : straight.sort((p, q) => far(p) - far(q))[0];
  return edge ? openingOn(piece, edge, middle) : [];
};

// A corner: the walls that meet there stay along the axes, so the next corners follow, unless it is alone.
// What opens in a wall that moves goes with it, and the room behind.
const moveCorner = (i, outline) => (dx, dy, alone) => {
  const to = outline.map(c => [...c]), c = outline[i], n = outline.length, at = [onGrid(c[0] + dx), onGrid(c[1] + dy)];
  if (!alone || !valueAt('room.floor_plan'))
    for (const j of [(i + n - 1) % n, (i + 1) % n]) for (const k of [0, 1]) if (alike(outline[j][k], c[k])) to[j][k] = at[k];
  to[i] = at;
  const values = new Map(valueAt('room.floor_plan') ? to.flatMap((p, j) => p.map((v, k) => [`room.floor_plan[${j}][${k}]`, v])) : [['outline', to]]);
  for (const piece of piecesOf('opening')) {
    const edge = wallOf(piece, outline), flat = flatAxis(piece);
    if (!edge || !alike(to[edge.n][flat], to[(edge.n + 1) % n][flat])) continue;
    const by = to[edge.n][flat] - edge.a[flat];
    if (!by) continue;
    const behind = piecesOf('space').filter(space => space.name && space.name === piece.table.space);
    for (const one of [piece, ...behind]) for (const end of ['from', 'to']) values.set(`${one.path}.${end}[${flat}]`, one[end][flat] + by);
  }
  return [...values];
};
// Rooms are counted from their leftmost and frontmost wall: when that has moved, all else is counted anew.
function counted(moved) {
  state.moved = moved;
  const outline = outlineNow(), low = outline ? [0, 1].map(k => Math.min(...outline.map(c => c[k]))) : [0, 0];
  const out = new Map(moved);
  if (outline && !alike(low[0], 0) || outline && !alike(low[1], 0)) {
    const paths = ['keep_out', 'block', 'space', 'opening'].flatMap(key => piecesOf(key).flatMap(p => [`${p.path}.from`, `${p.path}.to`]));
    for (const key of ['seat', 'sub', 'recording']) tablesAt(key).forEach((t, n) => ['at', 'box_at'].forEach(k => placeAt(`${key}[${n}].${k}`) && paths.push(`${key}[${n}].${k}`)));
    if (valueAt('room.floor_plan')) outline.forEach((c, i) => paths.push(`room.floor_plan[${i}]`));
    for (const path of paths) [0, 1].forEach(k => out.set(`${path}[${k}]`, lengthAt(`${path}[${k}]`) - low[k]));
  }
  if (out.delete('outline')) [0, 1].forEach(k => out.set(['room.width', 'room.length'][k], Math.max(...outline.map(c => c[k])) - low[k]));
  state.moved = null;
  return [...out].filter(([path, v]) => !alike(v, lengthAt(path))).map(([path, metres]) => ({path, metres: Math.round(metres * 1e5) / 1e5}));
}

// All that can be moved, from the ground up.
const spoken = ([x, y]) => `${lengthText(x)} from the left, ${lengthText(y)} from the front`;
function movables(outline) {
  const room = {width: Math.max(...outline.map(c => c[0])), length: Math.max(...outline.map(c => c[1]))}, all = [];
  const piece = (kind, p, move) => all.push({...p, kind, move, say: `${kind} ${p.name}: from ${spoken(p.from)}.`});
  piecesOf('space').forEach(p => piece('Room next door', p, movePiece(p, room)));
  piecesOf('keep_out').forEach(p => piece('Kept free', p, movePiece(p, room)));
  piecesOf('block').forEach(p => piece('Solid piece', p, movePiece(p, room)));
  piecesOf('opening').forEach(p => piece('Opening', p, moveOpening(p, outline)));
  subsOf().forEach(p => piece('Box', p, (dx, dy) => shifted([p.at], ...within(p, room, dx, dy))));
  tablesAt('seat').forEach((seat, n) => {
    const at = placeAt(`seat[${n}].at`), point = at && {from: at, to: at};
    if (at) all.push({path: `seat[${n}]`, kind: 'Seat', key: 'seat', name: String(seat.name ?? ''), ...point, say: `Seat ${seat.name ?? n + 1}: ${spoken(at)}.`, move: (dx, dy) => shifted([`seat[${n}].at`], ...within(point, room, dx, dy))});
  });
  outline.forEach((c, i) => all.push({path: `corner[${i}]`, kind: 'Corner', key: 'corner', name: String(i + 1), from: c, to: c, say: `Corner ${i + 1}: ${spoken(c)}.`, move: moveCorner(i, outline)}));
  // What is chosen and has sides can be sized at its far corner.
  const sized = all.find(p => p.path === floor.chosen && ['keep_out', 'block', 'space'].includes(p.key));
  if (sized) all.push({path: `${sized.path}.size`, kind: 'Size', key: 'size', name: '', from: sized.to, to: sized.to, say: `Far corner of ${sized.name}: ${spoken(sized.to)}.`, move: sizePiece(sized)});
  return all;
}

const floor = {svg: null, groups: new Map(), chosen: null, base: [], held: null, timer: 0, writing: null};
function moveBy(dx, dy, alone) {
  floor.held.by = [dx, dy];
  state.moved = null;
  const pairs = floor.held.thing.move(dx, dy, alone).map(([path, v]) => [path, typeof v === 'number' ? Math.round(v * 1e5) / 1e5 : v]);
  state.moved = new Map(pairs);
  drawFloor();
}
// Writes what was moved; what the keys ask for meanwhile comes after it.
async function letGo() {
  clearTimeout(floor.timer);
  const moved = state.moved;
  if (!floor.held || !moved) return void (floor.held = null);
  floor.held = null;
  const edits = counted(moved);
  state.moved = moved;  // stays to be seen until it is written
  floor.writing = edits.length ? edit(edits) : Promise.resolve();
  await floor.writing;
  floor.writing = null;
  if (!floor.held) state.moved = null;
  drawFloor();
}
function hold(path) {
  state.moved = null;
  const thing = movables(outlineNow() || []).find(one => one.path === path);
  floor.held = thing ? {thing, by: [0, 0]} : null;
  return floor.held;
}
async function keyed(path, event) {
  const way = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]}[event.key];
  if (!way) return;
  event.preventDefault();
  const corner = path.startsWith('corner'), step = event.shiftKey && !corner ? (inFeet() ? 0.0127 : 0.01) : inFeet() ? 0.0762 : 0.1;
  if (floor.writing) await floor.writing;
  if (floor.held?.thing.path !== path) { await letGo(); if (!hold(path)) return; }
  const [x, y] = floor.held.by;
  moveBy(x + way[0] * step, y + way[1] * step, event.shiftKey);
  clearTimeout(floor.timer);
  floor.timer = setTimeout(letGo, 350);
}
const metresAt = event => { const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(floor.svg.getScreenCTM().inverse()); return [p.x / 100, p.y / 100]; };
// What a pointer means: of all within reach the smallest, and of those the nearest.
function meant(at) {
  const least = reachNow(), off = (p, k) => Math.abs(at[k] - (p.from[k] + p.to[k]) / 2);
  const size = p => (p.to[0] - p.from[0]) * (p.to[1] - p.from[1]), far = p => Math.hypot(off(p, 0), off(p, 1));
  return floor.base.filter(p => [0, 1].every(k => off(p, k) <= Math.max(least, p.to[k] - p.from[k]) / 2 + 1e-6)).sort((p, q) => size(p) - size(q) || far(p) - far(q))[0];
}
// 24 pixels for a mouse, 44 for a finger, in metres of the room.
const reachNow = () => (matchMedia('(pointer: coarse)').matches ? 44 : 24) / 100 / (floor.svg?.getScreenCTM()?.a || 1);

function pointing(svg) {
  let start = null;
  svg.addEventListener('pointerdown', async event => {
    if (event.button) return;
    const at = metresAt(event), thing = meant(at);
    if (!thing) return;
    event.preventDefault();
    svg.setPointerCapture(event.pointerId);
    start = {at, path: thing.path};
    if (floor.held) await letGo();
    if (floor.writing) await floor.writing;
    floor.groups.get(thing.path)?.focus({preventScroll: true});
  });
  svg.addEventListener('pointermove', event => {
    if (!start || floor.writing || floor.held?.thing.path !== start.path && !hold(start.path)) return;
    const at = metresAt(event);
    moveBy(at[0] - start.at[0], at[1] - start.at[1], event.shiftKey);
  });
  svg.addEventListener('pointerup', () => { if (start) { start = null; letGo(); } });
  svg.addEventListener('pointercancel', () => { start = null; floor.held = null; state.moved = null; drawFloor(); });
  svg.addEventListener('keydown', event => { const path = event.target.dataset?.held; if (path) keyed(path, event); });
  svg.addEventListener('focusin', event => { const path = event.target.dataset?.held; if (path && !path.endsWith('.size') && floor.chosen !== path) { floor.chosen = path; drawFloor(); } });
}

function drawn(thing, size, room) {
  const {from, to, key, name} = thing, middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], reach = reachNow();
  const rect = (c, x, y, w, h, more = {}) => svgElement('rect', {class: c, x: places(x), y: places(y), width: Math.max(1, places(w)), height: Math.max(1, places(h)), ...more});
  const words = (text, x, y, anchor = 'middle', scale = 0.85) => { const t = svgElement('text', {x: places(x), y: places(y), 'font-size': places(size * scale), 'text-anchor': anchor}); t.textContent = text; return t; };
  const w = Math.max(reach, to[0] - from[0]), l = Math.max(reach, to[1] - from[1]);
  const out = [rect('hit', middle[0] - w / 2, middle[1] - l / 2, w, l)];
  if (key === 'seat') out.push(svgElement('circle', {class: 'seat', cx: places(from[0]), cy: places(from[1]), r: places(size * 0.8)}), words(name, from[0], from[1] + 1.9 * size));
  else if (key === 'corner') out.push(svgElement('circle', {class: 'corner', cx: places(from[0]), cy: places(from[1]), r: places(size * 0.5)}), words(name, from[0], from[1] + 0.25 * size, 'middle', 0.7));
  else if (key === 'size') out.push(rect('corner', from[0] - size * 0.35, from[1] - size * 0.35, size * 0.7, size * 0.7));
  else if (key === 'opening') {
    const thick = 0.05, flat = flatAxis(thing), by = [0, 1].map(k => flat === k ? thick : 0);
    out.push(rect(`opening ${thing.table.state === 'shut' ? 'shut' : ''}`, from[0] - by[0], from[1] - by[1], to[0] - from[0] + 2 * by[0], to[1] - from[1] + 2 * by[1]));
  } else if (key === 'sub') {
    const left = from[0] + to[0] < room.width;
    out.push(rect('sub', from[0], from[1], to[0] - from[0], to[1] - from[1]), words(name, left ? from[0] : to[0], to[1] + size > room.length ? from[1] - 0.4 * size : to[1] + size, left ? 'start' : 'end'));
  } else {
    const seen = key === 'space' ? [clamp(middle[0], -0.1 * size, room.width), clamp(middle[1], -0.1 * size, room.length)] : middle;
    out.push(rect({keep_out: 'free', block: 'thing', space: 'space'}[key], from[0], from[1], to[0] - from[0], to[1] - from[1]));
    if (key !== 'space') out.push(words(name, ...seen));
  }
  return out;
}

function drawFloor() {
  const outline = outlineNow();
  if (!outline) return;  // the last floor that could be read stays
  const room = {width: Math.max(...outline.map(c => c[0])), length: Math.max(...outline.map(c => c[1]))};
  floor.base = movables(outline);
  if (!floor.svg) {
    floor.svg = svgElement('svg', {role: 'group', 'aria-label': 'The floor from above, front wall at the top'});
    floor.wall = svgElement('polygon', {class: 'wall'});
    floor.svg.append(floor.wall);
    pointing(floor.svg);
    $('floor').replaceChildren(floor.svg);
    new ResizeObserver(() => drawFloor()).observe(floor.svg);
  }
  const pad = piecesOf('space').length ? 0.6 : 0.3;
  if (!floor.held) floor.svg.setAttribute('viewBox', [-pad, -pad, room.width + 2 * pad, room.length + 2 * pad].map(places).join(' '));
  floor.wall.setAttribute('points', outline.map(c => c.map(places).join(',')).join(' '));
  const size = Math.max(room.width, room.length) / 26, seen = new Set();
  floor.base.forEach((thing, n) => {
    seen.add(thing.path);
    let g = floor.groups.get(thing.path);
    if (!g) {
      g = svgElement('g', {tabindex: 0, role: 'button', 'data-held': thing.path});
      floor.groups.set(thing.path, g);
    }
    const next = floor.svg.children[n + 1];  // the walls are the first
    if (next !== g) floor.svg.insertBefore(g, next || null);
    g.setAttribute('aria-label', `${thing.say} Arrow keys ${thing.key === 'size' ? 'size' : 'move'} it.`);
    g.setAttribute('class', thing.path === floor.chosen ? 'chosen' : '');
    g.replaceChildren(...drawn(thing, size, room));
  });
  for (const [path, g] of floor.groups) if (!seen.has(path)) { g.remove(); floor.groups.delete(path); }
}
const showFloor = () => { if (!floor.held) drawFloor(); };
