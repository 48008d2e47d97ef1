// What an answer asks of the engine, here and in workers beside the page: this function is sent there as text.
// `told`: the share that is done of what takes long.
const openEngine = async (module, data, told) => {
  const e = await openModule(module, (phase, share) => told?.(share));
  const give = numbers => {
    const at = e.live_numbers(numbers.length);
    new Float64Array(e.memory.buffer, at, numbers.length).set(numbers);
    return at;
  };
  const room = e.live_open(give(data.numbers.map(v => v === null ? NaN : v)), data.numbers.length);
  const done = {subs: data.subs.map(() => ({})), seats: data.seats.map(s => s.at), walls: data.walls.map(() => null),
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
    now.subs.forEach((sub, i) => {
      const was = done.subs[i];
      if (sub.x !== was.x || sub.y !== was.y || sub.facing !== was.facing)
        e.live_set_place(room, i, sub.x, sub.y, sub.facing);
      if (sub.gain !== was.gain || sub.delay !== was.delay || sub.polarity !== was.polarity)
        e.live_set_dial(room, i, sub.gain, sub.delay, sub.polarity);
    });
    Object.assign(done, now, {subs: now.subs.map(sub => ({...sub})), seats: [...now.seats], walls: [...now.walls], parts: [...now.parts]});
  };
  return {
    answer(now) {
      apply(now);
      const at = e.live_answer(room);
      const [Q, F, S] = new Float64Array(e.memory.buffer, at, 3);
      const places = 7, boxes = places + 3 * S, numbers = boxes + 10 * Q, first = numbers + data.criteria.length;  // of the curves
      const all = new Float64Array(e.memory.buffer, at, first + F * (S + 5)).slice();
      const curve = k => all.subarray(first + k * F, first + (k + 1) * F);
      const a = {qtc: all[3], fc: all[4], f3: all[5], draft: all[6] > 0, subs: [], seats: [], places: [], average: curve(S), half: curve(S + 1),
                 target: curve(S + 2), spread: curve(S + 3), lift: curve(S + 4)};
      for (let s = 0; s < S; ++s) {
        a.seats.push(curve(s));
        a.places.push([...all.subarray(places + 3 * s, places + 3 * s + 3)]);
      }
      for (let i = 0; i < Q; ++i) {
        const [fits, x, y, , , , facing, ...outer] = all.subarray(boxes + 10 * i, boxes + 10 * i + 10);
        a.subs.push({fits: fits > 0, x, y, facing, outer});
        done.subs[i].x = x, done.subs[i].y = y;  // where the walls let it stand
      }
      data.criteria.forEach(({key}, i) => { a[key] = all[numbers + i]; });
      return a;
    },
    // The branches of each, as they are now.
    walls() {
      return data.walls.map((_, i) => {
        const at = e.live_wall(room, i), [count] = new Float64Array(e.memory.buffer, at, 1);
        const all = new Float64Array(e.memory.buffer, at + 8, 3 * count);
        return Array.from({length: count}, (_, b) => [...all.subarray(3 * b, 3 * b + 3)]);
      });
    },
    decay(now) {
      apply(now);
      return e.text(e.live_decay(room));
    },
    balance(now, qtc) {
      apply(now);
      const at = e.live_balance(room, give(qtc), qtc.length);
      return [0, 1].map(k => new Float64Array(e.memory.buffer, at + 8 * k * qtc.length, qtc.length).slice());
    },
    // What was learnt of a room for its seats, as bytes for another engine.
    learn(now) {
      apply(now);
      e.page_learn(room);
      return new Uint8Array(e.memory.buffer, e.live_kept(room), e.live_kept_size(room)).slice();
    },
    take(now, kept) {
      apply(now);
      const at = e.live_bytes(room, kept.length);
      new Uint8Array(e.memory.buffer, at, kept.length).set(kept);
      return e.live_take(room) > 0;
    },
    map(now, sub, step) {
      apply(now);
      if (!e.live_learnt(room)) return null;
      const at = e.live_map(room, sub, step);
      const [nx, ny, x0, y0, dx, dy] = new Float64Array(e.memory.buffer, at, 6);
      return {nx, ny, x0, y0, dx, dy, value: new Float64Array(e.memory.buffer, at + 48, nx * ny).slice()};
    }
  };
};
