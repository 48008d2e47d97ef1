// The live report: moves the box, the seats and the walls, asks the engine (live_exports.hpp, the
// program's own solver as WebAssembly) what that gives, and draws it. No acoustics in here.
'use strict';
(() => {

// ---- The engine, here and in the worker that draws the map: this function is sent there as text.
const openEngine = async (bytes, data) => {
  const module = await WebAssembly.compile(bytes);
  const imports = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module))
    (imports[from] ||= {})[name] = () => 0;  // only asked for when something has gone wrong
  const e = (await WebAssembly.instantiate(module, imports)).exports;
  e._initialize();
  const give = numbers => {
    const at = e.live_numbers(numbers.length);
    new Float64Array(e.memory.buffer, at, numbers.length).set(numbers);
    return at;
  };
  const room = e.live_open(give(data.numbers.map(v => v === null ? NaN : v)), data.numbers.length);
  const done = {seats: data.seats.map(s => s.at), walls: data.walls.map(() => null), softness: 1};
  // Only what has changed is set again: the engine keeps what it has worked out from the rest.
  const apply = now => {
    // A wall is null (as in the file), a coefficient, or the name of a construction.
    now.walls.forEach((wall, i) => {
      if (wall === done.walls[i]) return;
      if (typeof wall === 'number') { e.live_set_wall_absorption(room, i, wall); return; }
      const {branches} = wall === null ? data.walls[i] : data.constructions[wall];
      e.live_set_wall_branches(room, i, give(branches.flat()), branches.length);
    });
    if (now.softness !== done.softness) e.live_set_softness(room, now.softness);
    now.seats.forEach((at, i) => { if (at !== done.seats[i]) e.live_set_seat(room, i, ...at); });
    if (now.volume !== done.volume || now.filling !== done.filling)
      e.live_set_box(room, now.volume, now.filling);
    if (now.x !== done.x || now.y !== done.y || now.facing !== done.facing)
      e.live_set_place(room, now.x, now.y, now.facing);
    Object.assign(done, now, {seats: [...now.seats], walls: [...now.walls]});
  };
  return {
    answer(now) {
      apply(now);
      const at = e.live_answer(room);
      const head = new Float64Array(e.memory.buffer, at, 20);
      const [F, S] = [head[18], head[19]];
      const all = new Float64Array(e.memory.buffer, at, 20 + F * (S + 5)).slice();
      const curve = k => all.subarray(20 + k * F, 20 + (k + 1) * F);
      const a = {fits: all[0] > 0, x: all[1], y: all[2], centre: [...all.subarray(3, 6)], facing: all[6],
                 outer: [...all.subarray(7, 10)], qtc: all[10], fc: all[11], f3: all[12],
                 spread_db: all[13], unevenness_db: all[14], balance_db: all[15], level_db: all[16],
                 reach_hz: all[17], seats: [], average: curve(S), half: curve(S + 1),
                 target: curve(S + 2), spread: curve(S + 3), lift: curve(S + 4)};
      for (let s = 0; s < S; ++s) a.seats.push(curve(s));
      done.x = now.x = a.x, done.y = now.y = a.y;  // where the walls let it stand
      return a;
    },
    wall(i) {
      const at = e.live_wall(room, i), [count] = new Float64Array(e.memory.buffer, at, 1);
      const all = new Float64Array(e.memory.buffer, at + 8, 3 * count);
      return Array.from({length: count}, (_, b) => [...all.subarray(3 * b, 3 * b + 3)]);
    },
    balance(now, qtc) {
      apply(now);
      const at = e.live_balance(room, give(qtc), qtc.length);
      return [0, 1].map(k => new Float64Array(e.memory.buffer, at + 8 * k * qtc.length, qtc.length).slice());
    },
    map(now, step) {
      apply(now);
      const at = e.live_map(room, step);
      const [nx, ny, x0, y0, dx, dy] = new Float64Array(e.memory.buffer, at, 6);
      return {nx, ny, x0, y0, dx, dy, value: new Float64Array(e.memory.buffer, at + 48, nx * ny).slice()};
    }
  };
};

