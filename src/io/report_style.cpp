#include "io/report_style.hpp"

namespace boxroom {

// Headings stand in a margin of their own where the window is wide enough, so that the eye finds
// the answer first and the sections by their names.
const char* const report_css = R"(
:root { color-scheme: light; --ink: #1f2629; --soft: #545c60; --paper: #fbfaf6; --line: #d9d5ca;
  --deep: #0b4f5c; --sans: "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0; background: var(--paper); color: var(--ink); overflow-wrap: anywhere;
  font: 18px/1.55 "Iowan Old Style", Palatino, "Palatino Linotype", "Book Antiqua", Georgia, serif; }
main { max-width: 72rem; margin: 0 auto; padding: 2rem 1.1rem 4rem; }
a { color: var(--deep); }
.title { margin: 0 0 1.2rem; font: 15px/1.5 var(--sans); color: var(--soft); display: -webkit-box;
  -webkit-box-orient: vertical; -webkit-line-clamp: 3; overflow: hidden; }
h1 { margin: 0; font-size: clamp(1.45rem, 1.1rem + 1.6vw, 2.15rem); line-height: 1.28; font-weight: 400;
  letter-spacing: -.01em; color: var(--deep); text-wrap: pretty; }
h2 { margin: 0; font: 600 15px/1.4 var(--sans); color: var(--deep); letter-spacing: .02em; }
h3 { margin: 0; font-size: 1.25rem; line-height: 1.3; font-weight: 600; }
.why { margin: 1.6rem 0 0; display: grid; gap: 1rem 2.2rem; }
.why dt, .card dt, .places dt { font: 14px/1.5 var(--sans); color: var(--soft); }
.why dd, .card dd { margin: 0; }
section { border-top: 1px solid var(--line); margin-top: 3rem; padding-top: 1.1rem; display: grid;
  gap: 1rem 2.2rem; }
section > * { min-width: 0; }
.cards { display: grid; gap: 2rem 2.2rem; }
.card { border-top: 3px solid var(--line); padding-top: .7rem; }
.card.chosen { border-top-color: var(--deep); }
.card h3 { font-size: 1.1rem; }
.card .volume { margin: .1rem 0 .5rem; font-size: 2.1rem; line-height: 1.2; }
.volume small { font: 14px/1.5 var(--sans); color: var(--soft); }
.card.chosen .volume { color: var(--deep); font-weight: 600; }
.card dl { margin: 0; font-variant-numeric: tabular-nums; }
.card dl div { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline;
  gap: 0 1rem; padding: .2rem 0; border-bottom: 1px solid var(--line); }
.cards + .note { margin: 1.8rem 0 0; }
figure { margin: 0 0 3rem; }
figure:last-child { margin-bottom: 0; }
.caption, figcaption { margin: .2rem 0 .8rem; color: var(--soft); font-size: 16px; line-height: 1.5;
  max-width: 44rem; }
.plot { background: #fff; touch-action: pan-y; cursor: crosshair; }
.plot:focus-visible, .scroll:focus-visible, summary:focus-visible, a:focus-visible {
  outline: 3px solid #0a5d9c; outline-offset: 3px; }
svg.chart { display: block; width: 100%; height: auto; }
svg.chart.narrow { display: none; }
svg.chart text { font: 13px var(--sans); fill: #3a4043; }
svg.narrow text { font-size: 12px; }
.curve { fill: none; stroke-linejoin: round; }
.grid { stroke: #e2e2dd; stroke-width: 1; fill: none; }
.zero { stroke: #8a8f91; }
.frame { stroke: #6b7174; stroke-width: 1; fill: none; }
.shade { fill: #f1ede0; }
.cursor { stroke: #1f2629; stroke-width: 1; fill: none; }
.mark { fill: #1f2629; stroke: #fff; stroke-width: 1.5; }
.mark.hollow { fill: none; stroke: #1f2629; stroke-width: 2; stroke-linejoin: round; }
svg.trade { background: #fff; }
.set { stroke: #fff; stroke-width: 1; }
.choice { fill: none; stroke: #1f2629; stroke-width: 2; }
.still { margin: 0 0 1rem; }
.still + div { min-width: 0; }
svg.still text.number { fill: #fff; font-weight: 700; }
.live .still .plan-seat { cursor: auto; touch-action: auto; }
.reading { margin: .7rem 0 .3rem; font: 600 15px/1.4 var(--sans); font-variant-numeric: tabular-nums; }
.legend { list-style: none; margin: 0; padding: 0; display: grid; gap: .1rem 1.6rem;
  grid-template-columns: repeat(auto-fill, minmax(min(100%, 17.5rem), 1fr));
  font: 15px/1.5 var(--sans); }
.legend li { display: grid; grid-template-columns: 34px 1fr auto; gap: .6rem; align-items: center; }
.legend bdi { display: -webkit-box; -webkit-box-orient: vertical; -webkit-line-clamp: 2;
  overflow: hidden; min-width: 0; text-align: left; }
.legend output { font-variant-numeric: tabular-nums; font-weight: 600; white-space: nowrap; }
.sample { width: 34px; height: auto; display: block; }
.maps { display: grid; gap: 2.2rem; }
.maps figure { margin: 0; }
.maps img { display: block; width: 100%; height: auto; background: #fff; }
.drawing { background: #fff; }
.drawing svg { display: block; width: 100%; min-width: 44rem; height: auto; }
.scroll { overflow-x: auto; margin: .3rem 0 1.8rem; }
table { border-collapse: collapse; width: 100%; font: 14.5px/1.45 var(--sans);
  font-variant-numeric: tabular-nums; overflow-wrap: normal; }
caption { text-align: left; padding-bottom: .5rem; font-weight: 600; }
th, td { padding: .38rem .5rem; text-align: right; vertical-align: top;
  border-bottom: 1px solid var(--line); }
thead th { vertical-align: bottom; font-weight: 600; border-bottom: 1px solid #6b7174; }
tbody th { font-weight: 400; }
th.words, td.words { text-align: left; }
td.long { overflow-wrap: anywhere; min-width: 9rem; text-align: left; }
td.whole, th.whole { white-space: nowrap; }
tr.chosen td, tr.chosen th { font-weight: 700; background: #f1ede0; }
.places { margin: 0; }
.places dd { margin: 0 0 .9rem; }
.note { max-width: 44rem; margin: 0 0 1rem; }
ul.plain { margin: 0 0 1rem; padding-left: 1.2rem; max-width: 44rem; }
ul.plain li { margin-bottom: .45rem; }
summary { cursor: pointer; font: 600 15px/1.5 var(--sans); padding: .3rem 0; }
pre { unicode-bidi: plaintext; white-space: pre-wrap; overflow-wrap: anywhere; margin: .6rem 0;
  padding: 1rem; background: #fff;
  font: 14px/1.5 ui-monospace, "Liberation Mono", Menlo, Consolas, monospace; }
footer { margin-top: 2rem; font: 14px/1.5 var(--sans); color: var(--soft); }
@media (min-width: 46rem) {
  .why, .cards { grid-template-columns: repeat(3, 1fr); }
  .maps { grid-template-columns: repeat(auto-fit, minmax(19rem, 1fr)); }
  .maps figure { max-width: 38rem; }
}
@media (min-width: 64rem) {
  main { padding: 3.5rem 2.5rem 5rem; }
  section, header { display: grid; grid-template-columns: 9rem minmax(0, 1fr); gap: 0 2.4rem; }
  header > * { grid-column: 2; }
  section > :not(h2) { grid-column: 2; }
}
@media (max-width: 36rem) {
  svg.chart.wide { display: none; }
  svg.chart.narrow { display: block; }
  table { font-size: 14px; }
  th, td { padding: .3rem .4rem; }
  td.long { min-width: 7rem; }
}
@media print {
  @page { margin: 16mm 15mm; }
  body { background: #fff; font-size: 10.5pt; }
  main { padding: 0; max-width: none; }
  section { display: block; margin-top: 1.4rem; }
  header { display: block; }
  h2, h3, caption { break-after: avoid; }
  section > h2 { margin-bottom: .6rem; }
  .why, .cards { display: grid; grid-template-columns: repeat(3, 1fr); gap: 1rem 1.4rem; }
  h1 { font-size: 17pt; }
  h3 { font-size: 11.5pt; }
  .why dt, .card dt, .places dt { font-size: 8.5pt; }
  .card .volume { font-size: 15pt; }
  .card dl div { padding: .1rem 0; gap: 0 .4rem; }
  .caption, figcaption { font-size: 9.5pt; margin-bottom: .4rem; }
  figure { margin-bottom: 1.2rem; }
  svg.chart.wide { max-width: 15.5cm; }
  .maps { grid-template-columns: 1fr 1fr; }
  figure, .card, tr, .maps figure { break-inside: avoid; }
  svg.chart.wide { display: block; }
  svg.chart.narrow, .reading, .cursor, .legend output, #input-heading, details { display: none; }
  .scroll { overflow: visible; }
  .drawing svg { min-width: 0; }
  .drawing { break-inside: avoid; }
  table { font-size: 8.5pt; }
  th, td { padding: .15rem .3rem; }
  .legend { font-size: 9pt; grid-template-columns: repeat(3, 1fr); }
  * { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
)";

// Both drawings of a chart share one reading; the one that is not shown is moved along with it, so
// that turning a telephone changes nothing. `charts` lets a live page's script put in other curves.
const char* const report_script = R"JS(
'use strict';
const charts = {};
for (const figure of document.querySelectorAll('figure')) {
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
)JS";

}  // namespace boxroom
