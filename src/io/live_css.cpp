#include "io/live_page.hpp"

namespace boxroom {

const char* const live_css = R"(
html[data-units=metric] .imperial, html[data-units=imperial] .metric { display: none; }
[hidden] { display: none !important; }
.floor { display: grid; gap: 1.2rem 2.2rem; }
svg.plan { display: block; width: 100%; height: auto; margin: 0; }
svg.plan text { font: 13px var(--sans); fill: #3a4043; }
.plan .floor { fill: #fff; }
.plan .walls { fill: none; stroke: #1f2629; stroke-width: 2; }
.plan .front { stroke: #1f2629; stroke-width: 6; fill: none; }
.plan .tick { stroke: #6b7174; fill: none; }
.keep-out path { fill: none; stroke: #8a8f91; }
.keep-out rect { fill: #fff; fill-opacity: .6; stroke: #6b7174; }
svg.plan .keep-out text, svg.plan .plan-seat text { paint-order: stroke; stroke: #fff;
  stroke-width: 4px; stroke-linejoin: round; }
.plan-seat .seat { fill: #fff; stroke-width: 3; }
.plan .reach { fill: transparent; stroke: none; }
.plan .box { fill: #1f2629; stroke: #fff; stroke-width: 1.5; }
.plan .cone { fill: none; stroke: #e0a030; stroke-width: 5; }
.worth td { white-space: nowrap; }
.worth td.now { font-weight: 700; }
.worth thead th { font-size: 13.5px; }
.status { min-height: 1.5em; margin: .6rem 0 0; font: 15px/1.5 var(--sans); color: var(--ink); }
.live .plan-seat, .live #plan-box { cursor: grab; touch-action: none; }
.live .dragged { cursor: grabbing; }
.live .plan-seat:focus, .live #plan-box:focus { outline: none; }
.live .plan-seat:focus-visible .reach, .live #plan-box:focus-visible .reach { stroke: #0a5d9c;
  stroke-width: 3; }
.ghost { fill: none; stroke: #7c8487; stroke-width: 1.6; stroke-dasharray: none; }
svg.chart .ring { fill: none; stroke: #b3471b; stroke-width: 3; }
#live-chart { background: #fff; margin-top: 1rem; }
#live-chart svg { display: block; width: 100%; height: auto; }
#live-chart text { font: 12px var(--sans); fill: #3a4043; }
#live-chart .cursor { display: none; }
.moved { margin: .2rem 0 .6rem; font: 600 15px/1.5 var(--sans); color: #8a3412; }
.map-scale { max-width: 26rem; margin: .5rem 0 0; font: 14px/1.5 var(--sans); color: var(--soft); }
.map-scale canvas { display: block; width: 100%; height: 12px; }
.map-scale div { display: flex; justify-content: space-between; font-variant-numeric: tabular-nums; }
.controls { margin: 1.6rem 0 0; display: grid; gap: 1.2rem 2.2rem; font: 15px/1.5 var(--sans); }
.controls fieldset { border: 0; border-top: 3px solid var(--line); margin: 0; padding: .6rem 0 0;
  min-width: 0; }
.controls legend { float: left; width: 100%; padding: 0; font-weight: 600; }
.controls legend + * { clear: both; }
.field { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 0 1rem; padding: .35rem 0; }
.field label { color: var(--soft); }
.field input { grid-column: 1 / -1; grid-row: 2; width: 100%; margin: 0; min-height: 28px;
  accent-color: var(--deep); }
.field output { font-weight: 600; text-align: right; font-variant-numeric: tabular-nums; }
.controls select, .controls button, .units button { font: inherit; color: var(--ink);
  background: #fff; border: 1px solid #6b7174; border-radius: 3px; padding: .3rem .7rem;
  min-height: 36px; max-width: 100%; }
.controls button, .units button { cursor: pointer; }
.buttons { display: flex; flex-wrap: wrap; gap: .5rem; margin: .4rem 0; }
.controls textarea { width: 100%; font: 14px/1.5 ui-monospace, "Liberation Mono", Menlo, Consolas,
  monospace; }
.controls :focus-visible, .units :focus-visible { outline: 3px solid #0a5d9c; outline-offset: 2px; }
.units { display: flex; justify-content: flex-end; gap: .4rem; font: 14px/1.5 var(--sans); }
.units button[aria-pressed=true] { background: var(--deep); border-color: var(--deep); color: #fff; }
@media (min-width: 46rem) {
  .floor, .controls { grid-template-columns: 1fr 1fr; }
  .controls > .buttons, .controls > details { grid-column: 1 / -1; }
}
@media (max-width: 46rem) {  /* the curves right below the plan, where a thumb does not hide them */
  .floor-side { display: flex; flex-direction: column; }
  #live-chart { order: -1; margin: 0 0 1rem; }
  svg.plan { max-height: 46vh; }
}
@media (prefers-reduced-motion: reduce) {
  * { animation: none !important; transition: none !important; scroll-behavior: auto !important; }
}
@media print {
  .controls, .units, .when-live, .status, #live-chart { display: none !important; }
  .floor { grid-template-columns: 9cm 1fr; }
  .floor, .worth { break-inside: avoid; }
  .worth thead th { font-size: inherit; }
  html:not(.changed) .worth .now { display: none; }
  .map-scale { font-size: 8pt; }
}
)";

}  // namespace boxroom
