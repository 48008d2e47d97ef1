// Work beside the page.
// What takes longer than a frame is done in turn: the map as things move, the balance of all boxes
// when they have come to rest.
let worker = null, stopWork = () => {}, busy = false, mapKey = '', balanceKey = '', decayKey = '', restTimer = 0;
const wantWork = atRest => {
  if (!worker || busy) return;
  const decayNow = JSON.stringify([state.walls, state.parts, state.softness]);
  // The map is of the chosen box, wherever it stands now.
  const rest = state.subs.map((sub, i) => i === chosen ? {...sub, x: 0, y: 0} : sub);
  const mapNow = JSON.stringify([decayNow, state.volume, state.seats, rest, chosen]);
  const balanceNow = JSON.stringify([decayNow, state.volume, state.seats, state.subs, state.filling]);
  if (mapNow !== mapKey) {
    mapKey = mapNow;
    busy = true;
    worker('map', copy(state), chosen);
  } else if (atRest && balanceNow !== balanceKey) {
    balanceKey = balanceNow;
    busy = true;
    worker('balance', copy(state));
  } else if (atRest && decayNow !== decayKey) {
    decayKey = decayNow;
    busy = true;
    worker('decay', copy(state));
  }
};
const gotWork = ({task, found, millis}) => {
  busy = false;
  html.dataset[task + 'Millis'] = millis.toFixed(1);
  if (found && task === 'map') showMap(found);
  if (task === 'decay') byId('live-decay').textContent = (found ?? '').replaceAll('\n', ' ');
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
const startWorker = async () => {
  const work = async (ready, {task, now, sub}, data, qtc, reply) => {
    const start = performance.now();
    let found = null;
    try {
      const engine = await ready;
      found = task === 'map' ? engine.map(now, sub, data.mapStep)
        : task === 'balance' ? engine.balance(now, qtc) : engine.decay(now);
    } catch { /* what was there remains */ }
    reply({task, found, millis: performance.now() - start});
  };
  const qtc = live.balance.data.x, module = await engineModule();
  try {
    const code = `'use strict'; const openModule = ${openModule};
      const openEngine = ${openEngine};
      const work = ${work};
      let m0, ready;
      onmessage = ({data: m}) => {
        if (m.module) { m0 = m; ready = openEngine(m.module, m.data); return; }
        work(ready, m, m0.data, m0.qtc, r => {
          if (r.found === null) ready = openEngine(m0.module, m0.data);
          postMessage(r);
        });
      };`;
    const other = new Worker(URL.createObjectURL(new Blob([code], {type: 'text/javascript'})));
    other.onmessage = event => gotWork(event.data);
    other.postMessage({module, data, qtc});
    worker = (task, now, sub) => other.postMessage({task, now, sub});
    stopWork = () => other.terminate();
  } catch {  // no workers here: between two drags, then
    let ready = openEngine(module, data);
    worker = (task, now, sub) => setTimeout(() => work(ready, {task, now, sub}, data, qtc, r => {
      if (r.found === null) ready = openEngine(module, data);
      gotWork(r);
    }), 300);
  }
};
// Whether all that a change asks for is done, for whoever waits for it.
Object.defineProperty(html, 'atRest', {configurable: true, get: () => !pending && !restTimer && !busy});
