// Work beside the page.
// What takes longer than a frame is done in turn: the map as things move, the balance of all boxes
// when they have come to rest.
let worker = null, busy = false, mapKey = '', balanceKey = '', decayKey = '', restTimer = 0;
const ask = async (task, ...given) => {
  busy = true;
  const answer = await worker.ask(task, ...given);
  busy = false;
  gotWork(task, answer);
};
const wantWork = atRest => {
  if (!worker || busy) return;
  if (lastAnswer?.draft) return void (atRest && learnAnew());
  const decayNow = JSON.stringify([state.walls, state.parts, state.softness]);
  // The map is of the chosen box, wherever it stands now.
  const rest = state.subs.map((sub, i) => i === chosen ? {...sub, x: 0, y: 0} : sub);
  const mapNow = JSON.stringify([decayNow, state.volume, state.seats, rest, chosen]);
  const balanceNow = JSON.stringify([decayNow, state.volume, state.seats, state.subs, state.filling]);
  if (mapNow !== mapKey) {
    mapKey = mapNow;
    ask('map', copy(state), chosen, data.mapStep);
  } else if (atRest && balanceNow !== balanceKey) {
    balanceKey = balanceNow;
    ask('balance', copy(state), live.balance.data.x);
  } else if (atRest && decayNow !== decayKey) {
    decayKey = decayNow;
    ask('decay', copy(state));
  }
};
const gotWork = (task, {found, millis}) => {
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
// Whether all that a change asks for is done, for whoever waits for it.
Object.defineProperty(html, 'atRest', {configurable: true, get: () => !pending && !answering && !restTimer && !busy});
