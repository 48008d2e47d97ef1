// The engine, here and in the worker that draws the map: this function is sent there as text.
const openEngine = async (bytes, data) => {
  const module = await WebAssembly.compile(bytes);
  const imports = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module))
    (imports[from] ||= {})[name] = () => 0;  // only asked for when something has gone wrong
  const e = (await WebAssembly.instantiate(module, imports)).exports;
  e._initialize();
  const give = numbers => {
    const at = e.live_numbers(numbers.length);
    new Float64Array(e.memory.buffer, at, numbers.length).set(numbers);
    return at;
  };
  const room = e.live_open(give(data.numbers.map(v => v === null ? NaN : v)), data.numbers.length);
  const done = {seats: data.seats.map(s => s.at), walls: data.walls.map(() => null),
                parts: data.walls.map(() => null), softness: 1};
  // Only what has changed is set again: the engine keeps what it has worked out from the rest.
  const apply = now => {
    // A wall is null (as in the file), a coefficient, or the name of a construction.
    now.walls.forEach((wall, i) => {
      const part = now.parts[i];
      if (wall === done.walls[i] && part === done.parts[i]) return;
      if (typeof wall === 'number') {
        e.live_set_wall_absorption(room, i, wall);
      } else {
        const {branches} = wall === null ? data.walls[i] : data.constructions[wall];
        e.live_set_wall_branches(room, i, give(branches.flat()), branches.length);
      }
      if (!part) return;
      const {branches} = data.constructions[part.name];
      e.live_set_part(room, i, give(branches.flat()), branches.length, part.area);
    });
    if (now.softness !== done.softness) e.live_set_softness(room, now.softness);
    now.seats.forEach((at, i) => { if (at !== done.seats[i]) e.live_set_seat(room, i, ...at); });
    if (now.volume !== done.volume || now.filling !== done.filling)
      e.live_set_box(room, now.volume, now.filling);
    if (now.x !== done.x || now.y !== done.y || now.facing !== done.facing)
      e.live_set_place(room, now.x, now.y, now.facing);
    Object.assign(done, now, {seats: [...now.seats], walls: [...now.walls], parts: [...now.parts]});
  };
  return {
    answer(now) {
      apply(now);
      const at = e.live_answer(room);
      const [F, S] = new Float64Array(e.memory.buffer, at + 8 * 13, 2);
      const first = 15 + data.criteria.length;  // of the curves
      const all = new Float64Array(e.memory.buffer, at, first + F * (S + 5)).slice();
      const curve = k => all.subarray(first + k * F, first + (k + 1) * F);
      const a = {fits: all[0] > 0, x: all[1], y: all[2], centre: [...all.subarray(3, 6)], facing: all[6],
                 outer: [...all.subarray(7, 10)], qtc: all[10], fc: all[11], f3: all[12],
                 seats: [], average: curve(S), half: curve(S + 1),
                 target: curve(S + 2), spread: curve(S + 3), lift: curve(S + 4)};
      for (let s = 0; s < S; ++s) a.seats.push(curve(s));
      data.criteria.forEach(({key}, i) => { a[key] = all[15 + i]; });
      done.x = now.x = a.x, done.y = now.y = a.y;  // where the walls let it stand
      return a;
    },
    wall(i) {
      const at = e.live_wall(room, i), [count] = new Float64Array(e.memory.buffer, at, 1);
      const all = new Float64Array(e.memory.buffer, at + 8, 3 * count);
      return Array.from({length: count}, (_, b) => [...all.subarray(3 * b, 3 * b + 3)]);
    },
    decay(now) {
      apply(now);
      const at = e.live_decay(room), all = new Uint8Array(e.memory.buffer, at);
      return new TextDecoder().decode(all.slice(0, all.indexOf(0)));
    },
    balance(now, qtc) {
      apply(now);
      const at = e.live_balance(room, give(qtc), qtc.length);
      return [0, 1].map(k => new Float64Array(e.memory.buffer, at + 8 * k * qtc.length, qtc.length).slice());
    },
    map(now, step) {
      apply(now);
      const at = e.live_map(room, step);
      const [nx, ny, x0, y0, dx, dy] = new Float64Array(e.memory.buffer, at, 6);
      return {nx, ny, x0, y0, dx, dy, value: new Float64Array(e.memory.buffer, at + 48, nx * ny).slice()};
    }
  };
};
