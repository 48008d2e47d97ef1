// Metric and imperial.
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
  worker = await engineBeside(learnShare);
  engine = await (data.learns ? answersBeside() : answersHere());
  let a = await engine.answer(copy(state));
  // `inward` is kept where it says what was decided.
  data.subs.forEach(({facing}, i) => {
    if (a.subs[i].facing !== facing) state.subs[i].facing = first.subs[i].facing = facing;
  });
  state.subs.forEach((sub, i) => { sub.x = data.subs[i].x, sub.y = data.subs[i].y; });
  a = await engine.answer(copy(state));
  stand(copy(state), a);
  state.subs.forEach((sub, i) => { first.subs[i].x = sub.x, first.subs[i].y = sub.y; });
  settled = copy(state);
  const off = Math.max(...live.response.first[seatCount].map((v, i) => Math.abs(v - a.average[i])));
  if (!(off < 0.02)) {
    status.textContent = 'The engine in this page disagrees with the answer, so the page stands still.';
    return;
  }
  if (!plan.isConnected) return;
  lastAnswer = a;
  html.classList.add('live');
  html.dataset.aliveMillis = performance.now().toFixed(0);
  beside.hidden = false;
  for (const element of document.querySelectorAll('.when-live')) element.hidden = false;
  connect();
  show(a);
  wantWork(true);
};
start().catch(error => { status.textContent = `The page stands still: ${error.message}.`; });
return () => {  // another answer takes its place
  worker?.stop(), engine?.stop();
  html.classList.remove('live', 'changed');
};