// ---- The page.
const byId = id => document.getElementById(id);
const source = byId('live-data'), packed = byId('live-engine');
if (!source || !packed || typeof WebAssembly !== 'object') return;
const data = JSON.parse(source.textContent);
const bytes = Uint8Array.from(atob(packed.textContent), c => c.charCodeAt(0));
packed.remove();
const plan = document.querySelector('svg.plan'), status = byId('live-status');
const scale = +plan.dataset.scale, cornerX = +plan.dataset.x, cornerY = +plan.dataset.y;
const box = byId('plan-box'), seats = [...plan.querySelectorAll('.plan-seat')];
const html = document.documentElement;
const imperial = () => html.dataset.units === 'imperial';

const length = metres => {
  if (!imperial()) return metres.toFixed(2) + ' m';
  const halves = Math.round(metres / 0.0127), feet = Math.floor(halves / 24), left = halves % 24;
  return [feet ? feet + ' ft' : '', left || !feet ? left / 2 + ' in' : ''].filter(Boolean).join(' ');
};
const volume = m3 => imperial() ? (m3 / 0.028316846592).toFixed(2) + ' ft\u00b3'
                                : (m3 * 1e3).toFixed(m3 < 0.00995 ? 1 : 0) + ' L';

const first = {volume: data.volume, filling: data.filling, facing: data.wantedFacing,
               x: data.place[0], y: data.place[1], seats: data.seats.map(s => s.at),
               walls: data.walls.map(() => null), softness: 1};
const copy = state => ({...state, seats: [...state.seats], walls: [...state.walls]});
const state = copy(first);
const moved = () => ['volume', 'filling', 'facing', 'softness'].some(k => state[k] !== first[k]) ||
  Math.hypot(state.x - first.x, state.y - first.y) > 1e-6 ||
  state.walls.some(w => w !== null) || state.seats.some((at, i) => at !== first.seats[i]);

// ---- Curves.
const levels = (chart, svg) => {
  const [low, high, step] = chart.data.range;
  const left = +svg.dataset.left, right = +svg.dataset.right;
  const cursor = svg.querySelector('.cursor');
  const top = +cursor.dataset.top, bottom = +cursor.dataset.bottom;
  let out = '';
  for (let k = Math.round(low / step); k * step <= high + 1e-9; ++k) {
    const y = (bottom - (k * step - low) / (high - low) * (bottom - top)).toFixed(1);
    out += `<path class="grid${k === 0 && low < 0 ? ' zero' : ''}" d="M${left} ${y}H${right}"/>` +
           `<text x="${left - 6}" y="${+y + 4.5}" text-anchor="end">${+(k * step).toFixed(6)}</text>`;
  }
  svg.querySelector('.levels').innerHTML = out;
  const [low0, high0] = chart.firstRange;  // marks stand where the still chart put them
  for (const mark of svg.querySelectorAll('.at')) {
    const v = +mark.dataset.value, share = (v - low) / (high - low) - (v - low0) / (high0 - low0);
    mark.setAttribute('transform', `translate(0 ${-share * (bottom - top)})`);
  }
};
const path = (chart, frame, values) => {
  const [low, high] = chart.data.range, {width, height} = frame.viewBox.baseVal, x = chart.data.x;
  let out = '', drawing = false;
  for (let i = 0; i < x.length; ++i) {
    if (values[i] === null) { drawing = false; continue; }
    const share = Math.max(-1, Math.min(2, (values[i] - low) / (high - low)));
    out += (drawing ? 'L' : 'M') + (chart.along(x[i]) * width).toFixed(1) + ' ' +
           ((1 - share) * height).toFixed(1);
    drawing = true;
  }
  return out;
};
// The frame grows where a curve leaves it, though not into deep nulls (as in the still charts); it
// never jumps back while things are moved.
const grow = chart => {
  const range = chart.data.range;
  let top = -Infinity, low = Infinity;
  for (const {y} of chart.data.curves)
    for (const v of y) if (v !== null) top = Math.max(top, v), low = Math.min(low, v);
  let changed = false;
  while (range[1] < top) range[1] += range[2], changed = true;
  low = Math.max(low, range[1] - 45);
  while (range[0] > low) range[0] -= range[2], changed = true;
  return changed;
};
const draw = (chart, curves) => {
  curves.forEach((values, k) => { chart.data.curves[k].y = values; });
  const grown = grow(chart);
  for (const svg of chart.drawings) {
    if (grown) levels(chart, svg);
    const frame = svg.querySelector('svg'), paths = frame.querySelectorAll('path.curve');
    if (paths.length !== curves.length) continue;
    curves.forEach((values, k) => paths[k].setAttribute('d', path(chart, frame, values)));
    const ghost = frame.querySelector('.ghost');
    if (ghost) ghost.setAttribute('d', path(chart, frame, chart.ghost));
  }
  chart.again();
};
const live = {response: charts.response, spread: charts.spread, lift: charts.lift, balance: charts.balance};
for (const chart of Object.values(live)) {
  if (!chart) return;
  chart.first = chart.data.curves.map(c => c.y);
  chart.firstRange = [...chart.data.range];
  chart.note = document.createElement('p');
  chart.note.className = 'moved';
  chart.note.hidden = true;
  chart.note.textContent = 'As moved on the floor plan. The recommendation is the thin grey line' +
    (chart === live.balance ? ' with the marks on it; the ring is the box as it is now.' : '.');
  chart.figure.querySelector('.caption').after(chart.note);
}
const seatCount = data.seats.length;
const targetMask = live.response.first[seatCount + 2].map(v => v !== null);

