// The form: the order of the work. A field is a path of the room file.
const lengthUnit = () => state.units === 'imperial' ? 'ft' : 'm';
const kinds = {
  length: {unit: lengthUnit}, hertz: {unit: () => 'Hz'}, volume: {unit: () => state.units === 'imperial' ? 'ft3' : 'L'},
  watts: {unit: () => 'W'}, ohms: {unit: () => 'ohm'}, millimetres: {unit: () => 'mm'},
  area: {unit: () => state.units === 'imperial' ? 'in2' : 'cm2'}, decibels: {unit: () => 'dB'}, plain: {}, word: {}
};
const bare = /^[+-]?[0-9]*[.,]?[0-9]+$/;
// What somebody typed as TOML: a bare number gets the unit that people mean there.
const tomlOf = (typed, kind) => {
  const number = bare.test(typed) ? typed.replace(',', '.') : null;
  if (kind === 'plain' && number !== null) return String(Number(number));
  const unit = kinds[kind].unit;
  return JSON.stringify(number !== null && unit ? `${number} ${unit()}` : typed);
};
const shown = value => value === undefined || value === null ? '' : typeof value === 'object' ? '' : String(value);

const element = (tag, set = {}, ...inside) => {
  const e = document.createElement(tag);
  for (const [key, value] of Object.entries(set))
    if (key in e) e[key] = value; else e.setAttribute(key, value);
  e.append(...inside.filter(Boolean));
  return e;
};

// A wall with a window in it is a list: what it is made of, then each part with its area.
const partWords = part => typeof part === 'string' ? part : Array.isArray(part) ? `(${part.join(', ')})` : part?.made_of ? `${part.made_of} ${part.area ?? ''}`.trim() : part?.absorption !== undefined ? `absorption ${part.absorption}` : 'as in the text';
const writtenWords = value => Array.isArray(value) ? value.map(partWords).join(Array.isArray(value[0]) ? ' ' : ' + ') : partWords(value);
let fieldNumber = 0;
const field = (label, path, kind, {hint, choices, wide, empty} = {}) => {
  const id = `f${++fieldNumber}`, value = valueAt(path);
  const written = typeof value === 'object' && value !== null;  // a list or a table: the text knows better
  const box = element('div', {className: wide ? 'entry wide' : 'entry'});
  const input = choices
    ? element('select', {id}, ...(choices.includes(shown(value)) ? [] : [element('option', {value: '', textContent: written ? writtenWords(value) : shown(value) || empty || 'choose', selected: true})]),
        ...choices.map(c => element('option', {value: c, textContent: c, selected: c === value})))
    : element('input', {id, value: written ? writtenWords(value) : shown(value), readOnly: written});
  input.dataset.path = path;
  input.addEventListener('change', () => {
    const typed = input.value.trim();
    if (!typed) { input.value = written ? '' : shown(value); return; }
    edit([{path, toml: tomlOf(typed, kind)}]);
  });
  box.append(element('label', {htmlFor: id, textContent: label}), input);
  if (hint) box.append(element('small', {textContent: hint}));
  return box;
};
const group = (title, ...inside) => element('fieldset', {}, element('legend', {textContent: title}), ...inside);
const fields = (...all) => element('div', {className: 'entries'}, ...all);
const more = (title, ...inside) => {
  const d = element('details', {className: 'more', open: openParts.has(title)}, element('summary', {textContent: title}), ...inside);
  d.addEventListener('toggle', () => openParts[d.open ? 'add' : 'delete'](title));
  return d;
};
const openParts = new Set();
const button = (text, act, label) => {
  const b = element('button', {type: 'button', textContent: text});
  if (label) b.setAttribute('aria-label', label);
  b.addEventListener('click', act);
  return b;
};

function seats() {
  const all = tablesAt('seat'), room = sidesNow();
  return group('Who listens', ...all.map((seat, n) => element('div', {className: 'row'},
    fields(field('Name', `seat[${n}].name`, 'word'),
      field('From the left wall', `seat[${n}].at[0]`, 'length'), field('From the front wall', `seat[${n}].at[1]`, 'length'),
      field('Ears above the floor', `seat[${n}].at[2]`, 'length')),
    all.length > 1 && button('Take it away', () => edit([{path: 'seat', remove: n}]), `Take ${seat.name || 'seat ' + (n + 1)} away`))),
  button('One more seat', () => edit([{path: 'seat', add: [`name = "seat ${all.length + 1}"`,
    `at = ${placeText([room[0] / 2, room[1] * 0.7, 1.1])}`]}])));
}

function keepOuts() {
  const all = tablesAt('keep_out');
  return group('What must stay free', element('p', {className: 'hint', textContent: 'Door swings, ways to walk, radiators: boxes keep off them.'}),
    ...all.map((piece, n) => element('div', {className: 'row'},
      fields(field('Name', `keep_out[${n}].name`, 'word'),
        field('From the left, it begins at', `keep_out[${n}].from[0]`, 'length'), field('and ends at', `keep_out[${n}].to[0]`, 'length'),
        field('From the front, it begins at', `keep_out[${n}].from[1]`, 'length'), field('and ends at', `keep_out[${n}].to[1]`, 'length')),
      button('Take it away', () => edit([{path: 'keep_out', remove: n}]), `Take ${piece.name || 'piece ' + (n + 1)} away`))),
    button('One more piece', () => edit([{path: 'keep_out', add: [`name = "kept free ${all.length + 1}"`, `from = ${placeText([0, 0])}`, `to = ${placeText([0.9, 0.9])}`]}])));
}

