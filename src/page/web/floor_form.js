// The floor's shape and what stands in it, as fields: all that can be dragged can be typed.
const sidesNow = () => { const outline = outlineNow() || [[4, 5]]; return [0, 1].map(k => Math.max(...outline.map(c => c[k]))); };
const takeAway = (path, n, name) => button('Take it away', () => edit([{path, remove: n}]), `Take ${name || `${path} ${n + 1}`} away`);
// A choice that is no value of the file by itself.
const chooser = (label, id, choices, now, act, hint) => {
  const select = element('select', {id}, ...choices.map(([value, words]) => element('option', {value, textContent: words, selected: value === now})));
  select.addEventListener('change', () => act(select.value));
  return element('div', {className: 'entry'}, element('label', {htmlFor: id, textContent: label}), select, hint && element('small', {textContent: hint}));
};
const shapeField = () => chooser('Shape of the floor', 'shape', shapes.map(s => [s, s]), shapeNow(), shape => {
  if (shape === 'as drawn' && shapeNow() === 'L-shape') tell('Its corners stand below: add one, take one away, or drag them.');
  const edits = shapeEdits(shape);
  if (edits.length) edit(edits);
}, 'drag its corners on the floor');

function corners() {
  const all = valueAt('room.floor_plan'), outline = outlineNow();
  if (!Array.isArray(all) || all.length > 200) return null;
  return more('Corners, one by one', element('p', {className: 'hint', textContent: 'Dragged corners keep their walls square. Hold Shift to move one alone.'}), ...all.map((c, i) => {
    const next = (i + 1) % all.length + 1, wall = `the wall from corner ${i + 1} to ${next}`;
    return element('div', {className: 'row'}, fields(field(`Corner ${i + 1}, from the left`, `room.floor_plan[${i}][0]`, 'length'), field('from the front', `room.floor_plan[${i}][1]`, 'length')),
      outline && element('div', {className: 'bar'}, all.length > 3 && button('Take it away', () => edit(fewerCorners(i)), `Take corner ${i + 1} away`),
        button('A corner after it', () => edit(moreCorners(i, false)), `A corner in the middle of ${wall}`),
        button('A step after it', () => edit(moreCorners(i, true)), `A step in ${wall}`)));
  }));
}

const wallWords = (outline, i) => valueAt('room.floor_plan') ? `from corner ${i + 1} to ${(i + 1) % outline.length + 1}` : wallsOf.find(w => w[1] === wallsKey(outline, i))[0].replace(/,.*/, '').toLowerCase();
const straightWalls = outline => edgesOf(outline).filter(({a, b}) => alike(a[0], b[0]) || alike(a[1], b[1]));
const lineEdits = pairs => pairs.map(([path, metres]) => ({path, metres: Math.round(metres * 1e5) / 1e5}));
const newName = (key, words) => { const taken = new Set(tablesAt(key).map(t => t.name)); let name = words, n = 1; while (taken.has(name)) name = `${words} ${++n}`; return name; };
function addOpening(words, wide, low, high) {
  const outline = outlineNow(), height = lengthAt('room.height') || 2.4;
  if (!outline) return tell('The floor comes first: give the room its size.');
  // In the longest wall that has none yet.
  const long = ({a, b}) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const taken = piecesOf('opening').map(p => wallOf(p, outline)?.n);
  const edge = straightWalls(outline).sort((p, q) => taken.includes(p.n) - taken.includes(q.n) || long(q) - long(p))[0];
  if (!edge) return tell('An opening wants a wall along an axis, and this room has none.');
  const flat = alike(edge.a[0], edge.b[0]) ? 0 : 1, middle = [0, 1].map(k => (edge.a[k] + edge.b[k]) / 2);
  const reach = Math.min(wide, Math.abs(edge.a[1 - flat] - edge.b[1 - flat])) / 2, from = [...middle], to = [...middle];
  from[1 - flat] -= reach, to[1 - flat] += reach;
  edit([{path: 'opening', add: [`name = ${JSON.stringify(newName('opening', words))}`, `from = ${placeText([...from, low])}`, `to = ${placeText([...to, Math.min(high, height)])}`]}]);
}
// A room behind an opening: as wide as the wall is there, a plausible three metres deep.
function addSpace(piece, outline) {
  const edge = wallOf(piece, outline), flat = flatAxis(piece), name = newName('space', 'next door'), wall = 0.12, deep = 3;
  const inside = edge && (flat === 0 ? edge.b[1] > edge.a[1] : edge.b[0] < edge.a[0]) !== turned(outline);  // the room lies below this coordinate
  const low = Math.min(edge.a[1 - flat], edge.b[1 - flat]), high = Math.max(edge.a[1 - flat], edge.b[1 - flat]);
  const from = [], to = [];
  from[flat] = edge.a[flat] + (inside ? wall : -wall - deep), to[flat] = from[flat] + deep;
  from[1 - flat] = low, to[1 - flat] = high;
  const n = piece.path.match(/\d+/)[0];
  edit([{path: 'space', add: [`name = ${JSON.stringify(name)}`, `from = ${placeText([...from, 0])}`, `to = ${placeText([...to, lengthAt('room.height') || 2.4])}`, 'walls = { absorption = 0.1 }']},
    {path: `opening[${n}].space`, toml: JSON.stringify(name)}]);
}

