// From a change to a picture, at most once a frame.
let engine = null, pending = false, answering = false, late = false, lastAnswer = null;
// A box of another size, or what was pushed against a wall, stands elsewhere than it was put: what is
// remembered is where it stands, unless it has moved on.
const stand = (asked, a) => {
  asked.subs.forEach(({x, y}, i) => {
    const own = state.subs[i];
    if (own.x === x && own.y === y)
      for (const sub of [own, settled.subs[i]]) sub.x = a.subs[i].x, sub.y = a.subs[i].y;
  });
  asked.seats.forEach((at, i) => {
    if (state.seats[i] === at && a.places[i].some((v, axis) => v !== at[axis]))
      state.seats[i] = settled.seats[i] = a.places[i];
  });
};
const render = async () => {
  pending = false;
  if (!engine || !plan.isConnected) return;
  if (answering) return void (late = true);
  answering = true;
  const start = performance.now(), asked = copy(state);
  try {
    lastAnswer = await engine.answer(asked);
    stand(asked, lastAnswer);
    const solved = performance.now();
    show(lastAnswer);
    html.dataset.solveMillis = (solved - start).toFixed(2);
    html.dataset.frameMillis = (performance.now() - start).toFixed(2);
  } catch {
    // Walls too soft for the solver, or the cone at a seat's ear: a fresh engine for the next try.
    say('This cannot be worked out: the box is at a seat\u2019s ear, or the walls are too soft. Move on.');
    await engine.renew();
    return;
  } finally {
    answering = false;
    if (late) late = false, redraw();
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