const wallsOf = [['Left', 'left'], ['Right', 'right'], ['Front, which you face', 'front'], ['Back', 'back'], ['Floor', 'floor'], ['Ceiling', 'ceiling']];
// A room that is no rectangle has walls that go round with its corners.
const surfaces = () => {
  const corners = valueAt('room.floor_plan');
  if (!Array.isArray(corners)) return wallsOf;
  return [...corners.slice(0, 200).map((c, i) => [`Wall from corner ${i + 1} to ${(i + 1) % corners.length + 1}`, `edge_${i + 1}`]),
    ...valueAt('walls.edges') !== undefined ? [['All other walls', 'edges']] : [], ['Floor', 'floor'], ['Ceiling', 'ceiling']];
};
const likeAll = key => key.startsWith('edge_') && valueAt('walls.edges') !== undefined;
function form() {
  const {constructions = [], contents = []} = state.names || {};
  const several = Array.isArray(valueAt('driver')), driver = several ? 'driver[0]' : 'driver';
  return [
    group('The driver', element('p', {className: 'hint', textContent: 'Begin here: three numbers from its data sheet say what any box does with it.'}), fields(field('fs', `${driver}.fs`, 'hertz', {hint: 'resonance in free air'}),
        field('Qts', `${driver}.qts`, 'plain', {hint: 'total Q'}), field('Vas', `${driver}.vas`, 'volume', {hint: 'air as stiff as the suspension'})),
      more('What says how loud it plays', fields(field('Sd', `${driver}.sd`, 'area', {hint: 'area of the cone'}), field('Re', `${driver}.re`, 'ohms', {hint: 'of the coil'}),
        field('Qes', `${driver}.qes`, 'plain'), field('xmax', `${driver}.xmax`, 'millimetres', {hint: 'one way'}),
        field('Power it takes', `${driver}.power`, 'watts'), field('Amplifier', 'amplifier.power', 'watts'), field('into', 'amplifier.load', 'ohms')))),
    group('The room', element('p', {className: 'hint', textContent: 'Stand facing the wall with the screen or the loudspeakers: that is the front.'}),
      fields(field('Name', 'title', 'word', {wide: true}),
        shapeField(),
        ...valueAt('room.floor_plan') ? [] : [field('Width, left to right', 'room.width', 'length'), field('Length, front to back', 'room.length', 'length')],
        field('Height', 'room.height', 'length'),
        field('What stands in it', 'room.contents', 'word', {choices: contents})), corners()),
    group('The walls', fields(...surfaces().map(([label, key]) => field(label, `walls.${key}`, 'word', {choices: constructions, empty: likeAll(key) && 'as all other walls'})))),
    openings(), seats(), keepOuts(), blocks(constructions), ...nextDoor(constructions),
    measured(),
    group('Wishes', fields(field('Play down to', 'target.band[0]', 'hertz'), field('and up to', 'target.band[1]', 'hertz', {hint: 'where the others take over'}),
      field('Largest box, net', 'box.largest', 'volume', {hint: 'empty: any'}), field('Loudest level wanted', 'target.level', 'decibels', {hint: 'at the seats; empty: as it comes'}),
      field('Filling gives back', 'box.filling', 'plain', {hint: '1 empty, 1.10 to 1.30 filled'}), field('Board', 'box.thickness', 'millimetres')))
  ];
}

// Each fault stands at the field whose line it names.
function showFaults() {
  const rest = [];
  for (const input of document.querySelectorAll('#form [data-path]')) input.removeAttribute('aria-invalid');
  for (const old of document.querySelectorAll('#form .fault')) old.remove();
  const lines = state.look?.lines || {};
  for (const fault of state.faults) {
    const here = [...document.querySelectorAll('#form [data-path]')].filter(input => {
      const {path} = input.dataset, above = path.match(/^(.*?)(\[\d+\])*$/)[1];
      return lines[path] === fault.line || lines[above] === fault.line;
    }).concat(lines['room.floor_plan'] === fault.line && $('shape') || []);
    const input = here.find(i => i.dataset.path && fault.what.includes(i.dataset.path.split('.').pop().replace(/\[.*/, ''))) || here[0];
    if (!input || !fault.line) { rest.push(fault); continue; }
    const words = element('p', {className: 'fault', id: `${input.id}-fault`, textContent: `${fault.what}: ${fault.mend}.`});
    input.setAttribute('aria-invalid', 'true');
    input.setAttribute('aria-describedby', words.id);
    input.closest('details')?.setAttribute('open', '');
    input.after(words);
  }
  $('faults').replaceChildren(...rest.map(f => element('p', {textContent: `${f.line ? `Line ${f.line}: ` : ''}${f.what}${f.mend ? `: ${f.mend}` : ''}.`})));
}

function showForm() {
  const focused = document.activeElement?.dataset?.path;
  fieldNumber = 0;
  const [driver, room, walls, open, ...rest] = form();
  $('driver-part').replaceChildren(driver);
  $('room-part').replaceChildren(room, walls, open);
  $('rest-part').replaceChildren(...rest);
  showFaults();
  if (focused) document.querySelector(`#form [data-path="${CSS.escape(focused)}"]`)?.focus();
  if (document.activeElement !== $('text')) $('text').value = state.text;
  $('undo').disabled = !state.past.length;
  $('plan').disabled = state.faults.length > 0;
}