function openings() {
  const outline = outlineNow(), all = tablesAt('opening'), spaces = tablesAt('space').map(s => s.name).filter(s => typeof s === 'string');
  const pieces = piecesOf('opening');
  return group('What stands open', element('p', {className: 'hint', textContent: 'Open doors and windows let the lowest notes out. What stays shut belongs to its wall.'}),
    ...all.map((table, n) => {
      const path = `opening[${n}]`, piece = pieces.find(p => p.path === path), edge = piece && outline && wallOf(piece, outline), along = piece && flatAxis(piece) === 0 ? 1 : 0;
      const side = along ? 'front' : 'left', away = takeAway('opening', n, table.name);
      return element('div', {className: 'row'}, fields(field('Name', `${path}.name`, 'word'),
        outline && piece && chooser('In the wall', `wall-${n}`, [...edge ? [] : [['', 'none of the straight ones']], ...straightWalls(outline).map(({n: i}) => [i, wallWords(outline, i)])], edge?.n ?? '',
          i => i !== '' && edit(lineEdits(openingOn(piece, edgesOf(outline)[i], [0, 1].map(k => (edgesOf(outline)[i].a[k] + edgesOf(outline)[i].b[k]) / 2))))),
        field(`From the ${side}, it begins at`, `${path}.from[${along}]`, 'length'), field('and ends at', `${path}.to[${along}]`, 'length'),
        field('Above the floor, from', `${path}.from[2]`, 'length'), field('up to', `${path}.to[2]`, 'length'),
        field('It stands', `${path}.state`, 'word', {choices: ['open', 'shut', 'either'], empty: 'open'}),
        chooser('It leads', `leads-${n}`, [['', 'outside'], ...spaces.map(s => [s, `to ${s}`])], table.space ?? '',
          s => edit([s ? {path: `${path}.space`, toml: JSON.stringify(s)} : {path: `${path}.space`, comment: true}]))),
        element('div', {className: 'bar'}, away, edge && !table.space && button('A room behind it', () => addSpace(piece, outline), `A room behind ${table.name || `opening ${n + 1}`}`)));
    }),
    element('div', {className: 'bar'}, button('An open door', () => addOpening('door', 0.9, 0, 2.04)), button('An open window', () => addOpening('window', 1, 0.9, 2))));
}

const cuboid = path => [['From the left, it begins at', 'from', 0], ['and ends at', 'to', 0], ['From the front, it begins at', 'from', 1], ['and ends at', 'to', 1], ['Above the floor, from', 'from', 2], ['up to', 'to', 2]]
  .map(([words, end, k]) => field(words, `${path}.${end}[${k}]`, 'length'));
function blocks(constructions) {
  const all = tablesAt('block'), [w, l] = sidesNow();
  return group('What sound goes round', element('p', {className: 'hint', textContent: 'Chimney breasts, pillars, built-in cupboards. Sofas and shelves count with what stands in the room.'}),
    ...all.map((table, n) => element('div', {className: 'row'}, fields(field('Name', `block[${n}].name`, 'word'), ...cuboid(`block[${n}]`),
      field('Its surface', `block[${n}].surface`, 'word', {choices: constructions})), takeAway('block', n, table.name))),
    button('One more solid piece', () => edit([{path: 'block', add: [`name = ${JSON.stringify(newName('block', 'pillar'))}`, `from = ${placeText([Math.max(0, w - 0.4), Math.max(0, l - 0.4), 0])}`,
      `to = ${placeText([w, l, lengthAt('room.height') || 2.4])}`, 'surface = "brick, plastered"']}])));
}

function nextDoor(constructions) {
  const all = tablesAt('space');
  return all.length ? [group('Rooms next door', element('p', {className: 'hint', textContent: 'Counted from the same corner as this room: what lies left of it or before it is below zero.'}),
    ...all.map((table, n) => element('div', {className: 'row'}, fields(field('Name', `space[${n}].name`, 'word'), ...cuboid(`space[${n}]`),
      table.walls !== undefined && field('Its walls', `space[${n}].walls`, 'word', {choices: constructions})),
    button('Take it away', () => edit([{path: 'space', remove: n},
      ...tablesAt('opening').flatMap((o, i) => o.space === table.name ? [{path: `opening[${i}].space`, comment: true}] : [])]), `Take ${table.name || `room ${n + 1}`} away`))))] : [];
}
