// The engine in a worker, so that the page never stands still. This function is sent there as text.
const workerBody = () => {
  let engine = null;
  const answer = request => {
    const bytes = new TextEncoder().encode(JSON.stringify(request));
    const at = engine.page_request(bytes.length);
    new Uint8Array(engine.memory.buffer, at, bytes.length).set(bytes);
    const reply = JSON.parse(engine.text(engine.page_reply()));
    const size = engine.page_learnt_size();
    if (size) reply.learnt = new Uint8Array(engine.memory.buffer, engine.page_learnt(), size).slice();
    return reply;
  };
  onmessage = async ({data: {module, request, ticket}}) => {
    try {
      if (module) return void (engine = openModule(module, (phase, share) => postMessage({phase, share})));
      engine = await engine;
      const found = answer(request);
      postMessage({ticket, answer: found}, found.learnt ? [found.learnt.buffer] : []);
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
    const url = URL.createObjectURL(new Blob([`'use strict'; const openModule = ${openModule}; (${workerBody})();`], {type: 'text/javascript'}));
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
    busy: () => waiting.size > 0,
    stop() { drop({status: 1, stopped: true, trouble: 'Stopped.'}); }
  };
};
const quick = workerOf(), planner = workerOf(), measurer = workerOf();
