// The numbers beside the plan.
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
const wallSize = wall => data.walls[wall].area;
// A part belongs to a wall that is made of one thing: the page's own, or a plain name in the file; no area: no parts.
const canHavePart = wall => wallSize(wall) > 0 && (state.walls[wall] !== null || data.walls[wall].plain);
const area = m2 => imperial() ? (m2 / 0.09290304).toFixed(0) + ' ft\u00b2' : m2.toFixed(1) + ' m\u00b2';
const absorptionOf = value => 0.01 * Math.pow(80, value / 200);  // 0.01 to 0.80

const showControls = a => {
  byId('live-volume').value = 400 * Math.log(state.volume / lowest) / Math.log(highest / lowest);
  byId('live-filling').value = state.filling;
  const sub = state.subs[chosen];
  byId('live-facing').value = sub.facing;
  if (several) {
    byId('live-which').value = chosen;
    byId('live-gain').value = sub.gain;
    byId('live-delay').value = sub.delay * 1e3;
    byId('live-polarity').value = sub.polarity < 0 ? 1 : 0;
    field('gain', sub.gain.toFixed(1) + ' dB');
    field('delay', (sub.delay * 1e3).toFixed(1) + ' ms');
  }
  field('volume', `${volume(state.volume)}, Qtc ${a.qtc.toFixed(2)}`);
  field('filling', '\u00d7 ' + state.filling.toFixed(2));
  if (byId('live-wall')) showWalls(+byId('live-wall').value);
};
const showWalls = wall => {
  const own = state.walls[wall];
  const material = own === null ? data.walls[wall] : data.constructions[own];
  const absorbs = material ? material.absorption : own;
  byId('live-material').value = typeof own === 'number' ? '#' : own ?? '';
  byId('live-absorption').value = 200 * Math.log(Math.max(0.01, absorbs) / 0.01) / Math.log(80);
  byId('live-softness').value = Math.round(100 * Math.log10(state.softness));
  const part = state.parts[wall], free = canHavePart(wall);
  byId('live-part').value = part ? part.name : '';
  byId('live-part').disabled = !free;
  byId('live-part-area').disabled = !part;
  if (part) byId('live-part-area').value = 100 * part.area / wallSize(wall);
  field('material', own === null ? data.walls[wall].made : '');
  field('part-area', part ? area(part.area) : '');
  field('absorption', absorbs.toFixed(2) + (material ? ' at 125 Hz' : ''));
  field('softness', '\u00d7 ' + state.softness.toFixed(2));
};

let statusTimer = 0;
const say = text => {
  clearTimeout(statusTimer);
  statusTimer = setTimeout(() => { if (status.textContent !== text) status.textContent = text; }, 250);
};

const where = sub => `${length(sub.x)} from the left wall, ${length(sub.y)} from the front wall`;

const show = a => {
  const changed = moved();
  html.classList.toggle('changed', changed);
  // 1. The plan.
  a.subs.forEach((sub, i) => {
    const box = boxes[i], rect = box.querySelector('.box');
    const w = sub.outer[0] * scale / 2, d = sub.outer[1] * scale / 2;
    box.setAttribute('transform', at(sub.x, sub.y));
    for (const [name, value] of [['x', -w], ['y', -d], ['width', 2 * w], ['height', 2 * d]])
      rect.setAttribute(name, value.toFixed(2));
    box.querySelector('.cone').setAttribute('d', ['', `M${-w} ${-d}v${2 * d}`, `M${w} ${-d}v${2 * d}`,
      `M${-w} ${-d}h${2 * w}`, `M${-w} ${d}h${2 * w}`, '', ''][sub.facing]);
    box.setAttribute('aria-label', (several ? data.subs[i].name : 'Box') + ': ' + where(sub));
    box.classList.toggle('chosen', several && i === chosen);
  });
  seats.forEach((seat, i) => {
    const [x, y] = state.seats[i];
    seat.setAttribute('transform', at(x, y));
    seat.setAttribute('aria-label', `Seat ${data.seats[i].name}: ${length(x)} from the left wall, ` +
                                    `${length(y)} from the front wall`);
  });
  // 2. The numbers.
  heading.textContent = a.draft ? 'now, a draft' : 'now';
  data.criteria.forEach(({key, unit, decimals}, i) => {
    const text = a[key].toFixed(decimals) + ' ' + unit;
    if (cells[i].textContent !== text) cells[i].textContent = text;
  });
  showControls(a);
  byId('live-undo').disabled = !steps.length;
  const words = changes();
  byId('live-changes').textContent = words.length ? `Changed since the plan: ${words.join(', ')}.` : '';
  const sub = a.subs[chosen], out = sub.outer.map(length);
  const clash = a.subs.map(({fits}, i) => fits ? '' : several ? data.subs[i].name : 'The box').filter(Boolean);
  say((clash.length ? `${clash.join(' and ')} may not stand there: kept-free ground, another box, ` +
                      'a seat too near, or a ceiling too low. ' : '') +
      `${several ? data.subs[chosen].name + ', box' : 'Box'} of ${volume(state.volume)}, ${out[0]} \u00d7 ${out[1]} \u00d7 ` +
      `${out[2]} outside, ${where(sub)}, driver looking ${facingWords(sub.facing)}.`);
  // 3. The curves.
  for (const chart of Object.values(live)) chart.note.hidden = !changed;
  const target = Array.from(a.target, (v, i) => targetMask[i] ? v : null);
  const equalised = equaliserGain.map((gain, i) => gain === null ? null : a.average[i] + gain);
  draw(live.response, [...a.seats, a.average, a.half, target, ...(equalised.length ? [equalised] : [])]);
  draw(live.spread, [a.spread]);
  draw(live.lift, [a.lift]);
  showRing(a, changed);
};
