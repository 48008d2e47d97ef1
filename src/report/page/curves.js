// Curves.
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
// What the equaliser adds to the average, where the answer has one.
const equaliserGain = (live.response.first[seatCount + 3] || [])
  .map((v, i) => v === null ? null : v - live.response.first[seatCount][i]);

// A second, small drawing of the response beside the floor plan.
const beside = byId('live-chart');
const small = live.response.figure.querySelector('svg.narrow').cloneNode(true);
small.classList.remove('narrow', 'chart');
small.classList.add('small');
beside.append(small);
const key = live.response.figure.querySelector('.legend').cloneNode(true);
for (const output of key.querySelectorAll('output')) output.remove();
beside.append(key);
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