// A second, small drawing of the response beside the floor plan.
const beside = byId('live-chart');
const small = live.response.figure.querySelector('svg.narrow').cloneNode(true);
small.classList.remove('narrow', 'chart');
small.classList.add('small');
beside.append(small);
live.response.drawings.push(small);
live.response.ghost = live.response.first[seatCount];
live.spread.ghost = live.spread.first[0];
live.lift.ghost = live.lift.first[0];
live.balance.ghost = live.balance.first[0];
live.balance.rings = live.balance.drawings.map(svg => {
  const ring = document.createElementNS('http://www.w3.org/2000/svg', 'circle');
  ring.setAttribute('class', 'ring');
  ring.setAttribute('r', 8);
  svg.append(ring);
  return ring;
});
const showRing = (a, changed) => live.balance.drawings.forEach((svg, i) => {
  const [low, high] = live.balance.data.range, ring = live.balance.rings[i];
  const cursor = svg.querySelector('.cursor'), left = +svg.dataset.left, right = +svg.dataset.right;
  const top = +cursor.dataset.top, bottom = +cursor.dataset.bottom, along = live.balance.along(a.qtc);
  const up = (a.balance_db - low) / (high - low);
  ring.style.display = changed && along >= 0 && along <= 1 && up <= 1 ? '' : 'none';
  ring.setAttribute('cx', left + along * (right - left));
  ring.setAttribute('cy', bottom - up * (bottom - top));
});
for (const chart of Object.values(live))
  for (const svg of chart.drawings) {
    const ghost = document.createElementNS('http://www.w3.org/2000/svg', 'path');
    ghost.setAttribute('class', 'ghost');
    svg.querySelector('svg').prepend(ghost);
  }

// ---- The numbers beside the plan.
const worth = document.querySelector('table.worth');
const heading = document.createElement('th');
heading.scope = 'col';
heading.className = 'now';
heading.textContent = 'now';
worth.querySelector('thead tr').append(heading);
const cells = [...worth.querySelectorAll('tbody tr')].map(row => {
  const cell = document.createElement('td');
  cell.className = 'now';
  row.append(cell);
  return cell;
});

const facingWords = facing => ['', 'to the left wall', 'to the right wall', 'to the front wall',
  'to the back wall', 'up', 'down'][facing];
const field = (id, text) => { byId(`live-${id}-out`).textContent = text; };
const at = (x, y) => `translate(${(cornerX + x * scale).toFixed(2)} ${(cornerY + y * scale).toFixed(2)})`;
const [lowest, highest] = data.volumes;
const softest = () => Math.pow(10, byId('live-softness').value / 100);
const absorptionOf = value => 0.01 * Math.pow(80, value / 200);  // 0.01 to 0.80

