// From a change to a picture, at most once a frame.
let engine = null, pending = false, lastAnswer = null;
const render = async () => {
  pending = false;
  if (!engine || !plan.isConnected) return;
  const start = performance.now();
  try {
    lastAnswer = engine.answer(state);
    // A box of another size, or one pushed against a wall, stands elsewhere than it was put: what is
    // remembered is where it stands.
    state.subs.forEach((sub, i) => { settled.subs[i].x = sub.x, settled.subs[i].y = sub.y; });
    const solved = performance.now();
    show(lastAnswer);
    html.dataset.solveMillis = (solved - start).toFixed(2);
    html.dataset.frameMillis = (performance.now() - start).toFixed(2);
  } catch {
    // Walls too soft for the solver, or the cone at a seat's ear: a fresh engine for the next try.
    engine = null;
    say('This cannot be worked out: the box is at a seat\u2019s ear, or the walls are too soft. Move on.');
    engine = await openEngine(await engineModule(), data);
    return;
  }
  wantWork(false);
  waitForRest();
};
const change = kind => {
  remember(kind);
  redraw();
};
const redraw = () => {
  if (pending) return;
  pending = true;
  requestAnimationFrame(render);
};
