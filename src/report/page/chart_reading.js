// Both drawings of a chart share one reading; the one that is not shown is moved along with it, so
// that turning a telephone changes nothing. `charts` lets a live answer put in other curves.
'use strict';
const readCharts = root => {
const charts = {};
for (const figure of root.querySelectorAll('figure')) {
  const plot = figure.querySelector('.plot');
  if (!plot) continue;
  const data = JSON.parse(figure.querySelector('script').textContent);
  const drawings = [...plot.querySelectorAll('svg.chart')];
  const reading = figure.querySelector('.reading');
  const outputs = [...figure.querySelectorAll('.legend output')];
  const x = data.x, last = x.length - 1;
  const [low, high] = data.axis;
  const along = v => data.log ? Math.log(v / low) / Math.log(high / low) : (v - low) / (high - low);
  const number = (v, decimals, unit) =>
    v === null ? 'no value' : v.toFixed(decimals).replace(/^-(0\.?0*)$/, '$1') + (unit ? ' ' + unit : '');
  const place = () => data.xUnit === 'Hz' ? number(x[at], data.xDecimals, 'Hz')
                                          : data.xUnit + ' ' + number(x[at], data.xDecimals, '');
  let at = x.length >> 1, read = false;
  const show = index => {
    at = Math.max(0, Math.min(last, index));
    read = true;
    for (const svg of drawings) {
      const left = +svg.dataset.left, right = +svg.dataset.right;
      const cursor = svg.querySelector('.cursor');
      cursor.setAttribute('d', 'M' + (left + along(x[at]) * (right - left)).toFixed(1) + ' ' +
                               cursor.dataset.top + 'V' + cursor.dataset.bottom);
    }
    const values = data.curves.map(c => number(c.y[at], data.yDecimals, data.yUnit));
    reading.textContent = 'At ' + place();
    outputs.forEach((output, k) => { output.textContent = values[k]; });
    plot.setAttribute('aria-valuenow', at);
    plot.setAttribute('aria-valuetext',
      place() + ': ' + data.curves.map((c, k) => c.name + ' ' + values[k]).join('; '));
  };
  const point = event => {
    const svg = drawings.find(d => d.getBoundingClientRect().width > 0);
    const box = svg.getBoundingClientRect();
    const left = +svg.dataset.left, right = +svg.dataset.right;
    const want = ((event.clientX - box.left) / box.width * svg.viewBox.baseVal.width - left) / (right - left);
    let best = 0;
    for (let i = 1; i <= last; ++i)
      if (Math.abs(along(x[i]) - want) < Math.abs(along(x[best]) - want)) best = i;
    show(best);
  };
  plot.addEventListener('pointermove', point);
  plot.addEventListener('pointerdown', point);
  plot.addEventListener('keydown', event => {
    const to = {ArrowLeft: at - 1, ArrowDown: at - 1, ArrowRight: at + 1, ArrowUp: at + 1,
                PageDown: at - 12, PageUp: at + 12, Home: 0, End: last}[event.key];
    if (to === undefined) return;
    event.preventDefault();
    show(to);
  });
  charts[figure.id] = {figure, data, drawings, along, again: () => { if (read) show(at); }};
}
return charts;
};
let charts = readCharts(document);