const showControls = a => {
  const wall = +byId('live-wall').value;
  byId('live-volume').value = 400 * Math.log(state.volume / lowest) / Math.log(highest / lowest);
  byId('live-filling').value = state.filling;
  byId('live-facing').value = state.facing;
  const own = state.walls[wall];
  const material = own === null ? data.walls[wall] : data.constructions[own];
  const absorbs = material ? material.absorption : own;
  byId('live-material').value = typeof own === 'number' ? '#' : own ?? '';
  byId('live-absorption').value = 200 * Math.log(Math.max(0.01, absorbs) / 0.01) / Math.log(80);
  byId('live-softness').value = Math.round(100 * Math.log10(state.softness));
  field('volume', `${volume(state.volume)}, Qtc ${a.qtc.toFixed(2)}`);
  field('filling', '\u00d7 ' + state.filling.toFixed(2));
  field('absorption', absorbs.toFixed(2) + (material ? ' at 125 Hz' : ''));
  field('softness', '\u00d7 ' + state.softness.toFixed(2));
};

let statusTimer = 0;
const say = text => {
  clearTimeout(statusTimer);
  statusTimer = setTimeout(() => { if (status.textContent !== text) status.textContent = text; }, 250);
};

const show = a => {
  const changed = moved();
  html.classList.toggle('changed', changed);
  // 1. The plan.
  box.setAttribute('transform', at(a.x, a.y));
  const w = a.outer[0] * scale / 2, d = a.outer[1] * scale / 2, rect = box.querySelector('.box');
  for (const [name, value] of [['x', -w], ['y', -d], ['width', 2 * w], ['height', 2 * d]])
    rect.setAttribute(name, value.toFixed(2));
  box.querySelector('.cone').setAttribute('d', ['', `M${-w} ${-d}v${2 * d}`, `M${w} ${-d}v${2 * d}`,
    `M${-w} ${-d}h${2 * w}`, `M${-w} ${d}h${2 * w}`, '', ''][a.facing]);
  const where = `${length(a.x)} from the left wall, ${length(a.y)} from the front wall`;
  box.setAttribute('aria-label', 'Box: ' + where);
  seats.forEach((seat, i) => {
    const [x, y] = state.seats[i];
    seat.setAttribute('transform', at(x, y));
    seat.setAttribute('aria-label', `Seat ${data.seats[i].name}: ${length(x)} from the left wall, ` +
                                    `${length(y)} from the front wall`);
  });
  // 2. The numbers.
  [a.spread_db.toFixed(1) + ' dB', a.unevenness_db.toFixed(1) + ' dB', a.balance_db.toFixed(1) + ' dB',
   a.reach_hz.toFixed(0) + ' Hz', a.level_db.toFixed(1) + ' dB'].forEach((text, i) => {
    if (cells[i].textContent !== text) cells[i].textContent = text;
  });
  showControls(a);
  say((a.fits ? '' : 'No box may stand here: kept-free ground, a seat too near, or a ceiling too low. ') +
      `Box of ${volume(state.volume)}, ${length(a.outer[0])} \u00d7 ${length(a.outer[1])} \u00d7 ` +
      `${length(a.outer[2])} outside, ${where}, driver looking ${facingWords(a.facing)}.`);
  // 3. The curves.
  for (const chart of Object.values(live)) chart.note.hidden = !changed;
  const target = Array.from(a.target, (v, i) => targetMask[i] ? v : null);
  draw(live.response, [...a.seats, a.average, a.half, target]);
  draw(live.spread, [a.spread]);
  draw(live.lift, [a.lift]);
  showRing(a, changed);
};

