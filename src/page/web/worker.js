// The engine in a worker, so that the page never stands still. This function is sent there as text.
const workerBody = () => {
  let engine = null, opened = null;
  const read = at => {
    const all = new Uint8Array(engine.memory.buffer);
    let end = at;
    while (all[end]) ++end;
    return new TextDecoder().decode(all.slice(at, end));
  };
  const open = async module => {
    const imports = {};
    for (const {module: from, name} of WebAssembly.Module.imports(module)) (imports[from] ||= {})[name] = () => 0;
    imports.env.page_progress = (phase, share) => postMessage({phase: read(phase), share});
    imports.wasi_snapshot_preview1.clock_time_get = (clock, precision, at) => {
      new DataView(engine.memory.buffer).setBigUint64(at, BigInt(Math.round(performance.now() * 1e6)), true);
      return 0;
    };
    engine = (await WebAssembly.instantiate(module, imports)).exports;
    engine._initialize();
  };
  const answer = request => {
    const bytes = new TextEncoder().encode(JSON.stringify(request));
    const at = engine.page_request(bytes.length);
    new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
    return JSON.parse(read(engine.page_reply()));
  };
  onmessage = async ({data: {module, request, ticket}}) => {
    try {
      if (module) return void (opened = open(module));
      await opened;
      postMessage({ticket, answer: answer(request)});
    } catch (error) {  // the engine is broken then: the page opens another
      postMessage({ticket, broken: true, answer: {status: 1, trouble: `This device could not work it out (${error.message}).`}});
    }
  };
};

// A worker that answers one request after the other; stop() ends what it does.
const workerOf = () => {
  let worker = null, waiting = new Map(), next = 0;
  const drop = answer => {
    worker?.terminate();
    worker = null;
    for (const {settle} of waiting.values()) settle(answer);
    waiting.clear();
  };
  const begin = async () => {
    const module = await engineModule();
    const url = URL.createObjectURL(new Blob([`(${workerBody})()`], {type: 'text/javascript'}));
    const made = new Worker(url);
    made.onmessage = ({data}) => {
      if (data.phase !== undefined) {
        for (const {tell} of waiting.values()) tell?.(data.phase, data.share);
        return;
      }
      const asked = waiting.get(data.ticket);
      waiting.delete(data.ticket);
      asked?.settle(data.answer);
      if (data.broken) drop(data.answer);
    };
    made.onerror = event => drop({status: 1, trouble: `The engine could not start (${event.message}).`});
    made.postMessage({module});
    return made;
  };
  return {
    async ask(request, tell) {
      try {
        worker ||= await begin();
      } catch (error) {
        return {status: 1, trouble: `Nothing can be worked out here: ${error.message}.`};
      }
      return new Promise(settle => {
        const ticket = ++next;
        waiting.set(ticket, {settle, tell});
        worker.postMessage({request, ticket});
      });
    },
    stop() { drop({status: 1, stopped: true, trouble: 'Stopped.'}); }
  };
};
const quick = workerOf(), planner = workerOf();
