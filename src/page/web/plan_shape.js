// The shape of the floor as lines of the room file: a rectangle by its sides, all else by its corners and
// the walls between them. What is there already keeps its words; what does not count any more gets a #.
const lengthAt = path => state.moved?.get(path) ?? state.look?.lengths?.[path];
const tablesAt = key => { const all = valueAt(key); return Array.isArray(all) ? all.filter(one => one && typeof one === 'object') : []; };
const placeAt = (path, n = 2) => { const all = [...Array(n).keys()].map(i => lengthAt(`${path}[${i}]`)); return all.includes(undefined) ? null : all; };
const inFeet = () => /ft|in|['"]/.test(String(valueAt('room.height')));
const lengthText = metres => {
  if (!inFeet()) return `${metres.toFixed(2)} m`;
  const halves = Math.round(Math.abs(metres) / 0.0127), feet = Math.floor(halves / 24), inches = (halves - 24 * feet) / 2;
  return `${metres < 0 ? '-' : ''}${feet && inches ? `${feet} ft ${inches} in` : feet ? `${feet} ft` : `${inches} in`}`;
};
const placeText = all => `[${all.map(v => JSON.stringify(lengthText(v))).join(', ')}]`;
// A value of the document as TOML, in one line.
const tomlText = value => Array.isArray(value) ? `[${value.map(tomlText).join(', ')}]`
  : value && typeof value === 'object' ? `{ ${Object.entries(value).map(([k, v]) => `${/^[\w-]+$/.test(k) ? k : JSON.stringify(k)} = ${tomlText(v)}`).join(', ')} }`
  : typeof value === 'string' ? JSON.stringify(value).replace(/\x7f/g, '\\u007f') : String(value);

// The corners [m] going round, or null where a length cannot be read.
function outlineNow() {
  const corners = valueAt('room.floor_plan');
  if (Array.isArray(corners)) {
    const all = corners.map((c, i) => placeAt(`room.floor_plan[${i}]`));
    return all.length > 2 && all.length <= 200 && all.every(Boolean) ? all : null;
  }
  const w = lengthAt('room.width'), l = lengthAt('room.length');
  return w > 0 && l > 0 ? state.moved?.get('outline') || [[0, 0], [w, 0], [w, l], [0, l]] : null;
}
const alike = (a, b) => Math.abs(a - b) < 1e-6;
const edgesOf = outline => outline.map((a, i) => ({a, b: outline[(i + 1) % outline.length], n: i}));
const turned = outline => edgesOf(outline).reduce((sum, {a, b}) => sum + a[0] * b[1] - b[0] * a[1], 0) < 0;  // against the clock, seen from above
const sideNames = ['front', 'right', 'back', 'left'];
// Which wall of a rectangle an edge is most like: the one that looks the same way.
const sideOf = ({a, b}, anti) => {
  const dx = anti ? a[0] - b[0] : b[0] - a[0], dy = anti ? a[1] - b[1] : b[1] - a[1];
  return Math.abs(dx) >= Math.abs(dy) ? (dx > 0 ? 'front' : 'back') : dy > 0 ? 'right' : 'left';
};
const shapes = ['rectangle', 'L-shape', 'as drawn'];
function shapeNow() {
  const corners = valueAt('room.floor_plan');
  if (!corners) return 'rectangle';
  const outline = outlineNow();
  return outline?.length === 6 && edgesOf(outline).every(({a, b}) => alike(a[0], b[0]) || alike(a[1], b[1])) ? 'L-shape' : 'as drawn';
}

const wallsKey = (outline, i) => valueAt('room.floor_plan') ? `edge_${i + 1}` : sideOf(edgesOf(outline)[i], turned(outline));
const surfaceOf = key => valueAt(`walls.${key}`) ?? (key.startsWith('edge_') ? valueAt('walls.edges') : undefined);
// What most of a wall is made of: a piece of it has no windows of its own.
const mainSurface = value => Array.isArray(value) && value.some(part => typeof part === 'string' || part?.area) ? value[0]?.made_of ?? value[0] : value;

// Edits that give edge after edge these surfaces; an undefined one is as `edges` says.
function edgeEdits(surfaces) {
  const was = valueAt('walls') || {}, edits = [];
  surfaces.forEach((value, i) => {
    const path = `walls.edge_${i + 1}`, old = was[`edge_${i + 1}`];
    if (value === undefined && old !== undefined) edits.push({path, comment: true});
    if (value !== undefined && tomlText(value) !== (old === undefined ? '' : tomlText(old))) edits.push({path, toml: tomlText(value)});
  });
  for (const key of Object.keys(was)) if (/^edge_\d+$/.test(key) && Number(key.slice(5)) > surfaces.length) edits.push({path: `walls.${key}`, comment: true});
  return edits;
}

// The sides of the rectangle round it, and of each the wall that lies outermost and is longest.
function outermost(outline) {
  const far = {left: -Math.min(...outline.map(c => c[0])), front: -Math.min(...outline.map(c => c[1])),
    right: Math.max(...outline.map(c => c[0])), back: Math.max(...outline.map(c => c[1]))}, best = {};
  for (const edge of edgesOf(outline)) {
    const side = sideOf(edge, turned(outline)), axis = side === 'left' || side === 'right' ? 0 : 1;
    const at = (edge.a[axis] + edge.b[axis]) / 2 * (side === 'left' || side === 'front' ? -1 : 1);
    const worth = Math.hypot(edge.a[0] - edge.b[0], edge.a[1] - edge.b[1]) - 100 * (far[side] - at);
    if (!(best[side]?.worth >= worth)) best[side] = {worth, n: edge.n};
  }
  return best;
}

function rectangleEdits() {
  const outline = outlineNow(), best = outermost(outline), edits = [{path: 'room.floor_plan', comment: true}];
  edits.push({path: 'room.width', toml: JSON.stringify(lengthText(Math.max(...outline.map(c => c[0]))))},
    {path: 'room.length', toml: JSON.stringify(lengthText(Math.max(...outline.map(c => c[1]))))});
  const kept = new Set();
  for (const side of sideNames) {
    const key = best[side] && `edge_${best[side].n + 1}`, value = key && surfaceOf(key);
    if (valueAt(`walls.${key}`) !== undefined) {
      edits.push({path: `walls.${key}`, rename: side});
      kept.add(key);
    } else {
      edits.push({path: `walls.${side}`, toml: tomlText(value ?? valueAt('walls.edges') ?? 'brick, plastered')});
    }
  }
  for (const key of Object.keys(valueAt('walls') || {})) if (/^edge(s|_\d+)$/.test(key) && !kept.has(key)) edits.push({path: `walls.${key}`, comment: true});
  return edits;
}

// These corners, with each wall made of what the wall was that looks the same way.
function planEdits(corners) {
  const best = outermost(corners), anti = turned(corners), was = outlineNow();
  const edits = [{path: 'room.floor_plan', toml: `[${corners.map(placeText).join(', ')}]`}];
  if (valueAt('room.floor_plan')) {
    const old = was ? outermost(was) : {};
    return [...edits, ...edgeEdits(edgesOf(corners).map(edge => {
      const side = sideOf(edge, anti), value = old[side] && valueAt(`walls.edge_${old[side].n + 1}`);
      return best[side].n === edge.n ? value : mainSurface(value);
    }))];
  }
  edits.push({path: 'room.width', comment: true}, {path: 'room.length', comment: true});
  for (const edge of edgesOf(corners)) {
    const side = sideOf(edge, anti);
    if (best[side].n === edge.n) edits.push({path: `walls.${side}`, rename: `edge_${edge.n + 1}`});
    else if (surfaceOf(side) !== undefined) edits.push({path: `walls.edge_${edge.n + 1}`, toml: tomlText(mainSurface(surfaceOf(side)))});
  }
  return edits;
}
function shapeEdits(shape) {
  const outline = outlineNow();
  if (!outline || shape === shapeNow()) return [];
  if (shape === 'rectangle') return rectangleEdits();
  const w = Math.max(...outline.map(c => c[0])), l = Math.max(...outline.map(c => c[1]));
  // The far right corner is what most rooms lack; a third of each side is a recess one would notice.
  const part = v => Math.round(v * 2 / 3 * 10) / 10;
  if (shape === 'L-shape') return planEdits([[0, 0], [w, 0], [w, part(l)], [part(w), part(l)], [part(w), l], [0, l]]);
  return valueAt('room.floor_plan') ? [] : planEdits(outline);
}

// Edits for another list of corners: each {at} new or {from: i} as it stands in the file, with its wall.
const cornersEdits = corners => [
  {path: 'room.floor_plan', toml: `[${corners.map(c => c.at ? placeText(c.at) : tomlText(valueAt(`room.floor_plan[${c.from}]`))).join(', ')}]`},
  ...edgeEdits(corners.map(c => c.wall))];
const cornersNow = () => outlineNow().map((c, i) => ({from: i, wall: valueAt(`walls.edge_${i + 1}`)}));
function moreCorners(i, step) {
  const outline = outlineNow(), {a, b} = edgesOf(outline)[i], corners = cornersNow();
  const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], wall = mainSurface(corners[i].wall);
  if (!step) return cornersEdits([...corners.slice(0, i + 1), {at: middle, wall}, ...corners.slice(i + 1)]);
  // The far half of the wall goes into the room by half a metre, or by half of the wall that it meets.
  const next = (i + 1) % outline.length, after = outline[(i + 2) % outline.length];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]), deep = Math.min(0.5, Math.hypot(after[0] - b[0], after[1] - b[1]) / 2);
  const inward = (turned(outline) ? -1 : 1) * deep / long, by = [-(b[1] - a[1]) * inward, (b[0] - a[0]) * inward];
  const moved = ([x, y]) => [x + by[0], y + by[1]];
  corners[next] = {at: moved(b), wall: corners[next].wall};
  return cornersEdits([...corners.slice(0, i + 1), {at: middle, wall}, {at: moved(middle), wall}, ...corners.slice(i + 1)]);
}
const fewerCorners = i => cornersEdits(cornersNow().filter((c, n) => n !== i));