// ---- The map, in a worker so that it never holds up a drag.
const mapScale = byId('map-scale'), picture = byId('plan-map');
let mapRange = null;
const colours = data.colours.map(c => [1, 3, 5].map(i => parseInt(c.slice(i, i + 2), 16)));
const colour = share => colours[Math.round(Math.max(0, Math.min(1, share)) * (colours.length - 1))];
const showScale = () => {
  const canvas = document.createElement('canvas'), ends = document.createElement('div');
  canvas.width = colours.length, canvas.height = 1;
  const pen = canvas.getContext('2d');
  colours.forEach((c, i) => { pen.fillStyle = `rgb(${c})`; pen.fillRect(i, 0, 1, 1); });
  for (const text of [mapRange[0].toFixed(1) + ' dB, better', 'spread by where the box stands',
                      mapRange[1].toFixed(1) + ' dB']) {
    const span = document.createElement('span');
    span.textContent = text;
    ends.append(span);
  }
  canvas.setAttribute('aria-hidden', 'true');
  mapScale.replaceChildren(canvas, ends);
  mapScale.hidden = false;
};
const showMap = map => {
  const good = [...map.value].filter(v => v >= 0).sort((a, b) => a - b);
  if (!good.length) { picture.setAttribute('width', 0); return; }
  if (!mapRange) {
    mapRange = [Math.floor(good[0] * 2) / 2, Math.ceil(good[Math.floor(good.length * 0.95)] * 2) / 2];
    if (mapRange[1] <= mapRange[0]) mapRange[1] = mapRange[0] + 0.5;
    showScale();
  }
  const fine = 6, canvas = document.createElement('canvas');
  canvas.width = map.nx * fine, canvas.height = map.ny * fine;
  const pen = canvas.getContext('2d'), image = pen.createImageData(canvas.width, canvas.height);
  const value = (i, j) => map.value[Math.max(0, Math.min(map.ny - 1, j)) * map.nx +
                                    Math.max(0, Math.min(map.nx - 1, i))];
  for (let py = 0; py < canvas.height; ++py)
    for (let px = 0; px < canvas.width; ++px) {
      if (value(Math.floor(px / fine), Math.floor(py / fine)) < 0) continue;
      const fx = (px + 0.5) / fine - 0.5, fy = (py + 0.5) / fine - 0.5;
      const i = Math.floor(fx), j = Math.floor(fy);
      let sum = 0, weight = 0;
      for (const [di, dj] of [[0, 0], [1, 0], [0, 1], [1, 1]]) {
        const v = value(i + di, j + dj), w = (di ? fx - i : i + 1 - fx) * (dj ? fy - j : j + 1 - fy);
        if (v >= 0) sum += w * v, weight += w;
      }
      const c = colour((sum / weight - mapRange[0]) / (mapRange[1] - mapRange[0]));
      image.data.set([...c, 255], 4 * (py * canvas.width + px));
    }
  pen.putImageData(image, 0, 0);
  picture.setAttribute('href', canvas.toDataURL());
  picture.setAttribute('x', cornerX + (map.x0 - map.dx / 2) * scale);
  picture.setAttribute('y', cornerY + (map.y0 - map.dy / 2) * scale);
  picture.setAttribute('width', map.nx * map.dx * scale);
  picture.setAttribute('height', map.ny * map.dy * scale);
};

