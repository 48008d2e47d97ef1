// The answer: what it holds, and what can be changed in it.
const byId = id => document.getElementById(id);
const source = byId('live-data');
if (!source) return;
const data = JSON.parse(source.textContent);
const plan = document.querySelector('svg.plan'), status = byId('live-status');
const scale = +plan.dataset.scale, cornerX = +plan.dataset.x, cornerY = +plan.dataset.y;
const boxes = [...plan.querySelectorAll('.plan-box')], seats = [...plan.querySelectorAll('.plan-seat')];
const html = document.documentElement;
const imperial = () => html.dataset.units === 'imperial';

const length = metres => {
  if (!imperial()) return metres.toFixed(2) + ' m';
  const halves = Math.round(metres / 0.0127), feet = Math.floor(halves / 24), left = halves % 24;
  return [feet ? feet + ' ft' : '', left || !feet ? left / 2 + ' in' : ''].filter(Boolean).join(' ');
};
const volume = m3 => imperial() ? (m3 / 0.028316846592).toFixed(2) + ' ft\u00b3'
                                : (m3 * 1e3).toFixed(m3 < 0.00995 ? 1 : 0) + ' L';

const first = {volume: data.volume, filling: data.filling,
               subs: data.subs.map(({name, ...sub}) => ({...sub, facing: data.wantedFacing})),
               seats: data.seats.map(s => s.at),
               walls: data.walls.map(() => null), parts: data.walls.map(() => null), softness: 1};
const copy = state => ({...state, subs: state.subs.map(sub => ({...sub})), seats: [...state.seats],
                        walls: [...state.walls], parts: [...state.parts]});
const state = copy(first);
const several = data.subs.length > 1;
const dials = ['gain', 'delay', 'polarity'];
let chosen = 0;  // the box that the controls and the map speak of
// Steps that can be taken back; changes of one kind that follow each other closely are one step.
const steps = [];
let settled = copy(first), lastKind = '', lastChange = 0;
const remember = kind => {
  if (JSON.stringify(settled) === JSON.stringify(state)) return;
  const now = performance.now();
  const rested = !kind.startsWith('drag') && now - lastChange > 1500;
  if (kind !== lastKind || rested) steps.push(settled);
  lastKind = kind, lastChange = now, settled = copy(state);
};
const takeBack = () => {
  if (!steps.length) return;
  Object.assign(state, copy(steps.pop()));
  settled = copy(state), lastKind = '';
};
// What is not as in the plan, in words.
const changes = () => {
  const moves = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]) > 1e-6, words = [];
  if (state.volume !== first.volume) words.push('size of the box');
  if (state.filling !== first.filling) words.push('filling');
  // A larger box stands a little further from the wall: that is its size, no move.
  const least = state.volume === first.volume ? 1e-6 : 0.15;
  state.subs.forEach((sub, i) => {
    const was = first.subs[i], of = several ? ' of ' + data.subs[i].name : '';
    if (sub.facing !== was.facing) words.push('where the driver looks' + of);
    if (Math.hypot(sub.x - was.x, sub.y - was.y) > least) words.push('place' + (of || ' of the box'));
    if (dials.some(k => sub[k] !== was[k])) words.push('settings' + of);
  });
  state.seats.forEach((at, i) => { if (moves(at, first.seats[i])) words.push(data.seats[i].name); });
  if (state.softness !== 1) words.push('all walls');
  else state.walls.forEach((wall, i) => {
    if (wall !== null || state.parts[i]) words.push(byId('live-wall').options[i].textContent);
  });
  return words;
};
const subMoved = (sub, was) => Math.hypot(sub.x - was.x, sub.y - was.y) > 1e-6 ||
  ['facing', ...dials].some(k => sub[k] !== was[k]);
const moved = () => ['volume', 'filling', 'softness'].some(k => state[k] !== first[k]) ||
  state.subs.some((sub, i) => subMoved(sub, first.subs[i])) ||
  [...state.walls, ...state.parts].some(own => own !== null) || state.seats.some((at, i) => at !== first.seats[i]);
