// The page: what it holds, and what can be changed in it.
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