// What takes longer than a frame is done in turn: the map as things move, the balance of all boxes
// when they have come to rest.
let worker = null, busy = false, mapKey = '', balanceKey = '', restTimer = 0;
const wantWork = atRest => {
  if (!worker || busy) return;
  const mapNow = JSON.stringify([state.volume, state.seats, state.walls, state.softness, state.facing]);
  const balanceNow = JSON.stringify([mapNow, state.x, state.y, state.filling]);
  if (mapNow !== mapKey) {
    mapKey = mapNow;
    busy = true;
    worker('map', copy(state));
  } else if (atRest && balanceNow !== balanceKey) {
    balanceKey = balanceNow;
    busy = true;
    worker('balance', copy(state));
  }
};
const gotWork = ({task, found, millis}) => {
  busy = false;
  html.dataset[task + 'Millis'] = millis.toFixed(1);
  if (found && task === 'map') showMap(found);
  if (found && task === 'balance') {
    draw(live.balance, found.map(values => [...values]));
    if (lastAnswer) showRing(lastAnswer, moved());
  }
  wantWork(!restTimer);
};
const waitForRest = () => {
  clearTimeout(restTimer);
  restTimer = setTimeout(() => { restTimer = 0; wantWork(true); }, 200);
};
const startWorker = () => {
  const work = async (ready, task, now, data, qtc, reply) => {
    const start = performance.now();
    let found = null;
    try {
      const engine = await ready;
      found = task === 'map' ? engine.map(now, data.mapStep) : engine.balance(now, qtc);
    } catch { /* what was there remains */ }
    reply({task, found, millis: performance.now() - start});
  };
  const qtc = live.balance.data.x;
  try {
    const code = `'use strict'; const openEngine = ${openEngine};
      const work = ${work};
      let m0, ready;
      onmessage = ({data: m}) => {
        if (m.bytes) { m0 = m; ready = openEngine(m.bytes, m.data); return; }
        work(ready, m.task, m.now, m0.data, m0.qtc, r => {
          if (!r.found) ready = openEngine(m0.bytes, m0.data);
          postMessage(r);
        });
      };`;
    const other = new Worker(URL.createObjectURL(new Blob([code], {type: 'text/javascript'})));
    other.onmessage = event => gotWork(event.data);
    other.postMessage({bytes, data, qtc});
    worker = (task, now) => other.postMessage({task, now});
  } catch {  // no workers here: between two drags, then
    let ready = openEngine(bytes, data);
    worker = (task, now) => setTimeout(() => work(ready, task, now, data, qtc, r => {
      if (!r.found) ready = openEngine(bytes, data);
      gotWork(r);
    }), 300);
  }
};

// ---- From a change to a picture, at most once a frame.
let engine = null, pending = false, lastAnswer = null;
const render = async () => {
  pending = false;
  if (!engine) return;
  const start = performance.now();
  try {
    lastAnswer = engine.answer(state);
    const solved = performance.now();
    show(lastAnswer);
    html.dataset.solveMillis = (solved - start).toFixed(2);
    html.dataset.frameMillis = (performance.now() - start).toFixed(2);
  } catch {
    // Walls too soft for the solver, or the cone at a seat's ear: a fresh engine for the next try.
    engine = null;
    say('This cannot be worked out: the box is at a seat\u2019s ear, or the walls are too soft. Move on.');
    engine = await openEngine(bytes, data);
    return;
  }
  wantWork(false);
  waitForRest();
};
const change = () => {
  if (pending) return;
  pending = true;
  requestAnimationFrame(render);
};

// ---- Pointer and keyboard on the plan.
const movable = (element, get, set) => {
  element.setAttribute('tabindex', '0');
  element.setAttribute('role', 'button');
  element.setAttribute('aria-roledescription', 'movable with the arrow keys');
  const place = event => {
    const m = plan.getScreenCTM();
    return [((event.clientX - m.e) / m.a - cornerX) / scale, ((event.clientY - m.f) / m.d - cornerY) / scale];
  };
  let offset = null;
  element.addEventListener('pointerdown', event => {
    if (event.button) return;
    const [x, y] = place(event), [x0, y0] = get();
    offset = [x0 - x, y0 - y];
    element.setPointerCapture(event.pointerId);
    element.classList.add('dragged');
    event.preventDefault();
    element.focus({preventScroll: true});
  });
  element.addEventListener('pointermove', event => {
    if (!offset) return;
    const [x, y] = place(event);
    set(x + offset[0], y + offset[1]);
    change();
  });
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture'])
    element.addEventListener(end, () => { offset = null; element.classList.remove('dragged'); });
  element.addEventListener('keydown', event => {
    const way = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]}[event.key];
    if (!way || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = (imperial() ? 0.0508 : 0.05) / (event.shiftKey ? (imperial() ? 4 : 5) : 1);
    const [x, y] = get();
    set(x + way[0] * step, y + way[1] * step);
    change();
  });
};
const inside = (value, side) => Math.max(0, Math.min(side, value));

