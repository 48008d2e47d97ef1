// Pointer and keyboard on the plan.
let drags = 0;
const undo = () => {
  takeBack();
  redraw();
};
const movable = (element, get, set) => {
  element.setAttribute('tabindex', '0');
  element.setAttribute('role', 'button');
  element.setAttribute('aria-roledescription', 'movable with the arrow keys');
  const place = event => {
    const m = plan.getScreenCTM();
    return [((event.clientX - m.e) / m.a - cornerX) / scale, ((event.clientY - m.f) / m.d - cornerY) / scale];
  };
  let offset = null, drag = '';
  element.addEventListener('pointerdown', event => {
    if (event.button) return;
    const [x, y] = place(event), [x0, y0] = get();
    offset = [x0 - x, y0 - y];
    drag = `drag ${++drags}`;
    element.setPointerCapture(event.pointerId);
    element.classList.add('dragged');
    event.preventDefault();
    element.focus({preventScroll: true});
  });
  element.addEventListener('pointermove', event => {
    if (!offset) return;
    const [x, y] = place(event);
    set(x + offset[0], y + offset[1]);
    change(drag);
  });
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture'])
    element.addEventListener(end, () => { offset = null; element.classList.remove('dragged'); });
  element.addEventListener('keydown', event => {
    const way = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]}[event.key];
    if (!way || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = (imperial() ? 0.0508 : 0.05) / (event.shiftKey ? (imperial() ? 4 : 5) : 1);
    const [x, y] = get();
    set(x + way[0] * step, y + way[1] * step);
    change('keys ' + element.id + seats.indexOf(element));
  });
};
const choose = which => {
  if (which === chosen) return;
  chosen = which;
  if (lastAnswer) show(lastAnswer);
  waitForRest();
};
const partArea = wall => Math.round(wallSize(wall) * byId('live-part-area').value) / 100;
const inside = (value, side) => Math.max(0, Math.min(side, value));

const connectWalls = on => {
  on('wall', () => {});
  byId('live-material').addEventListener('input', event => {
    const wall = +byId('live-wall').value, name = event.target.value;
    state.walls[wall] = name === '#' ? absorptionOf(byId('live-absorption').value) : name || null;
    if (!canHavePart(wall)) state.parts[wall] = null;
    change('material');
  });
  byId('live-part').addEventListener('input', event => {
    const wall = +byId('live-wall').value, name = event.target.value;
    state.parts[wall] = name ? {name, area: partArea(wall)} : null;
    change('part');
  });
  on('part-area', () => {
    const wall = +byId('live-wall').value;
    state.parts[wall] = {name: state.parts[wall].name, area: partArea(wall)};
  });
  on('absorption', v => { state.walls[+byId('live-wall').value] = absorptionOf(v); });
  on('softness', () => { state.softness = softest(); });
};
const connect = () => {
  boxes.forEach((box, i) => {
    const sub = () => state.subs[i];
    movable(box, () => [sub().x, sub().y], (x, y) => { sub().x = x, sub().y = y; });
    box.addEventListener('focus', () => choose(i));
  });
  seats.forEach((seat, i) => movable(seat, () => state.seats[i], (x, y) => {
    state.seats[i] = [inside(x, data.room[0]), inside(y, data.room[1]), state.seats[i][2]];
  }));
  const on = (id, act) => byId('live-' + id).addEventListener('input', event => {
    act(+event.target.value);
    if (id !== 'wall' && id !== 'which') change(id + (several ? chosen : ''));
    else show(lastAnswer);
  });
  on('volume', v => { state.volume = lowest * Math.pow(highest / lowest, v / 400); });
  on('filling', v => { state.filling = v; });
  on('facing', v => { state.subs[chosen].facing = v; });
  if (several) {
    on('which', choose);
    on('gain', v => { state.subs[chosen].gain = v; });
    on('delay', v => { state.subs[chosen].delay = v / 1e3; });
    on('polarity', v => { state.subs[chosen].polarity = v ? -1 : 1; });
  }
  if (byId('live-wall')) connectWalls(on);
  for (const button of document.querySelectorAll('#live-controls [data-volume]'))
    button.addEventListener('click', () => {
      state.volume = +button.dataset.volume;
      change('preset ' + button.dataset.volume);
    });
  byId('live-reset').addEventListener('click', () => {
    Object.assign(state, copy(first));
    change('reset');
  });
  byId('live-undo').addEventListener('click', undo);
  document.addEventListener('keydown', event => {
    if (event.key.toLowerCase() !== 'z' || !(event.ctrlKey || event.metaKey) || event.shiftKey) return;
    if (!plan.isConnected || byId('tool').contains(event.target)) return;
    if (event.target.matches('textarea, input[type=text]')) return;
    event.preventDefault();
    undo();
  });
  byId('live-copy').addEventListener('click', copyFile);
  byId('live-controls').addEventListener('submit', event => event.preventDefault());
};