const connect = () => {
  movable(box, () => [state.x, state.y], (x, y) => { state.x = x, state.y = y; });
  seats.forEach((seat, i) => movable(seat, () => state.seats[i], (x, y) => {
    state.seats[i] = [inside(x, data.room[0]), inside(y, data.room[1]), state.seats[i][2]];
  }));
  const on = (id, act) => byId('live-' + id).addEventListener('input', event => {
    act(+event.target.value);
    change();
  });
  on('volume', v => { state.volume = lowest * Math.pow(highest / lowest, v / 400); });
  on('filling', v => { state.filling = v; });
  on('facing', v => { state.facing = v; });
  on('wall', () => {});
  byId('live-material').addEventListener('input', event => {
    const wall = +byId('live-wall').value, name = event.target.value;
    state.walls[wall] = name === '#' ? absorptionOf(byId('live-absorption').value) : name || null;
    change();
  });
  on('absorption', v => { state.walls[+byId('live-wall').value] = absorptionOf(v); });
  on('softness', () => { state.softness = softest(); });
  for (const button of document.querySelectorAll('#live-controls [data-volume]'))
    button.addEventListener('click', () => { state.volume = +button.dataset.volume; change(); });
  byId('live-reset').addEventListener('click', () => { Object.assign(state, copy(first)); change(); });
  byId('live-copy').addEventListener('click', copyFile);
  byId('live-controls').addEventListener('submit', event => event.preventDefault());
};

// ---- What was found goes back into the program.
const wallText = (wall, i) => {
  const own = state.walls[i], soft = state.softness;
  if (own === null && soft === 1) return wall.toml;
  if (soft === 1) return typeof own === 'string' ? `"${own}"` : `{ absorption = ${own} }`;
  return '[' + engine.wall(i).map(([r, m, k]) =>
    `{ resistance = ${r}, mass = ${m}, stiffness = ${k} }`).join(', ') + ']';
};
const roomFile = () => {
  const value = part => {
    const [kind, index] = part.split(' ');
    if (kind === 'volume') return String(state.volume);
    if (kind === 'filling') return String(state.filling);
    if (kind === 'facing') return `"${data.facings[state.facing]}"`;
    if (kind === 'sub') return `[${lastAnswer.centre.join(', ')}]`;
    if (kind === 'seat') return `[${state.seats[index].join(', ')}]`;
    return wallText(data.walls[index], index);
  };
  const {text, parts} = data.file;
  return parts.reduce((out, part, i) => out + value(part) + text[i + 1], text[0]);
};
const copyFile = async () => {
  const details = byId('live-file'), area = details.querySelector('textarea');
  area.value = roomFile();
  details.hidden = false;
  details.open = true;
  try {
    await navigator.clipboard.writeText(area.value);
    say('The room file is copied: save it as my.toml and run boxroom listen my.toml or plan my.toml.');
  } catch {
    area.select();
    say('The room file stands below, selected, ready to be copied.');
  }
};

// ---- Metric and imperial.
const units = byId('live-units');
for (const button of units.querySelectorAll('button'))
  button.addEventListener('click', () => {
    html.dataset.units = button.dataset.units;
    for (const other of units.querySelectorAll('button'))
      other.setAttribute('aria-pressed', other === button);
    if (lastAnswer) show(lastAnswer);
  });
units.hidden = false;

// ---- Start: the engine must give the report's own curve before the page comes alive.
const start = async () => {
  engine = await openEngine(bytes, data);
  let a = engine.answer(state);
  if (data.facing !== undefined && a.facing !== data.facing) {
    state.facing = first.facing = data.facing;
    a = engine.answer(state);
  }
  first.x = state.x, first.y = state.y;
  const off = Math.max(...live.response.first[seatCount].map((v, i) => Math.abs(v - a.average[i])));
  if (!(off < 0.02)) {
    status.textContent = 'The engine in this page disagrees with the report, so the page stands still.';
    return;
  }
  lastAnswer = a;
  html.classList.add('live');
  html.dataset.aliveMillis = performance.now().toFixed(0);
  byId('live-controls').hidden = false;
  beside.hidden = false;
  for (const element of document.querySelectorAll('.when-live')) element.hidden = false;
  startWorker();
  connect();
  show(a);
  wantWork(true);
};
start().catch(() => { status.textContent = 'This browser cannot run the engine in this page, so the page stands still.'; });

})();
